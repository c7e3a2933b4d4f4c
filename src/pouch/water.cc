#include "pouch/water.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

namespace pouchwright::pouch {

namespace {

std::optional<SpanId> find(const FlatPanel& panel, std::string_view name) {
  for (std::size_t i = 0; i < panel.spans.size(); ++i) {
    if (panel.spans[i].name == name) return SpanId{0, i};
  }
  return std::nullopt;
}

/// The stretches of `span` that are fused to another span of the same compartment.
std::vector<Interval> fused_stretches(SpanId span, const std::vector<SpanId>& path,
                                      const Run& run) {
  const auto in_path = [&](SpanId id) {
    return std::find(path.begin(), path.end(), id) != path.end();
  };
  std::vector<Interval> stretches;
  for (const Fused& fused : run.fused) {
    if (!fused.left || !fused.right) continue;  // water runs out at the other side
    if (fused.lower == span && in_path(fused.upper)) stretches.push_back(fused.lower_y);
    if (fused.upper == span && in_path(fused.lower)) stretches.push_back(fused.upper_y);
  }
  return stretches;
}

/// The finish whose needles have pierced the span's film next to the open stretch, or that of the
/// layer it should have met: the stitched stretch at the same finished height.
const Stitched* stitched_at(Length height, const Folded& folded, const Run& run) {
  for (const Stitched& part : run.stitched) {
    const Length a = folded.height_of(part.span, part.y.from);
    const Length b = folded.height_of(part.span, part.y.to);
    if (std::min(a, b) == height) return &part;
  }
  return nullptr;
}

}  // namespace

WaterLine water_line(const Compartment& compartment, const Sizes& sizes, const Run& run,
                     Length clear_seal_worst) {
  const Folded& folded = run.finished();
  std::vector<SpanId> path;
  for (const auto& film : compartment.film) {
    if (const auto id = find(sizes.panel, film.value)) path.push_back(*id);
  }
  const SpanId lip_span = path.front();
  WaterLine line;
  line.lip = folded.height_of(lip_span, sizes.panel.spans[lip_span.span].from);
  line.height = line.lip;
  line.span = folded.name(lip_span);
  if (clear_seal_worst < sizes.min_clear_seal) {
    line.height = Length();
    line.cause = LeakCause::clear_seal;
    return line;
  }
  for (const SpanId id : path) {
    const Span& span = sizes.panel.spans[id.span];
    for (const Interval& open : without({span.from, span.to}, fused_stretches(id, path, run))) {
      const Length lowest =
          std::min(folded.height_of(id, open.from), folded.height_of(id, open.to));
      if (lowest >= line.height) continue;
      line.height = std::max(lowest, Length());
      line.span = folded.name(id);
      const Stitched* stitched = stitched_at(lowest, folded, run);
      line.cause = stitched ? LeakCause::end_finish : LeakCause::never_fused;
      if (stitched) line.end = stitched->end;
    }
  }
  return line;
}

std::vector<SealZone> seal_zones(const Sizes& sizes, const Run& run) {
  const Interval left{Length(), sizes.seal_width};
  const Interval right{sizes.cut_width - sizes.seal_width, sizes.cut_width};
  std::vector<SealZone> zones;
  for (const Fused& fused : run.fused) {
    for (const Interval& y : joined({fused.lower_y, fused.upper_y})) {
      const std::string& lower = run.finished().name(fused.lower);
      const std::string& upper = run.finished().name(fused.upper);
      if (fused.left) zones.push_back({left, y, lower, upper});
      if (fused.right) zones.push_back({right, y, lower, upper});
    }
  }
  std::sort(zones.begin(), zones.end(), [](const SealZone& a, const SealZone& b) {
    return a.y.from != b.y.from ? a.y.from < b.y.from : a.x.from < b.x.from;
  });
  return zones;
}

double open_bag_ml(Length width, Length height) {
  if (width <= Length() || height <= Length()) return 0;
  const double w = width.in_mm() / 10;  // cm, so that the result is in ml
  const double h = height.in_mm() / 10;
  const double shape = h / (std::numbers::pi * w) - 0.071 * (1 - std::pow(10.0, -2 * h / w));
  return std::max(0.0, w * w * w * shape);
}

double water_pressure_pa(Length height) {
  constexpr double kDensity = 998.2;    // kg/m³ at 20 °C, handbook tables
  constexpr double kGravity = 9.80665;  // m/s², 3rd CGPM, 1901
  return height.in_mm() / 1000 * kDensity * kGravity;
}

}  // namespace pouchwright::pouch
