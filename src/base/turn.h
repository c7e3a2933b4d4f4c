/// How a piece's length may lie to the cloth's length: asked of a pouch's cloths and of a cut plan's
/// pieces alike.
#pragma once

#include "base/named.h"

namespace pouchwright::base {

enum class Turn { either, along, across };
inline constexpr Named<Turn> kTurnWords[] = {
    {Turn::either, "either"}, {Turn::along, "along"}, {Turn::across, "across"}};

}  // namespace pouchwright::base
