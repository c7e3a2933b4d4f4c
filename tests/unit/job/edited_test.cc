// Jobs' texts with a value changed. Source: TOML 1.0.0, for what a value is.
#include "job/job_text/edited.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace pouchwright::job;

namespace {

const std::string kJob = R"(# a job
construction = "foldover"   # how it is folded
title = 'Say "hi" # now'
units = "mm"

[pouch]
width = "190 mm"    # seam line to seam line
start_finish = { finish = "overedge", takes = "0 mm" }   # brackets } in a comment
list = [
  "a ] b",  # ] not here
  "c"
]
depth = 165

# of the cloth
[[lay.remnant]]
width = "60 cm"

[materials.outer]
width = "110 cm"
text = """
one
width = "no value"
"""
)";

std::string changed(const std::string& text, const std::string& path,
                    const std::optional<std::string>& toml) {
  const auto made = edited(text, path, toml);
  REQUIRE(made);
  return *made;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  REQUIRE(text.find(from) != std::string::npos);
  return text.replace(text.find(from), from.size(), to);
}

WrittenValue value(const std::string& text, const std::string& path) {
  const auto job = written_job(text);
  REQUIRE(job);
  const auto found = std::find_if(job->values.begin(), job->values.end(),
                                  [&](const auto& one) { return one.path == path; });
  REQUIRE(found != job->values.end());
  return *found;
}

}  // namespace

TEST_CASE("values are found by their path, as they are written and typed, with their lines") {
  CHECK(value(kJob, "construction").written == "\"foldover\"");
  CHECK(value(kJob, "title").typed == "Say \"hi\" # now");
  CHECK(value(kJob, "pouch.width").typed == "190 mm");
  CHECK(value(kJob, "pouch.width").first == 7);
  CHECK(value(kJob, "pouch.depth").typed == "165");
  CHECK(value(kJob, "materials.outer.width").first == 20);
  CHECK(value("pouch.width = 3 # three\n", "pouch.width").typed == "3");
  CHECK(value("\xEF\xBB\xBFtitle = \"\\u00bd\\n\"", "title").typed == "½\n");
}

TEST_CASE("what is more than one value is not typed, nor is a text of many lines") {
  CHECK(value(kJob, "pouch.start_finish").written == "{ finish = \"overedge\", takes = \"0 mm\" }");
  CHECK_FALSE(value(kJob, "pouch.start_finish").typed);
  CHECK_FALSE(value(kJob, "pouch.list").typed);
  CHECK(value(kJob, "pouch.list").first == 9);
  CHECK(value(kJob, "pouch.list").last == 12);
  CHECK_FALSE(value(kJob, "materials.outer.text").typed);
  CHECK(written_job(kJob)->values.size() == 11);
  CHECK(written_job(kJob)->tables == std::vector<std::string>{"pouch", "?", "materials.outer"});
}

TEST_CASE("a change keeps all the rest, comments too") {
  const std::string wider = changed(kJob, "pouch.width", "\"200 mm\"");
  CHECK(wider == replaced(kJob, "\"190 mm\"", "\"200 mm\""));
  CHECK(changed(wider, "pouch.width", "\"190 mm\"") == kJob);
  CHECK(changed(kJob, "pouch.depth", std::nullopt) == replaced(kJob, "depth = 165\n", ""));
  CHECK(changed(kJob, "pouch.flap", std::nullopt) == kJob);
  CHECK(changed("a = 'x'\r\nb = 2\r\n", "a", "1") == "a = 1\r\nb = 2\r\n");
  CHECK(changed("\xEF\xBB\xBF"
                "a = '½' # ½\n",
                "a", "1") ==
        "\xEF\xBB\xBF"
        "a = 1 # ½\n");
  CHECK(changed("pouch = { width = 1, depth = 2 }\n", "pouch.width", "3") ==
        "pouch = { width = 3, depth = 2 }\n");
}

TEST_CASE("a new value stands behind the last of its table, which is made where there is none") {
  CHECK(changed(kJob, "pouch.flap", "70") ==
        replaced(kJob, "depth = 165\n", "depth = 165\nflap = 70\n"));
  CHECK(changed(kJob, "ruler", "2") ==
        replaced(kJob, "units = \"mm\"\n", "units = \"mm\"\nruler = 2\n"));
  CHECK(changed("a = 1\n", "pouch.flap", "70") == "a = 1\n\n[pouch]\nflap = 70\n");
  CHECK(changed("[pouch]\nflap = 1\n", "units", "\"in\"") == "units = \"in\"\n[pouch]\nflap = 1\n");
  CHECK(changed("", "units", "\"in\"") == "units = \"in\"\n");
  CHECK(changed("[pouch]", "pouch.flap", "1") == "[pouch]\nflap = 1");
  CHECK(changed("a = 1", "b", "2") == "a = 1\nb = 2");
  CHECK(changed("[materials.outer]\nwidth = 1\n", "materials.laminate", "2") ==
        "[materials.outer]\nwidth = 1\n\n[materials]\nlaminate = 2\n");
}

