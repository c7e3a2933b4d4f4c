/// Fixing what is sewn or punched on: where it lies, what it pierces, what it keeps apart.
///
/// Inside `pouch` only; callers outside use derive() in pouch.h.
#pragma once

#include "pouch/fold/run_state.h"

namespace pouchwright::pouch {

/// Carries out an "attach" operation. Fails: false after an error at the operation's place.
[[nodiscard]] bool attach(RunState& state, std::size_t operation, const does::Attach& work);

}  // namespace pouchwright::pouch
