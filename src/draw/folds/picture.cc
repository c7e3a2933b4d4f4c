#include "draw/folds/picture.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "draw/folds/cut_through.h"
#include "draw/folds/from_above.h"
#include "draw/folds/marks.h"
#include "draw/full_size/template_words.h"
#include "ink/arrows.h"
#include "ink/canvas.h"
#include "ink/icons.h"
#include "pouch/questions.h"
#include "tell/names.h"
#include "tell/step_list.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::Action;
using pouch::Interval;
using pouch::Layer;
using pouch::Operation;

constexpr Stroke kGhost{LinePattern::dotted, 0.5};
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
/// In a room narrower than this layers are drawn so much thinner.
constexpr double kNarrowRoom = 80;
constexpr double kThinLayers = 0.7;
/// A picture that is to fill a room has a whole number of these for its scale: 2^-20.
constexpr double kSmallestScale = 1.0 / 1048576;
/// It fills the room where it misses it by less, mm.
constexpr double kMeets = 1e-9;
constexpr int kSecants = 20;

Length distance(Length a, Length b) { return a > b ? a - b : b - a; }

/// Everything that is drawn of one moment. Drawn at scale, the bottom's left corner at 0, 0.
class PictureMaker {
 public:
  PictureMaker(const pouch::Pouch& pouch, const pouch::FoldMoment& moment, PictureLook look,
               const Icons& icons, const base::Voice& words, const TextMeasure& measure)
      : pouch_(pouch),
        moment_(moment),
        look_(look),
        icons_(icons),
        words_(words),
        measure_(measure),
        plan_{.origin = {0, 0},
              .scale = look.scale,
              .width = pouch.sizes.cut_width,
              .shaped = shaped_end(pouch)} {
    plan_.film = !moment.outer_alone;
    if (moment.before) turned_ = pouch::turned(*moment.before, moment.folded);
    stack_ = stacked(moment.folded, cut_cards());
  }

  Drawing drawn() {
    find_side_icons();
    place_section();
    plan();
    section();
    draw_marks(drawing_, views());
    if (moment_.finished) draw_seals_and_seams(drawing_, views());
    draw_side_icons();
    for (const Item& item : drawing_.items) {
      const Box box = bounds(item, measure_);
      drawing_.extent = &item == &drawing_.items.front() ? box : united(drawing_.extent, box);
    }
    drawing_.name = "fold-picture";
    drawing_.title = tell::title_of(pouch_, words_);
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
    drawing_.add_line(group, std::move(name), std::move(path), stroke);
  }
  void add(std::vector<Shape> shapes) {
    for (Shape& shape : shapes) drawing_.add(std::move(shape));
  }

  // ---- Where things lie ------------------------------------------------------------------------

  /// Where edges are pressed or sewn the side view is cut there, else in the middle.
  [[nodiscard]] Length cut_at() const {
    if (does(Action::press) || does(Action::sew)) return base::half(pouch_.sizes.seal_width);
    return base::half(pouch_.sizes.cut_width);
  }

  [[nodiscard]] std::vector<CutCard> cut_cards() const {
    std::vector<CutCard> result;
    for (const pouch::LyingCard& card : moment_.cards) {
      std::vector<Interval> heights;
      for (const CardPart& part : parts_of(named(card).card)) {
        if (part.x.from <= cut_at() && cut_at() <= part.x.to) heights.push_back(part.heights);
      }
      for (const Interval& part : joined(std::move(heights))) {
        result.push_back({card_name(card), part, card.layers_below});
      }
    }
    return result;
  }

  [[nodiscard]] const pouch::NamedCard& named(const pouch::LyingCard& card) const {
    return pouch_.cards[card.card];
  }

  /// Where there are several pockets, with the one that it is for.
  [[nodiscard]] std::string card_name(const pouch::LyingCard& card) const {
    if (named(card).use == pouch::NamedCard::Use::shield) return words_.say("drawing-shield");
    if (pouch_.construction().compartments.size() < 2) return words_.say("drawing-slip-card");
    return words_.say({"drawing-slip-card-of", {{"compartment", named(card).compartment}}});
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
    section_.thickness = look_.thickness;
    section_.outer = moment_.outer;
    section_.outer_alone = moment_.outer_alone;
    section_.table = turned_.empty() || !lands_underneath();
    section_.origin = {right + left_room + (static_cast<double>(levels) + 0.6) * section_.pitch(),
                       0};
  }

