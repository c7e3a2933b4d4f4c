/// Folding and turning in: what an operation turns, what bends with it, what it rolls away.
///
/// Inside `pouch` only; callers outside use derive() in pouch.h.
#pragma once

#include "pouch/fold/run_state.h"

namespace pouchwright::pouch {

/// Carries out a "fold" operation. Fails: false after an error at the operation's place.
[[nodiscard]] bool fold(RunState& state, std::size_t operation, const does::Fold& work);

/// Turns in the end that a "finish" operation hems, towards the cloth side; does nothing for other
/// finishes. Fails: likewise.
[[nodiscard]] bool turn_hem(RunState& state, std::size_t operation, const does::Finish& finish);

}  // namespace pouchwright::pouch
