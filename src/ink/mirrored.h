/// A sheet of words for a language that is read from the right: columns, tables, points and numbers
/// change sides, pictures change places and are not turned over.
///
///     if (from_right) drawing = mirrored(std::move(drawing), measure);
///
/// Never for what is at full size: cloth and paper have no language.
#pragma once

#include "ink/scene.h"

namespace pouchwright::ink {

/// `drawing` with its sides changed about the middle of its extent. What is one figure, or an icon,
/// keeps its shape and its words their places in it. Items stay in their order. A line with letters that
/// are read from the right begins with a mark of that (Unicode Annex 9: U+200F), whatever number or
/// foreign word it begins with; a line without any is one of another language.
[[nodiscard]] Drawing mirrored(Drawing drawing, const TextMeasure& measure);

}  // namespace pouchwright::ink
