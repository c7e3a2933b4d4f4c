#include "pouch/pouch.h"

#include <algorithm>

#include "base/length.h"
#include "pouch/fold/run.h"
#include "pouch/judge/cards.h"
#include "pouch/judge/content.h"
#include "pouch/judge/sizes.h"
#include "pouch/judge/water.h"

namespace pouchwright::pouch {

namespace {

using base::asked;
using base::at_most;
using base::exact;

/// The checks of one derivation, with what they all need at hand.
class Checks {
 public:
  Checks(const Request& request, const Sizes& sizes, base::Diagnostics& diagnostics)
      : request_(request), sizes_(sizes), diagnostics_(diagnostics) {}

  /// Everything that can be said before the panel is folded.
  void of_sizes() {
    seal_against_needles();
    seal_zones_meet();
    lip_and_flap();
    cloth_is_wide_enough(request_.laminate);
    if (request_.outer) cloth_is_wide_enough(*request_.outer);
    outer_frays();
    capacity_of_stated_sizes();
  }

  /// What folding and pressing showed.
  void of_run(const Run& run, const std::vector<WaterLine>& waters, const Pouch& pouch) {
    own_card_is_long_enough(pouch);
    exposed_film(run, pouch);
    const auto& compartments = request_.construction.compartments;
    for (std::size_t i = 0; i < waters.size(); ++i) {
      if (compartments[i].holds == Holds::water) water_line(waters[i]);
    }
    thick_seams(run);
  }

 private:
  const Place& place(std::string_view size_name) const { return place_of(request_, size_name); }

  void seal_against_needles() {
    const Length reach = std::max(sizes_.needle_reach, sizes_.seam_allowance);
    if (sizes_.needle_reach < sizes_.seam_allowance) {
      diagnostics_.warning(
          place(size::kNeedleReach),
          {"reach-inside-seam",
           {{"reach", exact(sizes_.needle_reach)}, {"allowance", exact(sizes_.seam_allowance)}}},
          {{"reach-inside-seam-hint"}});
    }
    if (sizes_.seal_width > reach) return;
    diagnostics_.error(
        place(size::kSealWidth),
        {"seal-not-above-reach", {{"seal", exact(sizes_.seal_width)}, {"reach", exact(reach)}}},
        {{"seal-not-above-reach-hint",
          {{"least", asked(reach + request_.tolerance.sum() + sizes_.min_clear_seal)}}}});
  }

  void seal_zones_meet() {
    if (sizes_.inside_width > 2 * kSlipCardPlay) return;
    diagnostics_.error(place(size::kSealWidth),
                       {"seal-zones-meet",
                        {{"seal", exact(sizes_.seal_width)},
                         {"cut", exact(sizes_.cut_width)},
                         {"inside", exact(sizes_.inside_width)}}},
                       {{"seal-zones-meet-hint"}});
  }

  void lip_and_flap() {
    if (sizes_.flap > Length() && sizes_.flap > sizes_.depth) {
      diagnostics_.warning(
          place(size::kFlap),
          {"flap-over-depth", {{"flap", exact(sizes_.flap)}, {"depth", exact(sizes_.depth)}}},
          {{"flap-over-depth-hint"}});
    }
    if (sizes_.flap > Length() && sizes_.flap <= sizes_.lip_drop) {
      diagnostics_.warning(
          place(size::kFlap),
          {"flap-misses-lip", {{"flap", exact(sizes_.flap)}, {"drop", exact(sizes_.lip_drop)}}},
          {{"flap-misses-lip-hint"}});
    }
  }

  void cloth_is_wide_enough(const Material& material) {
    const Length usable = material.usable_width();
    Length least = std::min(sizes_.cut_width, sizes_.cut_length);
    if (material.turn == Turn::along) least = sizes_.cut_width;
    if (material.turn == Turn::across) least = sizes_.cut_length;
    if (least <= usable) return;
    diagnostics_.error(request_.panel ? request_.panel->width.place : place(size::kWidth),
                       {"panel-wider-than-cloth",
                        {{"width", exact(sizes_.cut_width)},
                         {"length", exact(sizes_.cut_length)},
                         {"material", material.name},
                         {"usable", exact(usable)}}},
                       {{"panel-wider-than-cloth-hint"}});
  }

