/// The words a person sees: a table from key to text with `{name}` holes, one table a language.
///
///     Words words(std::move(table));  // `input` reads it from shared/words/en.toml
///
/// Pure layers carry `Message` values; a Voice (voice.h) looks the text up where it is shown.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace pouchwright::base {

/// Texts by the names of the holes that they fill.
using Texts = std::vector<std::pair<std::string, std::string>>;

/// The words of one language. Copies share what they hold.
class Words {
 public:
  using Table = std::map<std::string, std::string, std::less<>>;
  struct Row {
    std::string_view key, text;
  };

  Words() = default;
  explicit Words(Table table);
  /// `rows` lie in `file`, in the order of their keys, each key once.
  Words(std::shared_ptr<const std::string> file, std::vector<Row> rows)
      : kept_(std::move(file)), rows_(std::move(rows)) {}

  /// The text of `key` with its holes filled; `[key hole=text]` where the table lacks it.
  [[nodiscard]] std::string filled(std::string_view key, const Texts& texts) const;
  /// The text of `key`, its holes open, or nothing; good as long as the words.
  [[nodiscard]] std::optional<std::string_view> text(std::string_view key) const;
  [[nodiscard]] bool has(std::string_view key) const { return text(key).has_value(); }
  [[nodiscard]] bool empty() const { return rows_.empty(); }
  [[nodiscard]] Table table() const;

 private:
  std::shared_ptr<const void> kept_;  ///< what the rows lie in
  std::vector<Row> rows_;
};

/// `pattern` with every `{name}` replaced by its text; an unknown hole stays as it is.
[[nodiscard]] std::string filled(std::string_view pattern, const Texts& texts);

}  // namespace pouchwright::base
