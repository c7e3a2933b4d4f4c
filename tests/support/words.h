/// The program's own words, read as the program reads them, for the tests of what people see; and
/// longer ones, since another language needs more room.
#pragma once

#include <string>
#include <string_view>

#include "base/words.h"
#include "input/data.h"
#include "support/source_file.h"

namespace pouchwright::test {

inline const base::Words& own_words() {
  static const base::Words kWords = [] {
    base::Diagnostics diagnostics;
    base::Words words = input::read_words(source_file("shared/words/en.toml"), diagnostics);
    REQUIRE_FALSE(diagnostics.has_errors());
    return words;
  }();
  return kWords;
}

/// The text of a key, its holes open. Fails the test where there is none.
inline std::string own_text(std::string_view key) {
  const auto text = own_words().text(key);
  REQUIRE(text);
  return std::string(*text);
}

/// More words: `longer` adds that part of each text again, as words of nine letters. German comes
/// out about 0.3 longer.
inline base::Words own_words(double longer) {
  auto table = own_words().table();
  for (auto& [key, text] : table) {
    const auto more = static_cast<std::size_t>(static_cast<double>(text.size()) * longer);
    for (std::size_t i = 0; i < more; ++i) text += i % 10 == 0 ? ' ' : 'n';
  }
  return base::Words(table);
}

/// Longer words, not more of them, by 40 %: they break lines earlier.
inline base::Words stretched_words() {
  auto table = own_words().table();
  for (auto& [key, text] : table) {
    std::string longer;
    std::size_t letters = 0;
    bool in_hole = false;
    for (const char c : text) {
      longer += c;
      if (c == '{') in_hole = true;
      const bool stays = in_hole || c == ' ' || (static_cast<unsigned char>(c) & 0x80U) != 0;
      if (c == '}') in_hole = false;
      if (stays) continue;
      letters += 2;
      for (; letters >= 5; letters -= 5) longer += 'n';
    }
    text = longer;
  }
  return base::Words(table);
}

}  // namespace pouchwright::test
