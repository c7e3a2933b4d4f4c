#include "draw/folds/marks.h"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "draw/folds/from_above.h"
#include "draw/full_size/part_marks.h"
#include "draw/views/on_view.h"
#include "ink/arrows.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::Edge;
using pouch::Interval;
using pouch::Layer;
namespace does = pouch::does;

constexpr Stroke kThin{LinePattern::continuous, 0.18};
constexpr Stroke kPlain{LinePattern::continuous, 0.35};
constexpr Stroke kFused{LinePattern::continuous, 0.35};
constexpr Stroke kStitches{LinePattern::dashed, 0.35};
constexpr double kZoneHatch = 1.1;
/// Marks of seals and stitches in the side view, one every so many mm of paper.
constexpr double kMarkEvery = 1.3;
constexpr double kStitchEvery = 3;
/// A notch and a finish's stitches, mm of paper; in the view's scale they are as deep.
constexpr double kNotch = 2.2;
constexpr double kFinishDepth = 1.8;
constexpr double kFinishStep = 1.1;
/// An outer that is laid on shows so far beside the laminate, mm of paper.
constexpr double kOuterShows = 1.8;
constexpr Point kClip{1.8, 3.4};

/// A length that comes out so long on the paper, across the eye's direction.
Length cloth(const FoldViews& views, double on_paper) {
  return Length::mm(on_paper / views.view->projection.scale());
}

/// How far the corners of a panel's end are cut off; 0 where they are not.
Length corner_size(const FoldViews& views, Edge end, std::size_t panel) {
  const auto shaped = shaped_end(*views.pouch);
  if (!shaped || shaped->span.panel != panel) return {};
  return shaped->corners.at_start == (end == Edge::start) ? Length::mm(shaped->corners.size)
                                                          : Length();
}

// ---- Cloth -------------------------------------------------------------------------------------

/// The outer under the panel, a little to the right and below, as nobody would lay it.
void mark(Drawing& drawing, const FoldViews& views, std::size_t, const does::Pair&) {
  const Interval heights = views.all_heights();
  const auto under = [&](Length x, Length height) {
    const Point at = views.view->on_top(x, height);
    return Point{at.x + kOuterShows, at.y + kOuterShows};
  };
  const Length size =
      std::max(corner_size(views, Edge::start, 0), corner_size(views, Edge::end, 0));
  drawing.add_line(
      Group::label, "outer under it",
      polyline({under(views.right(), heights.to - size), under(views.right(), heights.from + size)},
               Ends::open),
      kEdgeStroke);
  drawing.add_line(
      Group::label, "outer under it",
      polyline({under(views.right() - size, heights.from), under(size, heights.from)}, Ends::open),
      kEdgeStroke);
}

/// The notches of all folds, and an arrow along the panel.
void mark_folds(Drawing& drawing, const FoldViews& views) {
  const Length deep = cloth(views, kNotch);
  for (const pouch::FoldLine& fold : folds_of(views.pouch->sizes.main_panel())) {
    for (const Layer& layer : views.moment->folded.layers()) {
      if (layer.id != pouch::SpanId{0, fold.before}) continue;
      const Length height = views.moment->folded.height_of(layer.id, fold.at);
      const auto tick = [&](Length from, Length to) {
        drawing.add_line(Group::notch, "notch",
                         line(views.view->on_paper(layer.id, from, height),
                              views.view->on_paper(layer.id, to, height)),
                         kOutlineStroke);
      };
      tick(Length(), deep);
      tick(views.right() - deep, views.right());
    }
  }
}

/// Where something is fixed, a small square on its corner.
void mark(Drawing& drawing, const FoldViews& views, std::size_t index, const does::Attach&) {
  constexpr double kHalf = 1.4;
  for (const pouch::Fixed& fixed : views.pouch->fixed) {
    if (fixed.operation != index || !fixed.span) continue;
    if (!views.moment->folded.lies(fixed.span->panel)) continue;
    const Length height = middle(heights_of(views.moment->folded, *fixed.span, fixed.y));
    std::vector<Length> places = fixed.x;
    for (const Edge seam : fixed.caught) {
      places.push_back(seam == Edge::left ? Length() : views.right());
    }
    for (const Length place : places) {
      const auto [x, y] = views.view->on_paper(*fixed.span, place, height);
      drawing.add_line(
          Group::seam, "attachment: " + views.pouch->rule(fixed).name,
          polyline({{x - kHalf, y}, {x, y - kHalf}, {x + kHalf, y}, {x, y + kHalf}}, Ends::closed),
          kPlain);
    }
  }
}