  /// The right end of the plan's ink.
  [[nodiscard]] double plan_right() const {
    double right = plan_.x(pouch_.sizes.cut_width);
    for (const pouch::LyingCard& card : moment_.cards) {
      for (const CardPart& part : parts_of(named(card).card)) {
        right = std::max(right, plan_.x(part.x.to));
      }
    }
    if (!moment_.straps_out) return right;
    for (const pouch::LyingStrap& strap :
         straps_at_sides(pouch_, moment_.folded, pouch::StrapLies::outwards)) {
      right = std::max(right, plan_.x(strap.x.to));
    }
    return right;
  }

  [[nodiscard]] Interval all_heights() const { return pouch::extent_of(moment_.folded.layers()); }
  [[nodiscard]] FoldViews views() const { return {&pouch_, &moment_, &stack_, plan_, section_}; }

  // ---- The two views ---------------------------------------------------------------------------

  void plan() {
    std::vector<PlanCard> cards;
    for (const pouch::LyingCard& card : moment_.cards)
      cards.push_back({&named(card).card, card.layers_below});
    draw_plan(drawing_, moment_.folded, cards, plan_);
    if (does(Action::lay_card) || does(Action::press)) name_card();
    for (const pouch::Turned& part : turned_) turning_on_plan(part);
  }

  /// Is it laid in just now, or does nothing lie on it?
  [[nodiscard]] bool is_to_be_named(const pouch::LyingCard& card) const {
    for (const std::size_t index : moment_.operations) {
      if (operation(index).action != Action::lay_card) continue;
      const std::size_t pocket = compartment_of(pouch_.construction(), operation(index));
      return slip_card_of(pouch_, index, pocket) == card.card;
    }
    return &card == &moment_.cards.back();
  }

  /// In the widest part of the card, where there is room.
  void name_card() {
    if (look_.wording == Wording::wordless) return;
    const auto card =
        std::find_if(moment_.cards.begin(), moment_.cards.end(),
                     [&](const pouch::LyingCard& one) { return is_to_be_named(one); });
    if (card == moment_.cards.end()) return;
    const CardPart bar = parts_of(named(*card).card).back();
    const Box box = plan_.box(bar.x, bar.heights);
    const Text name = centred_on(label(card_name(*card), kSmallestSize),
                                 {(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2}, measure_);
    const Box ink = grown(bounds(name, measure_), kClearance);
    if (ink.width() < box.width() && ink.height() < box.height()) drawing_.add(name);
  }

  [[nodiscard]] Interval landed(const pouch::Turned& part) const {
    std::vector<Layer> now;
    for (const Layer& layer : part) now.push_back(moment_.folded.layer(layer.id));
    return extent_of(now);
  }

  /// The flap with shaped corners, where its end lay in that stretch.
  [[nodiscard]] const Layer* shaped_in(const pouch::Turned& part, const Interval& left) const {
    for (const Layer& layer : part) {
      if (!plan_.shaped || layer.id != plan_.shaped->span) continue;
      const bool upper = plan_.corners(layer).at_start;
      const bool has_end = upper ? layer.heights.to == left.to : layer.heights.from == left.from;
      if (has_end) return &layer;
    }
    return nullptr;
  }

  /// Where it lay, dotted where nothing lies now, and an arrow to where it lies.
  void turning_on_plan(const pouch::Turned& part) {
    const Interval from = extent_of(part);
    for (const Interval& left : without(from, {all_heights()})) {
      const Box box = plan_.box({Length(), pouch_.sizes.cut_width}, left);
      const Layer* shaped = shaped_in(part, left);
      add(Group::label, "before: plan",
          shaped == nullptr ? rectangle(box) : outline_with(plan_.corners(*shaped), box), kGhost);
    }
    const double x = plan_.x(base::half(pouch_.sizes.cut_width));
    const double begin = plan_.y(middle(from));
    const double end = plan_.y(middle(landed(part)));
    if (std::abs(begin - end) < kShortestArrow) return;
    const double bow = std::min(9.0, std::abs(begin - end) / 3);
    const double third = (end - begin) / 3;
    add(arrow({x, begin}, {x + bow, begin + third}, {x + bow, end - third}, {x, end}));
  }

  void section() {
    draw_section(drawing_, moment_.folded, stack_, section_);
    for (const pouch::Turned& part : turned_) turning_in_section(part);
    if (look_.wording == Wording::wordless) return;
    std::vector<std::string> names;
    for (const StackedLayer& layer : stack_.layers) {
      names.push_back(layer.id ? tell::span_name(layer.name, words_) : layer.name);
    }
    const double arrow_room = section_.table ? kTableWidth : kArrowBow;
    name_layers(drawing_, stack_, section_, names, section_.origin.x + arrow_room + kBeforeNames,
                measure_);
  }

  /// What was turned, dotted where it lay; the arrow runs from its outer end over the top of all
  /// (or underneath) to where it lies now.
  void turning_in_section(const pouch::Turned& part) {
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
    add(arrow({x_from + side * section_.track(), begin}, {bow, begin}, {bow, end},
              {x_to + side * 2 * section_.track(), end}));
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
        const bool turned = finish_of(pouch_.request, done).kind == pouch::FinishKind::turned;
        side_icons_.push_back(
            {turned ? Icon::needle : Icon::overedge,
             plan_.y(views().end_height(done.end, panel_of(pouch_.construction(), done))), 0});
      } else if (done.action == Action::press) {
        side_icons_.push_back({Icon::iron, plan_.y(base::half(pouch_.lip_height)), half_seal,
                               done.from != pouch::PressFrom::back});
      } else if (done.action == Action::sew) {
        side_icons_.push_back({Icon::needle, centre, seam});
      } else if (done.action == Action::hem) {
        const auto id = moment_.folded.find(done.span);
        if (id && moment_.folded.lies(id->panel)) {
          side_icons_.push_back(
              {Icon::needle, plan_.y(middle(moment_.folded.layer(*id).heights)), seam});
        }
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
    add(one.never ? forbidden(icons_, one.icon, box) : icon(icons_, one.icon, box));
    if (one.reach > 0) {
      add(arrow({left - 0.6, y}, {plan_.x(pouch_.sizes.cut_width) - one.reach, one.y}));
    }
    if (!one.at_section) return;
    const Length height = Length::mm(-y / look_.scale);
    const double right = box.x1 + 0.6;
    const double stack = views().top_of_stack(height).value_or(right) - 0.6;
    if (stack > right + 2) add(arrow({right, y}, {stack, y}));
  }

  const pouch::Pouch& pouch_;
  const pouch::FoldMoment& moment_;
  PictureLook look_;
  const Icons& icons_;
  base::Voice words_;
  const TextMeasure& measure_;
  PlanLook plan_;
  SectionLook section_;
  std::vector<pouch::Turned> turned_;
  Stack stack_;
  std::vector<SideIcon> side_icons_;
  Drawing drawing_;
};

}  // namespace

