#include "batch/savings.h"

#include <algorithm>
#include <utility>

#include "pouch/judge/content.h"
#include "pouch/judge/sizes.h"

namespace pouchwright::batch {

namespace {

using pouch::Pouch;
using pouch::Request;

constexpr const char* kPanelWidth = "panel.width";
constexpr const char* kPanelLength = "panel.length";
constexpr const char* kPouch = "pouch.";

/// A size that may change and what it is now.
struct Lever {
  std::string path;
  Length now;
};

std::vector<Lever> levers_of(const Request& request, const Pouch& pouch) {
  std::vector<Lever> levers;
  if (request.panel) {
    levers.push_back({kPanelWidth, request.panel->width.value});
    levers.push_back({kPanelLength, request.panel->length.value});
  } else {
    const auto stated = [&](const char* name, Length derived) {
      const auto found = request.sizes.find(name);
      levers.push_back({std::string(kPouch) + name,
                        found == request.sizes.end() ? derived : found->second.value});
    };
    stated(pouch::size::kWidth, pouch.sizes.finished_width);
    stated(pouch::size::kDepth, pouch.sizes.depth);
  }
  if (pouch.sizes.flap > Length()) {
    const auto found = request.sizes.find(pouch::size::kFlap);
    levers.push_back({std::string(kPouch) + pouch::size::kFlap,
                      found == request.sizes.end() ? pouch.sizes.flap : found->second.value});
  }
  return levers;
}

void apply(Request& request, const std::string& path, Length value) {
  if (path == kPanelWidth) {
    request.panel->width.value = value;
  } else if (path == kPanelLength) {
    request.panel->length.value = value;
  } else {
    request.sizes[path.substr(std::string(kPouch).size())].value = value;
  }
}

/// A job with some sizes changed, derived; `warnings` are the keys of what it is warned of.
struct Tried {
  std::optional<Pouch> pouch;
  std::vector<std::string> warnings;
};

Tried tried(const Request& request) {
  base::Diagnostics diagnostics;
  Tried made;
  made.pouch = pouch::derive(request, diagnostics);
  if (diagnostics.has_errors()) made.pouch.reset();
  for (const base::Diagnostic& one : diagnostics.sorted(base::Severity::warning)) {
    made.warnings.push_back(one.message.key);
  }
  std::sort(made.warnings.begin(), made.warnings.end());
  return made;
}

/// A panel as it is cut.
struct Panel {
  Length width, length;

  auto operator<=>(const Panel&) const = default;
  [[nodiscard]] double mm2() const { return width.in_mm() * length.in_mm(); }
};

Panel panel_of(const pouch::Sizes& sizes) { return {sizes.cut_width, sizes.cut_length}; }

/// The cloth that a panel takes, looked up where it was laid before.
class Cloths {
 public:
  Cloths(const Request& request, int pouches, LayingRules rules)
      : pouches_(std::clamp(pouches, 1, lay::kMostPieces)), rules_(rules) {
    materials_.push_back(&request.laminate);
    if (request.outer) materials_.push_back(&*request.outer);
  }

  /// Over all materials; nothing where the panel does not fit one of them.
  std::optional<double> mm2_per_pouch(const Panel& panel) {
    const auto known = known_.find(panel);
    if (known != known_.end()) return known->second;
    std::optional<double> sum = 0;
    for (const pouch::Material* material : materials_) {
      const lay::Request laid = request_for(*material, panel);
      if (!lay::faults(laid).empty()) {
        sum.reset();
        break;
      }
      *sum += bought(*material, lay::least_length(laid).cloth_length.in_mm()) / pouches_;
    }
    known_[panel] = sum;
    return sum;
  }

  /// No lay takes less: all pieces beside each other, without any waste.
  [[nodiscard]] double least_mm2_per_pouch(const Panel& panel) const {
    double sum = 0;
    for (const pouch::Material* material : materials_) {
      sum += bought(*material, panel.mm2() / material->usable_width().in_mm());
    }
    return sum;
  }

  [[nodiscard]] std::vector<int> across(const Panel& panel) const {
    std::vector<int> counts;
    for (const pouch::Material* material : materials_) {
      const lay::Request laid = request_for(*material, panel);
      counts.push_back(lay::across(laid.cloth.width, laid.kinds.front()));
    }
    return counts;
  }

 private:
  /// What is bought for `length` mm of cloth, in mm2. Cut = finished / (1 - s): shrinkage is a
  /// fraction of the length before washing (ISO 5077).
  [[nodiscard]] static double bought(const pouch::Material& material, double length) {
    return material.width.in_mm() * length / (1 - material.shrink_length);
  }

