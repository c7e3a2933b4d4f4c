/// What a page on a screen is shown of a job, beside or in place of what goes on paper.
///
///     if (run.options().shown == Shown::pouch) add_pouch(made, run, panel);
///
/// Inside `job` only.
#pragma once

#include "ink/scene.h"
#include "job/run.h"

namespace pouchwright::job {

/// kPouchPicture, kPouchPlaces and, of the panel, kPanelPicture. `run` must last until they are
/// made. The places: `width` and `height` of the picture, mm; `sizes`, each `name`, `from`, `to`,
/// `out` (x and y), `mm`, `mm_for_each` and `words`; `parts`, each `name` and `outlines`.
void add_pouch(Made& made, const Run& run, const ink::Drawing& panel);

/// The report's fields `extent` and `moves`, a word for each step, and the files of folding_file().
void add_folding(Made& made, const Run& run);

}  // namespace pouchwright::job
