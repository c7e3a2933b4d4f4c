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

TEST_CASE("a list must hold both weights") {
  CHECK(fault_of("\n").message.key == "font-list-short");
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
  CHECK(fonts.without_glyph("袋 a 袋") == "袋");  // DejaVu Sans has no Chinese
}

TEST_CASE("bytes that are not UTF-8 become replacement characters") {
  CHECK(valid_utf8("a\xFFz") == "a\uFFFDz");
  CHECK(valid_utf8("ä") == "ä");
}
