#include "draw/folds/marks.h"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "ink/arrows.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::Action;
using pouch::Edge;
using pouch::Interval;
using pouch::Layer;
using pouch::Operation;

constexpr Stroke kGhost{LinePattern::dotted, 0.5};
constexpr Stroke kZoneStroke{LinePattern::continuous, 0.25};
constexpr Stroke kStitchStroke{LinePattern::dashed, 0.35};
constexpr Stroke kThroughStroke{LinePattern::continuous, 0.35};
constexpr Stroke kWaterStroke{LinePattern::continuous, 0.35};
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

class Marker {
 public:
  Marker(Drawing& drawing, const FoldViews& views) : drawing_(drawing), views_(views) {}

  void draw() {
    for (const std::size_t index : views_.moment->operations) mark(index);
    if (views_.moment->to_be_marked) mark_folds();
    if (views_.moment->clipped) clips();
    if (views_.moment->straps_out) straps_stand_out();
  }

  void draw_seals_and_seams() {
    for (const Operation& done : views_.pouch->construction().operations) {
      if (done.action == Action::press) bands_on_plan(done);
      if (done.action == Action::sew) seams_on_plan(done);
    }
  }

 private:
  void add(Group group, std::string name, Path path, Stroke stroke) {
    drawing_.add_line(group, std::move(name), std::move(path), stroke);
  }
  void add(std::vector<Shape> shapes) {
    for (Shape& shape : shapes) drawing_.add(std::move(shape));
  }

  void mark(std::size_t index) {
    const Operation& done = views_.operation(index);
    switch (done.action) {
      case Action::finish:
        finished_end(done);
        return;
      case Action::press:
        pressed(done);
        return;
      case Action::take_card:
        card_pulled(index);
        return;
      case Action::sew:
        sewn(done);
        return;
      case Action::secure_tails:
        tails();
        return;
      case Action::test:
        water();
        return;
      case Action::pair:
        outer_shows();
        return;
      case Action::attach:
        attached(done);
        return;
      case Action::lay_panel:
      case Action::lay_card:
      case Action::fold:
      case Action::look_inside:
        return;
      case Action::hem:
        hemmed(done);
        return;
    }
  }

  /// The stitched line of a hem along both sides of its span, and as far as its layer reaches.
  void hemmed(const Operation& done) {
    const auto id = views_.moment->folded.find(done.span);
    if (!id || !views_.moment->folded.lies(id->panel)) return;
    const Interval heights = views_.moment->folded.layer(*id).heights;
    const Length in = views_.pouch->sizes.seam_allowance;
    for (const Length x : {in, views_.pouch->sizes.cut_width - in}) {
      add(Group::seam, "hem here",
          line({views_.plan.x(x), views_.plan.y(heights.from)},
               {views_.plan.x(x), views_.plan.y(heights.to)}),
          kStitchStroke);
    }
  }

  /// What of the straps is beyond the raw edges.
  void straps_stand_out() {
    const Interval pouch{Length(), views_.pouch->sizes.cut_width};
    for (const pouch::LyingStrap& strap :
         straps_at_sides(*views_.pouch, views_.moment->folded, pouch::StrapLies::outwards)) {
      for (const Interval& out : without(strap.x, {pouch})) {
        add(Group::label, "strap: " + strap.name, rectangle(views_.plan.box(out, strap.heights)),
            kThroughStroke);
      }
    }
  }

  /// As they lie while the pouch is sewn, their free ends inwards.
  void strap_fixed(const pouch::Fixed& fixed) {
    for (const pouch::LyingStrap& strap :
         straps_at_sides(*views_.pouch, views_.moment->folded, pouch::StrapLies::inwards)) {
      if (strap.name != fixed.name) continue;
      add(Group::label, "strap: " + strap.name, rectangle(views_.plan.box(strap.x, strap.heights)),
          kThroughStroke);
    }
  }

  /// The outer under the panel, a little to the right and below, as nobody would lay it.
  void outer_shows() {
    const Box panel =
        views_.plan.box({Length(), views_.pouch->sizes.cut_width}, views_.all_heights());
    const Box under{panel.x0 + kOuterShows, panel.y0 + kOuterShows, panel.x1 + kOuterShows,
                    panel.y1 + kOuterShows};
    const auto corners = shaped_corners();
    const double upper = corners && corners->at_start ? corners->size : 0;
    const double lower = corners && !corners->at_start ? corners->size : 0;
    if (upper == 0 && lower == 0) {
      add(Group::label, "outer under it",
          polyline({{panel.x1, under.y0},
                    {under.x1, under.y0},
                    {under.x1, under.y1},
                    {under.x0, under.y1},
                    {under.x0, panel.y1}},
                   Ends::open),
          kOuterStroke);
      return;
    }
    // Beside shaped corners only its straight edges show.
    Path path = line({under.x1, under.y0 + upper}, {under.x1, under.y1 - lower});
    for (const Step& step : line({under.x1 - lower, under.y1}, {under.x0 + lower, under.y1})) {
      path.push_back(step);
    }
    add(Group::label, "outer under it", std::move(path), kOuterStroke);
  }

