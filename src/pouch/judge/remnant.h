/// The largest pouch of a remnant. Above derive(), which it asks which way the remnant lies best.
///
///     request = from_remnant(request, {width, length, place});
#pragma once

#include "pouch/request.h"

namespace pouchwright::pouch {

/// `request` with the remnant as its cut panel, or as much of it as makes a pouch between half and
/// twice as deep as wide. Width and depth follow from it, so does the flap
/// unless the job states one. Turned where the laminate's direction allows it and more liners go in
/// (without liners: more water).
[[nodiscard]] Request from_remnant(const Request& request, const CutPanel& remnant);

}  // namespace pouchwright::pouch
