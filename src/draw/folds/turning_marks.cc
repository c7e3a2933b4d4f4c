#include "draw/folds/turning_marks.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "draw/folds/from_above.h"
#include "draw/views/on_view.h"
#include "ink/arrows.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::Action;
using pouch::Interval;
using pouch::Layer;
using pouch::Operation;

/// From a turned part's outer end to where its arrow begins.
constexpr double kArrowInset = 1.5;
/// The way is drawn so far beside the right edge, mm of paper, from and to so much of the part.
constexpr double kBeside = 1.6;
constexpr double kOfReach = 0.7;
/// A shorter one would be all head; of none at all the direction is not known.
constexpr double kShortestWay = 9;
constexpr double kNoWay = 1e-3;
/// Where across a panel the arrow comes down that lays it on, and how far, mm of paper.
constexpr double kLaidAt = 0.72;
constexpr double kDrop = 13;

Length distance(Length a, Length b) { return a > b ? a - b : b - a; }

/// The middle of where it lies now.
Length landed(const FoldViews& views, const pouch::Turned& part) {
  std::vector<Layer> now;
  for (const Layer& layer : part) now.push_back(views.moment->folded.layer(layer.id));
  return middle(extent_of(now));
}

/// How far a part that is turned reaches from its line, mm of cloth.
double reach_of(const Turning& turning, const pouch::Folded& folded) {
  Length reach;
  for (const pouch::SpanId id : turning.spans) {
    const Interval& heights = folded.layer(id).heights;
    reach =
        std::max({reach, distance(heights.from, turning.line), distance(heights.to, turning.line)});
  }
  return reach.in_mm();
}

/// The outline of what lay there, from its lower to its upper end: how far inside the raw edge, and
/// the height, mm. A flap's shaped end is among it where it lay so.
std::vector<Point> right_side(const pouch::Turned& part, const pouch::Pouch& pouch) {
  constexpr int kSteps = 6;
  const Interval stretch = extent_of(part);
  std::vector<Point> side{{0, stretch.from.in_mm()}, {0, stretch.to.in_mm()}};
  const auto shaped = shaped_end(pouch);
  for (const Layer& layer : part) {
    if (!shaped || layer.id != shaped->span) continue;
    const bool upper = layer.rising != shaped->corners.at_start;
    if (upper ? layer.heights.to != stretch.to : layer.heights.from != stretch.from) continue;
    std::vector<Point> end;
    for (int i = 0; i <= kSteps; ++i) {
      const double from_end = shaped->corners.size * (kSteps - i) / kSteps;
      const double height = (upper ? stretch.to : stretch.from).in_mm();
      end.push_back({cut_off(shaped->corners, from_end), height + (upper ? -from_end : from_end)});
    }
    if (!upper) std::reverse(end.begin(), end.end());
    side.erase(upper ? side.end() - 1 : side.begin());
    side.insert(upper ? side.end() : side.begin(), end.begin(), end.end());
  }
  return side;
}

}  // namespace

bool lands_underneath(const FoldViews& views) {
  const auto& done = views.moment->operations;
  return std::any_of(done.begin(), done.end(), [&](std::size_t index) {
    const Operation& one = views.pouch->operation(index);
    if (const auto* fold = one.as<pouch::does::Fold>()) {
      return fold->landing == pouch::Landing::underneath;
    }
    return one.action() == Action::finish;
  });
}

bool turns_on(const FoldViews& views) {
  const auto& done = views.moment->operations;
  return std::count_if(done.begin(), done.end(), [&](std::size_t index) {
           return views.pouch->operation(index).action() == Action::fold;
         }) > 1;
}

std::vector<Shape> places_before(const View& view, const std::vector<pouch::Turned>& parts,
                                 const pouch::Pouch& pouch) {
  std::vector<Shape> places;
  const double width = pouch.sizes.cut_width.in_mm();
  for (const pouch::Turned& part : parts) {
    const Layer& now = view.pose.folded().layer(part.front().id);
    const Aloft rest{0, view.pose.z(static_cast<double>(view.pose.stack().of(now.id).level))};
    const double z = std::max(0.0, view.pose.swung(rest, 180).z);
    std::vector<Point> corners;
    const std::vector<Point> right = right_side(part, pouch);
    for (const auto& [off, height] : right) {
      corners.push_back(view.projection.on_paper({width - off, height, z}));
    }
    for (auto one = right.rbegin(); one != right.rend(); ++one) {
      corners.push_back(view.projection.on_paper({one->x, one->y, z}));
    }
    places.push_back({.group = Group::cut,
                      .path = polyline(corners, Ends::closed),
                      .stroke = kGhost,
                      .fill = Fill::none,
                      .name = "before: plan"});
  }
  return places;
}