void mark_clips(Drawing& drawing, const FoldViews& views) {
  const Interval heights = views.all_heights();
  for (const double part : {0.2, 0.5, 0.8}) {
    const Length height = heights.from + Length::mm(part * heights.size().in_mm());
    for (const Length x : {Length(), views.right()}) {
      const Point at = views.view->on_top(x, height);
      drawing.add(Shape{.group = Group::label,
                        .path = rectangle({at.x - kClip.x / 2, at.y - kClip.y / 2,
                                           at.x + kClip.x / 2, at.y + kClip.y / 2}),
                        .stroke = std::nullopt,
                        .fill = Fill::solid,
                        .name = "clip"});
    }
  }
}

// ---- The iron ----------------------------------------------------------------------------------

bool fused_by(const FoldViews& views, std::size_t pressing, const pouch::SealZone& zone) {
  const auto& contacts = views.pouch->contacts;
  return std::any_of(contacts.begin(), contacts.end(), [&](const auto& contact) {
    const bool same = contact.lower == zone.lower && contact.upper == zone.upper;
    const bool swapped = contact.lower == zone.upper && contact.upper == zone.lower;
    return contact.operation == pressing && (same || swapped);
  });
}

/// The fused bands of a pressing as they lie: at each side the heights of all its contacts, joined.
std::vector<CardPart> bands(const FoldViews& views, std::size_t pressing) {
  const pouch::Folded& folded = views.moment->folded;
  std::vector<std::pair<Interval, std::vector<Interval>>> sides;
  for (const pouch::SealZone& zone : views.pouch->seal_zones) {
    if (!fused_by(views, pressing, zone)) continue;
    auto side = std::find_if(sides.begin(), sides.end(),
                             [&](const auto& one) { return one.first == zone.x; });
    if (side == sides.end()) side = sides.insert(side, {zone.x, {}});
    for (const Layer& layer : folded.layers()) {
      if (layer.id.panel != zone.panel) continue;
      if (layer.id != zone.lower && layer.id != zone.upper) continue;
      const pouch::Span& flat = folded.panels()[layer.id.panel].spans[layer.id.span];
      const auto part = shared(zone.y, {flat.from, flat.to});
      if (part) side->second.push_back(heights_of(folded, layer.id, *part));
    }
  }
  std::vector<CardPart> result;
  for (auto& [x, heights] : sides) {
    for (const Interval& part : joined(std::move(heights))) result.push_back({x, part});
  }
  return result;
}

void mark_bands(Drawing& drawing, const FoldViews& views, std::size_t pressing) {
  for (const CardPart& band : bands(views, pressing)) {
    drawing.add_line(Group::seal, "press here", outline_on(*views.view, band.x, band.heights),
                     kPlain);
    drawing.add_line(Group::seal, "press here: hatch",
                     hatch_on(*views.view, band.x, band.heights, kZoneHatch), kThin);
  }
}

/// Short marks between two films that the iron fuses at `heights`.
void mark_fused(Drawing& drawing, const FoldViews& views, const pouch::Meeting& meeting,
                const std::vector<Interval>& heights) {
  const SectionLook& section = *views.section;
  const StackedLayer& lower = views.stack->of(meeting.lower);
  const StackedLayer& upper = views.stack->of(meeting.upper);
  const double right = section.x(static_cast<double>(lower.level)) - section.track();
  const double left = section.x(static_cast<double>(upper.level)) + section.track();
  // Where more lies between further down or up, its folds reach into this stretch.
  const auto between = static_cast<double>(upper.level - lower.level) - 1;
  const double keep_off = kMarkEvery / 2 + std::max(0.0, between) * section.pitch() / 2;
  Path path;
  for (const Interval& band : heights) {
    const auto part = shared(band, meeting.heights);
    if (!part) continue;
    const double end = section.y(part->from) - keep_off;
    for (double y = section.y(part->to) + kMarkEvery / 2; y < end; y += kMarkEvery) {
      append(path, line({left, y}, {right, y}));
    }
  }
  drawing.add_line(Group::seal, "fused: " + lower.name + " + " + upper.name, std::move(path),
                   kFused);
}

void mark(Drawing& drawing, const FoldViews& views, std::size_t pressing, const does::Press&) {
  mark_bands(drawing, views, pressing);
  if (!views.section) return;
  std::vector<Interval> heights;
  for (const CardPart& band : bands(views, pressing)) heights.push_back(band.heights);
  heights = joined(std::move(heights));
  for (const pouch::Meeting& meeting : views.moment->folded.film_contacts()) {
    mark_fused(drawing, views, meeting, heights);
  }
}

