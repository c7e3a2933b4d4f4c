/// The shopping list as words: rows for a table, and pages with boxes to tick.
///
///     for (const SupplyRow& row : supply_rows(list, "EUR", words)) print(row.what, row.amount);
///     auto pages = supplies_list({.list = &list, ...}, words, measure, room);
#pragma once

#include <string>
#include <vector>

#include "base/length.h"
#include "base/voice.h"
#include "batch/supplies.h"
#include "draw/with_ink.h"
#include "pouch/pouch.h"
#include "tell/supplies.h"

namespace pouchwright::draw {

/// Pages of `room`.
[[nodiscard]] std::vector<Drawing> supplies_list(const tell::SuppliesSheet& sheet,
                                                 const base::Voice& words,
                                                 const TextMeasure& measure, Point room);

}  // namespace pouchwright::draw
