#include "batch/work/steps.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "base/text.h"
#include "batch/work/elements.h"
#include "batch/work/preparations.h"

namespace pouchwright::batch {

using base::Length;
using pouch::Operation;
using pouch::does::FillFirst;
using pouch::does::Finish;
using pouch::does::Fold;
using pouch::does::LayPanel;
using pouch::does::Press;

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
  if (pieces == 0) return time;
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

/// The panel that an operation is about, or none: it is about all of them.
std::optional<std::size_t> panel_of(const Operation& operation) {
  if (const auto* lays = operation.as<LayPanel>()) return lays->panel;
  if (const auto* finish = operation.as<Finish>()) return finish->panel;
  if (operation.as<Fold>()) return 0;
  return std::nullopt;
}

std::vector<pouch::Interval> heights_at(const pouch::Pouch& pouch, std::size_t operation) {
  std::vector<pouch::Interval> heights;
  for (const pouch::Stage& stage : pouch.stages) {
    if (stage.operation != operation) continue;
    for (const pouch::Layer& layer : stage.folded.layers()) heights.push_back(layer.heights);
  }
  return heights;
}

/// What was done last, by panel and by operation: what comes next needs it.
class LastDone {
 public:
  /// At first each panel needs the elements that `cut` it.
  LastDone(const pouch::Pouch& pouch, const std::set<std::size_t>& cut)
      : pouch_(pouch), ends_(pouch.construction().operations.size()) {
    last_of_panel_.assign(pouch.construction().panels.size(), cut);
  }

  /// The elements that an operation comes directly after; those before them follow from it.
  [[nodiscard]] std::set<std::size_t> needs_of(const Operation& operation) const {
    const auto about = panel_of(operation);
    std::set<std::size_t> needs;
    for (std::size_t panel = 0; panel < last_of_panel_.size(); ++panel) {
      if (about && *about != panel) continue;
      needs.insert(last_of_panel_[panel].begin(), last_of_panel_[panel].end());
    }
    for (const std::size_t need : operation.needs)
      needs.insert(ends_[need].begin(), ends_[need].end());
    return needs;
  }

  void is_done(std::size_t index, std::size_t last) {
    const auto about = panel_of(pouch_.operation(index));
    for (std::size_t panel = 0; panel < last_of_panel_.size(); ++panel) {
      if (!about || *about == panel) last_of_panel_[panel] = {last};
    }
    ends_[index] = {last};
  }

  /// Whoever needs what the job skips needs what that would have needed.
  void is_skipped(std::size_t index) {
    for (const std::size_t need : pouch_.operation(index).needs) {
      ends_[index].insert(ends_[need].begin(), ends_[need].end());
    }
  }

 private:
  const pouch::Pouch& pouch_;
  std::vector<std::set<std::size_t>> last_of_panel_;  ///< what was last done to it
  std::vector<std::set<std::size_t>> ends_;           ///< by operation
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
    LastDone last(pouch_, marked());
    std::set<std::size_t> takes_part;
    for (const pouch::Stage& stage : pouch_.stages) takes_part.insert(stage.operation);
    for (std::size_t i = 0; i < pouch_.construction().operations.size(); ++i) {
      if (takes_part.contains(i)) {
        operation(i, last);
      } else {
        last.is_skipped(i);
      }
    }
    prepare(elements_, {.table = &table_,
                        .settings = &settings_,
                        .tries_iron = !iron_.has_value(),
                        .cards = pouch_.request.card ? 0 : pouch_.cards.size()});
    return put_together(elements_);
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
    add(*kind, {"cut-" + cloth.cloth, std::nullopt, kind->station, 1, cloth.cloth}, amount, {});
  }

  /// What is there before the first operation: cut panels, marked where the table knows that.
  std::set<std::size_t> marked() {
    std::set<std::size_t> cut;
    for (std::size_t i = 0; i < elements_.size(); ++i) cut.insert(i);
    const WorkKind* kind = table_.kind(kMarking);
    if (!kind) return cut;
    return {add(*kind, {base::slug(kMarking), std::nullopt, kind->station, 1, ""}, {}, cut)};
  }

  void operation(std::size_t index, LastDone& last_done) {
    const Operation& operation = pouch_.operation(index);
    const char* action = word_of(pouch::kActionWords, operation.action());
    const WorkKind* kind = is_sewn_on(operation) ? table_.kind(kSewingOn) : nullptr;
    if (!kind) kind = table_.kind(action);
    if (!kind) return kind_missing(action, operation.id);
    const Amount amount = amount_of(index);
    std::set<std::size_t> needs = last_done.needs_of(operation);
    int pass = 0;
    for (const Pass& one : passes_of(*kind, index)) {
      ++pass;
      const std::string id =
          pass == 1 ? operation.id : operation.id + "-pass-" + std::to_string(pass);
      std::size_t last = add(*kind, {id, index, one.station, pass, ""}, amount, needs);
      const WorkKind* next = one.is_followed ? table_.kind(kind->then) : nullptr;
      if (next != nullptr) {
        last = add(*next, {id + "-" + base::slug(next->name), index, next->station, pass, ""},
                   amount, {last});
      }
      needs = {last};
    }
    last_done.is_done(index, *needs.begin());
  }