  /// The flap's corners as they lie, where they are shaped.
  [[nodiscard]] std::optional<EndCorners> shaped_corners() const {
    if (!views_.plan.shaped) return std::nullopt;
    const auto flap = lying(views_.moment->folded, views_.plan.shaped->span);
    if (!flap) return std::nullopt;
    return views_.plan.corners(*flap);
  }

  /// Where something is fixed, a small square on its corner.
  void attached(const Operation& done) {
    for (const pouch::Fixed& fixed : views_.pouch->fixed) {
      const auto id = views_.moment->folded.find(fixed.span);
      if (fixed.operation != done.id || !id || !views_.moment->folded.lies(id->panel)) continue;
      const Length from = views_.moment->folded.height_of(*id, fixed.y.from);
      const Length to = views_.moment->folded.height_of(*id, fixed.y.to);
      const double y = (views_.plan.y(from) + views_.plan.y(to)) / 2;
      strap_fixed(fixed);
      std::vector<Length> places = fixed.x;
      for (const pouch::Edge seam : fixed.caught) {
        places.push_back(seam == pouch::Edge::left ? Length() : views_.pouch->sizes.cut_width);
      }
      for (const Length place : places) {
        const double x = views_.plan.x(place);
        constexpr double kHalf = 1.2;
        add(Group::seam, "attachment: " + fixed.name,
            polyline({{x - kHalf, y}, {x, y - kHalf}, {x + kHalf, y}, {x, y + kHalf}},
                     Ends::closed),
            {LinePattern::continuous, 0.35});
      }
    }
  }

  [[nodiscard]] bool shaped_at(Edge end, std::size_t panel) const {
    if (!shaped_corners()) return false;
    const ShapedEnd& shaped = *views_.plan.shaped;
    return shaped.span.panel == panel && shaped.corners.at_start == (end == Edge::start);
  }

  void finished_end(const Operation& done) {
    const std::size_t panel = panel_of(views_.pouch->construction(), done);
    if (!views_.moment->folded.lies(panel)) return;
    const Length end = views_.end_height(done.end, panel);
    const double y = views_.plan.y(end);
    const double inwards = middle(views_.end_span_heights(done.end, panel)) > end ? -1 : 1;
    std::vector<Point> corners;
    const double off = shaped_at(done.end, panel) ? shaped_corners()->size : 0;
    const double right = views_.plan.x(views_.pouch->sizes.cut_width) - off;
    double depth = 0;
    for (double x = off; x <= right; x += 0.9) {
      corners.push_back({x, y + inwards * depth});
      depth = depth > 0 ? 0 : 1.6;
    }
    add(Group::seam, "finish: " + done.id, polyline(corners, Ends::open),
        {LinePattern::continuous, 0.25});
  }

  /// The fused bands of `done` as they lie, at each side.
  [[nodiscard]] std::vector<CardPart> bands(const Operation& done) const {
    std::vector<CardPart> result;
    for (const pouch::SealZone& zone : views_.pouch->seal_zones) {
      if (!fused_by(done, zone)) continue;
      std::vector<Interval> heights;
      for (const Layer& layer : views_.moment->folded.layers()) {
        const std::string& name = views_.moment->folded.name(layer.id);
        if (name != zone.lower && name != zone.upper) continue;
        const pouch::Span& flat =
            views_.moment->folded.panels()[layer.id.panel].spans[layer.id.span];
        const auto part = shared(zone.y, {flat.from, flat.to});
        if (!part) continue;
        const Length a = views_.moment->folded.height_of(layer.id, part->from);
        const Length b = views_.moment->folded.height_of(layer.id, part->to);
        heights.push_back({std::min(a, b), std::max(a, b)});
      }
      for (const Interval& part : joined(std::move(heights))) result.push_back({zone.x, part});
    }
    return result;
  }

  [[nodiscard]] bool fused_by(const Operation& done, const pouch::SealZone& zone) const {
    return std::any_of(
        views_.pouch->contacts.begin(), views_.pouch->contacts.end(), [&](const auto& contact) {
          const bool same = contact.lower == zone.lower && contact.upper == zone.upper;
          const bool swapped = contact.lower == zone.upper && contact.upper == zone.lower;
          return contact.operation == done.id && (same || swapped);
        });
  }

