#include "render/fonts.h"

#include <doctest/doctest.h>
#include <fontconfig/fontconfig.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "base/diagnostic.h"
#include "support.h"

using namespace pouchwright;
using namespace pouchwright::render;

namespace {

/// A folder with its own font list, gone when this goes.
class FontFolder {
 public:
  explicit FontFolder(const std::string& list)
      : path_(std::filesystem::temp_directory_path() /
              ("pouchwright-fonts-" + std::to_string(::getpid()))) {
    std::filesystem::create_directory(path_);
    std::ofstream(path_ / "pinned.txt") << list;
  }
  ~FontFolder() { std::filesystem::remove_all(path_); }
  FontFolder(const FontFolder&) = delete;
  FontFolder& operator=(const FontFolder&) = delete;

  [[nodiscard]] const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

base::Diagnostic fault_of(const std::string& list) {
  const FontFolder folder(list);
  try {
    const Fonts fonts(folder.path());
  } catch (const base::Failure& failure) {
    return failure.diagnostic();
  }
  return {};
}

}  // namespace

TEST_CASE("a missing font file names the package to install") {
  const auto fault = fault_of("regular | Sans | /no/such/Sans.ttf | fonts-of-nowhere\n");
  CHECK(fault.message.key == "font-missing");
  CHECK(fault.place.file == "/no/such/Sans.ttf");
  REQUIRE(fault.message.values.size() == 1);
  CHECK(fault.message.values[0].second == "fonts-of-nowhere");
  CHECK(fault.hints.size() == 1);
}

TEST_CASE("a file that is no font is refused") {
  const auto fault = fault_of("regular | Sans | pinned.txt | fonts-of-nowhere\n");
  CHECK(fault.message.key == "font-damaged");
}

TEST_CASE("a list that cannot be understood is refused at its line") {
  const auto fault = fault_of("# comment\nheavy | Sans | a.ttf | package\n");
  CHECK(fault.message.key == "font-list-line");
  CHECK(fault.place.line == 2);
  CHECK(fault_of("regular | Sans\n").message.key == "font-list-line");
}

TEST_CASE("a list must hold both weights and an italic") {
  CHECK(fault_of("\n").message.key == "font-list-short");
  const std::string noto = "/usr/share/fonts/truetype/noto/NotoSans-";
  std::string list = "regular | Noto Sans | " + noto + "Regular.ttf | fonts-noto-core\n";
  list += "bold | Noto Sans | " + noto + "Bold.ttf | fonts-noto-core\n";
  CHECK(fault_of(list).message.key == "font-list-short");
}

TEST_CASE("a font that only other scripts want is missed at once, and read when it is wanted") {
  const std::string noto = "/usr/share/fonts/truetype/noto/NotoSans-";
  std::string list;
  for (const auto& [weight, file] : {std::pair{"regular", "Regular"}, std::pair{"bold", "Bold"},
                                     std::pair{"italic", "Italic"}}) {
    list += std::string(weight) + " | Noto Sans | " + noto + file + ".ttf | fonts-noto-core\n";
  }
  CHECK(fault_of(list + "regular | Far | /no/such/Far.ttf | fonts-far\n").message.key ==
        "font-missing");
  const FontFolder folder(list + "regular | Far | pinned.txt | fonts-far\n");
  const Fonts fonts(folder.path());
  static_cast<void>(fonts.shaped("7¼ in", ink::Weight::regular));
  CHECK_THROWS_AS(static_cast<void>(fonts.shaped("袋", ink::Weight::regular)), base::Failure);
}

TEST_CASE("other scripts have glyphs in every face") {
  // Words for "do not iron" and "water" as dictionaries have them (from memory).
  const Fonts& fonts = pinned_fonts();
  for (const char* words : {"لا تكوي الماء ٣", "इस्त्री न करें पानी ३"}) {
    CAPTURE(std::string(words));
    CHECK(fonts.without_glyph(words).empty());
    for (const auto weight : {ink::Weight::regular, ink::Weight::bold, ink::Weight::italic}) {
      CHECK(fonts.width(words, weight) > 3);
    }
  }
  // Arabic letters are joined, and take other shapes than apart (Unicode 15, 9.2): U+200C parts them.
  const auto width = [&](const char* words) { return fonts.width(words, ink::Weight::regular); };
  CHECK(width("ههه") != doctest::Approx(3 * width("ه")));
  CHECK(width("ه\u200Cه\u200Cه") == doctest::Approx(3 * width("ه")));
}

TEST_CASE("no two letters are one sign") {
  for (const auto weight : {ink::Weight::regular, ink::Weight::bold, ink::Weight::italic}) {
    for (const char* words : {"fl", "fi", "ff"}) {
      const std::string all = words;
      CAPTURE(all);
      CHECK(pinned_fonts().shaped(all, weight).runs.front().glyphs.size() == 2);
    }
  }
}

TEST_CASE("a folder without a list is refused") {
  CHECK_THROWS_AS(Fonts("/no/such/folder"), base::Failure);
}

TEST_CASE("the machine's own fonts are never looked at") {
  static_cast<void>(pinned_fonts().shaped("a", ink::Weight::regular));
  // What any part of Pango or Cairo would turn to that is not told our fonts.
  const FcFontSet* fonts = FcConfigGetFonts(FcConfigGetCurrent(), FcSetSystem);
  CHECK((fonts == nullptr || fonts->nfont == 0));
}

TEST_CASE("characters without a glyph are found") {
  const Fonts& fonts = pinned_fonts();
  CHECK(fonts.without_glyph("7¼ in ≈ 184 mm → “lip”, Größe, ширина").empty());
  CHECK(fonts.without_glyph("袋 a 袋") == "袋");  // no pinned font has Chinese
}

TEST_CASE("bytes that are not UTF-8 become replacement characters") {
  CHECK(valid_utf8("a\xFFz") == "a\uFFFDz");
  CHECK(valid_utf8("ä") == "ä");
}
