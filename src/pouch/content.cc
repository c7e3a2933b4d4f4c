#include "pouch/content.h"

#include <algorithm>

#include "units/length.h"

namespace pouchwright::pouch {

using units::half;

namespace {

Length stated(const Values& values, std::string_view name) {
  const auto found = values.find(name);
  return found == values.end() ? Length() : found->second;
}

/// What a box of liners asks of a pouch; the laws of design section 4. Girth across: a flat tube of
/// width W goes round a box b x h where 2W >= 2(b + h). Up the front the sheet climbs half the
/// box's height before it runs along its length.
struct Needs {
  Length inside, front, depth, sheet, flap;
};

Needs needs_of(const ContentBox& box, const Liners& liners, FlapLaw law, Length lip_drop) {
  const Length ease = liners.ease.value;
  const Length overlap = liners.overlap.value;
  Needs needs;
  needs.inside = box.width + box.height + ease;
  needs.front = box.length + half(box.height) + ease;
  if (law == FlapLaw::caught) needs.depth = box.length + box.height + ease;
  if (law == FlapLaw::free) needs.sheet = 2 * (box.length + box.height) + overlap;
  if (law != FlapLaw::none) needs.flap = lip_drop + overlap;
  return needs;
}

std::vector<CapacityLimit> missed(const Needs& needs, const Sizes& sizes) {
  const Length front = sizes.depth - sizes.lip_drop;
  std::vector<CapacityLimit> limits;
  if (sizes.inside_width < needs.inside) limits.push_back(CapacityLimit::across);
  if (front < needs.front) limits.push_back(CapacityLimit::front);
  if (sizes.depth < needs.depth) limits.push_back(CapacityLimit::depth);
  if (front + sizes.depth + sizes.flap < needs.sheet) limits.push_back(CapacityLimit::round);
  if (sizes.flap < needs.flap) limits.push_back(CapacityLimit::flap);
  return limits;
}

int most_columns(const Liners& liners, Length inside) {
  const std::int64_t fit = inside.in_nm() / liners.width.value.in_nm();
  return static_cast<int>(std::clamp<std::int64_t>(fit, 1, kMostLiners));
}

}  // namespace

ContentBox content_box(const Liners& liners, int count, int columns) {
  const int layers = (count + columns - 1) / columns;
  return {columns * liners.width.value, liners.length.value, layers * liners.thickness.value};
}

Values values_for(const Request& request, Values values, int count, int columns) {
  const Length lip_drop = stated(values, size::kLipDrop);
  const FlapLaw law = request.construction.flap_law;
  const Needs needs =
      needs_of(content_box(*request.liners, count, columns), *request.liners, law, lip_drop);
  if (!values.contains(size::kWidth)) {
    const Length sides =
        std::max(stated(values, size::kSealWidth), stated(values, size::kNeedleReach));
    values[size::kWidth] = needs.inside + 2 * sides - 2 * stated(values, size::kSeamAllowance);
  }
  if (!values.contains(size::kDepth)) {
    values[size::kDepth] = std::max(needs.depth, needs.front + lip_drop);
  }
  if (!values.contains(size::kFlap) && !request.construction.flap_span.empty()) {
    const Length depth = values[size::kDepth];
    values[size::kFlap] = std::max(needs.flap, needs.sheet - (depth + depth - lip_drop));
  }
  return values;
}

std::optional<Values> values_from_liners(const Request& request, const Values& values,
                                         diag::Diagnostics& diagnostics) {
  const Liners& liners = *request.liners;
  const int count = liners.count->value;
  const int first = liners.columns ? liners.columns->value : 1;
  const int last = liners.columns ? liners.columns->value : count;
  std::optional<Values> best;
  double least_area = 0;
  for (int columns = first; columns <= last; ++columns) {
    const Values candidate = values_for(request, values, count, columns);
    diag::Diagnostics ignored;
    const auto sizes = sizes_of(request, candidate, {}, ignored);
    if (!sizes) continue;
    const double area = sizes->cut_width.in_mm() * sizes->cut_length.in_mm();
    if (best && area >= least_area) continue;
    best = candidate;
    least_area = area;
  }
  if (!best) {
    diagnostics.error(liners.count->place, {"liners-too-many", {{"count", std::to_string(count)}}},
                      {{"liners-too-many-hint"}});
  }
  return best;
}

Capacity capacity_of(const Request& request, const Sizes& sizes) {
  const Liners& liners = *request.liners;
  const FlapLaw law = request.construction.flap_law;
  const int first = liners.columns ? liners.columns->value : 1;
  const int last =
      liners.columns ? liners.columns->value : most_columns(liners, sizes.inside_width);
  const auto missed_by = [&](int count, int columns) {
    return missed(needs_of(content_box(liners, count, columns), liners, law, sizes.lip_drop),
                  sizes);
  };
  Capacity best{0, first, missed_by(1, first)};
  for (int columns = first; columns <= last; ++columns) {
    // Each further layer adds one liner's thickness, so the first layer that misses ends it.
    int layers = 0;
    while (layers * columns < kMostLiners && missed_by((layers + 1) * columns, columns).empty()) {
      ++layers;
    }
    const int count = std::min(layers * columns, kMostLiners);
    if (count > best.liners) best = {count, columns, missed_by(count + 1, columns)};
  }
  return best;
}

}  // namespace pouchwright::pouch