  void outer_frays() {
    if (!request_.outer || !request_.outer->frays) return;
    for (const Edge edge : {Edge::start, Edge::end}) {
      const EndFinish& finish = finish_of(request_, edge);
      const bool is_start = edge == Edge::start;
      if (finish.kind != FinishKind::none) continue;
      const char* end = request_.construction.flap_span ? "outer-frays-end" : "outer-frays-far-end";
      diagnostics_.warning(
          finish.stated.value_or(request_.outer->place),
          {is_start ? "outer-frays-start" : end, {{"outer", request_.outer->name}}},
          {{is_start ? "outer-frays-start-hint" : "outer-frays-end-hint"}});
    }
  }

  void capacity_of_stated_sizes() {
    if (!request_.liners || !request_.liners->count) return;
    const Capacity capacity = capacity_of(request_, sizes_);
    const int count = request_.liners->count->value;
    if (capacity.liners >= count) return;
    base::Message told{"liners-over-capacity", {{"count", count}, {"capacity", capacity.liners}}};
    const Place& asked_at = request_.liners->count->place;
    if (request_.liners->strictness == Liners::Count::must_fit) {
      diagnostics_.error(asked_at, std::move(told), {least_for_liners()});
    } else {
      diagnostics_.warning(asked_at, std::move(told), {least_for_liners()});
    }
  }

  /// What would have to be larger, and how large.
  [[nodiscard]] base::Message least_for_liners() const {
    const auto least = least_sizes(request_);
    if (!least) return {"liners-too-many-hint"};
    base::Value::List sizes;
    for (const auto& [name, length] : least->sizes) {
      const std::string table = request_.panel ? "panel." : "pouch.";
      sizes.push_back(
          base::Message{"liners-least-size", {{"size", table + name}, {"length", exact(length)}}});
    }
    return {"liners-least-hint",
            {{"sizes", sizes},
             {"width", exact(least->cut_width)},
             {"length", exact(least->cut_length)}}};
  }

  /// Above a card that is too short the films can stick to each other.
  void own_card_is_long_enough(const Pouch& pouch) {
    if (!request_.card) return;
    const OwnCard& own = *request_.card;
    const bool is_slip = own.kind == CardKind::slip;
    const bool is_used = request_.cards == CardUse::both ||
                         request_.cards == (is_slip ? CardUse::inside : CardUse::on_top);
    if (!is_used) return;
    Length missing;
    for (const NamedCard& one : pouch.cards) {
      if (one.use != own.kind) continue;
      const Length bottom = one.card.outline.front().y;
      const bool has_bar = one.card.top > one.card.shoulder;
      const Length up_to = has_bar ? one.card.shoulder : pouch.lip_height;
      missing = std::max(missing, up_to - bottom - own.length.value);
    }
    if (missing <= Length()) return;
    const base::Message told{is_slip ? "card-shorter-than-front" : "shield-shorter-than-front",
                             {{"length", exact(own.length.value)},
                              {"needed", exact(own.length.value + missing)},
                              {"missing", exact(missing)}}};
    const base::Message hint{"card-shorter-hint", {{"needed", exact(own.length.value + missing)}}};
    if (is_slip) {
      diagnostics_.error(own.length.place, told, {hint});
    } else {
      diagnostics_.warning(own.length.place, told, {hint});
    }
  }

  void exposed_film(const Run& run, const Pouch& pouch) {
    std::vector<Interval> covers;
    if (request_.cards != CardUse::on_top) {
      covers.push_back(first_card(pouch.cards, NamedCard::Use::slip).bar_heights());
    }
    if (request_.cards != CardUse::inside) {
      covers.push_back(first_card(pouch.cards, NamedCard::Use::shield).bar_heights());
    }
    for (const Interval& bare : run.exposed) {
      for (const Interval& left : without(bare, covers)) warn_exposed(left, "film-exposed");
    }
    for (const Interval& bare : run.exposed_below) warn_exposed(bare, "film-exposed-below");
  }

  void warn_exposed(const Interval& bare, const char* key) {
    diagnostics_.warning(
        request_.place,
        {key, {{"from", std::max(bare.from, Length())}, {"to", std::max(bare.to, Length())}}},
        {{"film-exposed-hint"}});
  }

