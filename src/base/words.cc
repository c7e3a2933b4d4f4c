#include "base/words.h"

#include <algorithm>

namespace pouchwright::base {

std::string Words::filled(const std::string& key, const Texts& texts) const {
  const auto found = table_.find(key);
  if (found != table_.end()) return base::filled(found->second, texts);
  std::string shown = "[" + key;
  for (const auto& [name, text] : texts) shown += " " + name + "=" + text;
  return shown + "]";
}

bool Words::has(std::string_view key) const { return table_.find(key) != table_.end(); }

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
