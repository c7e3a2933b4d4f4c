/// UTF-8 (RFC 3629) and what is done to texts all over: letters, blanks, lists, plain names.
///
///     letter_count("½ in")             // 4
///     list_text(names)                 // "front, back"
///     slug("wet front")                // "wet-front"
///
/// A letter is a code point; a byte that begins none is a letter of its own, so that any bytes can
/// be walked through.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace pouchwright::base {

[[nodiscard]] std::vector<std::string_view> letters(std::string_view text);

[[nodiscard]] std::size_t letter_count(std::string_view text);

/// The byte at which letter `index` begins, counted from 0; the text's size where it has no more.
[[nodiscard]] std::size_t byte_of(std::string_view text, std::size_t index);

/// How many bytes in front are UTF-8: all of them, or up to the first letter that is none.
[[nodiscard]] std::size_t utf8_bytes(std::string_view text);

/// Whether `text` is UTF-8 without the 66 noncharacters of Unicode (chapter 23.7), which neither
/// Cairo nor XML takes.
[[nodiscard]] bool is_drawable(std::string_view text);

/// Without blanks, tabs and carriage returns at either end.
[[nodiscard]] std::string_view trimmed(std::string_view text);

/// With ASCII's capitals as small letters.
[[nodiscard]] std::string lower(std::string_view text);

/// With only ASCII's letters and digits, and a hyphen for every other byte: a part of a file's name
/// or of a key of the words.
[[nodiscard]] std::string slug(std::string_view text);

/// As a cell of comma-separated values (RFC 4180): in quotes, those within doubled.
[[nodiscard]] std::string csv_cell(std::string_view text);

/// `front, back`; `text_of` says what stands for a part.
template <class Parts, class TextOf = std::identity>
[[nodiscard]] std::string list_text(const Parts& parts, std::string_view between = ", ",
                                    TextOf text_of = {}) {
  std::string text;
  bool is_first = true;
  for (const auto& part : parts) {
    if (!std::exchange(is_first, false)) text += between;
    text += std::invoke(text_of, part);
  }
  return text;
}

}  // namespace pouchwright::base
