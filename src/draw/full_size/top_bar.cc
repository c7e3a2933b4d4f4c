#include "draw/full_size/top_bar.h"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "base/length.h"
#include "draw/full_size/cards_words.h"
#include "draw/full_size/part_marks.h"
#include "ink/canvas.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

using base::Length;

constexpr double kInset = 4;
constexpr double kTick = 5;
constexpr double kHalfNotch = 3;

struct BarOnPaper {
  const pouch::Pouch& pouch;
  const pouch::NamedCard& own;
  Box bar;
  double lip = 0;    ///< y of the opening edge under the bar
  double right = 0;  ///< x of the right raw edge; the left one is at 0

  [[nodiscard]] bool is_slip() const { return own.use == pouch::CardKind::slip; }
};

BarOnPaper bar_on_paper(const pouch::Pouch& pouch, const pouch::NamedCard& own) {
  const pouch::Card& card = own.card;
  const double right = on_paper(pouch.sizes.cut_width);
  const double beyond = on_paper(base::half(card.bar_width - pouch.sizes.cut_width));
  const Length lip = own.use == pouch::CardKind::slip ? card.shoulder : pouch.lip_height;
  return {pouch, own, Box{-beyond, 0, right + beyond, on_paper(card.top - card.shoulder)},
          on_paper(card.top - lip), right};
}

void draw_marks(Sheet& sheet, const BarOnPaper& shown) {
  const Box& bar = shown.bar;
  sheet.draw(Group::cut, rectangle(bar), kCutStroke, "top-bar");
  const double centre = shown.right / 2;
  const auto tick = [&](double x, double from, double to, std::string name) {
    sheet.draw(Group::notch, line({x, from}, {x, to}), kTickStroke, std::move(name));
  };
  tick(centre, bar.y0, bar.y0 + kTick, "centre: top");
  tick(centre, bar.y1 - kTick, bar.y1, "centre: bottom");
  tick(0, bar.y1 - kTick, bar.y1, "raw edge: left");
  tick(shown.right, bar.y1 - kTick, bar.y1, "raw edge: right");
  if (shown.lip >= bar.y1) return;
  // Through notches in its ends one sees the corners of the opening edge.
  for (const auto& [rim, x, name] :
       {std::tuple(bar.x0, 0.0, "lip: left"), std::tuple(bar.x1, shown.right, "lip: right")}) {
    sheet.draw(
        Group::notch,
        polyline({{rim, shown.lip - kHalfNotch}, {x, shown.lip}, {rim, shown.lip + kHalfNotch}},
                 Ends::open),
        kMarkStroke, name);
  }
}

void name_marks(Sheet& sheet, const BarOnPaper& shown) {
  const auto name = [&](const char* key, Point at) {
    const Text words = label(sheet.say(key), kSmallestSize);
    const double height = bounds(words, sheet.measure()).height();
    std::vector<Point> corners;
    for (double along = 1.5; along < 30; along += 2) {
      corners.push_back({at.x + along, at.y - height - 1});
    }
    sheet.put(words, corners);
  };
  const Box& bar = shown.bar;
  name("drawing-tick-raw-edge", {0, bar.y1});
  if (shown.lip < bar.y1) name("drawing-tick-lip", {0, shown.lip - 1});
  name("drawing-tick-centre", {shown.right / 2, bar.y0 + kTick + 1});
}

Block title_block(const BarOnPaper& shown, const base::Voice& words) {
  const pouch::Card& card = shown.own.card;
  const auto size = [&](const char* key, Length width, Length length) {
    return Row{.words = words.say({key,
                                   {{"width", kept_together(width, words)},
                                    {"length", kept_together(length, words)}}}),
               .space_before = 1};
  };
  const pouch::OwnCard& own = *shown.pouch.request.card;
  return {{.words = words.say("drawing-top-bar"), .size = kTitleSize, .weight = Weight::bold},
          heading_row(words.say("drawing-this-side-up"), 1),
          {.words = tell::title_of(shown.pouch, words), .space_before = 2},
          size("drawing-top-bar-size", card.bar_width, card.top - card.shoulder),
          {.words = words.say(
               {"drawing-top-bar-for",
                {{"width", kept_together(own.width.value, words)},
                 {"length", kept_together(own.length.value, words)},
                 {"card", words.say(shown.is_slip() ? "drawing-slip-card" : "drawing-shield")}}}),
           .space_before = 1}};
}

