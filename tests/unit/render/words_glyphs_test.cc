// What people read on paper can be drawn: the pinned fonts have a glyph for every character of the
// words, constructions, materials and papers that come with the program.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "support.h"

namespace fs = std::filesystem;

namespace {

/// The program's own texts, in a fixed order.
std::vector<fs::path> files_with_words() {
  const fs::path source(POUCHWRIGHT_SOURCE);
  std::vector<fs::path> files;
  for (const char* folder : {"shared", "shared/words", "patterns"}) {
    for (const auto& entry : fs::directory_iterator(source / folder)) {
      if (entry.path().extension() == ".toml") files.push_back(entry.path());
    }
  }
  std::sort(files.begin(), files.end());
  return files;
}

}  // namespace

TEST_CASE("every character of the program's own words has a glyph in the pinned fonts") {
  int lines = 0;
  for (const fs::path& path : files_with_words()) {
    std::ifstream file(path);
    for (std::string text; std::getline(file, text); ++lines) {
      INFO(path.filename().string(), ": ", text);
      CHECK(pinned_fonts().without_glyph(text).empty());
      // Characters stand as themselves, else this test would not see them.
      CHECK(text.find("\\u") == std::string::npos);
    }
  }
  CHECK(lines > 400);  // the words alone
}
