// The program in a browser sets letters without Pango: by HarfBuzz and FriBidi, as Pango itself does. Pango is
// held to be right (it is Debian's own, whose text shaping has its own tests), and the other to give the same glyphs at
// the same places, so that widths, and with them line breaks and pages, are the same.
#include <doctest/doctest.h>

#include <array>
#include <filesystem>
#include <fstream>
#include <set>
#include <string>
#include <vector>

#include "ink/scene.h"
#include "render/text.h"
#include "support.h"

using namespace pouchwright;
using namespace pouchwright::render;

namespace fs = std::filesystem;

namespace {

constexpr std::array kWeights = {ink::Weight::regular, ink::Weight::bold, ink::Weight::italic};

const Fonts& by(TypesetterMaker maker) {
  const fs::path folder = fs::path(POUCHWRIGHT_SOURCE) / "fonts";
  static const Fonts kPango(folder, pango_typesetter);
  static const Fonts kHarfBuzz(folder, harfbuzz_typesetter);
  return maker == pango_typesetter ? kPango : kHarfBuzz;
}

std::string all_of(const ShapedLine& line) {
  std::string text;
  for (const GlyphRun& run : line.runs) {
    text += run.is_backward ? "<" : ">";
    text += std::to_string(run.begin) + "+" + std::to_string(run.length) + ":" +
            std::to_string(run.box);
    for (const Glyph& glyph : run.glyphs) {
      for (const int part : {static_cast<int>(glyph.index), glyph.x_offset, glyph.y_offset,
                             glyph.advance, glyph.cluster}) {
        text += " " + std::to_string(part);
      }
    }
    text += "\n";
  }
  return text;
}

void check_alike(const std::string& words) {
  for (const ink::Weight weight : kWeights) {
    INFO(words);
    CHECK(all_of(by(harfbuzz_typesetter).shaped(words, weight)) ==
          all_of(by(pango_typesetter).shaped(words, weight)));
  }
}

/// Every text in quotes in the program's own words, constructions and sample jobs.
std::set<std::string> own_texts() {
  std::set<std::string> texts;
  for (const char* folder : {"shared", "shared/words", "patterns"}) {
    for (const auto& entry : fs::directory_iterator(fs::path(POUCHWRIGHT_SOURCE) / folder)) {
      if (entry.path().extension() != ".toml") continue;
      std::ifstream file(entry.path());
      for (std::string line; std::getline(file, line);) {
        const std::size_t begin = line.find('"', line.find('='));
        const std::size_t end = line.rfind('"');
        if (begin == std::string::npos || end <= begin) continue;
        texts.insert(line.substr(begin + 1, end - begin - 1));
      }
    }
  }
  return texts;
}

}  // namespace

TEST_CASE("Pango and HarfBuzz alone set all of the program's own texts alike") {
  const std::set<std::string> texts = own_texts();
  CHECK(texts.size() > 1000);
  for (const std::string& words : texts) check_alike(words);
}

TEST_CASE("Pango and HarfBuzz alone set other scripts alike, and mixed ones") {
  // Words from memory: "do not iron", "water" and numbers in Arabic and Hindi; names and marks.
  for (const char* words : {"لا تكوي",
                            "الماء ٣",
                            "لا تكوي (الماء) ٣ مم",
                            "إغلاق 12.5 مم × 3",
                            "fold الطي here",
                            "الطي A4 الورق",
                            "a (ب) c",
                            "ه\u200Cه",
                            "ب",
                            "इस्त्री न करें",
                            "पानी ३ मिमी",
                            "मोड़ 12 mm मोड़",
                            "क्ष त्र ज्ञ",
                            "fold मोड़ الطي шов",
                            "Größe ½ in ≈ 13 mm → “lip”",
                            "ширина Ω μ",
                            "e\u0301 a\u0308 z\u0335",
                            "fi fl ffi",
                            "AV To WA",
                            "  two  blanks ",
                            "1\u2007000 \u00A0 x",
                            "12-34 (5)",
                            "٣ (3) ٣"}) {
    check_alike(words);
  }
}

TEST_CASE("a letter that no font has is the same box by both") {
  for (const char* words : {"袋", "a袋b", "袋袋 a", "الطي 袋 الطي", "\U0001F9F5 thread"}) {
    check_alike(words);
  }
  const ShapedLine line = by(harfbuzz_typesetter).shaped("a袋b", ink::Weight::regular);
  REQUIRE(line.runs.size() == 3);
  CHECK(line.runs[1].box > 0);
  CHECK(line.runs[1].begin == 1);
  CHECK(line.runs[1].length == 3);         // of UTF-8
  CHECK(line.runs[1].glyphs.size() == 4);  // 888B
}

TEST_CASE("both know of the same letters whether a font has them") {
  std::string all;
  for (char32_t letter = 0x20; letter < 0x2C00; ++letter) {
    if (letter >= 0x7F && letter < 0xA1) continue;  // that only control
    if (letter < 0x80) {
      all += static_cast<char>(letter);
    } else if (letter < 0x800) {
      all += static_cast<char>(0xC0 | (letter >> 6U));
      all += static_cast<char>(0x80 | (letter & 0x3FU));
    } else {
      all += static_cast<char>(0xE0 | (letter >> 12U));
      all += static_cast<char>(0x80 | ((letter >> 6U) & 0x3FU));
      all += static_cast<char>(0x80 | (letter & 0x3FU));
    }
  }
  CHECK(by(harfbuzz_typesetter).without_glyph(all) == by(pango_typesetter).without_glyph(all));
}

TEST_CASE("lines break at the same words by both") {
  for (const std::string& words : own_texts()) {
    for (const double width : {20.0, 55.0, 110.0}) {
      INFO(words);
      CHECK(ink::broken_into_lines(words, width, ink::kLabelSize, ink::Weight::regular,
                                   FontMeasure(by(harfbuzz_typesetter))) ==
            ink::broken_into_lines(words, width, ink::kLabelSize, ink::Weight::regular,
                                   FontMeasure(by(pango_typesetter))));
    }
  }
}
