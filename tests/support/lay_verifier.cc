#include "support/lay_verifier.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace pouchwright::test {

namespace {

using base::Length;
using lay::Area;
using lay::Lay;
using lay::Placed;
using lay::Plies;

Length right(const Area& area) { return area.x + area.width; }
Length back(const Area& area) { return area.y + area.length; }

bool overlap(const Area& a, const Area& b) {
  return a.x < right(b) && b.x < right(a) && a.y < back(b) && b.y < back(a);
}

std::string text_of(const Area& a) {
  return base::decimal_mm(a.x) + "," + base::decimal_mm(a.y) + " " + base::decimal_mm(a.width) +
         "x" + base::decimal_mm(a.length);
}

class Verifier {
 public:
  Verifier(const lay::Request& request, const lay::Plan& plan) : request_(request), plan_(plan) {}

  std::vector<std::string> run() {
    counts_.assign(request_.kinds.size(), 0);
    by_products_.assign(request_.by_products.size(), 0);
    expect(plan_.remnants.size() == request_.remnants.size(), "a lay for every remnant");
    for (std::size_t i = 0; i < plan_.remnants.size(); ++i) {
      const Lay& lay = plan_.remnants[i];
      expect(lay.width == request_.remnants[i].width, "a remnant keeps its width");
      expect(lay.length == request_.remnants[i].length, "a remnant keeps its length");
      check(lay);
    }
    expect(plan_.cloth.width == request_.cloth.width, "the cloth keeps its width");
    check(plan_.cloth);
    check_cut_offs(plan_.cloth);
    for (std::size_t k = 0; k < counts_.size(); ++k) {
      expect(counts_[k] == request_.kinds[k].demand,
             "kind " + std::to_string(k) + " cut " + std::to_string(counts_[k]) + " times");
    }
    for (std::size_t i = 0; i < by_products_.size(); ++i) {
      expect(by_products_[i] == plan_.by_products[i], "by-products counted");
      expect(by_products_[i] <= request_.by_products[i].demand, "no more by-products than asked");
    }
    return wrong_;
  }

 private:
  void expect(bool holds, const std::string& what) {
    if (!holds) wrong_.push_back(what);
  }

  void check(const Lay& lay) {
    Length cloth = lay.length;
    double used = 0;
    for (const Placed& piece : lay.pieces) {
      check_size(piece);
      expect(piece.area.x >= Length() && right(piece.area) <= lay.width &&
                 piece.area.y >= Length() && back(piece.area) <= lay.length,
             "inside the cloth: " + text_of(piece.area));
      if (!piece.spare) used += piece.area.width.in_mm() * piece.area.length.in_mm();
      if (piece.spare) continue;
      auto& counts = piece.by_product ? by_products_ : counts_;
      ++counts[static_cast<std::size_t>(piece.kind)];
    }
    check_layers(lay);
    expect(lay.bound <= lay.length, "bound at most the length");
    expect(!lay.optimal || lay.bound == lay.length, "optimal only with a bound that is met");
    for (std::size_t s = 0; s < lay.sections.size(); ++s) {
      if (lay.sections[s].plies.way == Plies::Way::stacked) {
        cloth += (lay.layers - 1) * lay.sections[s].length;
      }
    }
    expect(cloth == lay.cloth_length, "cloth of all layers");
    const double whole = lay.width.in_mm() * cloth.in_mm();
    expect(whole == 0 || std::abs(lay.waste_fraction - (1 - used / whole)) < 1e-9, "waste");
    follow(lay);
  }

  void check_size(const Placed& piece) {
    const auto index = static_cast<std::size_t>(piece.kind);
    const lay::Kind& kind = piece.by_product ? request_.by_products[index] : request_.kinds[index];
    const Length width = piece.turned ? kind.length : kind.width;
    const Length length = piece.turned ? kind.width : kind.length;
    expect(piece.area.width == width && piece.area.length == length,
           "as large as its kind: " + text_of(piece.area));
    const bool square = kind.width == kind.length;
    expect(square || kind.turn == lay::Turn::either ||
               piece.turned == (kind.turn == lay::Turn::across),
           "lies as its kind may: " + text_of(piece.area));
  }

  void check_layers(const Lay& lay) {
    std::map<int, std::vector<Area>> layers;
    for (const Placed& piece : lay.pieces) layers[piece.layer].push_back(piece.area);
    for (auto& [layer, areas] : layers) {
      std::stable_sort(areas.begin(), areas.end(),
                       [](const Area& a, const Area& b) { return a.y < b.y; });
      for (std::size_t i = 0; i < areas.size(); ++i) {
        for (std::size_t k = i + 1; k < areas.size() && areas[k].y < back(areas[i]); ++k) {
          expect(!overlap(areas[i], areas[k]),
                 "no overlap: " + text_of(areas[i]) + " and " + text_of(areas[k]));
        }
      }
      if (lay.cuts == lay::Cuts::straight) {
        expect(separable(areas), "comes apart by edge-to-edge cuts");
      }
    }
  }

