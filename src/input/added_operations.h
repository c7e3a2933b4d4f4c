/// Operations that a job adds to its construction: a tag that the side seam catches, a warm dryer at
/// the end. No construction need know of them.
///
///     take_tag(root, lay, 40, request, diagnostics);  // for forty pouches
///     add_operations(request, diagnostics);
#pragma once

#include "input/node.h"
#include "lay/settings.h"
#include "pouch/request.h"

namespace pouchwright::input {

/// The by-product that is sewn on becomes the request's tag. Where no count of it is stated, there
/// are as many as pouches. Reports a second one, and fewer tags than pouches.
void take_tag(const Node& root, lay::Settings& lay, int pouches, pouch::Request& request,
              base::Diagnostics& diagnostics);

/// The tag comes before the first seam along the sides, the dryer after all else; neither where the
/// construction has it itself, or the job does not ask. Fails: an error where nothing sews the
/// sides. Requires: a construction was read.
void add_operations(pouch::Request& request, base::Diagnostics& diagnostics);

}  // namespace pouchwright::input
