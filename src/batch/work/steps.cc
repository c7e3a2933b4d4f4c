#include "batch/work/steps.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

#include "base/text.h"

namespace pouchwright::batch {

using base::Length;
using pouch::Action;
using pouch::Operation;

const WorkKind* WorkTable::kind(std::string_view name) const {
  const auto found = std::find_if(kinds.begin(), kinds.end(),
                                  [&](const WorkKind& one) { return one.name == name; });
  return found == kinds.end() ? nullptr : &*found;
}

double machine_minutes(Length length, Length stitch, double stitches_per_minute) {
  return length.in_mm() / (stitch.in_mm() * stitches_per_minute);
}

double basic_minutes(double observed, double rating) { return observed * rating / 100; }

double standard_minutes(double basic, double allowance) { return basic * (1 + allowance / 100); }

double minutes_a_piece(const WorkKind& kind, const Amount& amount) {
  constexpr double kSeconds = 60;
  constexpr double kMetre = 1000;
  double minutes = kind.minutes + kind.minutes_each * amount.each * amount.sides;
  for (const Length edge : amount.edges) {
    minutes += kind.minutes_per_metre * edge.in_mm() / kMetre * amount.sides;
    if (kind.stitch > Length()) {
      minutes += machine_minutes(edge, kind.stitch, kind.stitches_per_minute);
    }
    if (kind.hold_seconds > 0 && kind.hold_every > Length()) {
      const double holds = std::ceil(edge.in_mm() / kind.hold_every.in_mm());
      minutes += holds * kind.hold_seconds / kSeconds * amount.sides;
    }
  }
  return standard_minutes(basic_minutes(minutes, kind.rating), kind.allowance);
}

Time Step::takes(int pieces) const {
  Time time{};
  for (const StepOperation& operation : operations) {
    time += operation.each * pieces + operation.per_bundle;
  }
  return time;
}

int count_of(Station station, const Settings& settings, const WorkTable& table) {
  switch (station) {
    case Station::hands:
      return settings.helpers.value;
    case Station::table:
      return table.tables;
    case Station::machine:
      return settings.machines.value;
    case Station::overedge:
      return settings.overedge_machines.value;
    case Station::iron:
      return settings.irons.value;
  }
  return 0;
}

namespace {

/// One operation with what it needs, before operations are put together into steps.
struct Element {
  StepOperation operation;
  Station station = Station::hands;
  Time waits{};
  bool goes_on = false;
  std::set<std::size_t> needs;  ///< indices of earlier elements
};

class StepMaker {
 public:
  StepMaker(const WorkToDo& work, const WorkTable& table, base::Diagnostics& diagnostics)
      : work_(work),
        pouch_(*work.pouch),
        settings_(*work.settings),
        iron_(*work.iron),
        table_(table),
        diagnostics_(diagnostics) {}

  std::vector<Step> make() {
    for (const ClothCuts& cloth : *work_.cloths) cutting(cloth);
    begin_panels();
    std::set<std::size_t> takes_part;
    for (const pouch::Stage& stage : pouch_.stages) takes_part.insert(stage.operation);
    const auto& operations = pouch_.construction().operations;
    for (std::size_t i = 0; i < operations.size(); ++i) {
      if (takes_part.contains(i)) {
        operation(operations[i]);
      } else {
        is_skipped(operations[i]);
      }
    }
    return put_together();
  }

 private:
  // ---- Elements --------------------------------------------------------------------------------

  void cutting(const ClothCuts& cloth) {
    const WorkKind* kind = table_.kind(kCutting);
    if (!kind) return kind_missing(kCutting, kCutting);
    const auto panels = static_cast<double>(pouch_.construction().panels.size());
    Amount amount;
    amount.each = cloth.lines ? static_cast<double>(*cloth.lines) / settings_.pouches.value
                              : kCutsAPanel * panels;
    add(*kind, {"cut-" + cloth.cloth, cloth.cloth, kind->station, 1}, amount, {});
  }

