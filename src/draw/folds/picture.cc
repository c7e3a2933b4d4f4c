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

bool does(const FoldViews& views, Action action) {
  const auto& done = views.moment->operations;
  return std::any_of(done.begin(), done.end(), [&](std::size_t index) {
    return views.pouch->operation(index).action() == action;
  });
}

// ---- Cards -------------------------------------------------------------------------------------

const pouch::NamedCard& named(const FoldViews& views, const pouch::LyingCard& card) {
  return views.pouch->cards[card.card];
}

std::vector<CardPart> card_parts(const FoldViews& views, const pouch::LyingCard& card) {
  return parts_of(named(views, card).card);
}

/// Where there are several pockets, with the one that it is for.
std::string card_name(const FoldViews& views, const pouch::LyingCard& card,
                      const base::Voice& words) {
  if (named(views, card).card.is_own) return words.say("drawing-own-card");
  if (named(views, card).use == pouch::NamedCard::Use::shield) return words.say("drawing-shield");
  if (views.pouch->construction().compartments.size() < 2) return words.say("drawing-slip-card");
  const auto& compartments = views.pouch->construction().compartments;
  return words.say({"drawing-slip-card-of",
                    {{"compartment", compartments[named(views, card).compartment].name}}});
}

/// The cards where the side view is cut: at the edges while they are pressed or sewn, else in the
/// middle.
std::vector<CutCard> cut_cards(const FoldViews& views, const base::Voice& words) {
  const bool at_edge = does(views, Action::press) || does(views, Action::sew);
  const pouch::Sizes& sizes = views.pouch->sizes;
  const Length at = base::half(at_edge ? sizes.seal_width : sizes.cut_width);
  std::vector<CutCard> result;
  for (const pouch::LyingCard& card : views.moment->cards) {
    std::vector<Interval> heights;
    for (const CardPart& part : card_parts(views, card)) {
      if (part.x.from <= at && at <= part.x.to) heights.push_back(part.heights);
    }
    for (const Interval& part : joined(std::move(heights))) {
      result.push_back({card_name(views, card, words), part, card.layers_below});
    }
  }
  return result;
}

/// Is it laid in just now, or does nothing lie on it?
bool is_to_be_named(const FoldViews& views, const pouch::LyingCard& card) {
  for (const std::size_t index : views.moment->operations) {
    const auto* lays = views.pouch->operation(index).as<pouch::does::LayCard>();
    if (lays == nullptr) continue;
    return slip_card_of(*views.pouch, index, lays->compartment) == card.card;
  }
  return card.card == views.moment->cards.back().card;
}

/// In the widest part of the card, where there is room.
void name_card(Drawing& drawing, const FoldViews& views, const base::Voice& words,
               const TextMeasure& measure) {
  if (!does(views, Action::lay_card) && !does(views, Action::press)) return;
  for (const pouch::LyingCard& card : views.moment->cards) {
    if (!is_to_be_named(views, card)) continue;
    const CardPart bar = card_parts(views, card).back();
    const Box box = views.plan.box(bar.x, bar.heights);
    const Text name =
        centred_on(label(card_name(views, card, words), kSmallestSize), middle(box), measure);
    const Box ink = grown(bounds(name, measure), kClearance);
    if (ink.width() < box.width() && ink.height() < box.height()) drawing.add(name);
    return;
  }
}

// ---- What was turned ---------------------------------------------------------------------------

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

/// Several turns in one go, as of a rolled mouth: the spiral shows them, and no arrow could.
bool turns_on(const FoldViews& views) {
  const auto& done = views.moment->operations;
  return std::count_if(done.begin(), done.end(), [&](std::size_t index) {
           return views.pouch->operation(index).action() == Action::fold;
         }) > 1;
}

/// The middle of where it lies now.
Length landed(const FoldViews& views, const pouch::Turned& part) {
  std::vector<Layer> now;
  for (const Layer& layer : part) now.push_back(views.moment->folded.layer(layer.id));
  return middle(extent_of(now));
}

/// The outline of what lay there, a flap's shaped corners included where its end did.
Path outline_before(const PlanLook& plan, const pouch::Turned& part, const Interval& stretch) {
  const Box box = plan.box({Length(), plan.width}, stretch);
  for (const Layer& layer : part) {
    if (!plan.shaped || layer.id != plan.shaped->span) continue;
    const EndCorners corners = plan.corners(layer);
    const bool has_end =
        corners.at_start ? layer.heights.to == stretch.to : layer.heights.from == stretch.from;
    if (has_end) return outline_with(corners, box);
  }
  return rectangle(box);
}

