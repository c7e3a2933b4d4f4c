#include "job/command_table.h"

#include <doctest/doctest.h>

#include <set>

using namespace pouchwright::job;

TEST_CASE("every command has one row, found by its name and by itself") {
  std::set<std::string> names;
  for (const CommandRow& row : command_table()) {
    CHECK(names.insert(row.name).second);
    CHECK(command_called(row.name) == &row);
    CHECK(&row_of(row.command) == &row);
  }
  CHECK(command_called("sizes") == nullptr);
}

TEST_CASE("no command has an option twice") {
  for (const CommandRow& row : command_table()) {
    std::set<std::string> names;
    for (const OptionRow* option : row.options) CHECK(names.insert(option->name).second);
  }
}

TEST_CASE("choices are words between strokes, and a stroke between two forms is no choice") {
  const CommandRow& lay = *command_called("lay");
  const auto choices = [&](std::string_view name) {
    for (const OptionRow* option : lay.options) {
      if (option->name == name) return option->choices();
    }
    return std::vector<std::string>{"no such option"};
  };
  CHECK(choices("--units") == std::vector<std::string>{"mm", "in"});
  CHECK(choices("--turn") == std::vector<std::string>{"either", "along", "across"});
  CHECK(choices("--paper").empty());
  CHECK(choices("--plies").empty());
  CHECK(choices("--json").empty());
}

TEST_CASE("a query sets what the option of the command line sets") {
  JobOptions options;
  CHECK(take_from_query(options, "square", "49.6x50.2"));
  CHECK(options.printed_square == "49.6x50.2");
  CHECK(take_from_query(options, "set", "pouch.depth=180mm"));
  CHECK(take_from_query(options, "set", "pouch.flap=60mm"));
  CHECK(options.sets == std::vector<std::string>{"pouch.depth=180mm", "pouch.flap=60mm"});
  CHECK(take_from_query(options, "picture", "wordless"));
  CHECK(options.wordless);
  CHECK_FALSE(options.finished);
  CHECK(take_from_query(options, "units", "in"));
  CHECK(take_from_query(options, "form", "text"));
  CHECK(options.form == Form::text);
  CHECK(take_from_query(options, "form", "said"));
  CHECK(options.form == Form::said);
}

TEST_CASE("a query that names what the desk has not, or a value that is none, is refused") {
  JobOptions options;
  CHECK_FALSE(take_from_query(options, "units", "ft"));
  CHECK_FALSE(take_from_query(options, "picture", "all"));
  CHECK_FALSE(take_from_query(options, "picture", ""));
  CHECK_FALSE(take_from_query(options, "out", "/tmp"));
  CHECK_FALSE(take_from_query(options, "apply", "1"));
  CHECK_FALSE(take_from_query(options, "", ""));
  CHECK_FALSE(options.units.has_value());
}

TEST_CASE("a cut plan of pieces and a printer's page need no job") {
  JobOptions options;
  const CommandRow& lay = *command_called("lay");
  CHECK_FALSE(lay.goes_alone(options));
  options.quick.pieces = {"panel = 204 x 360 mm"};
  CHECK(lay.goes_alone(options));
  options.job_file = "pouch.toml";
  CHECK_FALSE(lay.goes_alone(options));
  options.test_page = true;
  CHECK(command_called("template")->goes_alone(options));
}