  void operation(const Operation& operation) {
    const char* action = word_of(pouch::kActionWords, operation.action);
    const WorkKind* kind = table_.kind(action);
    if (!kind) return kind_missing(action, operation.id);
    const Amount amount = amount_of(operation);
    std::set<std::size_t> needs = needs_of(operation);
    int pass = 0;
    for (const Station station : stations_of(*kind, operation)) {
      ++pass;
      const std::string id =
          pass == 1 ? operation.id : operation.id + "-pass-" + std::to_string(pass);
      std::size_t last = add(*kind, {id, operation.id, station, pass}, amount, needs);
      if (const WorkKind* next = kind->then.empty() ? nullptr : table_.kind(kind->then)) {
        last = add(*next, {id + "-" + base::slug(next->name), operation.id, next->station, pass},
                   amount, {last});
      }
      needs = {last};
    }
    is_done(operation, *needs.begin());
  }

  /// Where each pass of the operation is done, in order.
  [[nodiscard]] std::vector<Station> stations_of(const WorkKind& kind,
                                                 const Operation& operation) const {
    std::vector<Station> stations;
    if (kind.station == Station::machine || kind.station == Station::overedge) {
      for (const Seam& seam : *work_.seams) {
        if (seam.operation != operation.id) continue;
        stations.push_back(is_overedge(seam.stitch) ? Station::overedge : Station::machine);
      }
    }
    if (stations.empty()) stations.push_back(kind.station);
    return stations;
  }

  /// What tells one piece of work from others of its kind.
  struct Which {
    std::string id;
    std::string about;
    Station station;
    int pass;
  };

  std::size_t add(const WorkKind& kind, const Which& which, const Amount& amount,
                  std::set<std::size_t> needs) {
    WorkKind worked = kind;
    if (iron_ && iron_->seconds > 0 && kind.station == Station::iron) {
      worked.hold_seconds = iron_->seconds;
    }
    const double per_bundle =
        standard_minutes(basic_minutes(kind.minutes_per_bundle, kind.rating), kind.allowance);
    elements_.push_back(
        {{which.id, kind.name, which.about, which.pass,
          Time::minutes(minutes_a_piece(worked, amount)), Time::minutes(per_bundle)},
         station_at_hand(which.station, which.id),
         Time::minutes(kind.waits),
         kind.goes_on,
         std::move(needs)});
    return elements_.size() - 1;
  }

  /// The station, if the job has one.
  Station station_at_hand(Station station, const std::string& id) {
    if (station == Station::overedge && settings_.overedge_machines.value == 0) {
      station = Station::machine;
    }
    if (count_of(station, settings_, table_) > 0 || !told_.insert(station).second) return station;
    const base::Place& place =
        station == Station::iron ? settings_.irons.place : settings_.machines.place;
    const std::string key = key_of("schedule-none-", kStationWords, station);
    diagnostics_.error(place, {key, {{"operation", id}}}, {{key + "-hint"}});
    return station;
  }

  void kind_missing(const std::string& name, const std::string& operation) {
    diagnostics_.error(table_.place,
                       {"work-kind-missing", {{"kind", name}, {"operation", operation}}},
                       {{"work-kind-missing-hint", {{"kind", name}}}});
  }

  // ---- Amounts ---------------------------------------------------------------------------------

  [[nodiscard]] Amount amount_of(const Operation& operation) const {
    Amount amount;
    for (const auto& edge : operation.edges) {
      const bool side = edge.value == pouch::Edge::left || edge.value == pouch::Edge::right;
      amount.edges.push_back(side ? side_length(operation) : pouch_.sizes.cut_width);
    }
    if (operation.action == Action::finish || operation.action == Action::fold) {
      amount.edges.push_back(pouch_.sizes.cut_width);
    }
    amount.each = std::max(1.0, static_cast<double>(amount.edges.size()));
    if (operation.action == Action::press && operation.from == pouch::PressFrom::both) {
      amount.sides = 2;
    }
    return amount;
  }

  /// How long a side is where `operation` works on it: what it fuses or sews, else all that lies
  /// there at that moment.
  [[nodiscard]] Length side_length(const Operation& operation) const {
    std::vector<pouch::Interval> parts;
    for (const pouch::Contact& contact : pouch_.contacts) {
      if (contact.operation == operation.id) parts.push_back(contact.heights);
    }
    for (const pouch::SeamLayers& seam : pouch_.layers_at_seams) {
      if (seam.operation == operation.id) parts.push_back(seam.heights);
    }
    if (parts.empty()) parts = heights_at(operation);
    Length sum;
    for (const pouch::Interval& part : pouch::joined(std::move(parts))) sum += part.size();
    return sum;
  }

