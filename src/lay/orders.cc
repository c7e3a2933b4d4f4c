#include "lay/orders.h"

#include <algorithm>
#include <functional>
#include <utility>

namespace pouchwright::lay {

namespace {

using Corner = Part::Corner;

Area area_of(Whole x, Whole y, Whole width, Whole length) {
  return {Length::nm(x), Length::nm(y), Length::nm(width), Length::nm(length)};
}

Line line_of(Whole x0, Whole y0, Whole x1, Whole y1) {
  return {Length::nm(x0), Length::nm(y0), Length::nm(x1), Length::nm(y1)};
}

/// Where the parts of a part lie in it.
std::vector<Corner> corners_in(const Part& part) {
  if (part.way == Part::Way::free) return part.at;
  std::vector<Corner> corners;
  Corner next;
  for (const Part& inner : part.parts) {
    corners.push_back(next);
    (part.way == Part::Way::beside ? next.x : next.y) +=
        part.way == Part::Way::beside ? inner.width : inner.length;
  }
  return corners;
}

void each_leaf(const Part& part, Corner at, const std::function<void(const Part&, Corner)>& use) {
  if (part.parts.empty()) return use(part, at);
  const std::vector<Corner> corners = corners_in(part);
  for (std::size_t i = 0; i < part.parts.size(); ++i) {
    each_leaf(part.parts[i], {at.x + corners[i].x, at.y + corners[i].y}, use);
  }
}

/// The cuts inside parts that are alike, wherever they lie.
class Divider {
 public:
  Divider(std::vector<Step>& steps, int section, int cut_off)
      : steps_(steps), section_(section), cut_off_(cut_off) {}

  void divide(const Part& part, const std::vector<Corner>& places) {
    if (part.way == Part::Way::free) return cut_around(part, places);
    if (part.parts.empty()) return;
    const std::vector<Corner> corners = corners_in(part);
    for (std::size_t i = 0; i + 1 < part.parts.size();) i = part_off(part, corners, i, places);
    for (std::size_t i = 0; i < part.parts.size(); ++i) {
      const auto alike = [&](std::size_t k) { return part.parts[k] == part.parts[i]; };
      bool seen = false;
      for (std::size_t k = 0; k < i; ++k) seen = seen || alike(k);
      if (seen) continue;
      std::vector<Corner> inside;
      for (const Corner& place : places) {
        for (std::size_t k = i; k < part.parts.size(); ++k) {
          if (alike(k)) inside.push_back({place.x + corners[k].x, place.y + corners[k].y});
        }
      }
      divide(part.parts[i], inside);
    }
  }

 private:
  /// Parts off those from `first` on that are alike, in one step; returns the next.
  std::size_t part_off(const Part& part, const std::vector<Corner>& corners, std::size_t first,
                       const std::vector<Corner>& places) {
    const bool along = part.way == Part::Way::beside;
    std::size_t end = first + 1;
    while (end + 1 < part.parts.size() && part.parts[end] == part.parts[first]) ++end;
    const Part& piece = part.parts[first];
    Step step = step_for(along ? Cut::strip : Cut::cross, along ? piece.width : piece.length);
    for (const Corner& place : places) {
      for (std::size_t i = first; i < end; ++i) {
        const Whole x = place.x + corners[i].x;
        const Whole y = place.y + corners[i].y;
        step.lines.push_back(along
                                 ? line_of(x + piece.width, y, x + piece.width, y + part.length)
                                 : line_of(x, y + piece.length, x + part.width, y + piece.length));
      }
    }
    const Whole x = places.front().x + corners[first].x;
    const Whole y = places.front().y + corners[first].y;
    step.from = along ? area_of(x, y, part.width - corners[first].x, part.length)
                      : area_of(x, y, part.width, part.length - corners[first].y);
    step.off = area_of(x, y, piece.width, piece.length);
    if (piece.way == Part::Way::piece) step.kind = piece.kind, step.by_product = piece.by_product;
    const auto at = static_cast<int>(places.size());
    step.count = static_cast<int>(end - first) * at;
    if (end + 1 == part.parts.size()) {
      const Part& last = part.parts.back();
      if (last == piece) {
        step.count += at;
      } else if (last.way == Part::Way::piece) {
        step.rest = {last.kind, last.by_product, at};
      }
    }
    steps_.push_back(std::move(step));
    return end;
  }

