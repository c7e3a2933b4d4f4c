#include "render/text.h"

#include <doctest/doctest.h>

#include "ink/frame.h"
#include "support.h"

using namespace pouchwright;
using ink::Anchor;
using ink::Weight;
using render::FontMeasure;
using render::TextOutliner;

namespace {

/// The letters' outlines at their places.
ink::Path outlines(const TextOutliner& outliner, const ink::Text& text) {
  ink::Path path;
  for (const render::Letter& letter : outliner.letters(text)) {
    for (ink::Step step : *letter.outline) {
      for (ink::Point* p : {&step.to, &step.c1, &step.c2}) {
        const ink::Point place = render::set_in(text, *p);
        *p = {letter.at.x + place.x, letter.at.y + place.y};
      }
      path.push_back(step);
    }
  }
  return path;
}

}  // namespace

TEST_CASE("text is as wide as the font file says") {
  // Noto Sans as fonts-noto-core 20201225 has it, table hmtx: H 741, i 258, space 260 of 1000 units
  // to the em; bold H 765, italic H 680.
  const FontMeasure measure(pinned_fonts());
  CHECK(measure.measure("H", 10, Weight::regular).width == doctest::Approx(7.41));
  CHECK(measure.measure("H i", 1000, Weight::regular).width == doctest::Approx(741 + 260 + 258));
  CHECK(measure.measure("H", 10, Weight::bold).width == doctest::Approx(7.65));
  CHECK(measure.measure("H", 10, Weight::italic).width == doctest::Approx(6.80));
  CHECK(measure.measure("", 10, Weight::regular).width == 0);
}

TEST_CASE("lines stand 1.2 of their size apart") {
  // Common practice, no source.
  const auto size = FontMeasure(pinned_fonts()).measure("x", 10, Weight::regular);
  CHECK(size.ascent + size.descent == doctest::Approx(12));
  CHECK(ink::line_distance(10) == doctest::Approx(12));
}

TEST_CASE("figures are all of one width, so that columns of numbers stand in line") {
  // Noto Sans, table hmtx: 572 of 1000.
  const FontMeasure measure(pinned_fonts());
  for (char digit = '0'; digit <= '9'; ++digit) {
    const std::string words(1, digit);
    CHECK(measure.measure(words, 1000, Weight::regular).width == doctest::Approx(572));
    CHECK(measure.measure(words, 1000, Weight::bold).width == doctest::Approx(572));
  }
}

TEST_CASE("digits around a fraction slash are set small, and the whole number is not") {
  // 9 with its blank is as wide as ever; 5/16 with U+2044 is narrower than with a plain stroke.
  const FontMeasure measure(pinned_fonts());
  const auto width = [&](const char* words) {
    return measure.measure(words, 10, Weight::regular).width;
  };
  CHECK(width("5\u204416") < 0.85 * width("5/16"));
  CHECK(width("9\u202F5\u204416") ==
        doctest::Approx(width("9") + width("\u202F") + width("5\u204416")));
  CHECK(width("\u202F") < width(" "));
}

TEST_CASE("width grows in step with size") {
  const FontMeasure measure(pinned_fonts());
  const double small = measure.measure("seal zone, 13 mm", 2.8, Weight::regular).width;
  const double large = measure.measure("seal zone, 13 mm", 28, Weight::regular).width;
  CHECK(large == doctest::Approx(10 * small).epsilon(1e-9));
}

