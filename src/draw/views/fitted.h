/// The largest scale at which a drawing finds room.
///
///     const Drawing made = fitted({90, 70}, [&](double scale, Draft) { return drawn_at(scale); });
///
/// For drawings that grow with their scale, evenly but for words and icons in them.
#pragma once

#include <functional>

#include "draw/with_ink.h"

namespace pouchwright::draw {

/// What is asked for: a rough one only for its extent, which the whole one must not exceed.
enum class Draft { rough, whole };

/// `at` draws with its extent set; never larger than full size. From its top left corner at 0, 0,
/// 1 mm of white around it.
[[nodiscard]] Drawing fitted(Point room,
                             const std::function<Drawing(double scale, Draft draft)>& at);

}  // namespace pouchwright::draw
