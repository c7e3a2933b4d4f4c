#include "ink/table.h"

#include "unit/draw/page_support.h"

using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

const EvenMeasure kMeasure;

const Text& text_of(const Frame& row, const std::string& words) {
  for (const Item& item : row.items) {
    const auto* text = std::get_if<Text>(&item);
    if (text != nullptr && text->words == words) return *text;
  }
  FAIL("no text " << words);
  return std::get<Text>(row.items.front());
}

int boxes_in(const Frame& row) {
  int count = 0;
  for (const Item& item : row.items) {
    const auto* shape = std::get_if<Shape>(&item);
    if (shape != nullptr && shape->stroke && bounds(shape->path).height() > 1) ++count;
  }
  return count;
}

}  // namespace

TEST_CASE("amounts end at one edge, each column as wide as its widest words") {
  const Table table{{{.cells = {"thread", "120 m", "3.00"}}, {.cells = {"tape", "1 m", "12.00"}}}};
  const std::vector<Frame> rows = rows_of(table, 100, kMeasure);
  REQUIRE(rows.size() == 2);
  CHECK(text_of(rows[0], "3.00").at.x == doctest::Approx(100));
  CHECK(text_of(rows[0], "3.00").anchor == Anchor::end);
  const double widest = kMeasure.measure("12.00", kSmallestSize, Weight::regular).width;
  for (const Frame& row : rows) {
    const Text& amount = text_of(row, &row == &rows[0] ? "120 m" : "1 m");
    CHECK(amount.anchor == Anchor::end);
    CHECK(amount.at.x < 100 - widest);
    CHECK(amount.at.x == doctest::Approx(text_of(rows[0], "120 m").at.x));
  }
}

TEST_CASE("words that are too long for the first column go on below, and the row grows") {
  const std::string words = "white polyester thread for the long seams at either side";
  const Frame wide = rows_of({{{.cells = {words, "120 m"}}}}, 200, kMeasure).front();
  const Frame narrow = rows_of({{{.cells = {words, "120 m"}}}}, 60, kMeasure).front();
  CHECK(narrow.box.height() > wide.box.height());
  for (const Item& item : narrow.items) {
    const Box box = bounds(item, kMeasure);
    CHECK(box.x0 >= 0);
    CHECK(box.x1 <= 60);
    CHECK(box.y1 <= narrow.box.y1 + 0.2);
  }
}

TEST_CASE("a row has a box to tick, a table's head has none and stands on a tint") {
  const Table table{{{.cells = {"", "Amount"}, .has_box = false, .is_head = true},
                     {.cells = {"thread", "120 m"}}}};
  const std::vector<Frame> rows = rows_of(table, 100, kMeasure);
  CHECK(boxes_in(rows[0]) == 0);
  CHECK(boxes_in(rows[1]) == 1);
  CHECK(std::get<Shape>(rows[0].items.front()).fill == Fill::pale);
  CHECK(text_of(rows[0], "Amount").weight == Weight::bold);
}

TEST_CASE("cells are read from left to right, each row by itself") {
  const std::string words = "white polyester thread for the long seams at either side";
  const Frame row = rows_of({{{.cells = {words, "3", "120 m"}}}}, 60, kMeasure).front();
  std::vector<Role> roles;
  for (const Item& item : row.items) {
    const auto* text = std::get_if<Text>(&item);
    if (text != nullptr && !text->goes_on) roles.push_back(text->role);
  }
  CHECK(roles == std::vector<Role>{Role::row, Role::cell, Role::cell});
  // Where the first cell is empty, the next begins the row.
  const Frame head = rows_of({{{.cells = {"", "Amount"}}}}, 60, kMeasure).front();
  CHECK(text_of(head, "Amount").role == Role::row);
}