  [[nodiscard]] lay::Request request_for(const pouch::Material& material,
                                         const Panel& panel) const {
    lay::Request laid;
    laid.cloth = {material.name, material.usable_width()};
    laid.kinds = {{"panel", panel.width, panel.length, pouches_, material.turn, std::nullopt}};
    laid.cuts = rules_.cuts;
    laid.longest = rules_.longest;
    laid.plies = material.kind == pouch::MaterialKind::laminate ? rules_.laminate : rules_.outer;
    return laid;
  }

  int pouches_;
  LayingRules rules_;
  std::vector<const pouch::Material*> materials_;
  std::map<Panel, std::optional<double>> known_;
};

/// By how much each lever is moved.
using Moves = std::vector<Length>;

/// A larger panel never takes less cloth: sizes grow only where liners have to fit, so that one
/// size can make up for the other.
enum class Growth { wanted, useless };

/// Singles first, then pairs, smaller moves before larger ones.
std::vector<Moves> all_moves(std::size_t levers, Length step, Length tolerance, Growth growth) {
  std::vector<Length> moves;
  for (Length move = step; move <= tolerance; move += step) {
    moves.push_back(-move);
    if (growth == Growth::wanted) moves.push_back(move);
  }
  std::vector<Moves> all;
  for (const Length move : moves) {
    for (std::size_t a = 0; a < levers; ++a) {
      all.emplace_back(levers);
      all.back()[a] = move;
    }
  }
  for (std::size_t a = 0; a < levers; ++a) {
    for (std::size_t b = a + 1; b < levers; ++b) {
      for (const Length first : moves) {
        for (const Length second : moves) {
          all.emplace_back(levers);
          all.back()[a] = first;
          all.back()[b] = second;
        }
      }
    }
  }
  return all;
}

Length size_of(Length move) { return move < Length() ? -move : move; }

Length size_of(const Moves& moves) {
  Length sum;
  for (const Length move : moves) sum += size_of(move);
  return sum;
}

bool nowhere_larger(const Moves& a, const Moves& b) {
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (size_of(a[i]) > size_of(b[i])) return false;
  }
  return true;
}

struct Found {
  Moves moves;
  Change change;
};

class Search {
 public:
  Search(const Request& request, int pouches, const LayingRules& rules)
      : request_(request), cloths_(request, pouches, rules), base_(tried(request)) {}

  Savings run(Length tolerance, const std::function<void()>& before_each) {
    Savings result;
    if (!base_.pouch) return result;
    const Panel panel = panel_of(base_.pouch->sizes);
    result.now_mm2_per_pouch = cloths_.mm2_per_pouch(panel).value_or(0);
    result.water_line_now = base_.pouch->water_line();
    result.capacity_now = base_.pouch->capacity;
    result.across_now = cloths_.across(panel);
    levers_ = levers_of(request_, *base_.pouch);
    now_ = result.now_mm2_per_pouch;
    step_ = step_for(tolerance);
    const Growth growth = request_.liners ? Growth::wanted : Growth::useless;
    panels_[Moves(levers_.size())] = panel;
    for (const Moves& moves : all_moves(levers_.size(), step_, tolerance, growth)) {
      if (before_each) before_each();
      look(moves);
    }
    for (Found& found : listed()) result.changes.push_back(std::move(found.change));
    return result;
  }

 private:
  [[nodiscard]] Length step_for(Length tolerance) const {
    const Length ruler = request_.cut_step;
    const std::int64_t steps = tolerance.in_nm() / ruler.in_nm();
    return (steps + kMostSteps - 1) / kMostSteps * ruler + (steps == 0 ? ruler : Length());
  }

  /// The sizes that `moves` change; empty where one of them is nothing then.
  [[nodiscard]] std::map<std::string, Length> changed_sizes(const Moves& moves) const {
    std::map<std::string, Length> set;
    for (std::size_t i = 0; i < moves.size(); ++i) {
      if (moves[i] == Length()) continue;
      const Length value = levers_[i].now + moves[i];
      if (value <= Length()) return {};
      set[levers_[i].path] = value;
    }
    return set;
  }

  [[nodiscard]] Request changed(const std::map<std::string, Length>& set) const {
    Request request = request_;
    for (const auto& [path, value] : set) apply(request, path, value);
    return request;
  }

  /// From the cheapest question to the dearest: sizes, a lay of the panel, and only then is folded.
  void look(const Moves& moves) {
    Change change;
    change.set = changed_sizes(moves);
    if (change.set.empty()) return;
    const Request request = changed(change.set);
    base::Diagnostics ignored;
    const auto sizes = pouch::unfolded_sizes(request, ignored);
    if (!sizes) return;
    // The turn of cloth, where it is added, is not known before the panel is folded.
    if (!request.turn_of_cloth && !may_be_listed(request, *sizes)) return;
    const Tried made = tried(request);
    if (!made.pouch || !keeps_all(made)) return;
    const pouch::Sizes& folded = made.pouch->sizes;
    if (!may_be_listed(request, folded)) return;
    const Panel panel = panel_of(folded);
    panels_[moves] = panel;
    if (!is_jump(moves, panel)) return;
    change.cloth_mm2_per_pouch = *cloths_.mm2_per_pouch(panel);
    change.saving_fraction = saving(change.cloth_mm2_per_pouch);
    change.cut_width = panel.width;
    change.cut_length = panel.length;
    change.water_line = made.pouch->water_line();
    change.capacity = made.pouch->capacity;
    change.across = cloths_.across(panel);
    found_.push_back({moves, std::move(change)});
  }

