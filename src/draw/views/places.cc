#include "draw/views/places.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "draw/views/finished.h"
#include "draw/views/on_view.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::Interval;
using pouch::Pouch;

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
  add("width", {left, 0, 0}, {edge - left, 0, 0}, {0, -1, 0}, sizes.finished_width);
  add("depth", {edge, 0, 0}, {edge, sizes.depth.in_mm(), 0}, {1, 0, 0}, sizes.depth);
  const auto flap = pouch.construction().flap_span;
  if (!flap || sizes.flap <= Length()) return placed;
  const pouch::SpanId id = view.pose.folded().id(*flap);
  const Interval heights = view.pose.folded().layer(id).heights;
  add("flap", view.pose.at(id, 0, heights.from), view.pose.at(id, 0, heights.to), {-1, 0, 0},
      sizes.flap);
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
