// What people read on paper can be drawn: the pinned fonts have a glyph for every character of the
// words, constructions, materials and papers that come with the program.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>
#include <string>
#include <vector>

#include "render/text.h"
#include "support.h"

using namespace pouchwright;

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

TEST_CASE("no letter of the program's own words reaches out of its line") {
  std::set<std::string> letters;
  for (const fs::path& path : files_with_words()) {
    std::ifstream file(path);
    for (std::string text; std::getline(file, text);) {
      for (std::size_t at = 0; at < text.size();) {
        std::size_t end = at + 1;
        while (end < text.size() && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) ++end;
        letters.insert(text.substr(at, end - at));
        at = end;
      }
    }
  }
  CHECK(letters.size() > 80);
  const render::TextOutliner outliner(pinned_fonts());
  for (const ink::Weight weight : {ink::Weight::regular, ink::Weight::bold, ink::Weight::italic}) {
    for (const std::string& letter : letters) {
      ink::Text text = label(letter, {0, 0});
      text.weight = weight;
      for (const render::Letter& drawn : outliner.letters(text)) {
        const ink::Box box = ink::bounds(*drawn.outline);
        const render::FontHeight height = render::font_height(letter);
        INFO(letter);
        CHECK(box.y0 >= -height.above * render::kUnitsPerEm);
        CHECK(box.y1 <= height.below * render::kUnitsPerEm);
      }
    }
  }
}
