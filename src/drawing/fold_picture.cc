#include "drawing/fold_picture.h"

#include <algorithm>
#include <string>
#include <utility>

#include "drawing/cutting_template.h"
#include "drawing/fold_plan.h"
#include "drawing/fold_section.h"
#include "drawing/panel_words.h"
#include "drawing/sheet.h"
#include "drawing/step_icons.h"

namespace pouchwright::drawing {
namespace {

using pouch::Action;
using pouch::Edge;
using pouch::Folded;
using pouch::Interval;
using pouch::Layer;
using pouch::Operation;
using pouch::SpanId;
using units::Length;

constexpr Stroke kGhost{LinePattern::dotted, 0.5};
constexpr Stroke kZoneStroke{LinePattern::continuous, 0.25};
constexpr Stroke kStitchStroke{LinePattern::dashed, 0.35};
constexpr Stroke kThroughStroke{LinePattern::continuous, 0.35};
constexpr Stroke kWaterStroke{LinePattern::continuous, 0.35};
constexpr double kZoneHatch = 0.8;
constexpr double kIconSize = 8;
constexpr double kIconGap = 1.2;
/// An icon, and an arrow on each of its sides.
constexpr double kIconLane = kIconSize + 7;
/// Between plan and side view where nothing stands between them.
constexpr double kPlainGap = 5;
constexpr double kArrowBow = 7;
/// From a turned part's outer end to where its arrow begins.
constexpr double kArrowInset = 1.5;
/// A shorter one would be all head.
constexpr double kShortestArrow = 6;
/// From the table to the names of the layers.
constexpr double kBeforeNames = 2.5;
/// Marks of seals and stitches in the side view, one every so many mm of paper.
constexpr double kMarkEvery = 1.3;
constexpr double kStitchEvery = 3;
constexpr double kNotch = 1.6;
/// How far a card that is pulled out stands out, mm of paper.
constexpr double kCardOut = 8;
/// An outer that is laid on shows so far beside the laminate, mm of paper.
constexpr double kOuterShows = 1.8;
constexpr Point kClip{1.6, 3};
constexpr double kCornerRing = 3.2;

std::optional<Layer> lying(const Folded& folded, SpanId id) {
  for (const Layer& layer : folded.layers()) {
    if (layer.id == id) return layer;
  }
  return std::nullopt;
}

/// Spans of one panel, one after the other, that were turned together: each as it lay.
using Turned = std::vector<Layer>;

/// What the operations between two moments turned.
std::vector<Turned> turned(const Folded& before, const Folded& after) {
  std::vector<Layer> all;
  for (const Layer& layer : before.layers()) {
    const auto now = lying(after, layer.id);
    if (now && now->film_up != layer.film_up) all.push_back(layer);
  }
  std::sort(all.begin(), all.end(), [](const Layer& a, const Layer& b) { return a.id < b.id; });
  std::vector<Turned> result;
  for (const Layer& layer : all) {
    const bool goes_on = !result.empty() && result.back().back().id.panel == layer.id.panel &&
                         result.back().back().id.span + 1 == layer.id.span;
    if (!goes_on) result.emplace_back();
    result.back().push_back(layer);
  }
  return result;
}

Interval extent_of(const std::vector<Layer>& layers) {
  Interval all = layers.front().heights;
  for (const Layer& layer : layers) {
    all = {std::min(all.from, layer.heights.from), std::max(all.to, layer.heights.to)};
  }
  return all;
}

Length distance(Length a, Length b) { return a > b ? a - b : b - a; }

Length middle(const Interval& heights) { return heights.from + units::half(heights.size()); }

/// Everything that is drawn of one moment. Drawn at scale, the bottom's left corner at 0, 0.
class PictureMaker {
 public:
  PictureMaker(const pouch::Pouch& pouch, const FoldMoment& moment, PictureLook look,
               const diag::Words& words, const TextMeasure& measure)
      : pouch_(pouch),
        moment_(moment),
        look_(look),
        words_(words),
        measure_(measure),
        plan_{{0, 0}, look.scale, pouch.sizes.cut_width} {
    if (moment.before) turned_ = turned(*moment.before, moment.folded);
    stack_ = stacked(moment.folded, cut_cards());
  }

