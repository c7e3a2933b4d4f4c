/// The going-home card for whoever receives a pouch: six pictures that need no words, a few words
/// below them, several cards to a page with lines to cut along.
///
///     auto pages = home_cards({.pouch = &pouch, .copies = 40}, words, measure, room);
#pragma once

#include <vector>

#include "diag/words.h"
#include "drawing/scene.h"
#include "pouch/pouch.h"

namespace pouchwright::drawing {

struct HomeCard {
  const pouch::Pouch* pouch = nullptr;
  int copies = 1;
};

/// As many pages of `room` as the copies take; every page but the last is full. A4, Letter and A5
/// all hold more than one. Group `cut` has the cards' edges.
[[nodiscard]] std::vector<Drawing> home_cards(const HomeCard& card, const diag::Words& words,
                                              const TextMeasure& measure, Point room);

}  // namespace pouchwright::drawing
