#include "job/report/table.h"

#include <algorithm>

namespace pouchwright::job {

namespace {

/// Code points, so that columns line up beyond ASCII.
std::size_t letters(const std::string& text) {
  std::size_t count = 0;
  for (const char c : text) count += (static_cast<unsigned char>(c) & 0xC0U) != 0x80U ? 1 : 0;
  return count;
}

}  // namespace

void TextTable::row(const char* key, std::string value) {
  rows_.emplace_back(words_.say({key}), std::move(value));
}

void TextTable::row(std::string name, std::string value) {
  rows_.emplace_back(std::move(name), std::move(value));
}

void TextTable::heading(const char* key) { rows_.emplace_back("", words_.say({key})); }

std::string TextTable::text() const {
  std::size_t widest = 0;
  for (const auto& [name, value] : rows_) widest = std::max(widest, letters(name));
  std::string text;
  for (const auto& [name, value] : rows_) {
    if (name.empty()) {
      text += (text.empty() ? "" : "\n") + value + "\n";
      continue;
    }
    text += "  " + name + std::string(widest - letters(name) + 2, ' ') + value + "\n";
  }
  return text;
}

}  // namespace pouchwright::job