namespace {

/// A panel that is laid on comes down from above to where it lies, off the middle, so that no icon
/// and no name stands in its way.
void draw_laying(Drawing& drawing, const FoldViews& views) {
  for (const std::size_t index : views.moment->operations) {
    const auto* lays = views.pouch->operation(index).as<pouch::does::LayPanel>();
    if (lays == nullptr || lays->landing != pouch::Landing::on_top) continue;
    std::vector<Layer> laid;
    for (const Layer& layer : views.moment->folded.layers()) {
      if (layer.id.panel == lays->panel) laid.push_back(layer);
    }
    if (laid.empty()) continue;
    const Length x = Length::mm(kLaidAt * views.right().in_mm());
    const Point to = views.view->on_top(x, middle(extent_of(laid)));
    const Point from{to.x, to.y - kDrop};
    drawing.add(arrow(from, to));
  }
}

}  // namespace

void draw_way(Drawing& drawing, const FoldViews& views) {
  const View& view = *views.view;
  draw_laying(drawing, views);
  if (!view.pose.look().turning) return;
  const Turning& turning = *view.pose.look().turning;
  const bool away = view.pose.folded().layer(turning.spans.front()).heights.from >= turning.line;
  const double reach = (away ? 1 : -1) * reach_of(turning, view.pose.folded());
  const double x = views.right().in_mm() + kBeside / view.projection.scale();
  const double line_y = turning.line.in_mm();
  const Aloft before = view.pose.swung({line_y + kOfReach * reach, view.pose.swing_height()}, 180);
  Point from = view.projection.on_paper({x, before.y, before.z});
  Point to = view.projection.on_paper({x, line_y + kOfReach * reach, 2 * view.pose.swing_height()});
  const double way = std::hypot(to.x - from.x, to.y - from.y);
  if (way < kNoWay) return;
  if (way < kShortestWay) {
    const double grow = (kShortestWay / way - 1) / 2;
    const Point more{grow * (to.x - from.x), grow * (to.y - from.y)};
    from = {from.x - more.x, from.y - more.y};
    to = {to.x + more.x, to.y + more.y};
  }
  const double bow = std::clamp(0.3 * way, 4.0, 12.0);
  const Point third{(to.x - from.x) / 4, (to.y - from.y) / 4};
  drawing.add(arrow(from, {from.x + third.x + bow, from.y + third.y},
                    {to.x - third.x + bow, to.y - third.y}, to));
}

void draw_turning_in_section(Drawing& drawing, const FoldViews& views, const pouch::Turned& part) {
  const SectionLook& section = *views.section;
  const Stack before = stacked(*views.moment->before, {});
  const Length target = landed(views, part);
  const auto far = [&](const Layer& one) { return distance(middle(one.heights), target); };
  const Layer* outermost = &part.front();
  for (const Layer& layer : part) {
    const double x = section.x(static_cast<double>(before.of(layer.id).level));
    drawing.add_line(Group::label, "before: " + views.moment->folded.name(layer.id),
                     line({x, section.y(layer.heights.from)}, {x, section.y(layer.heights.to)}),
                     kGhost);
    if (far(layer) > far(*outermost)) outermost = &layer;
  }
  if (turns_on(views)) return;
  const bool above = middle(outermost->heights) > target;
  const double begin = section.y(above ? outermost->heights.to : outermost->heights.from) +
                       (above ? kArrowInset : -kArrowInset);
  const StackedLayer& now = views.stack->of(outermost->id);
  const double end = section.y(middle(now.heights));
  const bool underneath = lands_underneath(views);
  const double track = (underneath ? 1 : -1) * section.track();
  const double x_from = section.x(static_cast<double>(before.of(outermost->id).level)) + track;
  const double x_to = section.x(static_cast<double>(now.level)) + 2 * track;
  const Box all = section_box(views.moment->folded, *views.stack, section);
  const double bow = underneath ? all.x1 + kArrowBow : all.x0 - kArrowBow;
  drawing.add(arrow({x_from, begin}, {bow, begin}, {bow, end}, {x_to, end}));
}

}  // namespace pouchwright::draw
