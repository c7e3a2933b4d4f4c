#include "base/words.h"

#include <algorithm>

namespace pouchwright::base {

Words::Words(Table table) {
  const auto kept = std::make_shared<const Table>(std::move(table));
  for (const auto& [key, text] : *kept) rows_.push_back({key, text});
  kept_ = kept;
}

std::optional<std::string_view> Words::text(std::string_view key) const {
  const auto found =
      std::lower_bound(rows_.begin(), rows_.end(), key,
                       [](const Row& row, std::string_view wanted) { return row.key < wanted; });
  if (found == rows_.end() || found->key != key) return std::nullopt;
  return found->text;
}

Words::Table Words::table() const {
  Table table;
  for (const Row& row : rows_) table.emplace_hint(table.end(), row.key, row.text);
  return table;
}

std::string Words::filled(std::string_view key, const Texts& texts) const {
  if (const auto pattern = text(key)) return base::filled(*pattern, texts);
  std::string shown = "[" + std::string(key);
  for (const auto& [name, text] : texts) shown += " " + name + "=" + text;
  return shown + "]";
}

std::string filled(std::string_view pattern, const Texts& texts) {
  std::string result;
  while (!pattern.empty()) {
    const std::size_t open = std::min(pattern.find('{'), pattern.size());
    result += pattern.substr(0, open);
    pattern.remove_prefix(open);
    const std::size_t close = pattern.find('}');
    if (close == std::string_view::npos) return result.append(pattern);
    const std::string_view name = pattern.substr(1, close - 1);
    const auto text = std::find_if(texts.begin(), texts.end(),
                                   [&](const auto& candidate) { return candidate.first == name; });
    if (text == texts.end()) {
      // Only the brace is passed over, so that in "{ {name}" the inner hole is still found.
      result += pattern.front();
      pattern.remove_prefix(1);
    } else {
      result += text->second;
      pattern.remove_prefix(close + 1);
    }
  }
  return result;
}

}  // namespace pouchwright::base
