/// Typed reading of one table: each getter asks for a key, reports what is wrong at the value's
/// place, and remembers the key, so that finish() can report every key nobody asked for.
///
///     TableReader pouch(*node, "pouch", context);
///     auto width = pouch.length("width", Zero::refused);
///     pouch.finish();
///
/// Inside `input` only.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "base/length.h"
#include "base/named.h"
#include "input/node.h"
#include "pouch/construction.h"

namespace pouchwright::input {

using base::Length;
using base::Placed;
using pouch::Zero;

struct Context {
  base::Diagnostics& diagnostics;
  base::Unit bare = base::Unit::mm;  ///< of bare numbers
};

/// Two lengths, across x down.
struct LengthPair {
  Length across, down;
};

/// What `4 %` is: no number here, 0.04, or 4 of a hundred.
enum class Percent { unknown, of_one, of_hundred };

/// A text of a file has at most this many letters: more would not fit on any sheet.
inline constexpr int kMostLetters = 500;

class TableReader {
 public:
  /// `name` is how messages call the table; empty for the root.
  TableReader(const Node& table, std::string name, Context context)
      : table_(table),
        name_(std::move(name)),
        context_{context.diagnostics, table.bare.value_or(context.bare)} {}

  /// The raw value, which counts as asked for; null where the key is absent.
  [[nodiscard]] const Node* find(std::string_view key);
  [[nodiscard]] bool has(std::string_view key) const { return table_.find(key) != nullptr; }
  [[nodiscard]] const base::Place& place() const { return table_.place; }
  /// Where `key` is absent, the fault "KEY is missing" is reported.
  const Node* require(std::string_view key);

  [[nodiscard]] std::optional<Placed<std::string>> text(std::string_view key);
  /// A text, or a whole number as one.
  [[nodiscard]] std::optional<Placed<std::string>> code(std::string_view key);
  [[nodiscard]] std::optional<Placed<Length>> length(std::string_view key, Zero zero);
  [[nodiscard]] std::optional<Placed<LengthPair>> length_pair(std::string_view key);
  /// The lengths of an array, in order; one that is none is reported and left out.
  [[nodiscard]] std::vector<Placed<Length>> lengths(std::string_view key);
  [[nodiscard]] std::optional<Placed<int>> whole(std::string_view key, int least, int most);
  /// Also in double quotes, where a person's `4,50` stands, or `4 %`.
  [[nodiscard]] std::optional<Placed<double>> number(std::string_view key, double least,
                                                     double most,
                                                     Percent percent = Percent::unknown);
  [[nodiscard]] std::optional<Placed<bool>> truth(std::string_view key);
  [[nodiscard]] std::vector<Placed<std::string>> texts(std::string_view key);
  /// The tables of an array of tables; other items are reported.
  [[nodiscard]] std::vector<const Node*> tables(std::string_view key);
  /// A sub-table, or null where it is absent or no table.
  [[nodiscard]] const Node* table(std::string_view key);

  /// The language of `known` that a tag there asks for (see language_named()), or the tag where none
  /// are known; what else stands there is reported.
  [[nodiscard]] std::optional<Placed<std::string>> language(std::string_view key,
                                                            const Languages& known);
  /// One of `words`; what else stands there is reported.
  [[nodiscard]] std::optional<Placed<std::string>> word(std::string_view key,
                                                        const std::vector<std::string>& words);
  /// What `table` has for the word that stands there; with `only`, nothing else of it counts.
  template <class Value, std::size_t kSize>
  [[nodiscard]] std::optional<Placed<Value>> choice(std::string_view key,
                                                    const base::Named<Value> (&table)[kSize],
                                                    const std::vector<Value>& only = {}) {
    std::vector<std::string> words = words_of(table);
    if (!only.empty()) {
      words.clear();
      for (const Value value : only) words.emplace_back(word_of(table, value));
    }
    const auto found = word(key, words);
    if (!found) return std::nullopt;
    return Placed<Value>{*value_of(table, found->value), found->place};
  }

  /// Keys that are known though nobody reads them here.
  void know(std::string_view key);
  /// Whether `key` was asked for, or is known.
  [[nodiscard]] bool knows(std::string_view key) const;
  /// Reports every key that was not asked for, with the nearest known one.
  void finish();

  [[nodiscard]] Context context() const { return context_; }
  /// `pouch.width`
  [[nodiscard]] std::string path(std::string_view key) const;

 private:
  void wrong_kind(std::string_view key, const Node& node, const char* wanted_key);
  [[nodiscard]] std::optional<double> number_in_words(std::string_view key, const Node& node,
                                                      Percent percent);
  /// Is the text short enough? Reports it where it is not.
  bool fits(std::string_view key, const Node& node);

  const Node& table_;
  std::string name_;
  Context context_;
  std::vector<std::string> known_;
};

/// The length of a text or number node.
[[nodiscard]] std::optional<Placed<Length>> length_of(const Node& node, const std::string& path,
                                                      Zero zero, Context context);

/// Where the unit of a length begins, whatever it is: behind its last digit or fraction.
[[nodiscard]] std::size_t unit_at(std::string_view length);

/// The lengths of `80 x 120 x 9 mm`, as texts: between them stands x, X, ×, * or " by ".
[[nodiscard]] std::vector<std::string> between_crosses(std::string_view text);

/// `text` as two lengths around an x; a unit after the second only holds for both; bare numbers in
/// `bare`. Empty where it cannot be read so.
[[nodiscard]] std::optional<LengthPair> length_pair_of(std::string_view text, base::Unit bare);

/// At most 60 bytes of a user's text, for a message, and only whole letters.
[[nodiscard]] std::string clipped(std::string_view text);

/// The known word that is nearest, put in the place of `word`; nothing where none is near.
[[nodiscard]] std::optional<base::Remedy> nearest_remedy(const std::string& path,
                                                         std::string_view word,
                                                         const std::vector<std::string>& known);

/// The hint that names the nearest of the known words, or all of them.
[[nodiscard]] base::Message nearest_hint(std::string_view word,
                                         const std::vector<std::string>& known);

}  // namespace pouchwright::input
