/// A job's [pouch]: finished sizes, ends, closure, flap and the passes along the sides.
///
///     read_pouch(root, library, request);
///
/// Inside `input` only.
#pragma once

#include "input/job.h"
#include "input/reader.h"

namespace pouchwright::input {

/// Reads [pouch] of the job's root into `request`, whose construction (where one was read), panel
/// and liners are there already.
void read_pouch(TableReader& root, const Library& library, pouch::Request& request);

/// A stitch that `library` does not know is reported and taken out.
void check_stitch(std::optional<Placed<std::string>>& stitch, const Library& library,
                  base::Diagnostics& diagnostics);

}  // namespace pouchwright::input