TEST_CASE("a table makes way for a value of its name, and such a value for a table") {
  CHECK(changed("[materials]\nouter = 1\nlaminate = 2\n", "materials.outer", std::nullopt) ==
        "[materials]\nlaminate = 2\n");
  const std::string own = "[materials.outer]\nwidth = 1\nfrays = true\n\n[paper]\nsize = \"A4\"\n";
  CHECK(changed(own, "materials.outer", std::nullopt) == "\n[paper]\nsize = \"A4\"\n");
  CHECK(changed("[materials]\nouter = \"x\"\n", "materials.outer.width", "1") ==
        "[materials]\n\n[materials.outer]\nwidth = 1\n");
  CHECK(changed("[materials]\n[materials.outer]\nwidth = 1\n", "materials.outer", "\"x\"") ==
        "[materials]\nouter = \"x\"\n");
}

TEST_CASE("what is typed comes back as it was typed") {
  for (const std::string typed : {"190 mm", "7½\"", "a \\ b", "7 1/2 in", "true", "12", "-3.5",
                                  "007", "# [x] = {y}", "tab\there", "'"}) {
    for (const std::string path : {"pouch.width", "title"}) {
      CAPTURE(typed);
      CHECK(value(changed("", path, typed_as_toml(path, typed)), path).typed == typed);
    }
  }
}

TEST_CASE("numbers and truths are written bare, but in texts") {
  CHECK(typed_as_toml("liners.count", "12") == "12");
  CHECK(typed_as_toml("iron.seconds", "-1.5") == "-1.5");
  CHECK(typed_as_toml("iron.steam", "true") == "true");
  CHECK(typed_as_toml("pouch.rolls", "3") == "3");
  CHECK(typed_as_toml("title", "12") == "\"12\"");
  CHECK(typed_as_toml("construction", "true") == "\"true\"");
  CHECK(typed_as_toml("batch.pouches", "012") == "\"012\"");
  CHECK(typed_as_toml("batch.pouches", "1e9") == "\"1e9\"");
  CHECK(typed_as_toml("batch.pouches", "1\n2") == "\"1\\u000a2\"");
}

TEST_CASE("a comma parts a list, or stands for the decimal point where something else parts it") {
  const auto listed = [](const char* typed) { return typed_as_toml("panel.fold_at", typed); };
  CHECK(listed("6 in, 12 in") == R"(["6 in", "12 in"])");
  CHECK(listed("40,80") == "[40, 80]");
  CHECK(listed("40, 80,") == "[40, 80]");
  CHECK(listed("155,5 mm") == R"(["155,5 mm"])");
  CHECK(listed("155,5 mm, 320 mm") == R"(["155,5 mm", "320 mm"])");
  CHECK(listed("155,5; 320") == R"(["155,5", 320])");
  CHECK(listed("4,5 cm,8,5 cm") == R"(["4,5 cm", "8,5 cm"])");
  CHECK(listed(" ") == "[]");
  const std::string job = changed("", "panel.fold_at", listed("155,5 mm, 320 mm"));
  CHECK(value(job, "panel.fold_at").typed == "155,5 mm; 320 mm");
}

TEST_CASE("a text that is no TOML is left as it is") {
  for (const char* text :
       {"= 1", "[", "a = [1, 2", "a = \"\"\" never closed", "a = 'x\nb = 2", "[a]\n[a]\nb=1"}) {
    CHECK_FALSE(edited(text, "pouch.width", "1"));
    CHECK_FALSE(written_job(text));
  }
  // A table in one line takes no further value yet.
  CHECK_FALSE(edited("pouch = { depth = 1 }\n", "pouch.width", "1"));
  CHECK(value("pouch = { depth = 1 }\n", "pouch.depth").typed == "1");
}

TEST_CASE("the last value of a table takes the header with it") {
  const std::string job = "construction = \"foldover\"\n\n[pouch]\nwidth = 190\n";
  const std::string with = changed(job, "liners.count", "3");
  CHECK(with == job + "\n[liners]\ncount = 3\n");
  CHECK(changed(with, "liners.count", std::nullopt) == job);
  // Between two tables, and where another value is left.
  const std::string two = "a = 1\n\n[liners]\ncount = 3\n\n[pouch]\nwidth = 190\ndepth = 165\n";
  CHECK(changed(two, "liners.count", std::nullopt) ==
        "a = 1\n\n[pouch]\nwidth = 190\ndepth = 165\n");
  CHECK(changed(two, "pouch.depth", std::nullopt) == replaced(two, "depth = 165\n", ""));
}

TEST_CASE("a table that has comments is closed by one, and opened again") {
  for (const std::string job :
       {"a = 1\n\n# what it carries\n[liners]\ncount = 3\n",
        "a = 1\n\n[liners]\ncount = 3\n# columns = 1\n\n[pouch]\nwidth = 190\n",
        "a = 1\n\n[liners]   # folded\n# one of:\ncount = 3\n"}) {
    CAPTURE(job);
    const std::string closed = changed(job, "liners.count", std::nullopt);
    CHECK(closed.find("# [liners]") != std::string::npos);
    CHECK(closed == replaced(replaced(job, "[liners]", "# [liners]"), "count = 3\n", ""));
    const std::string again = changed(closed, "liners.count", "3");
    CHECK(again.find("\n[liners]") != std::string::npos);
    CHECK(value(again, "liners.count").written == "3");
  }
}

TEST_CASE("comments of the next table are not the table's") {
  const std::string job = "[liners]\ncount = 3\n\n# of the pouch\n[pouch]\nwidth = 190\n";
  CHECK(changed(job, "liners.count", std::nullopt) == "\n# of the pouch\n[pouch]\nwidth = 190\n");
}