/// The card on its way out: an arrow along it, beyond its bar.
void mark(Drawing& drawing, const FoldViews& views, std::size_t index, const does::TakeCard& work) {
  const auto number = slip_card_of(*views.pouch, index, work.compartment);
  if (!number) return;
  const pouch::Card& card = views.pouch->cards[*number].card;
  for (const PlacedCard& placed : views.view->cards) {
    if (placed.card != *number) continue;
    const double x = views.centre().in_mm();
    const double top = card.top.in_mm() + placed.out;
    const Projection& projection = views.view->projection;
    drawing.add(arrow(projection.on_paper({x, top - 0.3 * placed.out, placed.z}),
                      projection.on_paper({x, top + 0.35 * placed.out, placed.z})));
  }
}

// ---- The machine -------------------------------------------------------------------------------

/// A zigzag along the end, inwards from it.
void mark(Drawing& drawing, const FoldViews& views, std::size_t index, const does::Finish& work) {
  if (!views.moment->folded.lies(work.panel)) return;
  const Length off = corner_size(views, work.end, work.panel);
  const Length step = cloth(views, kFinishStep);
  std::vector<Point> corners;
  bool deep = false;
  for (Length x = off; x <= views.right() - off; x += step) {
    corners.push_back(
        views.near_end(work.end, work.panel, x, deep ? cloth(views, kFinishDepth) : Length()));
    deep = !deep;
  }
  if (corners.size() < 2) return;
  drawing.add_line(Group::seam, "finish: " + views.pouch->operation(index).id,
                   polyline(corners, Ends::open), kPlain);
}

/// The stitched line of a hem along both sides of its span, and as far as its layer reaches.
void mark(Drawing& drawing, const FoldViews& views, std::size_t, const does::Hem& work) {
  const auto layer = lying(views.moment->folded, views.moment->folded.id(work.span));
  if (!layer) return;
  for (const Length x : views.side_seams()) {
    drawing.add_line(Group::seam, "hem here",
                     line(views.view->on_paper(layer->id, x, layer->heights.from),
                          views.view->on_paper(layer->id, x, layer->heights.to)),
                     kStitches);
  }
}

/// From where to where an operation sews the sides; what it does not join is none of it.
Interval sewn_heights(const FoldViews& views, std::size_t operation) {
  std::optional<Interval> all;
  for (const pouch::SeamLayers& seam : views.pouch->layers_at_seams) {
    if (seam.operation != operation || seam.edge != Edge::left) continue;
    if (!all) all = seam.heights;
    all = Interval{std::min(all->from, seam.heights.from), std::max(all->to, seam.heights.to)};
  }
  return all.value_or(views.all_heights());
}

/// The stitched line along an edge, on the view.
Path seam(const FoldViews& views, Edge edge, const Interval& sides) {
  if (edge == Edge::left || edge == Edge::right) {
    return along(*views.view, views.side_seams()[edge == Edge::left ? 0 : 1], sides);
  }
  Length height;
  if (edge != Edge::bottom) {
    const Length at = views.end_height(edge);
    const Length in = views.pouch->sizes.seam_allowance;
    height = middle(views.end_span_heights(edge)) > at ? at + in : at - in;
  }
  return across(*views.view, {Length(), views.right()}, height);
}

void mark_seams(Drawing& drawing, const FoldViews& views, std::size_t operation,
                const does::Sew& work) {
  const Interval sides = sewn_heights(views, operation);
  for (const Edge edge : work.edges) {
    drawing.add_line(Group::seam, "sew here", seam(views, edge, sides), kStitches);
  }
}

/// Through all layers in the side view, wherever some lie.
void mark_stitches(Drawing& drawing, const FoldViews& views, const Interval& heights) {
  if (!views.section) return;
  Path path;
  const Length step = Length::mm(kStitchEvery / views.section->scale);
  for (Length at = heights.from + base::half(step); at < heights.to; at += step) {
    const auto left = views.top_of_stack(at);
    if (!left) continue;
    const double y = views.section->y(at);
    append(path, line({*left - 0.8, y}, {views.section->origin.x, y}));
  }
  drawing.add_line(Group::seam, "stitches", std::move(path), kPlain);
}

/// Thread ends at both ends of the side seams.
void mark(Drawing& drawing, const FoldViews& views, std::size_t, const does::SecureTails&) {
  const Interval heights = views.all_heights();
  for (const Length x : views.side_seams()) {
    for (const double down : {-1.0, 1.0}) {
      const Point at = views.view->on_top(x, down < 0 ? heights.to : heights.from);
      drawing.add_line(Group::seam, "tail",
                       {{Verb::move, at, {}, {}},
                        {Verb::curve,
                         {at.x + 0.6, at.y + down * 4},
                         {at.x + 1.8, at.y + down * 1.4},
                         {at.x - 1.4, at.y + down * 2.6}}},
                       kPlain);
    }
  }
}

// ---- Water -------------------------------------------------------------------------------------