/// Where it lay, dotted where nothing lies now, and an arrow to where it lies.
void draw_turning_on_plan(Drawing& drawing, const FoldViews& views, const pouch::Turned& part) {
  const Interval from = extent_of(part);
  for (const Interval& left : without(from, {views.all_heights()})) {
    drawing.add_line(Group::label, "before: plan", outline_before(views.plan, part, left), kGhost);
  }
  const double x = views.centre();
  const double begin = views.plan.y(middle(from));
  const double end = views.plan.y(landed(views, part));
  if (std::abs(begin - end) < kShortestArrow) return;
  const double bow = x + std::min(9.0, std::abs(begin - end) / 3);
  const double third = (end - begin) / 3;
  drawing.add(arrow({x, begin}, {bow, begin + third}, {bow, end - third}, {x, end}));
}

/// What was turned, dotted where it lay; the arrow runs from its outer end over the top of all
/// (or underneath) to where it lies now.
void draw_turning_in_section(Drawing& drawing, const FoldViews& views, const pouch::Turned& part) {
  const SectionLook& section = views.section;
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

// ---- Icons between the views -------------------------------------------------------------------

/// What stands between the views, and which way its arrows go.
struct SideIcon {
  Icon icon;
  double y;                 ///< of its middle
  double reach = 0;         ///< its arrow ends so far inside the plan; 0: no arrow
  bool at_section = false;  ///< another arrow goes to the side view
  bool never = false;       ///< crossed out
};

std::vector<SideIcon> icons_of(const FoldViews& views, const Operation& done) {
  const pouch::Pouch& pouch = *views.pouch;
  const PlanLook& plan = views.plan;
  const double seam = pouch.sizes.seam_allowance.in_mm() * plan.scale;
  if (const auto* finish = done.as<pouch::does::Finish>()) {
    const pouch::FinishKind kind = finish_of(pouch.request, finish->end).kind;
    return {{kind == pouch::FinishKind::overedge ? Icon::overedge : Icon::needle,
             plan.y(views.end_height(finish->end, finish->panel))}};
  }
  if (const auto* press = done.as<pouch::does::Press>()) {
    return {{Icon::iron, plan.y(base::half(pouch.lip_height)),
             pouch.sizes.seal_width.in_mm() * plan.scale / 2,
             press->from != pouch::PressFrom::back}};
  }
  if (const auto* hem = done.as<pouch::does::Hem>()) {
    const auto layer = lying(views.moment->folded, views.moment->folded.id(hem->span));
    if (!layer) return {};
    return {{Icon::needle, plan.y(middle(layer->heights)), seam}};
  }
  if (done.as<pouch::does::Sew>()) {
    return {{Icon::needle, plan.y(middle(views.all_heights())), seam}};
  }
  if (done.as<pouch::does::Tag>()) return {{Icon::tag, plan.y(middle(views.all_heights())), seam}};
  if (done.as<pouch::does::Dry>()) return {{Icon::dryer, views.bottom()}};
  if (done.as<pouch::does::SecureTails>()) return {{Icon::tail, views.bottom()}};
  if (done.as<pouch::does::LookInside>()) {
    return {{Icon::eye, plan.y(pouch.lip_height) - 4, kIconSize}};
  }
  if (done.as<pouch::does::Test>() || done.as<pouch::does::FillFirst>()) {
    return {{Icon::drop, plan.y(pouch.water_line()), 3}, {Icon::eye, views.bottom()}};
  }
  return {};
}

/// From the highest to the lowest.
std::vector<SideIcon> side_icons(const FoldViews& views) {
  std::vector<SideIcon> icons;
  const auto folds = folds_of(views.pouch->sizes.main_panel());
  if (views.moment->to_be_marked && !folds.empty()) {
    const double fold = views.plan.y(folds.front().at + views.all_heights().from);
    icons = {{Icon::snip, fold - kIconSize}, {.icon = Icon::deep_snip, .y = fold, .never = true}};
  }
  for (const std::size_t index : views.moment->operations) {
    for (const SideIcon& one : icons_of(views, views.pouch->operation(index))) icons.push_back(one);
  }
  std::stable_sort(icons.begin(), icons.end(),
                   [](const SideIcon& a, const SideIcon& b) { return a.y < b.y; });
  return icons;
}

/// The middles of the icons: each beside what it means, but no two on each other, and inside the
/// plan's height.
std::vector<double> spread(const std::vector<SideIcon>& icons, const FoldViews& views) {
  const double half = kIconSize / 2;
  double lowest = views.top() - kIconGap;
  std::vector<double> middles;
  for (const SideIcon& one : icons) {
    middles.push_back(std::max(one.y, lowest + kIconGap + half));
    lowest = middles.back() + half;
  }
  double highest = std::max(views.bottom(), lowest) + kIconGap;
  for (std::size_t i = middles.size(); i-- > 0;) {
    middles[i] = std::min(middles[i], highest - kIconGap - half);
    highest = middles[i] - half;
  }
  return middles;
}

/// The right end of the plan's ink.
double plan_right(const FoldViews& views) {
  double right = views.right();
  for (const pouch::LyingCard& card : views.moment->cards) {
    for (const CardPart& part : card_parts(views, card)) {
      right = std::max(right, views.plan.x(part.x.to));
    }
  }
  if (!views.moment->straps_out) return right;
  for (const pouch::LyingStrap& strap :
       straps_at_sides(*views.pouch, views.moment->folded, pouch::StrapLies::outwards)) {
    right = std::max(right, views.plan.x(strap.x.to));
  }
  return right;
}

void draw_side_icon(Drawing& drawing, const FoldViews& views, const SideIcon& one, double y,
                    const Icons& icons) {
  const double left = plan_right(views) + (kIconLane - kIconSize) / 2;
  const Box box{left, y - kIconSize / 2, left + kIconSize, y + kIconSize / 2};
  drawing.add(one.never ? forbidden(icons, one.icon, box) : icon(icons, one.icon, box));
  if (one.reach > 0) drawing.add(arrow({left - 0.6, y}, {views.right() - one.reach, one.y}));
  if (!one.at_section) return;
  const Length height = Length::mm(-y / views.plan.scale);
  const double right = box.x1 + 0.6;
  const double stack = views.top_of_stack(height).value_or(right) - 0.6;
  if (stack > right + 2) drawing.add(arrow({right, y}, {stack, y}));
}

// ---- The side view -----------------------------------------------------------------------------

/// Right of the plan, its icons and, where something was turned, the arrow over the top of all.
SectionLook section_look(const FoldViews& views, PictureLook look, bool has_icons,
                         bool was_turned) {
  const pouch::FoldMoment& moment = *views.moment;
  double left_room = has_icons ? kIconLane : kPlainGap;
  std::size_t levels = views.stack->levels;
  if (was_turned) {
    left_room += kArrowBow;
    levels = std::max(levels, stacked(*moment.before, {}).levels);
  }
  SectionLook section{.scale = look.scale,
                      .outer = moment.outer,
                      .outer_alone = moment.outer_alone,
                      .table = !was_turned || !lands_underneath(views),
                      .thickness = look.thickness};
  section.origin.x =
      plan_right(views) + left_room + (static_cast<double>(levels) + 0.6) * section.pitch();
  return section;
}

void name_section(Drawing& drawing, const FoldViews& views, const base::Voice& words,
                  const TextMeasure& measure) {
  std::vector<std::string> names;
  for (const StackedLayer& layer : views.stack->layers) {
    names.push_back(layer.id ? tell::span_name(layer.name, words) : layer.name);
  }
  const double arrow_room = views.section.table ? kTableWidth : kArrowBow;
  name_layers(drawing, *views.stack, views.section, names,
              views.section.origin.x + arrow_room + kBeforeNames, measure);
}

std::vector<PlanCard> plan_cards(const FoldViews& views) {
  std::vector<PlanCard> cards;
  for (const pouch::LyingCard& card : views.moment->cards) {
    cards.push_back({&named(views, card).card, card.layers_below});
  }
  return cards;
}

}  // namespace

