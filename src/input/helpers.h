/// The helpers that a job tells of: [[batch.helper]].
///
/// Inside `input` only, for job.cc.
#pragma once

#include "batch/settings.h"
#include "input/reader.h"

namespace pouchwright::input {

/// Puts them into `made`, and their number where the job states none.
/// Fails: errors, each at its place: more of them than helpers, a list of nothing that one can do.
void read_helpers(TableReader& batch, batch::Settings& made);

}  // namespace pouchwright::input