  /// One step a kind, with the four sides of every piece.
  void cut_around(const Part& part, const std::vector<Corner>& places) {
    std::vector<Step> made;
    each_leaf(part, {}, [&](const Part& leaf, Corner at) {
      if (leaf.way != Part::Way::piece) return;
      const auto same = std::find_if(made.begin(), made.end(), [&](const Step& step) {
        return step.kind == leaf.kind && step.by_product == leaf.by_product;
      });
      Step& step = same == made.end() ? made.emplace_back(step_for(Cut::around, 0)) : *same;
      step.kind = leaf.kind, step.by_product = leaf.by_product;
      step.count += static_cast<int>(places.size());
      for (const Corner& place : places) {
        const Whole x = place.x + at.x;
        const Whole y = place.y + at.y;
        if (step.lines.empty()) step.off = area_of(x, y, leaf.width, leaf.length);
        step.lines.push_back(line_of(x, y, x + leaf.width, y));
        step.lines.push_back(line_of(x + leaf.width, y, x + leaf.width, y + leaf.length));
        step.lines.push_back(line_of(x + leaf.width, y + leaf.length, x, y + leaf.length));
        step.lines.push_back(line_of(x, y + leaf.length, x, y));
      }
    });
    for (Step& step : made) {
      step.from = area_of(places.front().x, places.front().y, part.width, part.length);
      steps_.push_back(std::move(step));
    }
  }

  [[nodiscard]] Step step_for(Cut cut, Whole at) const {
    Step step;
    step.cut = cut;
    step.at = Length::nm(at);
    step.section = section_;
    step.cut_off = cut_off_;
    return step;
  }

