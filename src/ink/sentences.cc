#include "ink/sentences.h"

#include <variant>

#include "base/text.h"
#include "ink/labels.h"

namespace pouchwright::ink {

namespace {

base::Value with_kept_lengths(const base::Value& value, const base::Voice& voice) {
  if (std::holds_alternative<base::Measure>(value.held())) return kept_together(voice.text(value));
  const auto* list = std::get_if<base::Value::List>(&value.held());
  if (list == nullptr) return value;
  base::Value::List kept;
  for (const base::Value& one : *list) kept.push_back(with_kept_lengths(one, voice));
  return kept;
}

}  // namespace

std::string kept_words(const std::vector<base::Message>& sentences, const base::Voice& voice) {
  return base::list_text(sentences, " ", [&](base::Message sentence) {
    for (auto& [hole, value] : sentence.values) value = with_kept_lengths(value, voice);
    return voice.say(sentence);
  });
}

}  // namespace pouchwright::ink