Drawing fold_picture(const pouch::Pouch& pouch, const pouch::FoldMoment& moment, PictureLook look,
                     const Icons& icons, const base::Voice& words, const TextMeasure& measure) {
  return PictureMaker(pouch, moment, look, icons, words, measure).drawn();
}

Drawing fold_picture(const pouch::Pouch& pouch, const pouch::FoldMoment& moment, Point room,
                     const Icons& icons, const base::Voice& words, const TextMeasure& measure) {
  PictureLook look{.thickness = room.x < kNarrowRoom ? kThinLayers : 1.0};
  const auto at = [&](double scale) {
    look.scale = scale;
    return fold_picture(pouch, moment, look, icons, words, measure);
  };
  // By how many mm the picture is larger than the room and some white.
  const auto lacks = [&](double scale) {
    const Box box = at(scale).extent;
    return std::max(box.width() - room.x, box.height() - room.y) + 2;
  };
  // A picture grows evenly with its scale but for names, so a few secants meet the room.
  double previous = 1;
  double scale = 0.5;
  double before = lacks(previous);
  double lack = lacks(scale);
  if (before <= 0) scale = previous;
  for (int round = 0; round < kSecants && before > 0 && std::abs(lack) > kMeets; ++round) {
    const double next = scale - lack * (scale - previous) / (lack - before);
    previous = scale;
    before = lack;
    scale = std::isfinite(next) ? std::clamp(next, kSmallestScale, 1.0) : kSmallestScale;
    lack = lacks(scale);
  }
  const double steps = std::floor(scale / kSmallestScale);
  Drawing drawing = at(std::clamp(steps, 1.0, 1 / kSmallestScale - 1) * kSmallestScale);
  drawing.extent = grown(drawing.extent, 1);
  return from_top_left(std::move(drawing));
}

Drawing finished_picture(const pouch::Pouch& pouch, Point room, const base::Voice& words,
                         const TextMeasure& measure) {
  pouch::FoldMoment finished = moment(pouch, pouch.stages.size() - 1, pouch.stages.size() - 1);
  finished.operations.clear();
  finished.finished = true;
  finished.before.reset();
  // Nothing is left to be done, so that no icon stands beside it.
  return fold_picture(pouch, finished, room, Icons(), words, measure);
}

}  // namespace pouchwright::draw