  std::vector<Step>& steps_;
  int section_;
  int cut_off_;
};

/// Where a piece that lies at `x` of the folded cloth lies in ply `ply` of the cloth laid open.
Whole unfolded(Whole x, Whole width, Whole ply_width, int ply) {
  return ply % 2 == 0 ? ply * ply_width + x : (ply + 1) * ply_width - x - width;
}

/// A fold is opened where a piece ends at it: those at odd plies lie at the far edge.
std::vector<Line> folds_to_open(const Stretch& stretch, const Part& part,
                                const std::vector<Whole>& ys) {
  bool near_edge = false;
  bool far_edge = false;
  each_leaf(part, {}, [&](const Part& leaf, Corner at) {
    if (leaf.way != Part::Way::piece) return;
    near_edge = near_edge || at.x == 0;
    far_edge = far_edge || at.x + leaf.width == stretch.ply_width;
  });
  std::vector<Line> lines;
  for (int fold = 1; fold < stretch.plies.count; ++fold) {
    if (!(fold % 2 == 1 ? far_edge : near_edge)) continue;
    const Whole x = fold * stretch.ply_width;
    for (const Whole y : ys) lines.push_back(line_of(x, y, x, y + part.length));
  }
  return lines;
}

bool folded(const Stretch& stretch) { return stretch.plies.way == Plies::Way::folded; }

int plies_of(const Stretch& stretch) {
  return stretch.plies.way == Plies::Way::single ? 1 : stretch.plies.count;
}

}  // namespace

Whole Stretch::length() const {
  Whole length = 0;
  for (const Part& part : parts) length += part.length;
  return length;
}

void group_alike(std::vector<Part>& parts) {
  for (std::size_t i = 0; i < parts.size(); ++i) {
    std::stable_partition(parts.begin() + static_cast<std::ptrdiff_t>(i + 1), parts.end(),
                          [&](const Part& part) { return part == parts[i]; });
  }
}

std::vector<CutOff> cut_offs_of(const Stretch& stretch, int section, int first_pattern) {
  std::vector<CutOff> cut_offs;
  if (stretch.source == Stretch::Source::remnant) return cut_offs;
  Whole y = stretch.from;
  int pattern = first_pattern;
  for (std::size_t i = 0; i < stretch.parts.size(); ++i) {
    if (i > 0 && stretch.parts[i] != stretch.parts[i - 1]) ++pattern;
    const Whole length = stretch.parts[i].length;
    cut_offs.push_back({Length::nm(y), Length::nm(length), pattern, section});
    y += length;
  }
  return cut_offs;
}

namespace {

/// Cuts the lengths from `first` to `end` off, all alike.
Step off_step(const Stretch& stretch, const std::vector<Whole>& ys, const Part& part) {
  Step step;
  step.cut = Cut::off;
  step.at = Length::nm(part.length);
  const Whole whole = stretch.from + stretch.length() - ys.front();
  step.from = area_of(0, ys.front(), stretch.ply_width, whole);
  step.off = area_of(0, ys.front(), stretch.ply_width, part.length);
  if (part.way == Part::Way::piece) step.kind = part.kind, step.by_product = part.by_product;
  step.count = static_cast<int>(ys.size());
  for (const Whole y : ys) {
    step.lines.push_back(line_of(0, y + part.length, stretch.ply_width, y + part.length));
  }
  return step;
}

Step slit_step(const Stretch& stretch, std::vector<Line> lines, const Part& part, Whole y) {
  Step step;
  step.cut = Cut::slit;
  step.at = Length::nm(stretch.ply_width);
  step.from = area_of(0, y, stretch.width, part.length);
  step.off = area_of(0, y, stretch.ply_width, part.length);
  step.count = static_cast<int>(lines.size());
  step.lines = std::move(lines);
  return step;
}

}  // namespace

std::vector<Step> steps_of(const Stretch& stretch, int section, int first_cut_off) {
  std::vector<Step> steps;
  Whole y = stretch.from;
  for (std::size_t i = 0; i < stretch.parts.size();) {
    const Part& part = stretch.parts[i];
    const int cut_off = first_cut_off + static_cast<int>(i);
    std::vector<Whole> ys;
    for (; i < stretch.parts.size() && stretch.parts[i] == part; ++i) {
      ys.push_back(y);
      y += part.length;
    }
    if (stretch.source == Stretch::Source::roll) {
      steps.push_back(off_step(stretch, ys, part));
      steps.back().section = section;
      steps.back().cut_off = cut_off;
    }
    std::vector<Corner> places;
    places.reserve(ys.size());
    for (const Whole at : ys) places.push_back({0, at});
    Divider(steps, section, cut_off).divide(part, places);
    if (!folded(stretch)) continue;
    std::vector<Line> lines = folds_to_open(stretch, part, ys);
    if (lines.empty()) continue;
    steps.push_back(slit_step(stretch, std::move(lines), part, ys.front()));
    steps.back().section = section;
    steps.back().cut_off = cut_off;
  }
  return steps;
}

std::vector<Placed> pieces_of(const Stretch& stretch) {
  std::vector<Placed> pieces;
  Whole y = stretch.from;
  for (const Part& part : stretch.parts) {
    each_leaf(part, {0, y}, [&](const Part& leaf, Corner at) {
      if (leaf.way != Part::Way::piece) return;
      for (int ply = 0; ply < plies_of(stretch); ++ply) {
        Placed piece;
        piece.kind = leaf.kind;
        piece.by_product = leaf.by_product;
        piece.turned = leaf.turned;
        piece.layer = folded(stretch) ? 0 : ply;
        const Whole x = folded(stretch) ? unfolded(at.x, leaf.width, stretch.ply_width, ply) : at.x;
        piece.area = area_of(x, at.y, leaf.width, leaf.length);
        pieces.push_back(piece);
      }
    });
    y += part.length;
  }
  return pieces;
}

std::vector<Area> wastes_of(const Stretch& stretch) {
  std::vector<Area> wastes;
  Whole y = stretch.from;
  for (const Part& part : stretch.parts) {
    each_leaf(part, {0, y}, [&](const Part& leaf, Corner at) {
      if (leaf.way != Part::Way::waste || leaf.width == 0 || leaf.length == 0) return;
      const int plies = folded(stretch) ? plies_of(stretch) : 1;
      for (int ply = 0; ply < plies; ++ply) {
        const Whole x = folded(stretch) ? unfolded(at.x, leaf.width, stretch.ply_width, ply) : at.x;
        wastes.push_back(area_of(x, at.y, leaf.width, leaf.length));
      }
    });
    y += part.length;
  }
  return wastes;
}

}  // namespace pouchwright::lay
