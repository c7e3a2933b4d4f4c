/// The words a person sees: a table from key to text with `{name}` holes, one table a language.
///
///     Words words(std::move(table));  // `input` reads it from shared/words/en.toml
///     words.say(Message("fold.named", {{"name", "front"}}));
///
/// Pure layers carry `Message` values; the text is looked up where it is shown.
#pragma once

#include <initializer_list>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace pouchwright::base {

/// A key of the words table and the values for its holes. Values are ready-made text (a length has
/// been printed in the job's units), since only the maker knows them.
struct Message {
  std::string key;
  std::vector<std::pair<std::string, std::string>> values;

  Message() = default;
  // Not explicit: a message without holes is just its key.
  Message(const char* key_) : key(key_) {}             // NOLINT(google-explicit-constructor)
  Message(std::string key_) : key(std::move(key_)) {}  // NOLINT(google-explicit-constructor)
  Message(std::string key_, std::vector<std::pair<std::string, std::string>> values_)
      : key(std::move(key_)), values(std::move(values_)) {}

  bool operator==(const Message&) const = default;
};

/// The words of one language. A key that the table lacks is shown as `[key]`, with its values, so
/// that a gap is seen and nothing fails; a test holds that no key used in the code is missing.
class Words {
 public:
  Words() = default;
  explicit Words(std::map<std::string, std::string, std::less<>> table)
      : table_(std::move(table)) {}

  [[nodiscard]] std::string say(const Message& message) const;
  [[nodiscard]] bool has(std::string_view key) const;
  [[nodiscard]] const std::map<std::string, std::string, std::less<>>& table() const {
    return table_;
  }

 private:
  std::map<std::string, std::string, std::less<>> table_;
};

/// `pattern` with every `{name}` replaced by its value; an unknown hole stays as it is.
[[nodiscard]] std::string filled(std::string_view pattern,
                                 const std::vector<std::pair<std::string, std::string>>& values);

}  // namespace pouchwright::base
