#include "draw/folds/marks.h"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "ink/arrows.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::Edge;
using pouch::Interval;
using pouch::Layer;
namespace does = pouch::does;

constexpr Stroke kThin{LinePattern::continuous, 0.25};
constexpr Stroke kPlain{LinePattern::continuous, 0.35};
constexpr Stroke kFused{LinePattern::continuous, 0.5};
constexpr Stroke kStitches{LinePattern::dashed, 0.35};
constexpr double kZoneHatch = 0.8;
/// Marks of seals and stitches in the side view, one every so many mm of paper.
constexpr double kMarkEvery = 1.3;
constexpr double kStitchEvery = 3;
constexpr double kNotch = 1.6;
/// How far a card that is pulled out stands out, mm of paper.
constexpr double kCardOut = 8;
/// An outer that is laid on shows so far beside the laminate, mm of paper.
constexpr double kOuterShows = 1.8;
constexpr Point kClip{1.6, 3};

/// The flap's corners as they lie, where they are shaped.
std::optional<EndCorners> shaped_corners(const FoldViews& views) {
  if (!views.plan.shaped) return std::nullopt;
  const auto flap = lying(views.moment->folded, views.plan.shaped->span);
  if (!flap) return std::nullopt;
  return views.plan.corners(*flap);
}

/// How far the corners of a panel's end are cut off; 0 where they are not.
double corner_size(const FoldViews& views, Edge end, std::size_t panel) {
  const auto corners = shaped_corners(views);
  if (!corners || views.plan.shaped->span.panel != panel) return 0;
  return views.plan.shaped->corners.at_start == (end == Edge::start) ? corners->size : 0;
}

// ---- Cloth -------------------------------------------------------------------------------------

/// The outer under the panel, a little to the right and below, as nobody would lay it.
void mark(Drawing& drawing, const FoldViews& views, std::size_t, const does::Pair&) {
  const Box panel{0, views.top(), views.right(), views.bottom()};
  const Box under = moved(panel, {kOuterShows, kOuterShows});
  const auto corners = shaped_corners(views);
  const double upper = corners && corners->at_start ? corners->size : 0;
  const double lower = corners && !corners->at_start ? corners->size : 0;
  Path path;
  if (upper == 0 && lower == 0) {
    path = polyline({{panel.x1, under.y0},
                     {under.x1, under.y0},
                     {under.x1, under.y1},
                     {under.x0, under.y1},
                     {under.x0, panel.y1}},
                    Ends::open);
  } else {
    // Beside shaped corners only its straight edges show.
    path = line({under.x1, under.y0 + upper}, {under.x1, under.y1 - lower});
    append(path, line({under.x1 - lower, under.y1}, {under.x0 + lower, under.y1}));
  }
  drawing.add_line(Group::label, "outer under it", std::move(path), kOuterStroke);
}

/// The notches of all folds, and an arrow along the panel.
void mark_folds(Drawing& drawing, const FoldViews& views) {
  constexpr Stroke kTick{LinePattern::continuous, 1.0};
  const double right = views.right();
  for (const pouch::FoldLine& fold : folds_of(views.pouch->sizes.main_panel())) {
    for (const Layer& layer : views.moment->folded.layers()) {
      if (layer.id != pouch::SpanId{0, fold.before}) continue;
      const double y = views.plan.y(views.moment->folded.height_of(layer.id, fold.at));
      drawing.add_line(Group::notch, "notch", line({0, y}, {kNotch, y}), kTick);
      drawing.add_line(Group::notch, "notch", line({right - kNotch, y}, {right, y}), kTick);
    }
  }
  drawing.add(arrow({views.centre(), views.bottom() - 5}, {views.centre(), views.top() + 5}));
}

std::string strap_name(const FoldViews& views, const pouch::LyingStrap& strap) {
  return "strap: " + views.pouch->construction().attachments[strap.attachment].name;
}

/// What of the straps is beyond the raw edges.
void mark_straps_out(Drawing& drawing, const FoldViews& views) {
  const Interval pouch{Length(), views.pouch->sizes.cut_width};
  for (const pouch::LyingStrap& strap :
       straps_at_sides(*views.pouch, views.moment->folded, pouch::StrapLies::outwards)) {
    for (const Interval& out : without(strap.x, {pouch})) {
      drawing.add_line(Group::label, strap_name(views, strap),
                       rectangle(views.plan.box(out, strap.heights)), kPlain);
    }
  }
}

