/// Writes the manual page or the completion to standard output, for the build:
///
///     pouchwright_manual page > pouchwright.1
///     pouchwright_manual completion > pouchwright.bash

#include <cstdio>
#include <exception>
#include <string>
#include <string_view>

#include "cli/arguments.h"
#include "cli/manual.h"
#include "job/data.h"
#include "job/files.h"

int main(int argc, char** argv) {
  const std::string_view wanted = argc == 2 ? argv[1] : "";
  try {
    const auto words = pouchwright::job::load_words(pouchwright::job::data_folder());
    const auto help = pouchwright::cli::help(words);
    const std::string text = wanted == "page"
                                 ? pouchwright::cli::manual_page(help, words, POUCHWRIGHT_VERSION)
                             : wanted == "completion" ? pouchwright::cli::completion(help)
                                                      : std::string();
    if (text.empty()) return 2;
    const bool written = std::fwrite(text.data(), 1, text.size(), stdout) == text.size();
    return written && std::fflush(stdout) == 0 ? 0 : 3;
  } catch (const std::exception& failure) {
    std::fprintf(stderr, "%s\n", failure.what());
    return 3;
  }
}
