#include "draw/sheets/day_overview.h"

#include <algorithm>
#include <utility>

#include "draw/full_size/template_words.h"
#include "draw/views/finished.h"
#include "ink/canvas.h"
#include "ink/flow.h"
#include "ink/table.h"
#include "tell/capacity.h"

namespace pouchwright::draw {
namespace {

/// The picture of one pouch, and what stands beside it, mm.
constexpr Point kPicture{62, 40};
constexpr double kGap = 5;
/// Narrower, the words stand below.
constexpr double kNarrowestWords = 70;

/// What is made, beside or above its words.
Frame make_row(const DayMakeToDraw& make, double width, const base::Voice& words,
               const TextMeasure& measure) {
  const bool is_beside = width >= kPicture.x + kGap + kNarrowestWords;
  const Point room{std::min(width, kPicture.x), kPicture.y};
  const Drawing view = closed_view(*make.pouch, {.room = room}, words, measure);
  const Frame picture = as_figure(
      {from_top_left(view).items, {0, 0, view.extent.width(), view.extent.height()}}, make.title);
  const double left = is_beside ? kPicture.x + kGap : 0;
  double y = is_beside ? 0 : picture.box.height() + kGap;
  Frame made{.items = {}, .box = {0, 0, width, 0}};
  // First, so that it is found again: the number of its page is put in later.
  made.write(make.where, {left, 0});
  made.place(picture, {0, 0});
  const auto say = [&](const std::string& text, const ink::Lines& lines) {
    y = made.write_lines(text, {left, y + lines.step}, width - left, lines, measure) - lines.step;
  };
  say(make.title, {.step = line_distance(kLabelSize), .weight = Weight::bold, .size = kLabelSize});
  const ink::Lines plain{.step = line_distance(kLabelSize), .size = kLabelSize};
  say(words.say({make.pouches == 1 ? "day-make-one" : "day-make-count",
                 {{"pouches", make.pouches},
                  {"width", make.pouch->sizes.finished_width},
                  {"depth", make.pouch->sizes.depth}}}),
      plain);
  if (make.pouch->capacity) say(words.say(tell::carries_said(*make.pouch->capacity)), plain);
  if (!make.as.empty()) say(make.as, plain);
  y += line_distance(kLabelSize);
  std::get<ink::Text>(made.items.front()).at = {left, y};
  std::get<ink::Text>(made.items.front()).size = kLabelSize;
  made.box.y1 = std::max(y + kGap, picture.box.height() + kGap);
  return made;
}

}  // namespace

DayOverview day_overview(const DayOverviewSheet& sheet, const base::Voice& words,
                         const TextMeasure& measure, Point room) {
  TextPages pages("day", sheet.title, room, TextPages::Columns::one, measure);
  DayOverview made;
  int pouches = 0;
  for (const DayMakeToDraw& make : sheet.makes) pouches += make.pouches;
  pages.add({text_paragraph(words.say(
      {"day-made",
       {{"pouches", pouches}, {"kinds", sheet.makes.size()}, {"helpers", sheet.helpers}}}))});
  for (const DayMakeToDraw& make : sheet.makes) {
    made.makes.push_back(pages.add(make_row(make, pages.width(), words, measure)));
  }
  if (!sheet.tasks.empty()) {
    pages.add({heading(words.say("overview-tasks"))});
    ink::Table table{.size = kTextSize};
    for (const OverviewTask& task : sheet.tasks) {
      table.rows.push_back({.cells = {task.words, task.where}});
    }
    made.tasks = pages.add(table);
  }
  made.pages = pages.finished();
  return made;
}

}  // namespace pouchwright::draw
