/// What is done through an open mouth: a hand reaches in, water is poured in.
///
/// Inside `pouch` only; callers outside use derive() in pouch.h.
#pragma once

#include <cstddef>

#include "pouch/fold/run_state.h"

namespace pouchwright::pouch {

/// A hand reaches into a compartment unless the cloth beyond its last span comes over the mouth
/// and down on the other side of the lip. Fails: false after an error with `key`.
[[nodiscard]] bool mouth_is_open(RunState& state, std::size_t operation,
                                 const Compartment& compartment, const char* key);

/// Pours water into a pouch that is pressed and nothing else, so that what holds it is the seal
/// alone, as it stays: all pockets that are to hold water are fused and open, no card is inside,
/// nothing is sewn, and nothing is pressed later. Fails: false after an error.
[[nodiscard]] bool fill_first(RunState& state, std::size_t operation);

}  // namespace pouchwright::pouch