  Drawing drawn() {
    find_side_icons();
    place_section();
    plan();
    section();
    for (const std::size_t index : moment_.operations) mark(operation(index));
    if (moment_.to_be_marked) mark_folds();
    if (moment_.clipped) clips();
    draw_side_icons();
    for (const Item& item : drawing_.items) {
      const Box box = bounds(item, measure_);
      drawing_.extent = &item == &drawing_.items.front() ? box : united(drawing_.extent, box);
    }
    drawing_.name = "fold-picture";
    drawing_.title = title_of(pouch_, words_);
    return std::move(drawing_);
  }

 private:
  [[nodiscard]] const Operation& operation(std::size_t index) const {
    return pouch_.construction().operations[index];
  }
  [[nodiscard]] bool does(Action action) const {
    return std::any_of(moment_.operations.begin(), moment_.operations.end(),
                       [&](std::size_t index) { return operation(index).action == action; });
  }

  void add(Group group, std::string name, Path path, Stroke stroke) {
    if (path.empty()) return;
    drawing_.add(Shape{.group = group,
                       .path = std::move(path),
                       .stroke = stroke,
                       .fill = Fill::none,
                       .name = std::move(name)});
  }
  void add(std::vector<Shape> shapes) {
    for (Shape& shape : shapes) drawing_.add(std::move(shape));
  }

  // ---- Where things lie ------------------------------------------------------------------------

  /// Where edges are pressed or sewn the side view is cut there, else in the middle.
  [[nodiscard]] Length cut_at() const {
    if (does(Action::press) || does(Action::sew)) return units::half(pouch_.sizes.seal_width);
    return units::half(pouch_.sizes.cut_width);
  }

  [[nodiscard]] std::vector<CutCard> cut_cards() const {
    std::vector<CutCard> result;
    for (const LyingCard& card : moment_.cards) {
      std::vector<Interval> heights;
      for (const CardPart& part : parts_of(*card.card)) {
        if (part.x.from <= cut_at() && cut_at() <= part.x.to) heights.push_back(part.heights);
      }
      for (const Interval& part : joined(std::move(heights))) {
        result.push_back({card_name(card), part, card.layers_below});
      }
    }
    return result;
  }

  [[nodiscard]] std::string card_name(const LyingCard& card) const {
    const bool is_shield = card.card == &pouch_.shield;
    return words_.say(is_shield ? "drawing-shield" : "drawing-slip-card");
  }

  void place_section() {
    const double right = plan_right();
    double left_room = side_icons_.empty() ? kPlainGap : kIconLane;
    std::size_t levels = stack_.levels;
    if (!turned_.empty()) {
      left_room += kArrowBow;
      levels = std::max(levels, stacked(*moment_.before, {}).levels);
    }
    section_.scale = look_.scale;
    section_.outer = moment_.outer;
    section_.table = turned_.empty() || !lands_underneath();
    section_.origin = {right + left_room + (static_cast<double>(levels) + 0.6) * kSectionPitch, 0};
  }

  /// The right end of the plan's ink.
  [[nodiscard]] double plan_right() const {
    double right = plan_.x(pouch_.sizes.cut_width);
    for (const LyingCard& card : moment_.cards) {
      for (const CardPart& part : parts_of(*card.card)) {
        right = std::max(right, plan_.x(part.x.to));
      }
    }
    return right;
  }

  [[nodiscard]] Interval all_heights() const { return extent_of(moment_.folded.layers()); }

  // ---- The two views ---------------------------------------------------------------------------

  void plan() {
    std::vector<PlanCard> cards;
    for (const LyingCard& card : moment_.cards) cards.push_back({card.card, card.layers_below});
    draw_plan(drawing_, moment_.folded, cards, plan_);
    if (does(Action::lay_card) || does(Action::press)) name_card();
    for (const Turned& part : turned_) turning_on_plan(part);
  }

