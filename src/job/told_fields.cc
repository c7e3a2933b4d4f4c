#include "job/told_fields.h"

#include <algorithm>

#include "base/text.h"
#include "input/fields.h"

namespace pouchwright::job {
namespace {

/// As options show what follows them.
std::string value_of(const input::FieldFacts& field) {
  if (!field.choices.empty()) return base::list_text(field.choices, "|");
  std::string text = word_of(input::kFieldKindWords, field.kind);
  std::transform(text.begin(), text.end(), text.begin(),
                 [](char letter) { return static_cast<char>(letter - 'a' + 'A'); });
  return text;
}

}  // namespace

std::vector<ToldField> told_fields(const base::Voice& words) {
  std::vector<ToldField> all;
  for (const input::FieldFacts& field : input::job_fields()) {
    all.push_back({field.path(), value_of(field), field.usual,
                   words.has(field.word) ? field_meaning(field.word, words) : ""});
  }
  return all;
}

std::string field_meaning(const std::string& word, const base::Voice& words) {
  const std::string text = words.say(base::Message(word));
  if (!words.has(word + "-hint")) return text;
  const std::string hint = words.say(base::Message(word + "-hint"));
  return text + (hint.find(':') == std::string::npos ? ": " : ", ") + hint;
}

}  // namespace pouchwright::job
