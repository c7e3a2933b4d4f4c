/// The words a person sees: a table from key to text with `{name}` holes, one table a language.
///
///     Words words(std::move(table));      // `input` reads it from shared/words/en.toml
///     Words french = read.over(words);    // what it lacks is said in English
///
/// A text that depends on a count has its forms in the hole, as in ICU's MessageFormat:
/// `{count, plural, one {{count} liner} other {{count} liners}}`; `=0 {…}` is for one number alone.
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

#include "base/plurals.h"

namespace pouchwright::base {

/// Texts by the names of the holes that they fill.
using Texts = std::vector<std::pair<std::string, std::string>>;

/// What a words file says of its language at its head, in texts of their own, `language-…`.
struct Language {
  /// Where a line of it begins.
  enum class Direction { from_left, from_right };

  std::string name;  ///< in its own letters
  Direction direction = Direction::from_left;
  std::string decimal_mark = ".";
  Plurals plurals{};
  bool is_draft = false;            ///< no speaker has read it yet
  std::vector<std::string> unread;  ///< keys of the head whose text says nothing that it may
};

/// The words of one language. Copies share what they hold.
class Words {
 public:
  using Table = std::map<std::string, std::string, std::less<>>;
  struct Row {
    std::string_view key, text;
  };

  Words();
  explicit Words(Table table);
  /// `rows` lie in `kept`, in the order of their keys, each key once.
  Words(std::shared_ptr<const void> kept, std::vector<Row> rows);

  /// These, and where they say nothing `others`; of their heads only this one.
  [[nodiscard]] Words over(const Words& others) const;

  [[nodiscard]] const Language& language() const { return *language_; }
  /// The words under all others: what a draft was drafted from. Null: these are under none.
  [[nodiscard]] const Words* source() const { return source_.get(); }

  /// The text of `key` with its holes filled; `[key hole=text]` where the table lacks it.
  [[nodiscard]] std::string filled(std::string_view key, const Texts& texts) const;
  /// The text of `key`, its holes open, or nothing; good as long as the words.
  [[nodiscard]] std::optional<std::string_view> text(std::string_view key) const;
  [[nodiscard]] bool has(std::string_view key) const { return text(key).has_value(); }
  [[nodiscard]] bool empty() const { return rows_.empty(); }
  [[nodiscard]] Table table() const;

 private:
  std::shared_ptr<const void> kept_;
  std::vector<Row> rows_;
  std::shared_ptr<const Language> language_;
  std::shared_ptr<const Words> source_;
};

/// The language of `known` that `tag` asks for, as BCP 47 or POSIX write it: `es-MX`, `pt_BR.UTF-8`. A
/// country that is not known is its language; nothing where that is not known either, or no language
/// is named (`C`).
[[nodiscard]] std::optional<std::string> language_named(std::string_view tag,
                                                        const std::vector<std::string>& known);

/// `pattern` with every `{name}` replaced by its text, and `{name, plural, …}` by the form that goes
/// with it; an unknown hole stays as it is.
[[nodiscard]] std::string filled(std::string_view pattern, const Texts& texts,
                                 const Plurals& plurals);

/// A hole as it stands in a text.
struct Hole {
  std::string_view name;
  /// The forms by category or `=number`. Empty: a hole without forms.
  std::vector<std::pair<std::string_view, std::string_view>> forms;
  std::size_t size = 0;  ///< bytes from its brace to its end
};
/// The hole whose brace `text` begins with. Nothing: a brace that stands for itself, or forms that
/// cannot be read.
[[nodiscard]] std::optional<Hole> hole_at_front(std::string_view text);

}  // namespace pouchwright::base
