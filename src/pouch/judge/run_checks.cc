#include "pouch/judge/run_checks.h"

#include <algorithm>

#include "pouch/judge/remedies.h"
#include "pouch/judge/sizes.h"

namespace pouchwright::pouch {
namespace {

using base::asked;
using base::exact;
using base::Severity;

class RunChecks {
 public:
  RunChecks(const Pouch& pouch, base::Diagnostics& diagnostics)
      : pouch_(pouch), request_(pouch.request), sizes_(pouch.sizes), diagnostics_(diagnostics) {}

  void tell(const Run& run, const std::vector<WaterLine>& waters) const {
    own_card_is_long_enough();
    exposed_film(run);
    const auto& compartments = request_.construction.compartments;
    for (std::size_t i = 0; i < waters.size(); ++i) {
      if (compartments[i].holds == Holds::water) water_line(waters[i]);
    }
    thick_seams(run);
  }

 private:
  /// Above a card that is too short the films can stick to each other.
  void own_card_is_long_enough() const {
    if (!request_.card) return;
    const OwnCard& own = *request_.card;
    const bool is_slip = own.kind == CardKind::slip;
    const bool is_used = request_.cards == CardUse::both ||
                         request_.cards == (is_slip ? CardUse::inside : CardUse::on_top);
    if (!is_used) return;
    Length missing;
    for (const NamedCard& one : pouch_.cards) {
      if (one.use != own.kind) continue;
      const Length bottom = one.card.outline.front().y;
      const bool has_bar = one.card.top > one.card.shoulder;
      const Length up_to = has_bar ? one.card.shoulder : pouch_.lip_height;
      missing = std::max(missing, up_to - bottom - own.length.value);
    }
    if (missing <= Length()) return;
    const base::Message told{is_slip ? "card-shorter-than-front" : "shield-shorter-than-front",
                             {{"length", exact(own.length.value)},
                              {"needed", exact(own.length.value + missing)},
                              {"missing", exact(missing)}}};
    const Length needed = own.length.value + missing;
    diagnostics_.add({.severity = is_slip ? Severity::error : Severity::warning,
                      .place = own.length.place,
                      .message = told,
                      .hints = {{"card-shorter-hint", {{"needed", exact(needed)}}}},
                      .remedy = not_below("card.length", needed, request_.units)});
  }

  void exposed_film(const Run& run) const {
    std::vector<Interval> covers;
    if (request_.cards != CardUse::on_top) {
      covers.push_back(first_card(pouch_.cards, NamedCard::Use::slip).bar_heights());
    }
    if (request_.cards != CardUse::inside) {
      covers.push_back(first_card(pouch_.cards, NamedCard::Use::shield).bar_heights());
    }
    for (const Interval& bare : run.exposed) {
      for (const Interval& left : without(bare, covers)) warn_exposed(left, "film-exposed");
    }
    for (const Interval& bare : run.exposed_below) warn_exposed(bare, "film-exposed-below");
  }

  void warn_exposed(const Interval& bare, const char* key) const {
    diagnostics_.warning(
        request_.place,
        {key, {{"from", std::max(bare.from, Length())}, {"to", std::max(bare.to, Length())}}},
        {{"film-exposed-hint"}});
  }

  void water_line(const WaterLine& water) const {
    if (water.cause == LeakCause::clear_seal) {
      const Length clear = std::max(sizes_.min_clear_seal, good_clear_seal());
      diagnostics_.add(
          {.severity = Severity::warning,
           .place = place_of(request_, size::kSealWidth),
           .message = {"clear-seal-too-small",
                       {{"worst", seal_left(clear_worst())},
                        {"min", exact(sizes_.min_clear_seal)}}},
           .hints = {seal_for(clear)},
           .path = path_of_seal(request_),
           .leaks = clear_worst() <= Length(),
           .remedy = seal_remedy(request_, sizes_.needle_reach, sizes_.cut_width, clear)});
      return;
    }
    const bool leaks = water.height <= Length();
    if (water.cause == LeakCause::end_finish) {
      const bool is_start = water.end == Edge::start;
      const EndFinish& finish = finish_of(request_, water.end);
      const base::Place place = finish.stated.value_or(request_.place);
      const base::Message message = {is_start ? "finish-lowers-start" : "finish-lowers-end",
                                     lowered(water, {{"reach", exact(finish.needle_reach)}})};
      // An outer that frays has to be finished, so there it is always so.
      const bool must_be = request_.outer && request_.outer->frays;
      const std::string path = size_path(is_start ? "start_finish" : "end_finish");
      std::optional<base::Remedy> unfinished;
      if (!must_be) {
        unfinished =
            base::Remedy{path, "none", {is_start ? "remedy-bare-start" : "remedy-bare-end"}};
      }
      diagnostics_.add({.severity = must_be ? Severity::note : Severity::warning,
                        .place = place,
                        .message = message,
                        .hints = {{must_be ? "finish-lowers-deeper" : "finish-lowers-hint"}},
                        .path = path,
                        .leaks = leaks,
                        .remedy = std::move(unfinished)});
    }
    if (water.cause == LeakCause::attachment || water.cause == LeakCause::caught) {
      const bool is_hole = water.cause == LeakCause::attachment;
      const std::string& name = request_.construction.attachments[*water.by].name;
      diagnostics_.add({.severity = Severity::warning,
                        .place = request_.places.attachment(*water.by),
                        .message = {is_hole ? "attachment-lowers" : "caught-lowers",
                                    lowered(water, {{"attachment", name}})},
                        .hints = {{!is_hole         ? "caught-lowers-hint"
                                   : request_.outer ? "attachment-lowers-hint"
                                                    : "attachment-lowers-higher"}},
                        .leaks = leaks});
    }
    if (leaks) {
      diagnostics_.add({.severity = Severity::warning,
                        .place = request_.place,
                        .message = {"no-watertight-path", {{"span", sizes_.span(water.span).name}}},
                        .hints = {{"no-watertight-path-hint"}},
                        .leaks = true});
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

  void thick_seams(const Run& run) const {
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

  const Pouch& pouch_;
  const Request& request_;
  const Sizes& sizes_;
  base::Diagnostics& diagnostics_;
};

}  // namespace

void check_run(const Run& run, const std::vector<WaterLine>& waters, const Pouch& pouch,
               base::Diagnostics& diagnostics) {
  RunChecks(pouch, diagnostics).tell(run, waters);
}

}  // namespace pouchwright::pouch
