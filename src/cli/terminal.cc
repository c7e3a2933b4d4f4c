#include "cli/terminal.h"

#include <unistd.h>

#include <iostream>
#include <string>

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

}  // namespace pouchwright::cli