TEST_CASE("a letter's outline stands on its baseline at its true size") {
  // Noto Sans, table glyf: H reaches x 97 to 643, y 0 to 714 of 1000.
  const TextOutliner outliner(pinned_fonts());
  ink::Text text = label("H", {100, 50});
  text.size = 10;  // 100 units to the millimetre
  const ink::Box box = ink::bounds(outlines(outliner, text));
  CHECK(box.x0 == doctest::Approx(100.97).epsilon(0.0001));
  CHECK(box.x1 == doctest::Approx(106.43).epsilon(0.0001));
  CHECK(box.y0 == doctest::Approx(50 - 7.14).epsilon(0.0001));
  CHECK(box.y1 == doctest::Approx(50).epsilon(0.0001));

  text.turn_deg = 90;
  const ink::Box turned = ink::bounds(outlines(outliner, text));
  CHECK(turned.x0 == doctest::Approx(100).epsilon(0.0001));
  CHECK(turned.x1 == doctest::Approx(107.14).epsilon(0.0001));
  CHECK(turned.y0 == doctest::Approx(50.97).epsilon(0.0001));
  CHECK(turned.y1 == doctest::Approx(56.43).epsilon(0.0001));

  text.turn_deg = 0;
  text.anchor = Anchor::end;
  CHECK(ink::bounds(outlines(outliner, text)).x1 == doctest::Approx(100 - 7.41 + 6.43));
}

TEST_CASE("outlines are closed subpaths without idle moves") {
  const TextOutliner outliner(pinned_fonts());
  const ink::Path path = outlines(outliner, label("Bi", {0, 0}));
  int moves = 0;
  int closes = 0;
  for (const ink::Step& step : path) {
    moves += step.verb == ink::Verb::move;
    closes += step.verb == ink::Verb::close;
  }
  CHECK(moves == 5);  // B has an outer and two inner outlines, i a stem and a dot
  CHECK(closes == 5);
  CHECK(path.back().verb == ink::Verb::close);
  CHECK(outlines(outliner, label(" ", {0, 0})).empty());
}

TEST_CASE("the outlines of a long line are complete") {
  const std::string words(200, 'H');
  const ink::Text text = label(words, {0, 0});
  const double width = FontMeasure(pinned_fonts()).measure(words, text.size, text.weight).width;
  const ink::Box box = ink::bounds(outlines(TextOutliner(pinned_fonts()), text));
  // H's right side bearing is 741 - 643 of 1000 units (Noto Sans, tables hmtx and glyf).
  CHECK(box.x1 == doctest::Approx(width - text.size * 98 / 1000).epsilon(0.0001));
}

TEST_CASE("breaks within words do not make a second line") {
  const FontMeasure measure(pinned_fonts());
  CHECK(measure.measure("a\nb", 10, Weight::regular).width >
        measure.measure("a", 10, Weight::regular).width * 1.5);
}

TEST_CASE("a line is its words and blanks side by side") {
  // What lets words be measured once. The one-word texts that stand against it are shaped whole.
  const FontMeasure measure(pinned_fonts());
  for (const Weight weight : {Weight::regular, Weight::bold, Weight::italic}) {
    const auto width = [&](const std::string& words) {
      return measure.measure(words, 1000, weight).width;
    };
    const double blank = width(" ");
    // U+2066 only controls: a text that holds it is shaped whole, and it has no width of its own.
    const std::string whole = "\u2066";
    for (char left = '!'; left <= '~'; ++left) {
      for (char right = '!'; right <= '~'; ++right) {
        const std::string a(1, left);
        const std::string b(1, right);
        const double sum = width(a) + blank + width(b);
        if (width(a + " " + b + whole) - width(whole) != doctest::Approx(sum)) {
          FAIL_CHECK("\"" << a << " " << b << "\" is set closer or wider than its parts");
        }
      }
    }
  }
}

TEST_CASE("text from right to left is shaped as a whole") {
  // Unicode standard annex 9: in a paragraph that begins in Hebrew, Latin words stand in their own
  // order to its left.
  const TextOutliner outliner(pinned_fonts());
  const auto letters = outliner.letters(label("\u05D0 i l H", {0, 0}));
  REQUIRE(letters.size() == 4);
  const ink::Path* const alef = outliner.letters(label("\u05D0", {0, 0})).front().outline;
  CHECK(letters.back().outline == alef);
}