  /// A strap goes on by a machine; a table that knows no such work counts it as fixed by hand.
  [[nodiscard]] bool is_sewn_on(const Operation& operation) const {
    const auto* attach = operation.as<pouch::does::Attach>();
    if (attach == nullptr) return false;
    const auto& rule = pouch_.construction().attachments[attach->attachment];
    return rule.kind == pouch::AttachmentKind::strap;
  }

  /// Where a pass of an operation is done, and whether the kind that follows it does.
  struct Pass {
    Station station;
    bool is_followed;
  };

  /// In order. What follows sewing is about the thread chains: a stitch without them has none to
  /// snip.
  [[nodiscard]] std::vector<Pass> passes_of(const WorkKind& kind, std::size_t operation) const {
    const bool has_next = !kind.then.empty();
    std::vector<Pass> passes;
    const bool sews = kind.station == Station::machine || kind.station == Station::overedge;
    // The seams of a strap are those that make it up, too.
    if (sews && !is_sewn_on(pouch_.operation(operation))) {
      for (const Seam& seam : *work_.seams) {
        if (seam.operation != operation) continue;
        passes.push_back({is_overedge(seam.stitch) ? Station::overedge : Station::machine,
                          has_next && !seam.has_back_tacks});
      }
    }
    if (passes.empty()) passes.push_back({kind.station, has_next});
    return passes;
  }

  /// What tells one piece of work from others of its kind.
  struct Which {
    std::string id;
    std::optional<std::size_t> about;
    Station station;
    int pass;
    std::string cloth;
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
          Time::minutes(minutes_a_piece(worked, amount)), Time::minutes(per_bundle), which.cloth},
         station_at_hand(which.station, which.id),
         Time::minutes(kind.waits),
         kind.goes_on,
         std::move(needs),
         firsts_of(which),
         false,
         Time::minutes(kind.set_up),
         kind.water});
    return elements_.size() - 1;
  }

  /// Only the first pouch of each person who presses is filled before it is sewn.
  [[nodiscard]] std::optional<int> firsts_of(const Which& which) const {
    const bool fills = which.about && pouch_.operation(*which.about).as<FillFirst>() != nullptr;
    return fills ? std::optional(first_pouches(settings_)) : std::nullopt;
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

  [[nodiscard]] Amount amount_of(std::size_t index) const {
    const Operation& operation = pouch_.operation(index);
    Amount amount;
    for (const pouch::Edge edge : edges_of(operation)) {
      const bool side = edge == pouch::Edge::left || edge == pouch::Edge::right;
      amount.edges.push_back(side ? side_length(index) : pouch_.sizes.cut_width);
    }
    if (operation.as<Finish>() || operation.as<Fold>()) {
      amount.edges.push_back(pouch_.sizes.cut_width);
    }
    double each = static_cast<double>(amount.edges.size());
    for (const pouch::Fixed& one : pouch_.fixed) {
      if (one.operation == index) each += static_cast<double>(one.x.size());
    }
    amount.each = std::max(1.0, each);
    const auto* press = operation.as<Press>();
    if (press != nullptr && press->from == pouch::PressFrom::both) amount.sides = 2;
    return amount;
  }

  /// How long a side is where `operation` works on it: what it fuses or sews, else all that lies
  /// there at that moment.
  [[nodiscard]] Length side_length(std::size_t operation) const {
    std::vector<pouch::Interval> parts;
    for (const pouch::Contact& contact : pouch_.contacts) {
      if (contact.operation == operation) parts.push_back(contact.heights);
    }
    for (const pouch::SeamLayers& seam : pouch_.layers_at_seams) {
      if (seam.operation == operation) parts.push_back(seam.heights);
    }
    if (parts.empty()) parts = heights_at(pouch_, operation);
    Length sum;
    for (const pouch::Interval& part : pouch::joined(std::move(parts))) sum += part.size();
    return sum;
  }

  const WorkToDo& work_;
  const pouch::Pouch& pouch_;
  const Settings& settings_;
  const std::optional<IronTrial>& iron_;
  const WorkTable& table_;
  base::Diagnostics& diagnostics_;
  std::vector<Element> elements_;
  std::set<Station> told_;
};

}  // namespace

Time packing_time(const Settings& settings, const WorkTable& table) {
  const WorkKind* kind = table.kind(kPacking);
  if (!kind) return {};
  return Time::minutes(minutes_a_piece(*kind, {})) * settings.pouches.value;
}

std::vector<Step> steps(const WorkToDo& work, const WorkTable& table,
                        base::Diagnostics& diagnostics) {
  return StepMaker(work, table, diagnostics).make();
}

}  // namespace pouchwright::batch
