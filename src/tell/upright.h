/// What is said of a print that must stand upright: which way the panel lies on it, and what of the
/// pouch stands on its head.
#pragma once

#include <vector>

#include "base/message.h"
#include "base/voice.h"
#include "pouch/pouch.h"

namespace pouchwright::tell {

/// To whoever lays the cloths on each other; nothing where no print must stand upright.
[[nodiscard]] std::vector<base::Message> print_words(const pouch::Pouch& pouch,
                                                     const base::Voice& words);

}  // namespace pouchwright::tell
