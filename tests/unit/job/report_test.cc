#include "job/report/report.h"

#include <doctest/doctest.h>

#include "job/report/print.h"

using namespace pouchwright;
using namespace pouchwright::job;
using base::Length;

namespace {

const base::Words kWords({{"head", "Sizes"},
                          {"width", "width"},
                          {"depth", "how deep"},
                          {"by", "{a} x {b}"},
                          {"more", "and so on"}});
const base::Voice kInInches(kWords, base::default_style(base::Unit::inch));

}  // namespace

TEST_CASE("a field is what its cell holds: lengths in millimetres, times in minutes") {
  const Cell::Fields fields = {{"length", Length::inches(1)},
                               {"rounded", base::at_most(Length::nm(1'500'000))},
                               {"time", base::Time::seconds(90)},
                               {"count", 3},
                               {"ratio", 0.125},
                               {"amount", base::shortened(2.00049, 3)},
                               {"yes", true},
                               {"name", "front"},
                               {"message", base::Message("by", {{"a", 1}, {"b", "c"}})},
                               {"absent", std::optional<int>()},
                               {"list", Cell::List{1, Length::whole_mm(2)}},
                               {"none", Cell::List{}},
                               {"fields", Cell::Fields{{"x", 0}}},
                               {"row", "not here", In::csv_only}};
  // NIST SP 811, appendix B: 1 in = 25.4 mm.
  CHECK(json(fields, kInInches).dump() ==
        R"({"length":25.4,"rounded":1.5,"time":1.5,"count":3,"ratio":0.125,"amount":2.0,)"
        R"("yes":true,"name":"front","message":"1 x c","absent":null,"list":[1,2.0],)"
        R"("none":[],"fields":{"x":0}})");
}

TEST_CASE("what is told to both is one row: the exact length, and as the voice says it") {
  Report report;
  report.row("width_mm", "width", base::in_both(Length::inches(2)));
  CHECK(json(report.fields, kWords).dump() == R"({"width_mm":50.8})");
  CHECK(text(report.blocks, kInInches) == "  width  2 in (≈ 51 mm)\n");
}

TEST_CASE("what is said to people is there cell by cell as well, without the blanks of columns") {
  Report report;
  report.begin(Block::Look::table);
  report.line(Line::Kind::heading, {base::Message("width"), base::Message("depth")});
  report.item({"  a", base::in_both(Length::inches(2))});
  report.begin(Block::Look::steps);
  report.say("more");
  CHECK(said(report.blocks, kInInches).dump() ==
        R"([{"look":"table","lines":[{"kind":"heading","cells":["width","how deep"]},)"
        R"js({"kind":"item","cells":["a","2 in (≈ 51 mm)"]}]},)js"
        R"({"look":"steps","lines":[{"kind":"sentence","cells":["and so on"]}]}])");
}

TEST_CASE("values stand in one column of a block, below headings with white above them") {
  Report report;
  report.heading("head");
  report.row("width", 7);
  report.row("depth", "½");
  report.heading("head");
  report.item({"é", "one"});
  report.begin();
  report.say("more");
  report.row("width", 8);
  CHECK(text(report.blocks, kWords) ==
        "Sizes\n"
        "  width     7\n"
        "  how deep  ½\n"
        "\n"
        "Sizes\n"
        "  é         one\n"
        "\n"
        "and so on\n"
        "  width  8\n");
}

TEST_CASE("steps are numbered, and what is said of one stands together") {
  Report report;
  report.begin(Block::Look::steps, 2);
  report.heading("head");
  report.item({"fold", "", "by hand"});
  report.item({"sew", "both", "by machine"});
  report.item({"test", "", ""});
  CHECK(text(report.blocks, kWords) ==
        "  Sizes\n"
        "     1. fold  by hand\n"
        "     2. sew   both; by machine\n"
        "     3. test\n");
}

TEST_CASE("numbers of a table stand at the right of their columns, below their names") {
  Report report;
  report.begin(Block::Look::table);
  report.line(Line::Kind::heading, {base::Message("head"), "amount", "cost"});
  report.item({"thread", 12, ""});
  report.item({"clips", 7, "1.50"});
  CHECK(text(report.blocks, kWords) ==
        "  Sizes   amount  cost\n"
        "  thread      12\n"
        "  clips        7  1.50\n");
}

TEST_CASE("rows for a spreadsheet have the named columns, and people's words in quotes") {
  Table table;
  table.columns = {
      {"name", Table::Quotes::always}, {"at_min"}, {"wide_mm"}, {"amount"}, {"turned"}};
  table.rows = {{{"turned", true}, {"name", "a, \"b\""}, {"at_min", base::Time::seconds(100)}},
                {{"wide_mm", Length::nm(1'250'000)},
                 {"amount", base::shortened(2.5, 3)},
                 {"other", 1},
                 {"at_min", Cell()},
                 {"turned", false}}};
  // RFC 4180, section 2: quotes within are doubled. 100 s are 1.67 minutes.
  CHECK(csv(table, kInInches) ==
        "name,at_min,wide_mm,amount,turned\n"
        "\"a, \"\"b\"\"\",1.67,,,yes\n"
        "\"\",,1.25,2.5,no\n");
}
