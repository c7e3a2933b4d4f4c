#include "pouch/pouch.h"

#include <algorithm>

#include "base/length.h"
#include "pouch/fold/run.h"
#include "pouch/judge/cards.h"
#include "pouch/judge/content.h"
#include "pouch/judge/remedies.h"
#include "pouch/judge/run_checks.h"
#include "pouch/judge/size_checks.h"
#include "pouch/judge/sizes.h"
#include "pouch/judge/water.h"

namespace pouchwright::pouch {

namespace {

using base::asked;
using base::at_most;
using base::exact;

base::Message because(const WaterLine& water, const Request& request, const Sizes& sizes) {
  const Construction& construction = request.construction;
  const std::string& span = sizes.span(water.span).name;
  switch (water.cause) {
    case LeakCause::lip:
      return {"water-ends-at-lip", {{"lip", at_most(water.lip)}}};
    case LeakCause::clear_seal: {
      const Length clear = sizes.seal_width - sizes.needle_reach;
      return {"water-ends-at-clear-seal",
              {{"seal", exact(sizes.seal_width)},
               {"reach", exact(sizes.needle_reach)},
               {"worst", seal_left(clear - request.tolerance.sum())},
               {"min", exact(sizes.min_clear_seal)}}};
    }
    case LeakCause::end_finish:
      return {water.end == Edge::start ? "water-ends-at-start-finish" : "water-ends-at-end-finish",
              {{"height", at_most(water.height)}}};
    case LeakCause::attachment:
      return {"water-ends-at-attachment",
              {{"attachment", construction.attachments[*water.by].name},
               {"height", at_most(water.height)}}};
    case LeakCause::caught:
      return {"water-ends-at-caught",
              {{"attachment", construction.attachments[*water.by].name},
               {"height", at_most(water.height)}}};
    case LeakCause::cloth:
      return {"water-ends-at-cloth",
              {{"span", span},
               {"other", sizes.span(water.facing).name},
               {"height", at_most(water.height)}}};
    case LeakCause::too_early:
      return {"water-ends-too-early",
              {{"span", span},
               {"fold", water.by ? construction.operations[*water.by].id : ""},
               {"height", at_most(water.height)}}};
    case LeakCause::bottom_seam:
      return {"water-ends-at-bottom-seam", {{"span", span}}};
    case LeakCause::narrow_seal:
      return {"water-ends-at-narrow-seal", {{"span", span}, {"height", at_most(water.height)}}};
    case LeakCause::never_fused:
      return {"water-ends-unfused", {{"span", span}, {"height", at_most(water.height)}}};
  }
  return {};
}

/// What each span gains by the turn of cloth: half of what a line takes for either side of it. What
/// is turned of a hem is stated, so there the neighbour has it all.
Turns turns_of(const Run& run) {
  Turns turns;
  for (const FoldMade& fold : run.folds) {
    const Length share = base::half(turn_of_cloth(fold.thickness, fold.enclosed));
    for (const SpanId line : fold.bent) {
      const auto before = span_ref(run.finished().panels(), line);
      const auto after = span_ref(run.finished().panels(), {line.panel, line.span + 1});
      // Halves of one length, so that lines that lie on each other stay there to the nanometre.
      if (before) turns[*before] += after ? share : 2 * share;
      if (after) turns[*after] += before ? share : 2 * share;
    }
  }
  return turns;
}

/// Over all lines that are bent, in whole nanometres.
Length total_turn(const Run& run) {
  Length sum;
  for (const FoldMade& fold : run.folds) {
    const auto lines = static_cast<std::int64_t>(fold.bent.size());
    sum += lines * turn_of_cloth(fold.thickness, fold.enclosed);
  }
  return sum;
}

std::optional<Values> open_values(const Request& request, base::Diagnostics& diagnostics) {
  Values values = stated_values(request);
  if (request.panel) return values_from_panel(request, values, diagnostics);
  if (request.liners && request.liners->count) {
    return values_from_liners(request, values, diagnostics);
  }
  return values;
}

/// What is usual for a size, where that is below `limit`.
std::optional<base::Remedy> usual_below(const Request& request, std::string_view name,
                                        Length limit) {
  for (const SizeRule& rule : request.construction.sizes) {
    const auto usual = rule.usual(request.units);
    if (rule.name != name || !usual || *usual >= limit) continue;
    return base::Remedy{size_path(name), exact(*usual)};
  }
  return std::nullopt;
}

/// A lip drop not below the depth leaves no front at all, which says less than these two numbers.
bool lip_is_below_the_flap_fold(const Request& request, const Values& values,
                                base::Diagnostics& diagnostics) {
  const auto drop = values.find(size::kLipDrop);
  const auto depth = values.find(size::kDepth);
  if (drop == values.end() || depth == values.end() || drop->second < depth->second) return true;
  diagnostics.add({.place = place_of(request, size::kLipDrop),
                   .message = {"lip-drop-over-depth",
                               {{"drop", exact(drop->second)}, {"depth", exact(depth->second)}}},
                   .hints = {{"lip-drop-over-depth-hint"}},
                   .path = size_path(size::kLipDrop),
                   .remedy = usual_below(request, size::kLipDrop, depth->second)});
  return false;
}

/// The shields of all pressings and the slip cards of all compartments that get one.
std::vector<NamedCard> cards_of(const Request& request, const Sizes& sizes, const Run& run) {
  const Construction& construction = request.construction;
  const auto outline = [&](CardKind kind, Length lip, const PressMade& press) {
    if (request.card && request.card->kind == kind) {
      return own_card(*request.card, sizes, request.units, lip, press);
    }
    return kind == CardKind::slip ? slip_card(sizes, lip, press)
                                  : shield(sizes, request.units, lip, press);
  };
  std::vector<NamedCard> cards;
  for (const PressMade& press : run.presses) {
    for (std::size_t i = 0; i < construction.compartments.size(); ++i) {
      if (i > 0 && !run.carded.contains(i)) continue;
      cards.push_back({CardKind::slip, press.operation, i,
                       outline(CardKind::slip, press.lip_heights[i], press)});
    }
    cards.push_back({CardKind::shield, press.operation, 0,
                     outline(CardKind::shield, press.lip_heights.front(), press)});
  }
  return cards;
}

void set_overall_height(Sizes& sizes, const Folded& finished) {
  const std::vector<Length> heights = finished.breaks();
  sizes.overall_height = heights.back() - heights.front();
}

struct Unfolded {
  Values values;
  Sizes sizes;
};

/// Fails: empty after an error that leaves no panel to fold.
std::optional<Unfolded> unfolded(const Request& request, base::Diagnostics& faults) {
  const auto values = open_values(request, faults);
  if (!values) return std::nullopt;
  (void)lip_is_below_the_flap_fold(request, *values, faults);
  const auto sizes = sizes_of(request, *values, {}, faults);
  if (!sizes) return std::nullopt;
  check_sizes(request, *sizes, faults);
  return Unfolded{*values, *sizes};
}

/// The panel as it is cut, and how it is folded.
struct Folding {
  Sizes sizes;
  Run run;
  Length turn;  ///< of cloth, over all folds
};

/// Whoever says where a panel is folded has it folded there.
bool adds_turn(const Request& request) {
  return request.turn_of_cloth && !(request.panel && request.panel->folds);
}

/// Where the job adds the turn of cloth, the panel is folded again with what the first time took.
/// Fails: empty after an error.
std::optional<Folding> made_from(const Request& request, const Unfolded& flat,
                                 base::Diagnostics& faults) {
  const auto fold = [&](const Sizes& sizes, const Turns& turns, base::Diagnostics& told) {
    return run(request, sizes, finished_values(request, flat.values, turns, sizes), told);
  };
  std::optional<Sizes> sizes = flat.sizes;
  auto folded = fold(*sizes, {}, faults);
  if (!folded || faults.has_errors()) return std::nullopt;
  const Length turn = total_turn(*folded);
  if (adds_turn(request)) {
    base::Diagnostics again;  // the same operations on a panel a hair longer: nothing new to say
    const Turns turns = turns_of(*folded);
    sizes = sizes_of(request, flat.values, turns, again);
    if (sizes) folded = fold(*sizes, turns, again);
    if (!sizes || !folded) {
      faults.add_all(again);
      return std::nullopt;
    }
  }
  set_overall_height(*sizes, folded->finished());
  return Folding{*std::move(sizes), *std::move(folded), turn};
}

/// Up to where each compartment holds water, and what the first holds.
std::vector<WaterLine> add_water(const Request& request, const Run& folded, Pouch& pouch) {
  const Sizes& sizes = pouch.sizes;
  std::vector<WaterLine> waters;
  for (std::size_t i = 0; i < request.construction.compartments.size(); ++i) {
    waters.push_back(water_line(request.construction, i, sizes, folded, request.tolerance.sum()));
    pouch.compartments.push_back(
        {waters[i].lip, waters[i].height, because(waters[i], request, sizes)});
  }
  const Length stands = water_height(request.construction, sizes, pouch.water_line());
  pouch.water_volume_ml = open_bag_ml(sizes.inside_width, stands);
  pouch.bottom_pressure_pa = water_pressure_pa(stands);
  return waters;
}

}  // namespace

base::Message seal_left(Length worst) {
  if (worst > Length()) return {"seal-left", {{"left", exact(worst)}}};
  if (worst == Length()) return {"seal-none-left"};
  return {"seal-short", {{"short", exact(-worst)}}};
}

const Card& first_card(const std::vector<NamedCard>& cards, NamedCard::Use use) {
  static const Card kNone;
  for (const NamedCard& one : cards) {
    if (one.use == use) return one.card;
  }
  return kNone;
}

std::optional<Sizes> unfolded_sizes(const Request& request, base::Diagnostics& diagnostics) {
  base::Diagnostics faults;
  auto flat = unfolded(request, faults);
  diagnostics.add_all(faults);
  if (!flat || faults.has_errors()) return std::nullopt;
  return std::move(flat->sizes);
}

std::optional<Pouch> derive(const Request& request, base::Diagnostics& diagnostics) {
  base::Diagnostics faults;
  const auto flat = unfolded(request, faults);
  auto made = flat ? made_from(request, *flat, faults) : std::nullopt;
  if (!made) {
    diagnostics.add_all(faults);
    return std::nullopt;
  }
  const Sizes& sizes = made->sizes;
  Pouch pouch;
  pouch.request = request;
  pouch.sizes = sizes;
  pouch.contacts = made->run.contacts;
  pouch.seal_zones = seal_zones(sizes, made->run);
  pouch.exposed_film = made->run.exposed;
  for (const Interval& bare : made->run.exposed_below) pouch.exposed_film.push_back(bare);
  pouch.lip_height = made->run.lip_heights.front();
  pouch.clear_seal = sizes.seal_width - sizes.needle_reach;
  pouch.clear_seal_worst = pouch.clear_seal - request.tolerance.sum();
  pouch.turn_of_cloth = made->turn;
  pouch.turn_of_cloth_added = adds_turn(request);
  pouch.layers_at_seams = made->run.seam_layers;
  pouch.test_points = made->run.test_points;
  pouch.fixed = made->run.fixed;
  pouch.cards = cards_of(request, sizes, made->run);
  if (request.liners) pouch.capacity = capacity_of(request, sizes);
  const std::vector<WaterLine> waters = add_water(request, made->run, pouch);
  check_run(made->run, waters, pouch, faults);
  pouch.stages = std::move(made->run.stages);
  diagnostics.add_all(faults);
  return pouch;
}

}  // namespace pouchwright::pouch
