/// Texts of a language that is read from the right, as lines with numbers and foreign words among them
/// (Unicode Annex 9).
///
///     read_from_right("عرض 12 mm, جيد");   // marked, with an Arabic comma
#pragma once

#include <string>
#include <string_view>

namespace pouchwright::base {

/// `text` with each number and its unit, `12.5 mm` or `3 %`, kept in this order: they stand between two
/// U+200E, and what follows goes on from the right, U+200F. Those that are so stay.
[[nodiscard]] std::string measures_from_left(std::string_view text);

/// A text of such a language, as a line: marked so (U+200F at its begin), with its measures in order
/// and with its own comma and semicolon.
[[nodiscard]] std::string read_from_right(std::string_view text);

/// Has it letters of Hebrew, Arabic or what lies between (U+0590 to U+07FF)?
[[nodiscard]] bool has_letters_from_right(std::string_view text);

}  // namespace pouchwright::base