  void water_line(const WaterLine& water) {
    if (water.cause == LeakCause::clear_seal) {
      diagnostics_.warning(
          place(size::kSealWidth),
          {"clear-seal-too-small",
           {{"worst", seal_left(clear_worst())}, {"min", exact(sizes_.min_clear_seal)}}},
          {seal_for(std::max(sizes_.min_clear_seal, good_clear_seal()))});
      return;
    }
    if (water.cause == LeakCause::end_finish) {
      const bool is_start = water.end == Edge::start;
      const EndFinish& finish = finish_of(request_, water.end);
      const base::Place place = finish.stated.value_or(request_.place);
      const base::Message message = {is_start ? "finish-lowers-start" : "finish-lowers-end",
                                     lowered(water, {{"reach", exact(finish.needle_reach)}})};
      // An outer that frays has to be finished, so there it is always so.
      if (request_.outer && request_.outer->frays) {
        diagnostics_.note(place, message, {{"finish-lowers-deeper"}});
      } else {
        diagnostics_.warning(place, message, {{"finish-lowers-hint"}});
      }
    }
    if (water.cause == LeakCause::attachment || water.cause == LeakCause::caught) {
      const bool is_hole = water.cause == LeakCause::attachment;
      const std::string& name = request_.construction.attachments[*water.by].name;
      diagnostics_.warning(
          request_.places.attachment(*water.by),
          {is_hole ? "attachment-lowers" : "caught-lowers", lowered(water, {{"attachment", name}})},
          {{!is_hole         ? "caught-lowers-hint"
            : request_.outer ? "attachment-lowers-hint"
                             : "attachment-lowers-higher"}});
    }
    if (water.height <= Length()) {
      diagnostics_.warning(request_.place,
                           {"no-watertight-path", {{"span", sizes_.span(water.span).name}}},
                           {{"no-watertight-path-hint"}});
    }
  }

  [[nodiscard]] Length clear_worst() const {
    return sizes_.seal_width - sizes_.needle_reach - request_.tolerance.sum();
  }
  [[nodiscard]] Length good_clear_seal() const { return kGoodClearSeal.of(request_.units); }
  /// With the seal width that leaves `clear` in the worst case.
  [[nodiscard]] base::Message seal_for(Length clear) const {
    const Length wanted = sizes_.needle_reach + request_.tolerance.sum() + clear;
    return {"clear-seal-hint", {{"seal", asked(wanted)}, {"clear", exact(clear)}}};
  }

  /// The water line and the lip, and by how much they differ as they are said.
  [[nodiscard]] static base::Message::Values lowered(const WaterLine& water,
                                                     base::Message::Values values) {
    values.emplace_back("line", base::Distinct{water.height, water.lip});
    values.emplace_back("lip", base::Distinct{water.lip, water.height});
    values.emplace_back("by", base::Difference{water.lip, water.height});
    return values;
  }

  void thick_seams(const Run& run) {
    for (const SeamLayers& seam : run.seam_layers) {
      if (seam.layers <= kManyLayers) continue;
      diagnostics_.warning(request_.place,
                           {"thick-seam",
                            {{"operation", request_.construction.operations[seam.operation].id},
                             {"layers", seam.layers},
                             {"thickness", exact(seam.thickness)},
                             {"from", std::max(seam.heights.from, Length())},
                             {"to", std::max(seam.heights.to, Length())},
                             {"most", kManyLayers}}},
                           {{"thick-seam-hint"}});
    }
  }

  const Request& request_;
  const Sizes& sizes_;
  base::Diagnostics& diagnostics_;
};

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

/// A lip drop not below the depth leaves no front at all, which says less than these two numbers.
bool lip_is_below_the_flap_fold(const Request& request, const Values& values,
                                base::Diagnostics& diagnostics) {
  const auto drop = values.find(size::kLipDrop);
  const auto depth = values.find(size::kDepth);
  if (drop == values.end() || depth == values.end() || drop->second < depth->second) return true;
  diagnostics.error(
      place_of(request, size::kLipDrop),
      {"lip-drop-over-depth", {{"drop", exact(drop->second)}, {"depth", exact(depth->second)}}},
      {{"lip-drop-over-depth-hint"}});
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
  Checks(request, *sizes, faults).of_sizes();
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
  Checks(request, sizes, faults).of_run(made->run, waters, pouch);
  pouch.stages = std::move(made->run.stages);
  diagnostics.add_all(faults);
  return pouch;
}

}  // namespace pouchwright::pouch
