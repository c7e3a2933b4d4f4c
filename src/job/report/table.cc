#include "job/report/table.h"

#include <algorithm>

#include "base/text.h"

namespace pouchwright::job {

void TextTable::row(const char* key, std::string value) {
  rows_.emplace_back(words_.say({key}), std::move(value));
}

void TextTable::row(std::string name, std::string value) {
  rows_.emplace_back(std::move(name), std::move(value));
}

void TextTable::heading(const char* key) { rows_.emplace_back("", words_.say({key})); }

std::string TextTable::text() const {
  std::size_t widest = 0;
  for (const auto& [name, value] : rows_) widest = std::max(widest, base::letter_count(name));
  std::string text;
  for (const auto& [name, value] : rows_) {
    if (name.empty()) {
      text += (text.empty() ? "" : "\n") + value + "\n";
      continue;
    }
    text += "  " + name + std::string(widest - base::letter_count(name) + 2, ' ') + value + "\n";
  }
  return text;
}

}  // namespace pouchwright::job
