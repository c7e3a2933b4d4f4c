#include "base/words.h"

#include <algorithm>

namespace pouchwright::base {

namespace {

std::string key_with_values(const Message& message) {
  std::string shown = "[" + message.key;
  for (const auto& value : message.values) shown += " " + value.first + "=" + value.second;
  return shown + "]";
}

}  // namespace

std::string Words::say(const Message& message) const {
  const auto found = table_.find(message.key);
  if (found == table_.end()) return key_with_values(message);
  return filled(found->second, message.values);
}

bool Words::has(std::string_view key) const { return table_.find(key) != table_.end(); }

std::string filled(std::string_view pattern,
                   const std::vector<std::pair<std::string, std::string>>& values) {
  std::string result;
  while (!pattern.empty()) {
    const std::size_t open = std::min(pattern.find('{'), pattern.size());
    result += pattern.substr(0, open);
    pattern.remove_prefix(open);
    const std::size_t close = pattern.find('}');
    if (close == std::string_view::npos) return result.append(pattern);
    const std::string_view name = pattern.substr(1, close - 1);
    const auto value = std::find_if(values.begin(), values.end(),
                                    [&](const auto& candidate) { return candidate.first == name; });
    if (value == values.end()) {
      // Only the brace is passed over, so that in "{ {name}" the inner hole is still found.
      result += pattern.front();
      pattern.remove_prefix(1);
    } else {
      result += value->second;
      pattern.remove_prefix(close + 1);
    }
  }
  return result;
}

}  // namespace pouchwright::base
