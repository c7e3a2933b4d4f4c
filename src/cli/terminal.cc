#include "cli/terminal.h"

#include <unistd.h>

#include <cstdlib>
#include <iostream>
#include <string>
#include <string_view>

namespace pouchwright::cli {

job::Ask terminal_questions() {
  if (::isatty(STDIN_FILENO) == 0) return {};
  return [](const std::string& question) -> std::optional<std::string> {
    // Standard output may be the job itself.
    std::cerr << question << std::flush;
    std::string line;
    if (!std::getline(std::cin, line)) return std::nullopt;
    return line;
  };
}

namespace {

/// The locale of a category: of the first variable that is set.
std::string_view locale_of(const char* category) {
  for (const char* name : {"LC_ALL", category, "LANG"}) {
    const char* value = std::getenv(name);
    if (value != nullptr && *value != '\0') return value;
  }
  return "";
}

}  // namespace

std::string country() {
  const std::string_view locale = locale_of("LC_MEASUREMENT");
  const std::size_t line = locale.find('_');
  return line == std::string_view::npos ? "" : std::string(locale.substr(line + 1, 2));
}

std::string language() { return std::string(locale_of("LC_MESSAGES")); }

}  // namespace pouchwright::cli
