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
  CHECK(words == "Title H 1 first 2 second I 1 third ");
}

TEST_CASE("in columns both end as high as can be, and are read one after the other") {
  TextPages pages("test", "Title", {190, 277}, TextPages::Columns::one, kMeasure);
  std::string longer;
  for (int i = 0; i < 60; ++i) longer += "word ";
  pages.add_in_columns({step(longer), step(longer), step("third"), step("fourth")});
  const Drawing page = pages.finished().front();
  double left = 0;
  double right = 0;
  std::string marks;
  for (const Text* text : texts_of(page)) {
    if (text->role == Role::mark) marks += text->words;
    if (text->role == Role::by_size) continue;
    (text->at.x < 95 ? left : right) = text->at.y;
  }
  CHECK(marks == "1234");
  // One long paragraph to the left, the other and the two short ones to the right.
  CHECK(left < right);
  CHECK(right - left < 4 * line_distance(kTextSize));
  for (const Text* text : texts_of(page)) CHECK(bounds(*text, kMeasure).x1 <= 190);
}

TEST_CASE("running text is broken to a line that is read with ease, headings are not") {
  TextPages pages("test", "Title", {260, 277}, TextPages::Columns::one, kMeasure);
  std::string words;
  for (int i = 0; i < 60; ++i) words += "word ";
  pages.add({text_paragraph(words)});
  for (const Text* text : texts_of(pages.finished().front())) {
    CHECK(text->words.size() <= 75);  // common practice, no source
  }
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

TEST_CASE("frames stand below each other with the gap between them, and a rule in its middle") {
  Flow flow({"test", "Title", {50, 40}}, {.gap = 4, .rule = Stroke{LinePattern::dotted, 0.25}});
  for (int i = 0; i < 3; ++i) flow.add(box_of(50, 12));
  flow.add(box_of(50, 12));  // 3 * 12 + 2 * 4 = 44 > 40: the third begins a page
  REQUIRE(flow.pages().size() == 2);
  const std::vector<Item>& first = flow.pages().front().items;
  REQUIRE(first.size() == 3);
  CHECK(bounds(std::get<Shape>(first[1]).path).y0 == doctest::Approx(12 + 4 / 2));
  CHECK(bounds(std::get<Shape>(first[2]).path).y0 == doctest::Approx(12 + 4 + 1));
  // No rule over the first of a page.
  CHECK(bounds(std::get<Shape>(flow.pages().back().items.front()).path).y0 == doctest::Approx(1));
}

TEST_CASE(
    "what goes on on a further page says there what it belongs to, the next matter does not") {
  Flow flow({"test", "Title", {80, 40}});
  const Frame head = title_head("Plan", kTextSize, {80, 40}, kMeasure);
  flow.add_under(head, {box_of(50, 12), box_of(50, 12), box_of(50, 20)});
  flow.add_under(title_head("Next", kTextSize, {80, 40}, kMeasure),
                 {box_of(50, 20), box_of(50, 15)});
  REQUIRE(flow.pages().size() == 3);
  CHECK_FALSE(has(all_words(flow.pages()[0]), "Plan"));
  CHECK(has(all_words(flow.pages()[1]), "Plan"));
  CHECK_FALSE(has(all_words(flow.pages()[2]), "Plan"));
  CHECK_FALSE(has(all_words(flow.pages()[2]), "Next"));
}

TEST_CASE("a sheet without breaks grows; a page may be as high as what it holds") {
  Flow grows({"test", "Title", {50, 20}}, {.breaks = Breaks::none});
  Flow low({"test", "Title", {50, 20}}, {.height = PageHeight::taken});
  for (int i = 0; i < 3; ++i) {
    grows.add(box_of(50, 12));
    low.add(box_of(50, 12));
  }
  REQUIRE(grows.pages().size() == 1);
  CHECK(grows.pages().front().extent.y1 == doctest::Approx(36));
  REQUIRE(low.pages().size() == 3);
  CHECK(low.pages().front().extent.y1 == doctest::Approx(12));
}

TEST_CASE("a frame tells where its first item stands") {
  Flow flow({"test", "Title", {50, 20}}, {.first_head = box_of(50, 5)});
  CHECK(flow.add(box_of(50, 12)).item == 1);  // behind the head's own
  const ItemIndex second = flow.add(box_of(50, 12));
  CHECK(second.page == 1);
  CHECK(second.item == 0);
}
