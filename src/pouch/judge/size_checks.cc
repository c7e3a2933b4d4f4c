#include "pouch/judge/size_checks.h"

#include <algorithm>
#include <utility>

#include "pouch/judge/cards.h"
#include "pouch/judge/content.h"
#include "pouch/judge/remedies.h"
#include "pouch/judge/sizes.h"

namespace pouchwright::pouch {
namespace {

using base::asked;
using base::exact;
using base::Severity;

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
      diagnostics_.add({.severity = Severity::warning,
                        .place = place(size::kNeedleReach),
                        .message = {"reach-inside-seam",
                                    {{"reach", exact(sizes_.needle_reach)},
                                     {"allowance", exact(sizes_.seam_allowance)}}},
                        .hints = {{"reach-inside-seam-hint"}},
                        .path = size_path(size::kNeedleReach),
                        .remedy = base::Remedy{size_path(size::kNeedleReach)}});
    }
    if (sizes_.seal_width > reach) return;
    const Length least = reach + request_.tolerance.sum() + sizes_.min_clear_seal;
    diagnostics_.add(
        {.place = place(size::kSealWidth),
         .message = {"seal-not-above-reach",
                     {{"seal", exact(sizes_.seal_width)}, {"reach", exact(reach)}}},
         .hints = {{"seal-not-above-reach-hint", {{"least", asked(least)}}}},
         .path = path_of_seal(request_),
         .leaks = true,
         .remedy = seal_remedy(request_, reach, sizes_.cut_width, sizes_.min_clear_seal)});
  }

  void seal_zones_meet() const {
    if (sizes_.inside_width > 2 * kSlipCardPlay) return;
    diagnostics_.add({.place = place(size::kSealWidth),
                      .message = {"seal-zones-meet",
                                  {{"seal", exact(sizes_.seal_width)},
                                   {"cut", exact(sizes_.cut_width)},
                                   {"inside", exact(sizes_.inside_width)}}},
                      .hints = {{"seal-zones-meet-hint"}},
                      .path = path_of_seal(request_),
                      .remedy = width_between_seals(
                          request_, std::max(sizes_.seal_width, sizes_.needle_reach))});
  }

  void lip_and_flap() const {
    if (sizes_.flap > Length() && sizes_.flap > sizes_.depth) {
      diagnostics_.add({.severity = Severity::warning,
                        .place = place(size::kFlap),
                        .message = {"flap-over-depth",
                                    {{"flap", exact(sizes_.flap)}, {"depth", exact(sizes_.depth)}}},
                        .hints = {{"flap-over-depth-hint"}},
                        .path = size_path(size::kFlap),
                        .remedy = flap_remedy(sizes_.depth - request_.cut_step)});
    }
    if (sizes_.flap > Length() && sizes_.flap <= sizes_.lip_drop) {
      diagnostics_.add(
          {.severity = Severity::warning,
           .place = place(size::kFlap),
           .message = {"flap-misses-lip",
                       {{"flap", exact(sizes_.flap)}, {"drop", exact(sizes_.lip_drop)}}},
           .hints = {{"flap-misses-lip-hint"}},
           .path = size_path(size::kFlap),
           .leaks = true,
           .remedy =
               flap_remedy(std::min(sizes_.depth, sizes_.lip_drop + kOverlap.of(request_.units)))});
    }
  }

  /// Where the panel's folds do not say how long the flap is.
  [[nodiscard]] std::optional<base::Remedy> flap_remedy(Length flap) const {
    if (request_.panel || flap <= sizes_.lip_drop) return std::nullopt;
    return not_above(size_path(size::kFlap), flap, request_.units);
  }

  void cloth_is_wide_enough(const Material& material) const {
    const Length usable = material.usable_width();
    Length least = std::min(sizes_.cut_width, sizes_.cut_length);
    if (material.turn == Turn::along) least = sizes_.cut_width;
    if (material.turn == Turn::across) least = sizes_.cut_length;
    if (least <= usable) return;
    const std::string path = request_.panel ? "panel.width" : size_path(size::kWidth);
    const Length seams = request_.panel ? Length() : 2 * sizes_.seam_allowance;
    // Only a width is known to be too much: a length hangs on several sizes.
    std::optional<base::Remedy> narrower;
    if (material.turn != Turn::across) narrower = not_above(path, usable - seams, request_.units);
    diagnostics_.add({.place = request_.panel ? request_.panel->width.place : place(size::kWidth),
                      .message = {"panel-wider-than-cloth",
                                  {{"width", exact(sizes_.cut_width)},
                                   {"length", exact(sizes_.cut_length)},
                                   {"material", material.name},
                                   {"usable", exact(usable)}}},
                      .hints = {{"panel-wider-than-cloth-hint"}},
                      .path = path,
                      .remedy = std::move(narrower)});
  }

  void outer_frays() const {
    if (!request_.outer || !request_.outer->frays) return;
    for (const Edge edge : {Edge::start, Edge::end}) {
      const EndFinish& finish = finish_of(request_, edge);
      const bool is_start = edge == Edge::start;
      if (finish.kind != FinishKind::none) continue;
      const char* end = request_.construction.flap_span ? "outer-frays-end" : "outer-frays-far-end";
      const std::string path = size_path(is_start ? "start_finish" : "end_finish");
      diagnostics_.add(
          {.severity = Severity::warning,
           .place = finish.stated.value_or(request_.outer->place),
           .message = {is_start ? "outer-frays-start" : end, {{"outer", request_.outer->name}}},
           .hints = {{is_start ? "outer-frays-start-hint" : "outer-frays-end-hint"}},
           .path = path,
           .remedy = base::Remedy{
               path, "overedge", {is_start ? "remedy-overedge-start" : "remedy-overedge-end"}}});
    }
  }

  void capacity_of_stated_sizes() const {
    if (!request_.liners || !request_.liners->count) return;
    const Capacity capacity = capacity_of(request_, sizes_);
    const int count = request_.liners->count->value;
    if (capacity.liners >= count) return;
    const char* key = capacity.liners == 0   ? "liners-over-none"
                      : capacity.liners == 1 ? "liners-over-one"
                                             : "liners-over-capacity";
    base::Message told{key, {{"count", count}, {"capacity", capacity.liners}}};
    const Place& asked_at = request_.liners->count->place;
    const bool must_fit = request_.liners->strictness == Liners::Count::must_fit;
    const auto least = least_sizes(request_);
    diagnostics_.add({.severity = must_fit ? Severity::error : Severity::warning,
                      .place = asked_at,
                      .message = std::move(told),
                      .hints = {least_for_liners(least)},
                      .path = "liners.count",
                      .remedy = liners_remedy(least, capacity.liners)});
  }

  [[nodiscard]] std::string path_of_least(const std::string& name) const {
    return (request_.panel ? "panel." : "pouch.") + name;
  }

  /// Does the pouch of a changed job take as many as that asks for?
  [[nodiscard]] static bool takes_all(const Request& changed) {
    base::Diagnostics faults;
    const auto values = values_from_liners(changed, stated_values(changed), faults);
    const auto sizes = values ? sizes_of(changed, *values, {}, faults) : std::nullopt;
    return sizes && capacity_of(changed, *sizes).liners >= changed.liners->count->value;
  }

  /// The one size that is too small; else as many liners as go in, also where what the job leaves
  /// open is worked out for fewer.
  [[nodiscard]] std::optional<base::Remedy> liners_remedy(const std::optional<LeastSizes>& least,
                                                          int capacity) const {
    Request changed = request_;
    if (request_.panel) {
      return capacity > 0 ? std::optional(base::Remedy{"liners.count", capacity}) : std::nullopt;
    }
    if (least && least->sizes.size() == 1) {
      const auto& [name, length] = least->sizes.front();
      base::Remedy larger = not_below(path_of_least(name), length, request_.units);
      const Length set = std::get<base::Measure>(larger.value->held()).length;
      changed.sizes[name] = {set, request_.place};
      if (takes_all(changed)) return larger;
      changed = request_;
    }
    for (int count = capacity; count > 0; --count) {
      changed.liners->count->value = count;
      if (takes_all(changed)) return base::Remedy{"liners.count", count};
    }
    return std::nullopt;
  }

  /// What would have to be larger, and how large.
  [[nodiscard]] base::Message least_for_liners(const std::optional<LeastSizes>& least) const {
    if (!least) return {"liners-too-many-hint"};
    base::Value::List sizes;
    for (const auto& [name, length] : least->sizes) {
      sizes.push_back(base::Message{
          "liners-least-size",
          {{"size", base::FieldName{path_of_least(name)}}, {"length", exact(length)}}});
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
