#include "desk/target.h"

namespace pouchwright::desk {

namespace {

/// 0 to 15, or nothing.
std::optional<int> hexadecimal(char digit) {
  if (digit >= '0' && digit <= '9') return digit - '0';
  if (digit >= 'a' && digit <= 'f') return digit - 'a' + 10;
  if (digit >= 'A' && digit <= 'F') return digit - 'A' + 10;
  return std::nullopt;
}

enum class Plus { stays, is_blank };

std::optional<std::string> decoded(std::string_view text, Plus plus) {
  std::string plain;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '+' && plus == Plus::is_blank) {
      plain += ' ';
    } else if (text[i] != '%') {
      plain += text[i];
    } else {
      if (i + 2 >= text.size()) return std::nullopt;
      const auto high = hexadecimal(text[i + 1]);
      const auto low = hexadecimal(text[i + 2]);
      if (!high || !low) return std::nullopt;
      plain += static_cast<char>(*high * 16 + *low);
      i += 2;
    }
  }
  return plain;
}

}  // namespace

std::optional<Fields> read_form(std::string_view text) {
  Fields fields;
  while (!text.empty()) {
    const std::string_view one = text.substr(0, text.find('&'));
    text.remove_prefix(one.size() < text.size() ? one.size() + 1 : text.size());
    if (one.empty()) continue;
    const std::size_t equals = one.find('=');
    auto name = decoded(one.substr(0, equals), Plus::is_blank);
    auto value = equals == std::string_view::npos ? std::optional<std::string>("")
                                                  : decoded(one.substr(equals + 1), Plus::is_blank);
    if (!name || !value) return std::nullopt;
    fields.emplace_back(std::move(*name), std::move(*value));
  }
  return fields;
}

std::optional<Target> read_target(std::string_view text) {
  if (!text.starts_with('/')) return std::nullopt;
  const std::size_t question = text.find('?');
  auto path = decoded(text.substr(0, question), Plus::stays);
  auto query = question == std::string_view::npos ? Fields() : read_form(text.substr(question + 1));
  if (!path || !query) return std::nullopt;
  return Target{std::move(*path), std::move(*query)};
}

std::string html_text(std::string_view text) {
  std::string safe;
  for (const char letter : text) {
    switch (letter) {
      case '&':
        safe += "&amp;";
        break;
      case '<':
        safe += "&lt;";
        break;
      case '>':
        safe += "&gt;";
        break;
      case '"':
        safe += "&quot;";
        break;
      case '\'':
        safe += "&#39;";
        break;
      default:
        safe += letter;
    }
  }
  return safe;
}

}  // namespace pouchwright::desk
