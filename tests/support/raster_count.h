/// The least length for one kind, found another way than the product's.
#pragma once

#include "lay/solve/solvers.h"

namespace pouchwright::support {

/// A count of pieces over raster points, length by length (Beasley 1985, Cintra and others 2008):
/// slow. Straight cuts, no table limit. Requires: one shape, which fits.
[[nodiscard]] lay::Whole one_kind_by_raster(const lay::RollQuestion& question);

}  // namespace pouchwright::support