Drawing fold_picture(const pouch::Pouch& pouch, const pouch::FoldMoment& moment, PictureLook look,
                     const Icons& icons, const base::Voice& words, const TextMeasure& measure) {
  FoldViews views{.pouch = &pouch,
                  .moment = &moment,
                  .plan = {.scale = look.scale,
                           .width = pouch.sizes.cut_width,
                           .film = !moment.outer_alone,
                           .shaped = shaped_end(pouch)}};
  const Stack stack = stacked(moment.folded, cut_cards(views, words));
  views.stack = &stack;
  std::vector<pouch::Turned> turned;
  if (moment.before) turned = pouch::turned(*moment.before, moment.folded);
  const std::vector<SideIcon> beside = side_icons(views);
  views.section = section_look(views, look, !beside.empty(), !turned.empty());
  const bool in_words = look.wording == Wording::words;

  Drawing drawing{.name = "fold-picture", .title = tell::title_of(pouch, words)};
  draw_plan(drawing, moment.folded, plan_cards(views), views.plan);
  if (in_words) name_card(drawing, views, words, measure);
  for (const pouch::Turned& part : turned) draw_turning_on_plan(drawing, views, part);
  draw_section(drawing, moment.folded, stack, views.section);
  for (const pouch::Turned& part : turned) draw_turning_in_section(drawing, views, part);
  if (in_words) name_section(drawing, views, words, measure);
  draw_marks(drawing, views);
  if (moment.finished) draw_seals_and_seams(drawing, views);
  const std::vector<double> middles = spread(beside, views);
  for (std::size_t i = 0; i < beside.size(); ++i) {
    draw_side_icon(drawing, views, beside[i], middles[i], icons);
  }
  drawing.extent = bounds(drawing.items, measure);
  return drawing;
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