  /// In the widest part of the card on top, where there is room.
  void name_card() {
    if (moment_.cards.empty() || look_.wording == Wording::wordless) return;
    const CardPart bar = parts_of(*moment_.cards.back().card).back();
    const Box box = plan_.box(bar.x, bar.heights);
    const Text name = centred_on(label(card_name(moment_.cards.back()), kSmallestSize),
                                 {(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2}, measure_);
    const Box ink = grown(bounds(name, measure_), kClearance);
    if (ink.width() < box.width() && ink.height() < box.height()) drawing_.add(name);
  }

  [[nodiscard]] Interval landed(const Turned& part) const {
    std::vector<Layer> now;
    for (const Layer& layer : part) now.push_back(moment_.folded.layer(layer.id));
    return extent_of(now);
  }

  /// Where it lay, dotted where nothing lies now, and an arrow to where it lies.
  void turning_on_plan(const Turned& part) {
    const Interval from = extent_of(part);
    for (const Interval& left : without(from, {all_heights()})) {
      add(Group::label, "before: plan",
          rectangle(plan_.box({Length(), pouch_.sizes.cut_width}, left)), kGhost);
    }
    const double x = plan_.x(units::half(pouch_.sizes.cut_width));
    const double begin = plan_.y(middle(from));
    const double end = plan_.y(middle(landed(part)));
    if (std::abs(begin - end) < kShortestArrow) return;
    const double bow = std::min(9.0, std::abs(begin - end) / 3);
    const double third = (end - begin) / 3;
    add(arrow({x, begin}, {x + bow, begin + third}, {x + bow, end - third}, {x, end}));
  }

  void section() {
    draw_section(drawing_, moment_.folded, stack_, section_);
    for (const Turned& part : turned_) turning_in_section(part);
    if (look_.wording == Wording::wordless) return;
    std::vector<std::string> names;
    for (const StackedLayer& layer : stack_.layers) {
      names.push_back(layer.id ? span_name(layer.name, words_) : layer.name);
    }
    const double arrow_room = section_.table ? kTableWidth : kArrowBow;
    name_layers(drawing_, stack_, section_, names, section_.origin.x + arrow_room + kBeforeNames,
                measure_);
  }

  /// What was turned, dotted where it lay; the arrow runs from its outer end over the top of all
  /// (or underneath) to where it lies now.
  void turning_in_section(const Turned& part) {
    const Stack before = stacked(*moment_.before, {});
    const Layer* outermost = nullptr;
    const Length target = middle(landed(part));
    for (const Layer& layer : part) {
      const double x = section_.x(static_cast<double>(before.of(layer.id).level));
      add(Group::label, "before: " + moment_.folded.name(layer.id),
          line({x, section_.y(layer.heights.from)}, {x, section_.y(layer.heights.to)}), kGhost);
      const auto far = [&](const Layer& one) { return distance(middle(one.heights), target); };
      if (outermost == nullptr || far(layer) > far(*outermost)) outermost = &layer;
    }
    const bool above = middle(outermost->heights) > target;
    const double out = kArrowInset * (above ? 1 : -1);
    const double begin = section_.y(above ? outermost->heights.to : outermost->heights.from) + out;
    const StackedLayer& now = stack_.of(outermost->id);
    const double end = section_.y(middle(now.heights));
    const double x_from = section_.x(static_cast<double>(before.of(outermost->id).level));
    const double x_to = section_.x(static_cast<double>(now.level));
    const bool underneath = lands_underneath();
    const double side = underneath ? 1 : -1;
    const Box all = section_box(moment_.folded, stack_, section_);
    const double bow = underneath ? all.x1 + kArrowBow : all.x0 - kArrowBow;
    add(arrow({x_from + side * kTrack, begin}, {bow, begin}, {bow, end},
              {x_to + side * 2 * kTrack, end}));
  }

  [[nodiscard]] bool lands_underneath() const {
    return std::any_of(moment_.operations.begin(), moment_.operations.end(),
                       [&](std::size_t index) {
                         const Operation& done = operation(index);
                         if (done.action == Action::fold)
                           return done.landing == pouch::Landing::underneath;
                         return done.action == Action::finish;
                       });
  }

  // ---- What was done ---------------------------------------------------------------------------

  void mark(const Operation& done) {
    switch (done.action) {
      case Action::finish:
        finished_end(done);
        return;
      case Action::press:
        pressed(done);
        return;
      case Action::take_card:
        card_pulled();
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
      case Action::lay_card:
      case Action::fold:
      case Action::look_inside:
        return;
    }
  }

  /// The outer under the panel, a little to the right and below, as nobody would lay it.
  void outer_shows() {
    const Box panel = plan_.box({Length(), pouch_.sizes.cut_width}, all_heights());
    const Box under{panel.x0 + kOuterShows, panel.y0 + kOuterShows, panel.x1 + kOuterShows,
                    panel.y1 + kOuterShows};
    add(Group::label, "outer under it",
        polyline({{panel.x1, under.y0},
                  {under.x1, under.y0},
                  {under.x1, under.y1},
                  {under.x0, under.y1},
                  {under.x0, panel.y1}},
                 Ends::open),
        kOuterStroke);
  }

  [[nodiscard]] Interval end_span_heights(Edge end) const {
    const auto& spans = moment_.folded.panels().front().spans;
    const SpanId id{0, end == Edge::start ? 0 : spans.size() - 1};
    const auto layer = lying(moment_.folded, id);
    return layer ? layer->heights : Interval{};
  }
  /// The height of a raw end, or, of a turned end, of its outermost fold.
  [[nodiscard]] Length end_height(Edge end) const {
    const auto& spans = moment_.folded.panels().front().spans;
    const SpanId id{0, end == Edge::start ? 0 : spans.size() - 1};
    const auto layer = lying(moment_.folded, id);
    if (!layer) return {};
    return layer->rising == (end == Edge::start) ? layer->heights.from : layer->heights.to;
  }

  void finished_end(const Operation& done) {
    const double y = plan_.y(end_height(done.end));
    const double inwards = middle(end_span_heights(done.end)) > end_height(done.end) ? -1 : 1;
    std::vector<Point> corners;
    const double right = plan_.x(pouch_.sizes.cut_width);
    double depth = 0;
    for (double x = 0; x <= right; x += 0.9) {
      corners.push_back({x, y + inwards * depth});
      depth = depth > 0 ? 0 : 1.6;
    }
    add(Group::seam, "finish: " + done.id, polyline(corners, Ends::open),
        {LinePattern::continuous, 0.25});
  }

  /// The fused bands of `done` as they lie, at each side.
  [[nodiscard]] std::vector<CardPart> bands(const Operation& done) const {
    std::vector<CardPart> result;
    for (const pouch::SealZone& zone : pouch_.seal_zones) {
      if (!fused_by(done, zone)) continue;
      std::vector<Interval> heights;
      for (const Layer& layer : moment_.folded.layers()) {
        const std::string& name = moment_.folded.name(layer.id);
        if (name != zone.lower && name != zone.upper) continue;
        const pouch::Span& flat = moment_.folded.panels()[layer.id.panel].spans[layer.id.span];
        const auto part = shared(zone.y, {flat.from, flat.to});
        if (!part) continue;
        const Length a = moment_.folded.height_of(layer.id, part->from);
        const Length b = moment_.folded.height_of(layer.id, part->to);
        heights.push_back({std::min(a, b), std::max(a, b)});
      }
      for (const Interval& part : joined(std::move(heights))) result.push_back({zone.x, part});
    }
    return result;
  }

  [[nodiscard]] bool fused_by(const Operation& done, const pouch::SealZone& zone) const {
    return std::any_of(pouch_.contacts.begin(), pouch_.contacts.end(), [&](const auto& contact) {
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
    for (const CardPart& band : joined_bands(done)) {
      const Box box = plan_.box(band.x, band.heights);
      add(Group::seal, "press here", rectangle(box), kZoneStroke);
      add(Group::seal, "press here: hatch", hatch(box, kZoneHatch),
          {LinePattern::continuous, 0.25});
    }
    for (const pouch::Meeting& meeting : moment_.folded.film_contacts()) fused(done, meeting);
  }

  /// Short marks between two films that the iron fuses.
  void fused(const Operation& done, const pouch::Meeting& meeting) {
    std::vector<Interval> heights;
    for (const CardPart& band : bands(done)) heights.push_back(band.heights);
    const StackedLayer& lower = stack_.of(meeting.lower);
    const StackedLayer& upper = stack_.of(meeting.upper);
    const double right = section_.x(static_cast<double>(lower.level)) - kTrack;
    const double left = section_.x(static_cast<double>(upper.level)) + kTrack;
    // Where more lies between further down or up, its folds reach into this stretch.
    const auto between = static_cast<double>(upper.level - lower.level) - 1;
    const double keep_off = kMarkEvery / 2 + std::max(0.0, between) * kSectionPitch / 2;
    Path path;
    for (const Interval& band : joined(std::move(heights))) {
      const auto part = shared(band, meeting.heights);
      if (!part) continue;
      const double end = section_.y(part->from) - keep_off;
      for (double y = section_.y(part->to) + kMarkEvery / 2; y < end; y += kMarkEvery) {
        for (const Step& step : line({left, y}, {right, y})) path.push_back(step);
      }
    }
    add(Group::seal, "fused: " + lower.name + " + " + upper.name, std::move(path),
        {LinePattern::continuous, 0.5});
  }

  /// The card on its way out: what of it stands out above the panel.
  void card_pulled() {
    const double x = plan_.x(units::half(pouch_.sizes.cut_width));
    const Length top = all_heights().to;
    const Length out = Length::mm(kCardOut / look_.scale);
    const Interval outside{top, std::max(pouch_.slip_card.top, top) + out};
    const CardPart bar = parts_of(pouch_.slip_card).back();
    add(Group::label, "card pulled out", rectangle(plan_.box(bar.x, outside)), kGhost);
    add(arrow({x, plan_.y(pouch_.lip_height) - 1}, {x, plan_.y(outside.to) + 1}));
  }

  /// The stitched line along an edge, on the plan.
  [[nodiscard]] Path seam(Edge edge) const {
    const Interval heights = all_heights();
    const Length in = pouch_.sizes.seam_allowance;
    if (edge == Edge::left || edge == Edge::right) {
      const double x = plan_.x(edge == Edge::left ? in : pouch_.sizes.cut_width - in);
      return line({x, plan_.y(heights.from)}, {x, plan_.y(heights.to)});
    }
    const Length at = end_height(edge);
    const Length inside = middle(end_span_heights(edge)) > at ? at + in : at - in;
    return line({0, plan_.y(inside)}, {plan_.x(pouch_.sizes.cut_width), plan_.y(inside)});
  }

  void sewn(const Operation& done) {
    for (const auto& edge : done.edges) {
      add(Group::seam, "sew here", seam(edge.value), kStitchStroke);
    }
    stitches();
  }

  /// Through all layers in the side view, wherever some lie.
  void stitches() {
    Path path;
    const Length step = Length::mm(kStitchEvery / look_.scale);
    const Interval heights = all_heights();
    for (Length at = heights.from + units::half(step); at < heights.to; at += step) {
      const auto left = top_of_stack(at);
      if (!left) continue;
      const double y = section_.y(at);
      for (const Step& part : line({*left - 0.8, y}, {section_.origin.x, y})) path.push_back(part);
    }
    add(Group::seam, "stitches", std::move(path), kThroughStroke);
  }

  /// The left side of the topmost layer or card at a height.
  [[nodiscard]] std::optional<double> top_of_stack(Length height) const {
    std::optional<double> left;
    for (const StackedLayer& layer : stack_.layers) {
      if (layer.heights.from > height || layer.heights.to < height) continue;
      const double x =
          section_.x(static_cast<double>(layer.level)) - kTrack - kFilmStroke.width / 2;
      left = std::min(left.value_or(x), x);
    }
    return left;
  }

  /// Thread ends at both ends of the side seams.
  void tails() {
    const Interval heights = all_heights();
    for (const Length x :
         {pouch_.sizes.seam_allowance, pouch_.sizes.cut_width - pouch_.sizes.seam_allowance}) {
      for (const bool upper : {true, false}) {
        const double down = upper ? -1 : 1;
        const Point at{plan_.x(x), plan_.y(upper ? heights.to : heights.from)};
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
    for (const Length x : {Length(), pouch_.sizes.cut_width}) {
      add(Group::label, "corner", circle({plan_.x(x), plan_.y(all_heights().from)}, kCornerRing),
          kZoneStroke);
    }
    const Length level = pouch_.water_line;
    if (level <= Length()) return;
    const double y = plan_.y(level);
    const double left = plan_.x(pouch_.sizes.seal_width);
    const double right = plan_.x(pouch_.sizes.cut_width - pouch_.sizes.seal_width);
    Path path{{Verb::move, {left, y}, {}, {}}};
    const double wave = 3;
    for (double x = left; x + wave <= right; x += wave) {
      path.push_back(
          {Verb::curve, {x + wave, y}, {x + wave / 3, y - 1.1}, {x + 2 * wave / 3, y + 1.1}});
    }
    add(Group::label, "water", std::move(path), kWaterStroke);
  }

  // ---- Besides ---------------------------------------------------------------------------------

  void mark_folds() {
    for (const pouch::FoldLine& fold : pouch_.sizes.folds) {
      for (const Layer& layer : moment_.folded.layers()) {
        if (moment_.folded.name(layer.id) != fold.before) continue;
        const double y = plan_.y(moment_.folded.height_of(layer.id, fold.at));
        const double right = plan_.x(pouch_.sizes.cut_width);
        add(Group::notch, "notch", line({0, y}, {kNotch, y}), {LinePattern::continuous, 1.0});
        add(Group::notch, "notch", line({right - kNotch, y}, {right, y}),
            {LinePattern::continuous, 1.0});
      }
    }
    const double x = plan_.x(units::half(pouch_.sizes.cut_width));
    add(arrow({x, plan_.y(all_heights().from) - 5}, {x, plan_.y(all_heights().to) + 5}));
  }

  void clips() {
    const double right = plan_.x(pouch_.sizes.cut_width);
    const double top = plan_.y(all_heights().to);
    const double bottom = plan_.y(all_heights().from);
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

  /// What stands between the views, and which way its arrows go.
  struct SideIcon {
    Icon icon;
    double y;                 ///< of its middle
    double reach;             ///< its arrow ends so far inside the plan; 0: no arrow
    bool at_section = false;  ///< another arrow goes to the side view
    bool never = false;       ///< crossed out
  };

  void find_side_icons() {
    const double half_seal = pouch_.sizes.seal_width.in_mm() * look_.scale / 2;
    const double seam = pouch_.sizes.seam_allowance.in_mm() * look_.scale;
    const double centre = plan_.y(middle(all_heights()));
    if (moment_.to_be_marked && !pouch_.sizes.folds.empty()) {
      const double fold = plan_.y(pouch_.sizes.folds.front().at + all_heights().from);
      side_icons_.push_back({Icon::snip, fold - kIconSize, 0});
      side_icons_.push_back({Icon::deep_snip, fold, 0, false, true});
    }
    for (const std::size_t index : moment_.operations) {
      const Operation& done = operation(index);
      if (done.action == Action::finish) {
        side_icons_.push_back({Icon::overedge, plan_.y(end_height(done.end)), 0});
      } else if (done.action == Action::press) {
        side_icons_.push_back({Icon::iron, plan_.y(units::half(pouch_.lip_height)), half_seal,
                               done.from != pouch::PressFrom::back});
      } else if (done.action == Action::sew) {
        side_icons_.push_back({Icon::needle, centre, seam});
      } else if (done.action == Action::secure_tails) {
        side_icons_.push_back({Icon::tail, plan_.y(all_heights().from), 0});
      } else if (done.action == Action::look_inside) {
        side_icons_.push_back({Icon::eye, plan_.y(pouch_.lip_height) - 4, kIconSize});
      } else if (done.action == Action::test) {
        side_icons_.push_back({Icon::drop, plan_.y(pouch_.water_line), 3});
        side_icons_.push_back({Icon::eye, plan_.y(all_heights().from), 0});
      }
    }
  }

  /// Icons stand beside what they mean, but no two on each other, and inside the plan's height.
  void draw_side_icons() {
    std::stable_sort(side_icons_.begin(), side_icons_.end(),
                     [](const SideIcon& a, const SideIcon& b) { return a.y < b.y; });
    const double half = kIconSize / 2;
    double lowest = plan_.y(all_heights().to) - kIconGap;
    std::vector<double> middles;
    for (const SideIcon& one : side_icons_) {
      middles.push_back(std::max(one.y, lowest + kIconGap + half));
      lowest = middles.back() + half;
    }
    double highest = std::max(plan_.y(all_heights().from), lowest) + kIconGap;
    for (std::size_t i = middles.size(); i-- > 0;) {
      middles[i] = std::min(middles[i], highest - kIconGap - half);
      highest = middles[i] - half;
    }
    for (std::size_t i = 0; i < middles.size(); ++i) draw_side_icon(side_icons_[i], middles[i]);
  }

  void draw_side_icon(const SideIcon& one, double y) {
    const double left = plan_right() + (kIconLane - kIconSize) / 2;
    const Box box{left, y - kIconSize / 2, left + kIconSize, y + kIconSize / 2};
    add(one.never ? forbidden(one.icon, box) : icon(one.icon, box));
    if (one.reach > 0) {
      add(arrow({left - 0.6, y}, {plan_.x(pouch_.sizes.cut_width) - one.reach, one.y}));
    }
    if (!one.at_section) return;
    const Length height = Length::mm(-y / look_.scale);
    const double right = box.x1 + 0.6;
    const double stack = top_of_stack(height).value_or(right) - 0.6;
    if (stack > right + 2) add(arrow({right, y}, {stack, y}));
  }

  const pouch::Pouch& pouch_;
  const FoldMoment& moment_;
  PictureLook look_;
  const diag::Words& words_;
  const TextMeasure& measure_;
  PlanLook plan_;
  SectionLook section_;
  std::vector<Turned> turned_;
  Stack stack_;
  std::vector<SideIcon> side_icons_;
  Drawing drawing_;
};

/// How many layers lie under the slip card at `stage`: it was laid on what lay there at `laid`.
std::size_t below_card(const pouch::Pouch& pouch, const Folded& laid, const Folded& now) {
  const Interval card{Length(), pouch.slip_card.top};
  std::size_t on_them = 0;
  std::optional<std::size_t> under_turned;
  for (std::size_t i = 0; i < now.layers().size(); ++i) {
    const auto then = lying(laid, now.layers()[i].id);
    if (!then || !shared(then->heights, card)) continue;
    if (then->film_up == now.layers()[i].film_up) on_them = i + 1;
    if (then->film_up != now.layers()[i].film_up && !under_turned) under_turned = i;
  }
  return on_them > 0 ? on_them : under_turned.value_or(0);
}

std::vector<LyingCard> cards_at(const pouch::Pouch& pouch, std::size_t stage) {
  const auto& operations = pouch.construction().operations;
  std::vector<LyingCard> cards;
  if (pouch.stages[stage].card_inside) {
    std::size_t laid = stage;
    while (laid > 0 && pouch.stages[laid - 1].card_inside) --laid;
    cards.push_back({&pouch.slip_card,
                     below_card(pouch, pouch.stages[laid].folded, pouch.stages[stage].folded)});
  }
  if (operations[pouch.stages[stage].operation].action == Action::press &&
      pouch.request.cards != pouch::CardUse::inside) {
    cards.push_back({&pouch.shield, pouch.stages[stage].folded.layers().size()});
  }
  return cards;
}

bool outer_lies(const pouch::Pouch& pouch, std::size_t stage) {
  if (!pouch.request.outer) return false;
  const auto& operations = pouch.construction().operations;
  bool paired_at_all = false;
  for (std::size_t i = 0; i < pouch.stages.size(); ++i) {
    if (operations[pouch.stages[i].operation].action != Action::pair) continue;
    if (i <= stage) return true;
    paired_at_all = true;
  }
  return !paired_at_all;
}

/// What is clipped now is sewn or finished next.
bool is_clipped(const pouch::Pouch& pouch, std::size_t stage) {
  const auto& operations = pouch.construction().operations;
  const auto action = [&](std::size_t i) { return operations[pouch.stages[i].operation].action; };
  if (action(stage) != Action::pair && action(stage) != Action::fold) return false;
  if (stage + 1 >= pouch.stages.size()) return false;
  return action(stage + 1) == Action::sew || action(stage + 1) == Action::finish;
}

}  // namespace

FoldMoment cut_panel(const pouch::Pouch& pouch) {
  const Folded& first = pouch.stages.front().folded;
  Length bottom;
  for (const Layer& layer : first.layers()) {
    if (layer.id.panel != 0 || !layer.rising) continue;
    bottom = first.panels()[0].spans[layer.id.span].from - layer.heights.from;
  }
  return {Folded(first.panels(), pouch.request.laminate.film, bottom),
          std::nullopt,
          false,
          {},
          {},
          true,
          false};
}

FoldMoment moment(const pouch::Pouch& pouch, std::size_t first, std::size_t last) {
  FoldMoment result{pouch.stages[last].folded, std::nullopt, outer_lies(pouch, last),
                    cards_at(pouch, last),     {},           false,
                    is_clipped(pouch, last)};
  result.before = first > 0 ? pouch.stages[first - 1].folded : cut_panel(pouch).folded;
  for (std::size_t i = first; i <= last; ++i)
    result.operations.push_back(pouch.stages[i].operation);
  return result;
}

Drawing fold_picture(const pouch::Pouch& pouch, const FoldMoment& moment, PictureLook look,
                     const diag::Words& words, const TextMeasure& measure) {
  return PictureMaker(pouch, moment, look, words, measure).drawn();
}

Drawing fold_picture(const pouch::Pouch& pouch, const FoldMoment& moment, Point room,
                     const diag::Words& words, const TextMeasure& measure) {
  const auto at = [&](double scale) {
    return fold_picture(pouch, moment, PictureLook{.scale = scale}, words, measure);
  };
  const auto fits = [&](const Drawing& drawing) {
    return drawing.extent.width() + 2 <= room.x && drawing.extent.height() + 2 <= room.y;
  };
  double small = 0;
  double large = 1;
  for (int round = 0; round < 20; ++round) {
    const double scale = (small + large) / 2;
    (fits(at(scale)) ? small : large) = scale;
  }
  Drawing drawing = at(small > 0 ? small : large);
  drawing.extent = grown(drawing.extent, 1);
  return from_top_left(std::move(drawing));
}

Drawing finished_picture(const pouch::Pouch& pouch, Point room, const diag::Words& words,
                         const TextMeasure& measure) {
  FoldMoment finished = moment(pouch, pouch.stages.size() - 1, pouch.stages.size() - 1);
  finished.operations.clear();
  finished.before.reset();
  return fold_picture(pouch, finished, room, words, measure);
}

}  // namespace pouchwright::drawing
