/// An enumeration's values and the words that files and reports have for them: one table beside the
/// enumeration, used for reading and for saying.
///
///     enum class Landing { on_top, underneath };
///     inline constexpr base::Named<Landing> kLandingWords[] = {
///         {Landing::on_top, "on top"}, {Landing::underneath, "underneath"}};
///
///     word_of(kLandingWords, Landing::on_top)     // "on top"
///     value_of(kLandingWords, "underneath")       // Landing::underneath
///     key_of("fold-", kLandingWords, landing)     // "fold-on-top", a key of the words
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/text.h"

namespace pouchwright::base {

template <class Value>
struct Named {
  Value value;
  const char* word;
};

/// Empty where the table has no word for `value`.
template <class Value, std::size_t kSize>
[[nodiscard]] constexpr const char* word_of(const Named<Value> (&table)[kSize], Value value) {
  for (const Named<Value>& one : table) {
    if (one.value == value) return one.word;
  }
  return "";
}

template <class Value, std::size_t kSize>
[[nodiscard]] constexpr std::optional<Value> value_of(const Named<Value> (&table)[kSize],
                                                      std::string_view word) {
  for (const Named<Value>& one : table) {
    if (one.word == word) return one.value;
  }
  return std::nullopt;
}

/// In the table's order.
template <class Value, std::size_t kSize>
[[nodiscard]] std::vector<std::string> words_of(const Named<Value> (&table)[kSize]) {
  std::vector<std::string> words;
  for (const Named<Value>& one : table) words.emplace_back(one.word);
  return words;
}

template <class Value, std::size_t kSize>
[[nodiscard]] std::string key_of(std::string_view prefix, const Named<Value> (&table)[kSize],
                                 Value value) {
  return std::string(prefix) + slug(word_of(table, value));
}

}  // namespace pouchwright::base
