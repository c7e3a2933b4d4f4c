#include "base/reading.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <utility>

namespace pouchwright::base {

namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

constexpr std::string_view kFromLeft = "\u200E";
const std::string kFromRight = "\u200F";

/// How long the first of `some` is that `text` begins with; 0: with none.
template <std::size_t kCount>
std::size_t begins(std::string_view text, const std::array<std::string_view, kCount>& some) {
  const auto found = std::find_if(some.begin(), some.end(),
                                  [&](std::string_view one) { return text.starts_with(one); });
  return found == some.end() ? 0 : found->size();
}

/// How long a number is that begins with a digit: `12`, `12.5`, `3 1/8`, `3⅛`.
std::size_t number_length(std::string_view text) {
  constexpr std::array<std::string_view, 4> kWithin = {".", ",", "/", "⁄"};
  std::size_t length = 0;
  while (length < text.size()) {
    const std::string_view rest = text.substr(length);
    const std::size_t sign = begins(rest, kWithin);
    const bool goes_on = sign > 0 && rest.size() > sign && is_digit(rest[sign]);
    const std::size_t blank_digits =
        length > 0 && rest.front() == ' '
            ? std::min(rest.find_first_not_of("0123456789", 1), rest.size())
            : 0;
    if (is_digit(rest.front())) {
      ++length;
    } else if (goes_on) {
      length += sign;
    } else if (blank_digits > 1 && begins(rest.substr(blank_digits), kWithin) > 0) {
      ++length;
    } else {
      break;
    }
  }
  constexpr std::array<std::string_view, 7> kFractions = {"¼", "½", "¾", "⅛", "⅜", "⅝", "⅞"};
  return length + begins(text.substr(length), kFractions);
}

/// How long a blank and a unit are: ` mm`, ` °C`, ` m²`, ` %`; without a number before them a degree sign
/// and its letter.
std::size_t unit_length(std::string_view text, bool has_number) {
  if (!has_number && !text.starts_with("°")) return 0;
  constexpr std::array<std::string_view, 3> kBlanks = {" ", "\u00A0", "\u202F"};
  constexpr std::array<std::string_view, 3> kSigns = {"°", "²", "%"};
  const std::size_t blank = begins(text, kBlanks);
  if (has_number && blank == 0) return 0;
  std::size_t length = blank;
  while (length < text.size()) {
    const std::size_t sign = is_letter(text[length]) ? 1 : begins(text.substr(length), kSigns);
    if (sign == 0) break;
    length += sign;
  }
  return length > blank ? length : 0;
}

}  // namespace

bool has_letters_from_right(std::string_view text) {
  return std::any_of(text.begin(), text.end(), [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte >= 0xD6 && byte <= 0xDF;  // first bytes in UTF-8
  });
}

std::string measures_from_left(std::string_view text) {
  std::string made;
  while (!text.empty()) {
    const std::size_t number = number_length(text);
    const std::size_t unit = unit_length(text.substr(number), number > 0);
    const std::string_view taken =
        text.substr(0, unit > 0 ? number + unit : std::max<std::size_t>(number, 1));
    const bool is_marked = made.ends_with(kFromLeft);
    if (unit > 0 && !is_marked) made += kFromLeft;
    made += taken;
    text.remove_prefix(taken.size());
    if (unit > 0 && !text.starts_with(kFromLeft)) made += std::string(kFromLeft) + kFromRight;
  }
  return made;
}

std::string read_from_right(std::string_view text) {
  std::string said = measures_from_left(text);
  // Signs of European scripts behind a letter that is none of theirs.
  constexpr std::array<std::pair<std::string_view, std::string_view>, 2> kSigns = {
      {{", ", "، "}, {"; ", "؛ "}}};
  for (const auto& [sign, own] : kSigns) {
    for (auto at = said.find(sign); at != said.npos; at = said.find(sign, at + own.size())) {
      if (at > 0 && has_letters_from_right(said.substr(at - std::min<std::size_t>(at, 2), 2)))
        said.replace(at, sign.size(), own);
    }
  }
  const bool is_turned = has_letters_from_right(said) || said.find(kFromLeft) != std::string::npos;
  return is_turned && !said.starts_with(kFromRight) ? kFromRight + said : said;
}

}  // namespace pouchwright::base
