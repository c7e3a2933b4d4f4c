#include "draw/folds/picture.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <utility>

#include "draw/folds/cut_through.h"
#include "draw/folds/from_above.h"
#include "draw/folds/hands.h"
#include "draw/folds/marks.h"
#include "draw/folds/part_names.h"
#include "draw/folds/side_icons.h"
#include "draw/folds/turning_marks.h"
#include "draw/full_size/template_words.h"
#include "draw/views/finished.h"
#include "draw/views/fitted.h"
#include "draw/views/on_view.h"
#include "ink/canvas.h"
#include "tell/fill.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::Action;
using pouch::Interval;

/// Between view and section where no icon stands between them.
constexpr double kPlainGap = 5;
/// From the table to the names of the layers.
constexpr double kBeforeNames = 2.5;
/// A fold of so many levels is shown cut through as well.
constexpr std::size_t kManyLevels = 4;
/// In a room narrower than this layers are drawn so much thinner.
constexpr double kNarrowRoom = 80;
constexpr double kThinLayers = 0.7;
/// The section is as high as the view shows heights: the sine of its angle.
const double kSectionShare = std::sin(kViewAngles.height_deg * std::numbers::pi / 180);

bool does(const FoldViews& views, Action action) {
  const auto& done = views.moment->operations;
  return std::any_of(done.begin(), done.end(), [&](std::size_t index) {
    return views.pouch->operation(index).action() == action;
  });
}

// ---- Cards -------------------------------------------------------------------------------------

/// The cards where the section is cut: at the edges while they are pressed or sewn, else in the
/// middle.
std::vector<CutCard> cut_cards(const FoldViews& views, const base::Voice& words) {
  const bool at_edge = does(views, Action::press) || does(views, Action::sew);
  const pouch::Sizes& sizes = views.pouch->sizes;
  const Length at = base::half(at_edge ? sizes.seal_width : sizes.cut_width);
  std::vector<CutCard> result;
  for (const pouch::LyingCard& card : views.moment->cards) {
    std::vector<Interval> heights;
    for (const CardPart& part : parts_of(views.pouch->cards[card.card].card)) {
      if (part.x.from <= at && at <= part.x.to) heights.push_back(part.heights);
    }
    for (const Interval& part : joined(std::move(heights))) {
      result.push_back({short_card_name(*views.pouch, card.card, words), part, card.layers_below});
    }
  }
  return result;
}

// ---- The section -------------------------------------------------------------------------------

/// It adds something where layers are pressed on each other, rolled, folded in many, or folded
/// where no eye sees it.
bool section_adds(const FoldViews& views) {
  if (does(views, Action::press) || turns_on(views)) return true;
  if (!views.view->pose.look().turning) return false;
  return lands_underneath(views) || views.stack->levels >= kManyLevels;
}

/// Right of the view, its icons and, where something was turned, the arrow over the top of all.
SectionLook section_look(const FoldViews& views, PictureLook look, double left, bool was_turned) {
  const pouch::FoldMoment& moment = *views.moment;
  std::size_t levels = views.stack->levels;
  if (was_turned && !turns_on(views)) left += kArrowBow;
  if (was_turned) levels = std::max(levels, stacked(*moment.before, {}).levels);
  SectionLook section{.scale = look.scale * kSectionShare,
                      .outer = moment.outer,
                      .outer_alone = moment.outer_alone,
                      .table = !was_turned || !lands_underneath(views),
                      .thickness = look.thickness};
  section.origin.x = left + (static_cast<double>(levels) + 0.6) * section.pitch();
  return section;
}

/// Only the cards: what the spans are called stands on the view, and lines to each of eight layers
/// say less than none.
void name_section(Drawing& drawing, const FoldViews& views, const TextMeasure& measure) {
  std::vector<std::string> names;
  for (const StackedLayer& layer : views.stack->layers) {
    names.push_back(layer.id ? std::string() : layer.name);
  }
  const double arrow_room = views.section->table ? kTableWidth : kArrowBow;
  name_layers(drawing, *views.stack, *views.section, names,
              views.section->origin.x + arrow_room + kBeforeNames, measure);
}

void draw_section_beside(Drawing& drawing, const FoldViews& views,
                         const std::vector<pouch::Turned>& turned) {
  draw_section(drawing, views.moment->folded, *views.stack, *views.section);
  for (const pouch::Turned& part : turned) draw_turning_in_section(drawing, views, part);
}

}  // namespace

Drawing fold_picture(const pouch::Pouch& pouch, const pouch::FoldMoment& moment, PictureLook look,
                     const Icons& icons, const base::Voice& words, const TextMeasure& measure) {
  FoldViews views{
      .pouch = &pouch, .moment = &moment, .water = tell::fill_read(pouch, words).test_level};
  const bool has_water = does(views, Action::fill_first) || does(views, Action::test);
  if (has_water && look.angles == kViewAngles) look.angles = kUprightAngles;
  const View view = view_of(pouch, moment, {.angles = look.angles, .scale = look.scale});
  views.view = &view;
  const Stack stack = stacked(moment.folded, cut_cards(views, words));
  views.stack = &stack;
  std::vector<pouch::Turned> turned;
  if (moment.before) turned = pouch::turned(*moment.before, moment.folded);
  const bool in_words = look.wording == Wording::words;

  Drawing drawing{.name = "fold-picture", .title = tell::title_of(pouch, words)};
  drawing.add(places_before(view, turned, pouch));
  drawing.add(painted(view.faces, view.projection));
  const std::size_t marks = drawing.items.size();
  draw_way(drawing, views);
  const Box seen = bounds(drawing.items, measure);
  const std::vector<SideIcon> beside = side_icons(views);
  const double right = seen.x1 + (beside.empty() ? kPlainGap : kSideIconLane);
  if (section_adds(views)) views.section = section_look(views, look, right, !turned.empty());
  if (views.section) draw_section_beside(drawing, views, turned);
  if (views.section && in_words) name_section(drawing, views, measure);
  draw_marks(drawing, views);
  if (moment.finished) draw_seals_and_seams(drawing, views);
  const double lane = seen.x1 + (kSideIconLane - kSideIconSize) / 2;
  draw_side_icons(drawing, views, beside, lane, seen, icons);
  if (in_words) name_parts(drawing, marks, views, words, measure);
  draw_hands(drawing, marks, views, icons, measure);
  drawing.extent = bounds(drawing.items, measure);
  return drawing;
}

Drawing fold_picture(const pouch::Pouch& pouch, const pouch::FoldMoment& moment, Point room,
                     const Icons& icons, const base::Voice& words, const TextMeasure& measure) {
  PictureLook look{.thickness = room.x < kNarrowRoom ? kThinLayers : 1.0};
  return fitted(room, [&](double scale, Draft) {
    look.scale = scale;
    return fold_picture(pouch, moment, look, icons, words, measure);
  });
}

Drawing finished_picture(const pouch::Pouch& pouch, Point room, const base::Voice& words,
                         const TextMeasure& measure) {
  return closed_view(pouch, {.room = room}, words, measure);
}

}  // namespace pouchwright::draw
