/// A card as it lies on the sheet, and what is written on it.
///
///     const CardKind kind = kind_of(shown, field.has_value(), words);
///     put_blocks(sheet, shown, kind, field.has_value());
///
/// For cards.cc only.
#pragma once

#include <vector>

#include "base/message.h"
#include "base/voice.h"
#include "batch/settings.h"
#include "draw/with_ink.h"
#include "ink/canvas.h"
#include "pouch/fold/folded.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// White between a card's rim and what stands on it, mm.
inline constexpr double kCardInset = 2.5;

/// What differs between the two cards.
struct CardKind {
  const char* name;                  ///< of the drawing
  const char* title;                 ///< key, and the beginning of the keys of its words
  std::vector<base::Message> steps;  ///< how to use it
};

/// A fold of the panel behind a card, above the lip.
struct CardFold {
  double y;
  const char* key;  ///< of its name
};

/// A card and the panel behind it. What it refers to must outlive it.
struct CardOnPaper {
  const pouch::Pouch& pouch;
  /// All that the card's outline is for; the first says how the panels lie.
  std::vector<const pouch::NamedCard*> serves;
  const pouch::Folded* pressed = nullptr;  ///< null where nothing is pressed
  base::Length lip;
  double centre = 0;
  double right = 0;  ///< the raw edge
  Box bar, stem;
  std::vector<CardFold> folds;
  std::vector<Box> bands;
  batch::IronSole sole{};

  [[nodiscard]] const pouch::Card& card() const { return serves.front()->card; }
  [[nodiscard]] bool is_slip() const { return serves.front()->use == pouch::NamedCard::Use::slip; }
  /// Folded heights grow upwards, paper downwards.
  [[nodiscard]] double y_of(base::Length height) const { return on_paper(card().top - height); }
  /// The lip lies under the shield's bar, and at the slip card's shoulders.
  [[nodiscard]] const Box& part_at_lip() const { return y_of(lip) < bar.y1 ? bar : stem; }
  /// What is pressed under the card, from raw edge to raw edge; the card's own where nothing is.
  [[nodiscard]] Box pressed_box() const {
    const double bottom = pressed != nullptr ? y_of(pressed->breaks().front()) : stem.y1;
    return {0, bar.y1, right, bottom};
  }
};

/// What is traced, and on to what card.
[[nodiscard]] base::Message trace(const char* key, const base::Voice& words);

/// `has_field`: there is a place on the card where a hand may hold it.
[[nodiscard]] CardKind kind_of(const CardOnPaper& shown, bool has_field, const base::Voice& words);

/// Title, sizes, use and cautions, where lines and ticks leave room; what finds none, beside the
/// card.
void put_blocks(Sheet& sheet, const CardOnPaper& shown, const CardKind& kind, bool has_field);

}  // namespace pouchwright::draw
