#include "draw/views/places.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string_view>
#include <utility>

#include "draw/views/finished.h"
#include "draw/views/on_view.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::Interval;
using pouch::Pouch;
namespace size = pouch::size;

/// What of the mouth is shown as its edge.
constexpr Length kOpeningEdge = Length::whole_mm(8);

/// The corners of a path of straight lines.
std::vector<Point> corners_of(const Path& path) {
  std::vector<Point> corners;
  for (const ink::Step& step : path) {
    if (step.verb != ink::Verb::close) corners.push_back(step.to);
  }
  return corners;
}

/// Twice the signed area of a, b, c.
double turn(Point a, Point b, Point c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/// The smallest convex outline round all points (Andrew 1979, the monotone chain).
std::vector<Point> hull(std::vector<Point> points) {
  if (points.size() < 3) return points;
  std::sort(points.begin(), points.end(),
            [](Point a, Point b) { return std::pair(a.x, a.y) < std::pair(b.x, b.y); });
  std::vector<Point> chain;
  for (int pass = 0; pass < 2; ++pass) {
    const std::size_t start = chain.size();
    for (const Point& point : points) {
      while (chain.size() >= start + 2 && turn(chain[chain.size() - 2], chain.back(), point) <= 0) {
        chain.pop_back();
      }
      chain.push_back(point);
    }
    chain.pop_back();
    std::reverse(points.begin(), points.end());
  }
  return chain;
}

// ---- Sizes -------------------------------------------------------------------------------------

/// A span that is as long as one size of the construction's own, or a share of it.
struct SpanOfSize {
  pouch::LinearForm::Term term;
  pouch::SpanRef span;
};

/// Each such size once.
std::vector<SpanOfSize> spans_of_sizes(const Pouch& pouch) {
  constexpr std::array<std::string_view, 3> kElsewhere = {size::kDepth, size::kFlap,
                                                          size::kLipDrop};
  std::vector<SpanOfSize> found;
  const auto& panels = pouch.construction().panels;
  for (std::size_t panel = 0; panel < panels.size(); ++panel) {
    for (std::size_t span = 0; span < panels[panel].spans.size(); ++span) {
      const auto& terms = panels[panel].spans[span].length.terms;
      if (terms.size() != 1) continue;
      const std::string& name = terms.front().size;
      const auto is_same = [&](const SpanOfSize& one) { return one.term.size == name; };
      if (std::find(kElsewhere.begin(), kElsewhere.end(), name) != kElsewhere.end() ||
          std::any_of(found.begin(), found.end(), is_same)) {
        continue;
      }
      found.push_back({terms.front(), {panel, span}});
    }
  }
  return found;
}

/// As the job or its construction states it; what is worked out, by the span.
Length size_of(const pouch::LinearForm::Term& term, const Interval& span,
               const pouch::Request& request) {
  const auto stated = request.sizes.find(term.size);
  if (stated != request.sizes.end()) return stated->second.value;
  return Length::nm(span.size().in_nm() * term.denominator / term.numerator);
}

std::vector<PlacedSize> sizes_on(const View& view, const Pouch& pouch) {
  const pouch::Sizes& sizes = pouch.sizes;
  std::vector<PlacedSize> placed;
  const auto add = [&](std::string name, const Point3& a, const Point3& b, const Point3& off,
                       Length size) {
    const Point from = view.projection.on_paper(a);
    const Point to = view.projection.on_paper(b);
    const double reach = std::hypot(to.x - from.x, to.y - from.y);
    if (reach <= 0) return;
    const Point away = view.projection.on_paper(off);
    const double far = std::hypot(away.x, away.y);
    placed.push_back(
        {std::move(name), from, to, {away.x / far, away.y / far}, size, size.in_mm() / reach});
  };
  const double edge = sizes.cut_width.in_mm();
  const double left = sizes.seam_allowance.in_mm();
  const double depth = sizes.depth.in_mm();
  const Point3 down{0, -1, 0};
  const Point3 to_left{-1, 0, 0};
  const Point3 to_right{1, 0, 0};
  add(size::kWidth, {left, 0, 0}, {edge - left, 0, 0}, down, sizes.finished_width);
  add(size::kDepth, {edge, 0, 0}, {edge, depth, 0}, to_right, sizes.depth);
  const auto flap = pouch.construction().flap_span;
  if (flap && sizes.flap > Length()) {
    const pouch::SpanId id = view.pose.folded().id(*flap);
    const Interval heights = view.pose.folded().layer(id).heights;
    add(size::kFlap, view.pose.at(id, 0, heights.from), view.pose.at(id, 0, heights.to), to_left,
        sizes.flap);
  }
  add(size::kSeamAllowance, {0, 0, 0}, {left, 0, 0}, down, sizes.seam_allowance);
  add(size::kSealWidth, {edge, 0, 0}, {edge - sizes.seal_width.in_mm(), 0, 0}, down,
      sizes.seal_width);
  add(size::kLipDrop, {0, depth, 0}, {0, depth - sizes.lip_drop.in_mm(), 0}, to_left,
      sizes.lip_drop);
  for (const SpanOfSize& one : spans_of_sizes(pouch)) {
    const pouch::Folded& folded = view.pose.folded();
    if (!folded.lies(one.span.panel)) continue;
    const Interval heights = folded.layer(folded.id(one.span)).heights;
    add(one.term.size, {edge, heights.from.in_mm(), 0}, {edge, heights.to.in_mm(), 0}, to_right,
        size_of(one.term, heights, pouch.request));
  }
  add(kWaterLine, {0, 0, 0}, {0, pouch.water_line().in_mm(), 0}, to_left, pouch.water_line());
  return placed;
}

// ---- Parts -------------------------------------------------------------------------------------

std::vector<PlacedPart> parts_on(const View& view, const Pouch& pouch) {
  using What = PlacedPart::What;
  const pouch::Sizes& sizes = pouch.sizes;
  const Length edge = sizes.cut_width;
  const auto band = [&](const Interval& x, const Interval& heights) {
    return corners_of(outline_on(view, x, heights));
  };
  const auto at_both_sides = [&](What what, Length wide, const Interval& heights) {
    return PlacedPart{what, {band({Length(), wide}, heights), band({edge - wide, edge}, heights)}};
  };
  std::vector<PlacedPart> parts;
  const Interval front{Length(), sizes.depth};
  parts.push_back({What::front, {band({Length(), edge}, front)}});
  parts.push_back(at_both_sides(What::seal, sizes.seal_width, front));
  parts.push_back(at_both_sides(What::seam, sizes.seam_allowance, front));
  if (const auto flap = pouch.construction().flap_span; flap && sizes.flap > Length()) {
    const pouch::SpanId id = view.pose.folded().id(*flap);
    parts.push_back({What::flap, {band({Length(), edge}, view.pose.folded().layer(id).heights)}});
  }
  if (const auto& mouth = view.pose.look().mouth) {
    Length lip;
    for (const pouch::SpanId id : mouth->spans) {
      lip = std::max(lip, view.pose.folded().layer(id).heights.to);
    }
    parts.push_back({What::opening, {band({Length(), edge}, {lip - kOpeningEdge, lip})}});
  }
  std::vector<Point> liners;
  for (const ViewFace& one : view.faces) {
    if (one.front != Skin::liner) continue;
    for (const Point3& corner : one.face.corners) {
      liners.push_back(view.projection.on_paper(corner));
    }
  }
  if (!liners.empty()) parts.push_back({What::liners, {hull(std::move(liners))}});
  const Interval inside{sizes.seal_width, edge - sizes.seal_width};
  if (pouch.water_line() > Length()) {
    parts.push_back({What::water, {band(inside, {Length(), pouch.water_line()})}});
  }
  return parts;
}

}  // namespace

PlacedPouch placed_pouch(const Pouch& pouch, Point room, const base::Voice& words,
                         const TextMeasure& measure) {
  PlacedPouch placed;
  Point corner;
  // Of the drawing that is made last all that is on it is known.
  const auto mark = [&](Drawing& drawing, const View& view) {
    placed.sizes = sizes_on(view, pouch);
    placed.parts = parts_on(view, pouch);
    const Box extent = bounds(drawing.items, measure);
    corner = {extent.x0, extent.y0};
  };
  placed.drawing = open_view(pouch, {.room = room, .marks = mark}, words, measure);
  // A view has 1 mm of white around.
  const Point by{1 - corner.x, 1 - corner.y};
  const auto move = [&by](Point& point) { point = {point.x + by.x, point.y + by.y}; };
  for (PlacedSize& size : placed.sizes) {
    move(size.from);
    move(size.to);
  }
  for (PlacedPart& part : placed.parts) {
    for (auto& outline : part.outlines) std::for_each(outline.begin(), outline.end(), move);
  }
  return placed;
}

}  // namespace pouchwright::draw
