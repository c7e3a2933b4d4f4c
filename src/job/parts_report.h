/// The fields of the `size` report that tell of several panels, pieces, attachments, compartments
/// and cards.
///
/// Inside `job` only; see size_report() in report.h.
#pragma once

#include "job/report.h"

namespace pouchwright::job {

/// Adds `panels`, `pieces`, `attachments`, `compartments`, `test_here` and `cards`.
void add_parts(Json& report, const pouch::Pouch& pouch, const diag::Words& words);

/// `[[x_mm, y_mm] …]`
[[nodiscard]] Json outline_report(const pouch::Card& card);

}  // namespace pouchwright::job