  /// Bands at one side, joined: those of several contacts lie on each other.
  [[nodiscard]] std::vector<CardPart> joined_bands(const Operation& done) const {
    std::vector<CardPart> all = bands(done);
    std::vector<CardPart> result;
    for (const CardPart& band : all) {
      const bool seen = std::any_of(result.begin(), result.end(),
                                    [&](const CardPart& one) { return one.x == band.x; });
      if (seen) continue;
      std::vector<Interval> heights;
      for (const CardPart& other : all) {
        if (other.x == band.x) heights.push_back(other.heights);
      }
      for (const Interval& part : joined(std::move(heights))) result.push_back({band.x, part});
    }
    return result;
  }

  void pressed(const Operation& done) {
    bands_on_plan(done);
    for (const pouch::Meeting& meeting : views_.moment->folded.film_contacts()) {
      fused(done, meeting);
    }
  }

  void bands_on_plan(const Operation& done) {
    for (const CardPart& band : joined_bands(done)) {
      const Box box = views_.plan.box(band.x, band.heights);
      add(Group::seal, "press here", rectangle(box), kZoneStroke);
      add(Group::seal, "press here: hatch", hatch(box, kZoneHatch),
          {LinePattern::continuous, 0.25});
    }
  }

  /// Short marks between two films that the iron fuses.
  void fused(const Operation& done, const pouch::Meeting& meeting) {
    std::vector<Interval> heights;
    for (const CardPart& band : bands(done)) heights.push_back(band.heights);
    const StackedLayer& lower = views_.stack->of(meeting.lower);
    const StackedLayer& upper = views_.stack->of(meeting.upper);
    const double right =
        views_.section.x(static_cast<double>(lower.level)) - views_.section.track();
    const double left = views_.section.x(static_cast<double>(upper.level)) + views_.section.track();
    // Where more lies between further down or up, its folds reach into this stretch.
    const auto between = static_cast<double>(upper.level - lower.level) - 1;
    const double keep_off = kMarkEvery / 2 + std::max(0.0, between) * views_.section.pitch() / 2;
    Path path;
    for (const Interval& band : joined(std::move(heights))) {
      const auto part = shared(band, meeting.heights);
      if (!part) continue;
      const double end = views_.section.y(part->from) - keep_off;
      for (double y = views_.section.y(part->to) + kMarkEvery / 2; y < end; y += kMarkEvery) {
        for (const Step& step : line({left, y}, {right, y})) path.push_back(step);
      }
    }
    add(Group::seal, "fused: " + lower.name + " + " + upper.name, std::move(path),
        {LinePattern::continuous, 0.5});
  }

  /// The card on its way out: what of it stands out above the panel.
  void card_pulled(std::size_t index) {
    const pouch::Pouch& pouch = *views_.pouch;
    const std::size_t pocket = compartment_of(pouch.construction(), views_.operation(index));
    const auto number = slip_card_of(pouch, index, pocket);
    if (!number) return;
    const pouch::Card& card = pouch.cards[*number].card;
    const double x = views_.plan.x(base::half(pouch.sizes.cut_width));
    const Length top = views_.all_heights().to;
    const Length out = Length::mm(kCardOut / views_.plan.scale);
    const Interval outside{top, std::max(card.top, top) + out};
    const CardPart bar = parts_of(card).back();
    add(Group::label, "card pulled out", rectangle(views_.plan.box(bar.x, outside)), kGhost);
    add(arrow({x, views_.plan.y(card.shoulder) - 1}, {x, views_.plan.y(outside.to) + 1}));
  }

  /// The stitched line along an edge, on the plan.
  [[nodiscard]] Path seam(Edge edge) const {
    const Interval heights = views_.all_heights();
    const Length in = views_.pouch->sizes.seam_allowance;
    if (edge == Edge::left || edge == Edge::right) {
      const double x = views_.plan.x(edge == Edge::left ? in : views_.pouch->sizes.cut_width - in);
      return line({x, views_.plan.y(heights.from)}, {x, views_.plan.y(heights.to)});
    }
    if (edge == Edge::bottom) {
      const double y = views_.plan.y(Length());
      return line({0, y}, {views_.plan.x(views_.pouch->sizes.cut_width), y});
    }
    const Length at = views_.end_height(edge);
    const Length inside = middle(views_.end_span_heights(edge)) > at ? at + in : at - in;
    return line({0, views_.plan.y(inside)},
                {views_.plan.x(views_.pouch->sizes.cut_width), views_.plan.y(inside)});
  }

  void sewn(const Operation& done) {
    seams_on_plan(done);
    stitches();
  }

  void seams_on_plan(const Operation& done) {
    for (const auto& edge : done.edges) {
      add(Group::seam, "sew here", seam(edge.value), kStitchStroke);
    }
  }

