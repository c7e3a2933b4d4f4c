#include "draw/full_size/cards_words.h"

#include <algorithm>
#include <optional>
#include <string>
#include <utility>

#include "base/length.h"
#include "draw/full_size/part_marks.h"
#include "pouch/questions.h"
#include "tell/names.h"
#include "tell/operations.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using Use = pouch::NamedCard::Use;

/// Narrower columns of running words are hard to read.
constexpr double kNarrowestColumn = 55;
/// The words of the lip's ticks take this much of the stem's upper end.
constexpr double kBelowLip = 6;

/// For which compartments and pressings the card is; nothing where there is but one of each.
std::vector<std::string> uses(const CardOnPaper& shown, const base::Voice& words) {
  std::vector<std::string> result;
  const auto& cards = shown.pouch.cards;
  const auto of_its_use = std::count_if(
      cards.begin(), cards.end(),
      [&](const pouch::NamedCard& other) { return other.use == shown.serves.front()->use; });
  if (of_its_use == 1) return result;
  const tell::OperationWords said(shown.pouch, words);
  for (const pouch::NamedCard* one : shown.serves) {
    result.push_back(
        words.say({shown.is_slip() ? "drawing-card-for-compartment" : "drawing-card-for-pressing",
                   {{"compartment", tell::pocket_name(shown.pouch, one->compartment, words)},
                    {"operation", said.listed({one->operation})}}}));
  }
  return result;
}

Block title_block(const CardOnPaper& shown, const CardKind& kind, const base::Voice& words) {
  const pouch::Card& card = shown.card();
  const pouch::Sizes& sizes = shown.pouch.sizes;
  Block block{{.words = words.say(kind.title), .size = kTitleSize, .weight = Weight::bold},
              heading_row(words.say("drawing-this-side-up"), 1),
              {.words = tell::title_of(shown.pouch, words), .space_before = 2},
              {.words = words.say({"drawing-finished-short",
                                   {{"width", kept_together(sizes.finished_width, words)},
                                    {"depth", kept_together(sizes.depth, words)}}}),
               .space_before = 1},
              {.words = words.say({"drawing-card-size",
                                   {{"bar", kept_together(card.bar_width, words)},
                                    {"stem", kept_together(card.stem_width, words)},
                                    {"length", kept_together(card.stem_length, words)}}}),
               .space_before = 1}};
  for (std::string& use : uses(shown, words)) {
    block.push_back({.words = std::move(use), .weight = Weight::bold, .space_before = 1});
  }
  return block;
}

/// Under a heading one row each.
Block listed(const char* title, const std::vector<base::Message>& rows, const base::Voice& words) {
  Block block{heading_row(words.say(title))};
  for (const base::Message& row : rows) {
    block.push_back({.words = words.say(row), .space_before = 1.2});
  }
  return block;
}

/// How the iron lies, and where a hand is safe.
Block iron_block(const CardOnPaper& shown, bool has_field, const base::Voice& words) {
  std::vector<base::Message> rows{"drawing-iron-lies"};
  if (shown.pouch.construction().has_bottom_seam()) rows.emplace_back("drawing-iron-along-seam");
  rows.emplace_back("drawing-iron-measure");
  rows.push_back(has_field ? base::Message("drawing-hold-there",
                                           {{"distance", base::at_most(pouch::kHandDistance.of(
                                                             shown.pouch.request.units))}})
                           : base::Message("drawing-no-place-to-hold"));
  Block block = listed("drawing-iron", rows, words);
  block.back().weight = Weight::bold;
  return block;
}

/// Columns of the centre strip: beside the line of the sole, where both parts can be read.
std::vector<Box> stem_columns(const CardOnPaper& shown) {
  Box stem = grown(shown.stem, -kCardInset);
  stem.y0 = shown.stem.y0 + kBelowLip;
  if (shown.is_slip()) return columns(stem, shown.centre);
  Box left = stem;
  Box right = stem;
  left.x1 = std::min(left.x1, on_paper(shown.sole.width) - kCardInset);
  right.x0 = std::max(right.x0, on_paper(shown.sole.width) + kCardInset);
  std::vector<Box> found;
  for (const Box& column : {right, left}) {
    if (column.width() >= kNarrowestColumn) found.push_back(column);
  }
  return found;
}

bool pressed_from_both(const pouch::Pouch& pouch) {
  const auto& operations = pouch.construction().operations;
  return std::any_of(operations.begin(), operations.end(), [](const auto& one) {
    const auto* press = one.template as<pouch::does::Press>();
    return press != nullptr && press->from == pouch::PressFrom::both;
  });
}

