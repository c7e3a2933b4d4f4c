/// Levels of water as they are said and marked.
///
///     const base::Length level = fill_read(pouch, words).test_level;
#pragma once

#include "base/voice.h"
#include "pouch/judge/fill.h"
#include "pouch/pouch.h"

namespace pouchwright::tell {

/// Levels are such as a person reads off a ruler of the printed unit, none above what it is, and
/// the water is that up to these levels.
[[nodiscard]] pouch::Fill fill_read(const pouch::Pouch& pouch, const base::Voice& words);

}  // namespace pouchwright::tell