/// A strap as it lies while the pouch is sewn, its free end inwards.
void mark_strap(Drawing& drawing, const FoldViews& views, const pouch::Fixed& fixed) {
  for (const pouch::LyingStrap& strap :
       straps_at_sides(*views.pouch, views.moment->folded, pouch::StrapLies::inwards)) {
    if (strap.attachment != fixed.attachment) continue;
    drawing.add_line(Group::label, strap_name(views, strap),
                     rectangle(views.plan.box(strap.x, strap.heights)), kPlain);
  }
}

/// Where something is fixed, a small square on its corner.
void mark(Drawing& drawing, const FoldViews& views, std::size_t index, const does::Attach&) {
  constexpr double kHalf = 1.2;
  for (const pouch::Fixed& fixed : views.pouch->fixed) {
    if (fixed.operation != index || !fixed.span) continue;
    if (!views.moment->folded.lies(fixed.span->panel)) continue;
    const double y = views.plan.y(middle(heights_of(views.moment->folded, *fixed.span, fixed.y)));
    mark_strap(drawing, views, fixed);
    std::vector<Length> places = fixed.x;
    for (const Edge seam : fixed.caught) {
      places.push_back(seam == Edge::left ? Length() : views.pouch->sizes.cut_width);
    }
    for (const Length place : places) {
      const double x = views.plan.x(place);
      drawing.add_line(
          Group::seam, "attachment: " + views.pouch->rule(fixed).name,
          polyline({{x - kHalf, y}, {x, y - kHalf}, {x + kHalf, y}, {x, y + kHalf}}, Ends::closed),
          kPlain);
    }
  }
}

