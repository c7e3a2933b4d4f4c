/// The words a person sees: a table from key to text with `{name}` holes, one table a language.
///
///     Words words(std::move(table));  // `input` reads it from shared/words/en.toml
///     Voice(words).say({"fold.named", {{"name", "front"}}});
///
/// Pure layers carry `Message` values; a Voice (voice.h) looks the text up where it is shown.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace pouchwright::base {

/// Texts by the names of the holes that they fill.
using Texts = std::vector<std::pair<std::string, std::string>>;

/// The words of one language.
class Words {
 public:
  Words() = default;
  explicit Words(std::map<std::string, std::string, std::less<>> table)
      : table_(std::move(table)) {}

  /// The text of `key` with its holes filled; `[key hole=text]` where the table lacks it.
  [[nodiscard]] std::string filled(const std::string& key, const Texts& texts) const;
  [[nodiscard]] bool has(std::string_view key) const;
  [[nodiscard]] const std::map<std::string, std::string, std::less<>>& table() const {
    return table_;
  }

 private:
  std::map<std::string, std::string, std::less<>> table_;
};

/// `pattern` with every `{name}` replaced by its text; an unknown hole stays as it is.
[[nodiscard]] std::string filled(std::string_view pattern, const Texts& texts);

}  // namespace pouchwright::base
