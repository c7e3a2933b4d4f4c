/// A shopping list for forty sewn pouches of 2.6 m of laminate.
#pragma once

#include "batch/supplies.h"
#include "unit/batch/thread_support.h"
#include "unit/draw/full_size_support.h"

namespace pouchwright::test {

inline batch::SupplyData supply_data() {
  batch::SupplyData made;
  made.thread = thread_rules();
  made.card_sheets = {{"A4", mm(210), mm(297)}, {"A3", mm(297), mm(420)}};
  made.sundries = {{"clips", 12, 1, batch::Counted::helper},
                   {"our-own-thing", 1, 1, batch::Counted::batch}};
  return made;
}

inline pouch::Pouch sewn_pouch() {
  return derived(with_outer(hand_worked(with_sewn_sides(foldover()))));
}

inline batch::Supplies list_of(const batch::Prices& prices) {
  batch::Order order;
  order.cloths = {{"laminate", "pul-150", mm(1500), mm(2600), std::nullopt, ""}};
  batch::Settings settings;
  settings.pouches.value = 40;
  order.seams = batch::seams_of(sewn_pouch(), thread_rules());
  return batch::supplies(order, sewn_pouch(), supply_data(), settings, prices);
}

}  // namespace pouchwright::test