  [[nodiscard]] std::vector<pouch::Interval> heights_at(const Operation& operation) const {
    std::vector<pouch::Interval> heights;
    for (const pouch::Stage& stage : pouch_.stages) {
      if (&pouch_.construction().operations[stage.operation] != &operation) continue;
      for (const pouch::Layer& layer : stage.folded.layers()) heights.push_back(layer.heights);
    }
    return heights;
  }

  // ---- Order -----------------------------------------------------------------------------------

  /// The panel that an operation is about, or none: it is about all of them.
  [[nodiscard]] std::string panel_of(const Operation& operation) const {
    if (!operation.panel.empty()) return operation.panel;
    const bool first = operation.action == Action::finish || operation.action == Action::fold;
    return first ? pouch_.construction().panels.front().name : std::string();
  }

  /// The elements that an operation comes directly after; those before them follow from it.
  [[nodiscard]] std::set<std::size_t> needs_of(const Operation& operation) const {
    const std::string about = panel_of(operation);
    std::set<std::size_t> needs;
    for (const auto& [panel, last] : last_of_panel_) {
      if (about.empty() || about == panel) needs.insert(last.begin(), last.end());
    }
    for (const auto& need : operation.needs) {
      const auto stands_for = ends_.find(need.value);
      if (stands_for != ends_.end()) {
        needs.insert(stands_for->second.begin(), stands_for->second.end());
      }
    }
    return needs;
  }

  void begin_panels() {
    std::set<std::size_t> cut;
    for (std::size_t i = 0; i < elements_.size(); ++i) cut.insert(i);
    for (const auto& panel : pouch_.construction().panels) last_of_panel_[panel.name] = cut;
  }

  void is_done(const Operation& operation, std::size_t last) {
    const std::string about = panel_of(operation);
    for (auto& [panel, ends] : last_of_panel_) {
      if (about.empty() || about == panel) ends = {last};
    }
    ends_[operation.id] = {last};
  }

  /// Whoever needs what the job skips needs what that would have needed.
  void is_skipped(const Operation& operation) {
    std::set<std::size_t>& ends = ends_[operation.id];
    for (const auto& need : operation.needs) {
      const auto before = ends_.find(need.value);
      if (before != ends_.end()) ends.insert(before->second.begin(), before->second.end());
    }
  }

  // ---- Steps -----------------------------------------------------------------------------------

  /// Is element `i` done in the same hands as the one before it, which `step` ends with?
  [[nodiscard]] bool goes_on(const Step& step, std::size_t i) const {
    const Element& element = elements_[i];
    return elements_[i - 1].goes_on && elements_[i - 1].waits == Time() &&
           element.needs.contains(i - 1) &&
           (step.station == Station::hands || element.station == Station::hands ||
            step.station == element.station);
  }

  [[nodiscard]] std::vector<Step> put_together() const {
    std::vector<Step> made;
    std::vector<std::size_t> step_of;
    for (std::size_t i = 0; i < elements_.size(); ++i) {
      const Element& element = elements_[i];
      if (i == 0 || !goes_on(made.back(), i)) made.emplace_back();
      Step& step = made.back();
      step.operations.push_back(element.operation);
      if (element.station != Station::hands) step.station = element.station;
      step.waits = element.waits;
      step_of.push_back(made.size() - 1);
      std::set<std::size_t> needs(step.needs.begin(), step.needs.end());
      for (const std::size_t need : element.needs) {
        if (step_of[need] + 1 != made.size()) needs.insert(step_of[need]);
      }
      step.needs.assign(needs.begin(), needs.end());
    }
    return made;
  }

  const WorkToDo& work_;
  const pouch::Pouch& pouch_;
  const Settings& settings_;
  const std::optional<IronTrial>& iron_;
  const WorkTable& table_;
  base::Diagnostics& diagnostics_;
  std::vector<Element> elements_;
  std::map<std::string, std::set<std::size_t>> last_of_panel_;  ///< what was last done to it
  std::map<std::string, std::set<std::size_t>> ends_;           ///< by operation
  std::set<Station> told_;
};

}  // namespace

std::vector<Step> steps(const WorkToDo& work, const WorkTable& table,
                        base::Diagnostics& diagnostics) {
  return StepMaker(work, table, diagnostics).make();
}

}  // namespace pouchwright::batch