/// The level to fill to, and rings round the corners that are looked at first.
void mark_water(Drawing& drawing, const FoldViews& views) {
  const Length bottom = views.all_heights().from;
  for (const Length x : {Length(), views.right()}) {
    drawing.add_line(Group::label, "corner", circle(views.view->on_top(x, bottom), kCornerRing),
                     kPlain);
  }
  const Length level = views.water;
  if (level <= Length()) return;
  const pouch::Sizes& sizes = views.pouch->sizes;
  drawing.add_line(
      Group::label, "water",
      waves_on(*views.view, {sizes.seal_width, sizes.cut_width - sizes.seal_width}, level), kPlain);
}

void mark(Drawing& drawing, const FoldViews& views, std::size_t, const does::FillFirst&) {
  mark_water(drawing, views);
}
void mark(Drawing& drawing, const FoldViews& views, std::size_t, const does::Test&) {
  mark_water(drawing, views);
}

/// The raw ends that lie under other layers.
void mark_hidden_ends(Drawing& drawing, const FoldViews& views) {
  const pouch::Folded& folded = views.moment->folded;
  for (std::size_t panel = 0; panel < folded.panels().size(); ++panel) {
    for (const Edge end : {Edge::start, Edge::end}) {
      const auto layer = views.end_layer(end, panel);
      if (!layer) continue;
      const Length at = views.end_height(end, panel);
      const auto top = views.view->pose.top_span(views.centre().in_mm(), at);
      if (!top || *top == layer->id) continue;
      drawing.add_line(Group::label, "hidden end: " + folded.name(layer->id),
                       line(views.view->on_paper(layer->id, Length(), at),
                            views.view->on_paper(layer->id, views.right(), at)),
                       kHiddenStroke);
    }
  }
}

void mark(Drawing& drawing, const FoldViews& views, std::size_t index, const does::Sew& work) {
  mark_hidden_ends(drawing, views);
  mark_seams(drawing, views, index, work);
  mark_stitches(drawing, views, sewn_heights(views, index));
}

/// Nothing is marked where a picture shows it all.
template <class Does>
void mark(Drawing&, const FoldViews&, std::size_t, const Does&) {}

}  // namespace

std::array<Length, 2> FoldViews::side_seams() const {
  const pouch::Sizes& sizes = pouch->sizes;
  return {sizes.seam_allowance, sizes.cut_width - sizes.seam_allowance};
}

Point FoldViews::near_end(Edge end, std::size_t panel, Length x, Length inwards) const {
  const auto layer = end_layer(end, panel);
  if (!layer) return {};
  const Length at = end_height(end, panel);
  const Length in = std::min(inwards, layer->heights.size());
  return view->on_paper(layer->id, x, middle(layer->heights) > at ? at + in : at - in);
}

std::optional<Layer> FoldViews::end_layer(Edge end, std::size_t panel) const {
  const auto& spans = moment->folded.panels()[panel].spans;
  return pouch::lying(moment->folded, {panel, end == Edge::start ? 0 : spans.size() - 1});
}

Interval FoldViews::end_span_heights(Edge end, std::size_t panel) const {
  const auto layer = end_layer(end, panel);
  return layer ? layer->heights : Interval{};
}

Length FoldViews::end_height(Edge end, std::size_t panel) const {
  const auto layer = end_layer(end, panel);
  if (!layer) return {};
  return layer->rising == (end == Edge::start) ? layer->heights.from : layer->heights.to;
}

std::optional<double> FoldViews::top_of_stack(Length height) const {
  std::optional<double> left;
  if (!section) return left;
  for (const StackedLayer& layer : stack->layers) {
    if (layer.heights.from > height || layer.heights.to < height) continue;
    const double x =
        section->x(static_cast<double>(layer.level)) - section->track() - kFilmStroke.width / 2;
    left = std::min(left.value_or(x), x);
  }
  return left;
}

void draw_marks(Drawing& drawing, const FoldViews& views) {
  for (const std::size_t index : views.moment->operations) {
    std::visit([&](const auto& work) { mark(drawing, views, index, work); },
               views.pouch->operation(index).work);
  }
  if (views.moment->to_be_marked) mark_folds(drawing, views);
  if (views.moment->clipped) mark_clips(drawing, views);
}

void draw_seals_and_seams(Drawing& drawing, const FoldViews& views) {
  const auto& operations = views.pouch->construction().operations;
  for (std::size_t i = 0; i < operations.size(); ++i) {
    if (operations[i].as<does::Press>()) mark_bands(drawing, views, i);
    if (const auto* sew = operations[i].as<does::Sew>()) mark_seams(drawing, views, i, *sew);
  }
}

}  // namespace pouchwright::draw
