#include "base/text.h"

#include <utf8.h>

#include <algorithm>

namespace pouchwright::base {

namespace {

bool is_noncharacter(char32_t letter) {
  // The last two of every plane, and 32 in the midst of the first.
  return (letter & 0xFFFEU) == 0xFFFEU || (letter >= 0xFDD0U && letter <= 0xFDEFU);
}

bool is_plain(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
}

/// Calls `visit` with each letter until it says no.
template <class Visit>
void walk(std::string_view text, Visit visit) {
  while (!text.empty()) {
    const char* at = text.data();
    for (const char* const end = at + utf8_bytes(text); at != end;) {
      const char* const begin = at;
      utf8::unchecked::next(at);
      if (!visit(std::string_view(begin, static_cast<std::size_t>(at - begin)))) return;
    }
    text.remove_prefix(static_cast<std::size_t>(at - text.data()));
    if (text.empty()) return;
    if (!visit(text.substr(0, 1))) return;
    text.remove_prefix(1);
  }
}

}  // namespace

std::vector<std::string_view> letters(std::string_view text) {
  std::vector<std::string_view> result;
  walk(text, [&](std::string_view letter) {
    result.push_back(letter);
    return true;
  });
  return result;
}

std::size_t letter_count(std::string_view text) {
  std::size_t count = 0;
  walk(text, [&](std::string_view) { return ++count > 0; });
  return count;
}

std::size_t byte_of(std::string_view text, std::size_t index) {
  std::size_t byte = text.size();
  walk(text, [&](std::string_view letter) {
    if (index-- > 0) return true;
    byte = static_cast<std::size_t>(letter.data() - text.data());
    return false;
  });
  return byte;
}

std::size_t utf8_bytes(std::string_view text) {
  return static_cast<std::size_t>(utf8::find_invalid(text.begin(), text.end()) - text.begin());
}

bool is_drawable(std::string_view text) {
  if (utf8_bytes(text) < text.size()) return false;
  const char* at = text.data();
  for (const char* const end = at + text.size(); at != end;) {
    if (is_noncharacter(utf8::unchecked::next(at))) return false;
  }
  return true;
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view kBlanks = " \t\r";
  const std::size_t first = std::min(text.find_first_not_of(kBlanks), text.size());
  text.remove_prefix(first);
  return text.substr(0, text.find_last_not_of(kBlanks) + 1);
}

std::string lower(std::string_view text) {
  std::string small(text);
  for (char& c : small) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return small;
}

std::string slug(std::string_view text) {
  std::string result(text);
  std::replace_if(
      result.begin(), result.end(), [](char c) { return !is_plain(c); }, '-');
  return result;
}

std::string csv_cell(std::string_view text) {
  std::string cell = "\"";
  for (const char c : text) cell.append(c == '"' ? 2 : 1, c);
  return cell + '"';
}

}  // namespace pouchwright::base