  /// Through all layers in the side view, wherever some lie.
  void stitches() {
    Path path;
    const Length step = Length::mm(kStitchEvery / views_.plan.scale);
    const Interval heights = views_.all_heights();
    for (Length at = heights.from + base::half(step); at < heights.to; at += step) {
      const auto left = views_.top_of_stack(at);
      if (!left) continue;
      const double y = views_.section.y(at);
      for (const Step& part : line({*left - 0.8, y}, {views_.section.origin.x, y}))
        path.push_back(part);
    }
    add(Group::seam, "stitches", std::move(path), kThroughStroke);
  }

  /// Thread ends at both ends of the side seams.
  void tails() {
    const Interval heights = views_.all_heights();
    for (const Length x : {views_.pouch->sizes.seam_allowance,
                           views_.pouch->sizes.cut_width - views_.pouch->sizes.seam_allowance}) {
      for (const bool upper : {true, false}) {
        const double down = upper ? -1 : 1;
        const Point at{views_.plan.x(x), views_.plan.y(upper ? heights.to : heights.from)};
        Path path{{Verb::move, at, {}, {}},
                  {Verb::curve,
                   {at.x + 0.6, at.y + down * 4},
                   {at.x + 1.8, at.y + down * 1.4},
                   {at.x - 1.4, at.y + down * 2.6}}};
        add(Group::seam, "tail", std::move(path), {LinePattern::continuous, 0.35});
      }
    }
  }

  void water() {
    for (const Length x : {Length(), views_.pouch->sizes.cut_width}) {
      add(Group::label, "corner",
          circle({views_.plan.x(x), views_.plan.y(views_.all_heights().from)}, kCornerRing),
          kZoneStroke);
    }
    const Length level = views_.pouch->water_line;
    if (level <= Length()) return;
    const double y = views_.plan.y(level);
    const double left = views_.plan.x(views_.pouch->sizes.seal_width);
    const double right =
        views_.plan.x(views_.pouch->sizes.cut_width - views_.pouch->sizes.seal_width);
    Path path{{Verb::move, {left, y}, {}, {}}};
    const double wave = 3;
    for (double x = left; x + wave <= right; x += wave) {
      path.push_back(
          {Verb::curve, {x + wave, y}, {x + wave / 3, y - 1.1}, {x + 2 * wave / 3, y + 1.1}});
    }
    add(Group::label, "water", std::move(path), kWaterStroke);
  }

  void mark_folds() {
    for (const pouch::FoldLine& fold : views_.pouch->sizes.folds) {
      for (const Layer& layer : views_.moment->folded.layers()) {
        if (views_.moment->folded.name(layer.id) != fold.before) continue;
        const double y = views_.plan.y(views_.moment->folded.height_of(layer.id, fold.at));
        const double right = views_.plan.x(views_.pouch->sizes.cut_width);
        add(Group::notch, "notch", line({0, y}, {kNotch, y}), {LinePattern::continuous, 1.0});
        add(Group::notch, "notch", line({right - kNotch, y}, {right, y}),
            {LinePattern::continuous, 1.0});
      }
    }
    const double x = views_.plan.x(base::half(views_.pouch->sizes.cut_width));
    add(arrow({x, views_.plan.y(views_.all_heights().from) - 5},
              {x, views_.plan.y(views_.all_heights().to) + 5}));
  }

  void clips() {
    const double right = views_.plan.x(views_.pouch->sizes.cut_width);
    const double top = views_.plan.y(views_.all_heights().to);
    const double bottom = views_.plan.y(views_.all_heights().from);
    for (const double part : {0.2, 0.5, 0.8}) {
      const double y = top + part * (bottom - top) - kClip.y / 2;
      for (const double x : {-kClip.x / 2, right - kClip.x / 2}) {
        drawing_.add(Shape{.group = Group::label,
                           .path = rectangle({x, y, x + kClip.x, y + kClip.y}),
                           .stroke = std::nullopt,
                           .fill = Fill::solid,
                           .name = "clip"});
      }
    }
  }

  Drawing& drawing_;
  const FoldViews& views_;
};

}  // namespace

Interval FoldViews::end_span_heights(Edge end, std::size_t panel) const {
  const auto& spans = moment->folded.panels()[panel].spans;
  const auto layer =
      pouch::lying(moment->folded, {panel, end == Edge::start ? 0 : spans.size() - 1});
  return layer ? layer->heights : Interval{};
}

Length FoldViews::end_height(Edge end, std::size_t panel) const {
  const auto& spans = moment->folded.panels()[panel].spans;
  const auto layer =
      pouch::lying(moment->folded, {panel, end == Edge::start ? 0 : spans.size() - 1});
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

void draw_marks(Drawing& drawing, const FoldViews& views) { Marker(drawing, views).draw(); }

void draw_seals_and_seams(Drawing& drawing, const FoldViews& views) {
  Marker(drawing, views).draw_seals_and_seams();
}

}  // namespace pouchwright::draw