  /// Any cut that touches no piece may be made first: it takes no other cut away.
  static bool separable(std::vector<Area> areas) {
    if (areas.size() < 2) return true;
    for (const bool along : {false, true}) {
      const auto start = [&](const Area& a) { return along ? a.x : a.y; };
      const auto end = [&](const Area& a) { return along ? right(a) : back(a); };
      std::stable_sort(areas.begin(), areas.end(),
                       [&](const Area& a, const Area& b) { return start(a) < start(b); });
      std::vector<std::vector<Area>> groups{{areas.front()}};
      Length reached = end(areas.front());
      for (std::size_t i = 1; i < areas.size(); ++i) {
        if (start(areas[i]) >= reached) groups.emplace_back();
        groups.back().push_back(areas[i]);
        reached = std::max(reached, end(areas[i]));
      }
      if (groups.size() < 2) continue;
      return std::all_of(groups.begin(), groups.end(),
                         [](const std::vector<Area>& group) { return separable(group); });
    }
    return false;
  }

  void check_cut_offs(const Lay& lay) {
    Length at;
    for (const lay::CutOff& cut_off : lay.cut_offs) {
      expect(cut_off.from == at, "cut-offs follow each other");
      at += cut_off.length;
      expect(!request_.longest || cut_off.length <= *request_.longest, "fits the table");
      for (const Placed& piece : lay.pieces) {
        expect(back(piece.area) <= cut_off.from || piece.area.y >= at ||
                   (piece.area.y >= cut_off.from && back(piece.area) <= at),
               "no piece across a cut-off: " + text_of(piece.area));
      }
    }
    expect(at == lay.length, "cut-offs make the length");
  }

  /// Cuts the cloth as the orders say and looks whether the pieces come out.
  void follow(const Lay& lay) {
    for (std::size_t s = 0; s < lay.sections.size(); ++s) {
      const lay::Section& section = lay.sections[s];
      Area whole{Length(), section.from, section.ply_width, section.length};
      // The roll goes on behind the last length cut off.
      if (!lay.cut_offs.empty()) whole.length += Length::whole_mm(1000);
      std::vector<Area> parts{whole};
      for (const lay::Step& step : lay.steps) {
        if (step.section != static_cast<int>(s)) continue;
        if (step.cut == lay::Cut::around || step.cut == lay::Cut::slit) continue;
        for (const lay::Line& line : step.lines) cut(parts, step, line);
      }
      const bool free = std::any_of(lay.steps.begin(), lay.steps.end(), [](const lay::Step& step) {
        return step.cut == lay::Cut::around;
      });
      if (!free) find_pieces(lay, section, parts);
    }
  }

  void cut(std::vector<Area>& parts, const lay::Step& step, const lay::Line& line) {
    const bool along = line.x0 == line.x1;
    for (std::size_t i = 0; i < parts.size(); ++i) {
      const Area part = parts[i];
      const bool here = along ? part.x < line.x0 && line.x0 < right(part) && part.y == line.y0 &&
                                    back(part) == line.y1
                              : part.y < line.y0 && line.y0 < back(part) && part.x == line.x0 &&
                                    right(part) == line.x1;
      if (!here) continue;
      Area first = part;
      Area second = part;
      (along ? first.width : first.length) = along ? line.x0 - part.x : line.y0 - part.y;
      (along ? second.x : second.y) = along ? line.x0 : line.y0;
      (along ? second.width : second.length) -= along ? first.width : first.length;
      expect((along ? first.width : first.length) == step.at, "the ruler's setting comes off");
      parts[i] = first;
      parts.push_back(second);
      return;
    }
    expect(false, "a cut runs from edge to edge of a part");
  }

  void find_pieces(const Lay& lay, const lay::Section& section, const std::vector<Area>& parts) {
    std::vector<Area> sorted = parts;
    const auto before = [](const Area& a, const Area& b) {
      return a.y != b.y ? a.y < b.y : a.x < b.x;
    };
    std::sort(sorted.begin(), sorted.end(), before);
    for (const Placed& piece : lay.pieces) {
      const Area& at = piece.area;
      if (at.y < section.from || at.y >= section.from + section.length) continue;
      Area folded = at;
      if (section.plies.way == Plies::Way::folded) {
        const auto ply = at.x.in_nm() / section.ply_width.in_nm();
        const Length edge = ply * section.ply_width;
        folded.x = ply % 2 == 0 ? at.x - edge : edge + section.ply_width - right(at);
      }
      const auto found = std::lower_bound(sorted.begin(), sorted.end(), folded, before);
      expect(found != sorted.end() && *found == folded,
             "the orders leave the piece " + text_of(at));
    }
  }

  const lay::Request& request_;
  const lay::Plan& plan_;
  std::vector<int> counts_;
  std::vector<int> by_products_;
  std::vector<std::string> wrong_;
};

}  // namespace

std::vector<std::string> wrong_with(const lay::Request& request, const lay::Plan& plan) {
  return Verifier(request, plan).run();
}

}  // namespace pouchwright::test