void mark_clips(Drawing& drawing, const FoldViews& views) {
  for (const double part : {0.2, 0.5, 0.8}) {
    const double y = views.top() + part * (views.bottom() - views.top()) - kClip.y / 2;
    for (const double x : {-kClip.x / 2, views.right() - kClip.x / 2}) {
      drawing.add(Shape{.group = Group::label,
                        .path = rectangle({x, y, x + kClip.x, y + kClip.y}),
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
    const Box box = views.plan.box(band.x, band.heights);
    drawing.add_line(Group::seal, "press here", rectangle(box), kThin);
    drawing.add_line(Group::seal, "press here: hatch", hatch(box, kZoneHatch), kThin);
  }
}

/// Short marks between two films that the iron fuses at `heights`.
void mark_fused(Drawing& drawing, const FoldViews& views, const pouch::Meeting& meeting,
                const std::vector<Interval>& heights) {
  const SectionLook& section = views.section;
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
  std::vector<Interval> heights;
  for (const CardPart& band : bands(views, pressing)) heights.push_back(band.heights);
  heights = joined(std::move(heights));
  for (const pouch::Meeting& meeting : views.moment->folded.film_contacts()) {
    mark_fused(drawing, views, meeting, heights);
  }
}

/// Across: the top bar is the handle, but somebody's own card comes out below it.
Interval pulled_by(const pouch::Card& card) {
  const auto parts = parts_of(card);
  return card.is_own ? parts.front().x : parts.back().x;
}

/// The card on its way out: what of it stands out above the panel.
void mark(Drawing& drawing, const FoldViews& views, std::size_t index, const does::TakeCard& work) {
  const pouch::Pouch& pouch = *views.pouch;
  const auto number = slip_card_of(pouch, index, work.compartment);
  if (!number) return;
  const pouch::Card& card = pouch.cards[*number].card;
  const Length top = views.all_heights().to;
  const Length out = Length::mm(kCardOut / views.plan.scale);
  const Interval outside{top, std::max(card.top, top) + out};
  drawing.add_line(Group::label, "card pulled out",
                   rectangle(views.plan.box(pulled_by(card), outside)), kGhost);
  drawing.add(arrow({views.centre(), views.plan.y(card.shoulder) - 1},
                    {views.centre(), views.plan.y(outside.to) + 1}));
}

// ---- The machine -------------------------------------------------------------------------------

/// A zigzag along the end, inwards from it.
void mark(Drawing& drawing, const FoldViews& views, std::size_t index, const does::Finish& work) {
  if (!views.moment->folded.lies(work.panel)) return;
  const Length end = views.end_height(work.end, work.panel);
  const double y = views.plan.y(end);
  const double inwards = middle(views.end_span_heights(work.end, work.panel)) > end ? -1 : 1;
  const double off = corner_size(views, work.end, work.panel);
  std::vector<Point> corners;
  double depth = 0;
  for (double x = off; x <= views.right() - off; x += 0.9) {
    corners.push_back({x, y + inwards * depth});
    depth = depth > 0 ? 0 : 1.6;
  }
  drawing.add_line(Group::seam, "finish: " + views.pouch->operation(index).id,
                   polyline(corners, Ends::open), kThin);
}

/// The stitched line of a hem along both sides of its span, and as far as its layer reaches.
void mark(Drawing& drawing, const FoldViews& views, std::size_t, const does::Hem& work) {
  const auto layer = lying(views.moment->folded, views.moment->folded.id(work.span));
  if (!layer) return;
  const Interval heights = layer->heights;
  for (const double x : views.side_seams()) {
    drawing.add_line(Group::seam, "hem here",
                     line({x, views.plan.y(heights.from)}, {x, views.plan.y(heights.to)}),
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

/// The stitched line along an edge, on the plan.
Path seam(const FoldViews& views, Edge edge, const Interval& sides) {
  if (edge == Edge::left || edge == Edge::right) {
    const double x = views.side_seams()[edge == Edge::left ? 0 : 1];
    return line({x, views.plan.y(sides.from)}, {x, views.plan.y(sides.to)});
  }
  Length height;
  if (edge != Edge::bottom) {
    const Length at = views.end_height(edge);
    const Length in = views.pouch->sizes.seam_allowance;
    height = middle(views.end_span_heights(edge)) > at ? at + in : at - in;
  }
  return line({0, views.plan.y(height)}, {views.right(), views.plan.y(height)});
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
  Path path;
  const Length step = Length::mm(kStitchEvery / views.plan.scale);
  for (Length at = heights.from + base::half(step); at < heights.to; at += step) {
    const auto left = views.top_of_stack(at);
    if (!left) continue;
    const double y = views.section.y(at);
    append(path, line({*left - 0.8, y}, {views.section.origin.x, y}));
  }
  drawing.add_line(Group::seam, "stitches", std::move(path), kPlain);
}

/// Thread ends at both ends of the side seams.
void mark(Drawing& drawing, const FoldViews& views, std::size_t, const does::SecureTails&) {
  for (const double x : views.side_seams()) {
    for (const double down : {-1.0, 1.0}) {
      const Point at{x, down < 0 ? views.top() : views.bottom()};
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
  constexpr double kWave = 3;
  for (const double x : {0.0, views.right()}) {
    drawing.add_line(Group::label, "corner", circle({x, views.bottom()}, kCornerRing), kThin);
  }
  const Length level = views.pouch->water_line();
  if (level <= Length()) return;
  const double y = views.plan.y(level);
  const pouch::Sizes& sizes = views.pouch->sizes;
  const double left = views.plan.x(sizes.seal_width);
  const double right = views.plan.x(sizes.cut_width - sizes.seal_width);
  Path path{{Verb::move, {left, y}, {}, {}}};
  for (double x = left; x + kWave <= right; x += kWave) {
    path.push_back(
        {Verb::curve, {x + kWave, y}, {x + kWave / 3, y - 1.1}, {x + 2 * kWave / 3, y + 1.1}});
  }
  drawing.add_line(Group::label, "water", std::move(path), kPlain);
}

void mark(Drawing& drawing, const FoldViews& views, std::size_t, const does::FillFirst&) {
  mark_water(drawing, views);
}
void mark(Drawing& drawing, const FoldViews& views, std::size_t, const does::Test&) {
  mark_water(drawing, views);
}

void mark(Drawing& drawing, const FoldViews& views, std::size_t index, const does::Sew& work) {
  mark_seams(drawing, views, index, work);
  mark_stitches(drawing, views, sewn_heights(views, index));
}

/// Nothing is marked where a picture shows it all.
template <class Does>
void mark(Drawing&, const FoldViews&, std::size_t, const Does&) {}

}  // namespace

std::array<double, 2> FoldViews::side_seams() const {
  const pouch::Sizes& sizes = pouch->sizes;
  return {plan.x(sizes.seam_allowance), plan.x(sizes.cut_width - sizes.seam_allowance)};
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
  for (const StackedLayer& layer : stack->layers) {
    if (layer.heights.from > height || layer.heights.to < height) continue;
    const double x =
        section.x(static_cast<double>(layer.level)) - section.track() - kFilmStroke.width / 2;
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
  if (views.moment->straps_out) mark_straps_out(drawing, views);
}

void draw_seals_and_seams(Drawing& drawing, const FoldViews& views) {
  const auto& operations = views.pouch->construction().operations;
  for (std::size_t i = 0; i < operations.size(); ++i) {
    if (operations[i].as<does::Press>()) mark_bands(drawing, views, i);
    if (const auto* sew = operations[i].as<does::Sew>()) mark_seams(drawing, views, i, *sew);
  }
}

}  // namespace pouchwright::draw
