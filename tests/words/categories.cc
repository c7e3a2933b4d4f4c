/// What the program makes of numbers in a language: for each number of standard input, a line each, the
/// form that goes with it.
///
///     plural_categories shared/words/ar.toml < numbers
#include <fstream>
#include <iostream>
#include <iterator>
#include <string>

#include "base/diagnostic.h"
#include "input/data.h"

int main(int argc, char** argv) {
  using namespace pouchwright;
  if (argc != 2) return 2;
  std::ifstream file(argv[1]);
  const std::string text{std::istreambuf_iterator<char>(file), {}};
  base::Diagnostics faults;
  const base::Words words = input::read_words({argv[1], text}, faults);
  if (text.empty() || faults.has_errors() || !words.language().unread.empty()) return 1;
  std::string number;
  while (std::getline(std::cin, number)) {
    std::cout << words.language().plurals.category(number) << "\n";
  }
  return 0;
}
