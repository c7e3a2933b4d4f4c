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

std::string country() {
  for (const char* name : {"LC_ALL", "LC_MEASUREMENT", "LANG"}) {
    const char* value = std::getenv(name);
    if (value == nullptr || *value == '\0') continue;
    const std::string_view locale(value);
    const std::size_t line = locale.find('_');
    return line == std::string_view::npos ? "" : std::string(locale.substr(line + 1, 2));
  }
  return "";
}

}  // namespace pouchwright::cli