/// How far up the sides are pressed, from the bottom of what lies there: to the lowest top bar of
/// the cards in use. It is the same on all of them.
std::string to_press(const CardOnPaper& shown, const base::Voice& words) {
  const pouch::Pouch& pouch = shown.pouch;
  const pouch::CardUse used = pouch.request.cards;
  Length bar = shown.card().shoulder;
  for (const pouch::NamedCard& one : pouch.cards) {
    if (one.operation != shown.serves.front()->operation) continue;
    const bool is_used =
        one.use == Use::slip ? used != pouch::CardUse::on_top : used != pouch::CardUse::inside;
    if (is_used) bar = std::min(bar, one.card.shoulder);
  }
  if (shown.pressed != nullptr) bar -= shown.pressed->breaks().front();
  return kept_together(bar, words);
}

/// Where both cards are used, the shield covers what the slip card does not.
CardKind slip_kind(const CardOnPaper& shown, const base::Voice& words) {
  const pouch::Pouch& pouch = shown.pouch;
  const bool has_shield = pouch.request.cards == pouch::CardUse::both;
  const base::Message::Values height{{"height", to_press(shown, words)},
                                     {"seal", kept_together(pouch.sizes.seal_width, words)}};
  const base::Message press{has_shield ? "drawing-slip-press-shield" : "drawing-slip-press",
                            height};
  CardKind kind{"slip-card", "drawing-slip-card", {trace("drawing-trace", words)}};
  if (pouch.construction().compartments.size() > 1) {
    kind.steps.insert(kind.steps.end(),
                      {"drawing-slip-lay-pocket", "drawing-slip-fold-pocket", press});
  } else if (pouch.construction().has_bottom_seam()) {
    // Its bottom is fused like the sides, and its front is laid on, not folded.
    kind.steps.insert(
        kind.steps.end(),
        {"drawing-slip-lay-seam",
         "drawing-slip-front-seam",
         {has_shield ? "drawing-slip-press-seam-shield" : "drawing-slip-press-seam", height}});
  } else {
    kind.steps.insert(kind.steps.end(), {"drawing-slip-lay", "drawing-slip-fold", press});
  }
  kind.steps.emplace_back("drawing-slip-out");
  return kind;
}

CardKind shield_kind(const CardOnPaper& shown, bool has_field, const base::Voice& words) {
  const pouch::Pouch& pouch = shown.pouch;
  const bool has_seam = pouch.construction().has_bottom_seam();
  return {"shield",
          "drawing-shield",
          {trace(has_field ? "drawing-trace-shield-hold" : "drawing-trace-shield", words),
           has_seam ? "drawing-shield-lay-seam" : "drawing-shield-lay",
           {has_seam ? "drawing-shield-press-seam" : "drawing-shield-press",
            {{"height", to_press(shown, words)}}},
           pressed_from_both(pouch) ? "drawing-shield-off-both" : "drawing-shield-off"}};
}

}  // namespace

CardKind kind_of(const CardOnPaper& shown, bool has_field, const base::Voice& words) {
  return shown.is_slip() ? slip_kind(shown, words) : shield_kind(shown, has_field, words);
}

void put_blocks(Sheet& sheet, const CardOnPaper& shown, const CardKind& kind, bool has_field) {
  // The shield's bar beyond the raw edges is for the ticks.
  Box bar = grown(shown.bar, -kCardInset);
  bar.x0 = std::max(bar.x0, kCardInset);
  bar.x1 = std::min(bar.x1, shown.right - kCardInset);
  std::vector<Box> regions = columns(bar, shown.centre);
  const std::size_t in_stem = regions.size();
  for (const Box& column : stem_columns(shown)) regions.push_back(column);
  const std::size_t last = std::min(in_stem + 1, regions.size() - 1);
  regions.insert(regions.end(), {bar, grown(shown.stem, -kCardInset)});
  const auto put = [&](const Block& block, std::size_t first) {
    sheet.put(block, beginning_at(regions, first),
              room_beside(std::max(shown.bar.x1, shown.right)));
  };
  const base::Voice& words = sheet.words();
  put(title_block(shown, kind, words), 0);
  if (!shown.is_slip()) put(iron_block(shown, has_field, words), in_stem > 1 ? 1 : 0);
  put(listed("drawing-how-to-use", kind.steps, words), in_stem);
  put(listed("drawing-caution",
             {"drawing-caution-hot", "drawing-caution-printed", "drawing-caution-bare-film",
              "drawing-caution-try", "drawing-caution-fumes"},
             words),
      last);
}

base::Message trace(const char* key, const base::Voice& words) {
  return {key, {{"thickness", base::exact(pouch::kCardThickness.of(words.unit()))}}};
}

}  // namespace pouchwright::draw
