/// The going-home card for whoever receives a pouch: six pictures that need no words, a few words
/// below them, several cards to a page with lines to cut along.
///
///     const HomeCards made = home_cards({.pouch = &pouch, .copies = 40}, words, measure, room);
///     print(made.pages, made.prints);
#pragma once

#include <vector>

#include "base/voice.h"
#include "draw/with_ink.h"
#include "ink/icons.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// Pages that differ in nothing need no more than one of them, which says how often it is printed.
enum class Repeats { drawn, printed };

struct HomeCard {
  const pouch::Pouch* pouch = nullptr;
  int copies = 1;
  Repeats repeats = Repeats::drawn;
};

struct HomeCards {
  std::vector<Drawing> pages;
  int prints = 1;  ///< how often the one page is printed, for `copies` cards or a few more
};

/// As many pages of `room` as the copies take; every page but the last is full. With
/// Repeats::printed one full page instead, where there were several. A4, Letter and A5 all hold
/// more than one card. Group `cut` has the cards' edges.
[[nodiscard]] HomeCards home_cards(const HomeCard& card, const Icons& icons,
                                   const base::Voice& words, const TextMeasure& measure,
                                   Point room);

}  // namespace pouchwright::draw
