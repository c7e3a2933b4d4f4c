#include "pouch/judge/size_checks.h"

#include <algorithm>
#include <utility>

#include "pouch/judge/cards.h"
#include "pouch/judge/content.h"
#include "pouch/judge/sizes.h"

namespace pouchwright::pouch {
namespace {

using base::asked;
using base::exact;

class SizeChecks {
 public:
  SizeChecks(const Request& request, const Sizes& sizes, base::Diagnostics& diagnostics)
      : request_(request), sizes_(sizes), diagnostics_(diagnostics) {}

  void tell() const {
    seal_against_needles();
    seal_zones_meet();
    lip_and_flap();
    cloth_is_wide_enough(request_.laminate);
    if (request_.outer) cloth_is_wide_enough(*request_.outer);
    outer_frays();
    capacity_of_stated_sizes();
  }

 private:
  [[nodiscard]] const Place& place(std::string_view size_name) const {
    return place_of(request_, size_name);
  }

  void seal_against_needles() const {
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

  void seal_zones_meet() const {
    if (sizes_.inside_width > 2 * kSlipCardPlay) return;
    diagnostics_.error(place(size::kSealWidth),
                       {"seal-zones-meet",
                        {{"seal", exact(sizes_.seal_width)},
                         {"cut", exact(sizes_.cut_width)},
                         {"inside", exact(sizes_.inside_width)}}},
                       {{"seal-zones-meet-hint"}});
  }

  void lip_and_flap() const {
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

  void cloth_is_wide_enough(const Material& material) const {
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

  void outer_frays() const {
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

  void capacity_of_stated_sizes() const {
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

  const Request& request_;
  const Sizes& sizes_;
  base::Diagnostics& diagnostics_;
};

}  // namespace

void check_sizes(const Request& request, const Sizes& sizes, base::Diagnostics& diagnostics) {
  SizeChecks(request, sizes, diagnostics).tell();
}

}  // namespace pouchwright::pouch