  /// Do the liners go in, and does the panel take so much less cloth?
  [[nodiscard]] bool may_be_listed(const Request& request, const pouch::Sizes& sizes) {
    const Panel panel = panel_of(sizes);
    if (saving(cloths_.least_mm2_per_pouch(panel)) < kLeastSaving - kRounding) return false;
    if (!keeps_liners(request, sizes)) return false;
    const std::optional<double> cloth = cloths_.mm2_per_pouch(panel);
    return cloth && saving(*cloth) >= kLeastSaving;
  }

  [[nodiscard]] bool keeps_liners(const Request& request, const pouch::Sizes& sizes) const {
    if (!base_.pouch->capacity) return true;
    const auto& liners = request_.liners;
    const int needed = liners && liners->count
                           ? std::min(liners->count->value, base_.pouch->capacity->liners)
                           : base_.pouch->capacity->liners;
    return pouch::capacity_of(request, sizes).liners >= needed;
  }

  /// Is the job warned of nothing new?
  [[nodiscard]] bool keeps_all(const Tried& made) const {
    return std::includes(base_.warnings.begin(), base_.warnings.end(), made.warnings.begin(),
                         made.warnings.end());
  }

  /// The panel after other moves; nothing where they give no pouch.
  [[nodiscard]] std::optional<Panel> panel_after(const Moves& moves) {
    const auto known = panels_.find(moves);
    if (known != panels_.end()) return known->second;
    std::optional<Panel>& panel = panels_[moves];
    const auto set = changed_sizes(moves);
    if (set.empty()) return panel;
    if (const auto pouch = tried(changed(set)).pouch) panel = panel_of(pouch->sizes);
    return panel;
  }

  [[nodiscard]] double saving(double cloth) const { return (now_ - cloth) / now_; }

  /// Whether the last step of every size that shrinks saves a greater part of the cloth than of the
  /// panel.
  [[nodiscard]] bool is_jump(const Moves& moves, const Panel& panel) {
    const double here = *cloths_.mm2_per_pouch(panel);
    for (std::size_t i = 0; i < moves.size(); ++i) {
      if (moves[i] >= Length()) continue;
      Moves before = moves;
      before[i] += step_;
      const std::optional<Panel> larger = panel_after(before);
      if (!larger) continue;
      const std::optional<double> cloth = cloths_.mm2_per_pouch(*larger);
      if (!cloth) continue;
      const double area = larger->mm2();
      if ((*cloth - here) / *cloth <= (area - panel.mm2()) / area + kRounding) return false;
    }
    return true;
  }

  /// Of two that are alike the one that was found first stays.
  [[nodiscard]] bool beaten(std::size_t index) const {
    const Found& one = found_[index];
    for (std::size_t i = 0; i < found_.size(); ++i) {
      const Found& other = found_[i];
      if (i == index || !nowhere_larger(other.moves, one.moves)) continue;
      if (other.change.saving_fraction < one.change.saving_fraction) continue;
      const bool alike = nowhere_larger(one.moves, other.moves) &&
                         other.change.saving_fraction == one.change.saving_fraction;
      if (!alike || i < index) return true;
    }
    return false;
  }

  std::vector<Found> listed() const {
    std::vector<Found> kept;
    for (std::size_t i = 0; i < found_.size(); ++i) {
      if (!beaten(i)) kept.push_back(found_[i]);
    }
    std::stable_sort(kept.begin(), kept.end(), [](const Found& a, const Found& b) {
      if (a.change.saving_fraction != b.change.saving_fraction) {
        return a.change.saving_fraction > b.change.saving_fraction;
      }
      return size_of(a.moves) < size_of(b.moves);
    });
    if (kept.size() > kMostSizeChanges) kept.resize(kMostSizeChanges);
    return kept;
  }

  const Request& request_;
  Cloths cloths_;
  Tried base_;
  /// Parts of sums in double numbers that are alike differ by less.
  static constexpr double kRounding = 1e-9;

  std::vector<Lever> levers_;
  std::map<Moves, std::optional<Panel>> panels_;  ///< by how the sizes were moved
  Length step_;
  double now_ = 0;
  std::vector<Found> found_;
};

}  // namespace

Savings savings(const pouch::Request& request, int pouches, const LayingRules& rules,
                Length tolerance, const std::function<void()>& before_each) {
  return Search(request, pouches, rules).run(tolerance, before_each);
}

}  // namespace pouchwright::batch
