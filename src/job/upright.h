/// A print that cannot stand upright all round, told with the constructions on which it can.
#pragma once

#include "base/diagnostic.h"
#include "job/data.h"
#include "pouch/pouch.h"

namespace pouchwright::job {

/// Warns at the cloth where its print must stand upright and a wall of the pouch stands on its head.
/// Which constructions avoid it is found by folding each of them.
void tell_upright(const pouch::Pouch& pouch, const Data& data, base::Diagnostics& diagnostics);

}  // namespace pouchwright::job
