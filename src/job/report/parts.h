/// The fields of the `size` report that tell of several panels, pieces, attachments, compartments
/// and cards.
///
/// Inside `job` only; see size_report() in report.h.
#pragma once

#include "job/report/size.h"
#include "job/report/table.h"

namespace pouchwright::job {

/// Adds `panels`, `pieces`, `attachments`, `compartments`, `test_here` and `cards`.
void add_parts(Json& report, const pouch::Pouch& pouch, const base::Voice& words);

/// Cut sizes of further panels and of pieces.
void part_rows(const pouch::Pouch& pouch, TextTable& table, const base::Voice& words);

/// The fused bands of the left side and along the bottom; each with its panel where there are
/// several.
void zone_rows(const pouch::Pouch& pouch, TextTable& table, const base::Voice& words);

/// `[[x_mm, y_mm] …]`
[[nodiscard]] Json outline_report(const pouch::Card& card);

}  // namespace pouchwright::job
