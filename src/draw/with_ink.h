/// Drawings are made of the lines, words and boxes of `ink`, which are so common here that they go by their own names.
#pragma once

#include "ink/scene.h"

namespace pouchwright::draw {

using namespace ink;

}  // namespace pouchwright::draw
