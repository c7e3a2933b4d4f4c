#include "ink/flow.h"

#include "unit/draw/page_support.h"

using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

const EvenMeasure kMeasure;
constexpr Point kRoom{190, 277};

Frame box_of(double width, double height) {
  Frame made;
  made.box = {0, 0, width, height};
  made.draw(rectangle({1, 1, width - 1, height - 1}), {LinePattern::continuous, 0.25});
  return made;
}

const Text& text_with(const Drawing& page, const std::string& words) {
  for (const Text* text : texts_of(page)) {
    if (text->words == words) return *text;
  }
  FAIL("no text " << words);
  return *texts_of(page).front();
}

Box picture_in(const Drawing& page) {
  for (const Item& item : page.items) {
    if (std::holds_alternative<Shape>(item)) return bounds(std::get<Shape>(item).path);
  }
  FAIL("no picture");
  return {};
}

}  // namespace

TEST_CASE("steps are numbered from one behind each heading") {
  TextPages pages("test", "Title", kRoom, TextPages::Columns::one, kMeasure);
  pages.add({heading("H"), step("first"), step("second"), heading("I"), step("third")});
  const std::string words = all_words(pages.finished());
  CHECK(words == "Title H first 1 second 2 I third 1 ");
}

TEST_CASE("a mark stands left of its words, on their line") {
  TextPages pages("test", "Title", kRoom, TextPages::Columns::one, kMeasure);
  pages.add({point("words", "a")});
  const Drawing page = pages.finished().front();
  CHECK(text_with(page, "a").at.y == text_with(page, "words").at.y);
  CHECK(text_with(page, "a").at.x < text_with(page, "words").at.x);
}

TEST_CASE("a full page is followed by another, and a heading is not left behind") {
  TextPages pages("test", "Title", {190, 60}, TextPages::Columns::one, kMeasure);
  for (int i = 0; i < 4; ++i) pages.add({text_paragraph("words")});
  pages.make_room(0);
  const double left = pages.height_left();
  REQUIRE(left > 8);
  pages.add_gap(left - 9);  // room for the heading only
  pages.add({heading("Heading"), text_paragraph("below")});
  const auto made = pages.finished();
  REQUIRE(made.size() == 2);
  CHECK_FALSE(has(all_words(made[0]), "Heading"));
  CHECK(has(all_words(made[1]), "Title Heading below"));
}

TEST_CASE("a picture stands right of words where both fit, else below them") {
  TextPages wide("test", "Title", kRoom, TextPages::Columns::one, kMeasure);
  wide.add_beside({text_paragraph("words")}, box_of(60, 40));
  const Drawing beside = wide.finished().front();
  CHECK(picture_in(beside).x0 > 120);
  CHECK(picture_in(beside).y0 < text_with(beside, "words").at.y + 1);
  TextPages narrow("test", "Title", {100, 190}, TextPages::Columns::one, kMeasure);
  narrow.add_beside({text_paragraph("words")}, box_of(60, 40));
  const Drawing below = narrow.finished().front();
  CHECK(picture_in(below).x0 < 5);
  CHECK(picture_in(below).y0 > text_with(below, "words").at.y);
}

TEST_CASE("a picture is never broken") {
  TextPages pages("test", "Title", {190, 100}, TextPages::Columns::one, kMeasure);
  pages.add(box_of(100, 50));
  pages.add(box_of(100, 50));
  CHECK(pages.finished().size() == 2);
}

TEST_CASE("wide rooms have two columns, narrow ones one") {
  const TextPages wide("test", "Title", kRoom, TextPages::Columns::two, kMeasure);
  CHECK(wide.width() == doctest::Approx(90));
  const TextPages narrow("test", "Title", {128, 190}, TextPages::Columns::two, kMeasure);
  CHECK(narrow.width() == doctest::Approx(128));
}
