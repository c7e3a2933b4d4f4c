/// The cloths that a job names or describes.
///
///     read_materials_of(root, library, request);
///
/// Inside `input` only. Not for shared/materials.toml: read_materials() in data.h.
#pragma once

#include "input/job.h"
#include "input/reader.h"

namespace pouchwright::input {

/// Reads [materials] of the job's root into `request`, whose closure is there already.
void read_materials_of(TableReader& root, const Library& library, pouch::Request& request);

}  // namespace pouchwright::input
