#include "draw/full_size/card_marks.h"

#include <algorithm>
#include <map>
#include <string>

#include "base/length.h"
#include "draw/full_size/part_marks.h"
#include "ink/canvas.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

using base::Length;

constexpr double kInset = 4;
constexpr double kMark = 8;

/// The sizes whose opening edge lies so far above the card's lower edge.
std::map<Length, std::vector<int>> lips_on_card(const std::vector<NestedSize>& sizes) {
  std::map<Length, std::vector<int>> lips;
  for (const NestedSize& size : sizes) {
    const pouch::OwnCard& own = *size.pouch->request.card;
    const Length from = first_card(size.pouch->cards, own.kind).outline.front().y;
    const Length lip = size.pouch->lip_height - from;
    if (lip <= own.length.value) lips[lip].push_back(size.liners);
  }
  return lips;
}

void draw_mark(Sheet& sheet, double y, double width, const std::string& name) {
  for (const double x : {0.0, width}) {
    const double inwards = x > 0 ? x - kMark : kMark;
    sheet.draw(Group::notch, line({x, y}, {inwards, y}), kTickStroke, name);
  }
  const Text words = label(name, kSmallestSize);
  const double height = bounds(words, sheet.measure()).height();
  std::vector<Point> corners;
  for (double along = kMark + 1.5; along < width - kMark; along += 2) {
    corners.push_back({along, y - height / 2});
  }
  sheet.put(words, corners);
}

}  // namespace

Drawing card_marks(const std::vector<NestedSize>& sizes, const base::Voice& words,
                   const TextMeasure& measure, const Joins& joins) {
  const pouch::OwnCard& own = *sizes.front().pouch->request.card;
  const double width = on_paper(own.width.value);
  const double height = on_paper(own.length.value);
  Sheet sheet(words, measure, joins_of(joins, "card-marks"));
  sheet.draw(Group::cut, rectangle({0, 0, width, height}), kCutStroke, "own card");
  for (const auto& [lip, liners] : lips_on_card(sizes)) {
    draw_mark(sheet, height - on_paper(lip), width,
              words.say({"drawing-card-mark",
                         {{"liners", liners_named(liners, words)},
                          {"height", kept_together(lip, words)}}}));
  }
  const Block told{
      {.words = words.say("drawing-card-marks"), .size = kTitleSize, .weight = Weight::bold},
      {.words =
           words.say({"drawing-top-bar-for",
                      {{"width", kept_together(own.width.value, words)},
                       {"length", kept_together(own.length.value, words)},
                       {"card", words.say(own.kind == pouch::CardKind::slip ? "drawing-slip-card"
                                                                            : "drawing-shield")}}}),
       .space_before = 1},
      {.words = words.say("drawing-card-marks-how"), .space_before = 1}};
  const Box room{kInset, height / 2, width - kInset, height - kInset};
  sheet.put(told, {room, {kInset, kInset, width - kInset, height - kInset}}, room_beside(width));
  return sheet.finished("card-marks", words.say("drawing-card-marks"));
}

}  // namespace pouchwright::draw
