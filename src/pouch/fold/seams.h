/// Sewing: what a needle meets along the edges.
///
/// Inside `pouch` only; callers outside use derive() in pouch.h.
#pragma once

#include "pouch/fold/run_state.h"

namespace pouchwright::pouch {

/// Carries out a "sew" operation. Fails: false after an error at the operation's place.
[[nodiscard]] bool sew(RunState& state, std::size_t operation, const does::Sew& work);

}  // namespace pouchwright::pouch
