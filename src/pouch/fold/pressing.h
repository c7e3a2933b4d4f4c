/// Pressing: what the iron fuses along the edges, and what is told of it.
///
/// Inside `pouch` only; callers outside use derive() in pouch.h.
#pragma once

#include "pouch/fold/run_state.h"

namespace pouchwright::pouch {

/// Carries out a "press" operation. Fails: false after an error at the operation's place.
[[nodiscard]] bool press(RunState& state, std::size_t operation, const does::Press& work);

}  // namespace pouchwright::pouch