Block steps_block(const BarOnPaper& shown, const base::Voice& words) {
  const pouch::Card& card = shown.own.card;
  const Length free = base::half(shown.pouch.sizes.cut_width - card.stem_width);
  const Length height = card.shoulder - card.outline.front().y;
  const base::Message::Values values = {{"free", kept_together(free, words)},
                                        {"height", kept_together(height, words)}};
  std::vector<base::Message> rows = {
      trace(shown.is_slip() ? "drawing-trace" : "drawing-trace-top-bar", words)};
  if (shown.is_slip()) {
    rows.insert(rows.end(), {{"drawing-top-bar-lay-slip"},
                             {"drawing-top-bar-own-slip", values},
                             {"drawing-top-bar-press", values},
                             {"drawing-top-bar-off-slip"}});
  } else {
    rows.insert(rows.end(), {{"drawing-top-bar-lay-shield"},
                             {"drawing-top-bar-own-shield", values},
                             {"drawing-top-bar-press", values},
                             {"drawing-top-bar-off-shield"}});
  }
  Block block{heading_row(words.say("drawing-how-to-use"))};
  for (const base::Message& row : rows) {
    block.push_back({.words = words.say(row), .space_before = 1.2});
  }
  return block;
}

Block cautions_block(const base::Voice& words) {
  Block block{heading_row(words.say("drawing-caution"))};
  for (const char* key : {"drawing-no-place-to-hold", "drawing-caution-hot",
                          "drawing-caution-printed", "drawing-caution-bare-film"}) {
    block.push_back({.words = words.say(key), .space_before = 1.2});
  }
  return block;
}

Drawing top_bar(const pouch::Pouch& pouch, const pouch::NamedCard& own, const base::Voice& words,
                const TextMeasure& measure, const Joins& joins, const std::string& name) {
  const BarOnPaper shown = bar_on_paper(pouch, own);
  Sheet sheet(words, measure, joins_of(joins, name));
  draw_marks(sheet, shown);
  name_marks(sheet, shown);
  Box inside = grown(shown.bar, -kInset);
  inside.x0 = kInset;
  inside.x1 = shown.right - kInset;
  inside.y0 += kTick;
  const std::vector<Box> regions = columns(inside, shown.right / 2);
  const Box beside = room_beside(shown.bar.x1);
  sheet.put(title_block(shown, words), regions, beside);
  sheet.put(steps_block(shown, words), beginning_at(regions, regions.size() - 1), beside);
  sheet.put(cautions_block(words), regions, beside);
  return sheet.finished(name, words.say({"drawing-card-title",
                                         {{"card", words.say("drawing-top-bar")},
                                          {"title", tell::title_of(pouch, words)}}}));
}

}  // namespace

std::vector<Drawing> top_bars(const pouch::Pouch& pouch, const base::Voice& words,
                              const TextMeasure& measure, const Joins& joins) {
  std::vector<Drawing> drawings;
  std::vector<std::pair<Length, Length>> drawn;
  for (const pouch::NamedCard& one : pouch.cards) {
    const pouch::Card& card = one.card;
    if (one.use != pouch.request.card->kind || card.top == card.shoulder) continue;
    const std::pair size(card.bar_width, card.top - card.shoulder);
    if (std::find(drawn.begin(), drawn.end(), size) != drawn.end()) continue;
    drawn.push_back(size);
    std::string name = "top-bar";
    if (drawn.size() > 1) name += "-" + std::to_string(drawn.size());
    drawings.push_back(top_bar(pouch, one, words, measure, joins, name));
  }
  return drawings;
}

}  // namespace pouchwright::draw
