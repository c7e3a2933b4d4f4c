#include "base/diagnostic.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

using namespace pouchwright::base;

namespace {

Words sample_words() {
  return Words({{"severity-error", "error"},
                {"severity-warning", "warning"},
                {"severity-note", "note"},
                {"severity-hint", "hint"},
                {"deep", "flap depth {flap} is more than the pocket depth {depth}"},
                {"say", "{text}"},
                {"lower", "give {depth} or less"}});
}

std::string shown(const Diagnostic& diagnostic, const Sources& sources = {}) {
  return to_text(diagnostic, sample_words(), sources);
}

Diagnostic fault_at(Place place) { return {Severity::error, std::move(place), "say", {}}; }

/// The two lines that show the source, for a fault at line 1 of `line`.
std::string shown_source(const std::string& line, int column, int end_column) {
  const std::string text = shown(fault_at({"a.toml", 1, column, end_column}), {{"a.toml", line}});
  return text.substr(text.find('\n') + 1);
}

std::vector<std::string> keys(const std::vector<Diagnostic>& diagnostics) {
  std::vector<std::string> result;
  result.reserve(diagnostics.size());
  for (const Diagnostic& diagnostic : diagnostics) result.push_back(diagnostic.message.key);
  return result;
}

std::string repeated(const std::string& what, int times) {
  std::string result;
  for (int i = 0; i < times; ++i) result += what;
  return result;
}

}  // namespace

// ---- Collecting --------------------------------------------------------------------------------

TEST_CASE("faults are sorted by file, line and column, those at one place as found") {
  Diagnostics diagnostics;
  diagnostics.error({"b.toml", 1, 1, 2}, "b-1");
  diagnostics.error({"a.toml", 10, 1, 2}, "a-10");
  diagnostics.warning({"a.toml", 9, 5, 6}, "a-9-5-first");
  diagnostics.error({"a.toml", 9, 5, 7}, "a-9-5-second");
  diagnostics.error({"a.toml", 9, 2, 3}, "a-9-2");
  diagnostics.error({"a.toml", 0, 0, 0}, "a-whole");
  CHECK(keys(diagnostics.sorted()) ==
        std::vector<std::string>{"a-whole", "a-9-2", "a-9-5-first", "a-9-5-second", "a-10", "b-1"});
}

TEST_CASE("many faults at one place keep the order in which they were found") {
  Diagnostics diagnostics;
  std::vector<std::string> found;
  for (int i = 1; i <= 40; ++i) {
    found.push_back("fault-" + std::to_string(i));
    diagnostics.error({"a.toml", 1, 1, 2}, found.back());
  }
  CHECK(keys(diagnostics.sorted()) == found);
}

TEST_CASE("the command line's places come last and faults without a place after them") {
  Diagnostics diagnostics;
  diagnostics.error({}, "nowhere");
  diagnostics.error({"--set pouch.width=1mm", 1, 1, 2}, "set");
  diagnostics.error({"z.toml", 1, 1, 2}, "file");
  CHECK(keys(diagnostics.sorted()) == std::vector<std::string>{"file", "set", "nowhere"});
}

TEST_CASE("faults of one severity can be asked for") {
  Diagnostics diagnostics;
  diagnostics.warning({"a.toml", 1, 1, 2}, "w");
  CHECK_FALSE(diagnostics.has_errors());
  diagnostics.error({"a.toml", 2, 1, 2}, {"e", {{"depth", "70 mm"}}}, {"hint-1", "hint-2"});
  CHECK(diagnostics.has_errors());
  CHECK(keys(diagnostics.sorted(Severity::warning)) == std::vector<std::string>{"w"});
  const auto errors = diagnostics.sorted(Severity::error);
  REQUIRE(errors.size() == 1);
  CHECK(errors[0] == Diagnostic{Severity::error,
                                {"a.toml", 2, 1, 2},
                                {"e", {{"depth", "70 mm"}}},
                                {"hint-1", "hint-2"}});
}

TEST_CASE("fifty errors are kept, further ones counted, warnings always kept") {
  Diagnostics diagnostics;
  for (int i = 1; i <= 50; ++i) diagnostics.error({"a.toml", i, 1, 2}, "e");
  CHECK(diagnostics.not_kept() == 0);
  for (int i = 51; i <= 60; ++i) {
    diagnostics.error({"a.toml", i, 1, 2}, "e");
    diagnostics.warning({"a.toml", i, 1, 2}, "w");
  }
  CHECK(diagnostics.sorted(Severity::error).size() == 50);
  CHECK(diagnostics.sorted(Severity::error).back().place.line == 50);
  CHECK(diagnostics.sorted(Severity::warning).size() == 10);
  CHECK(diagnostics.not_kept() == 10);
}

TEST_CASE("errors that another collection only counted stay counted") {
  Diagnostics others;
  for (int i = 1; i <= 53; ++i) others.error({"b.toml", i, 1, 2}, "e");
  Diagnostics diagnostics;
  diagnostics.error({"a.toml", 1, 1, 2}, "e");
  diagnostics.add_all(others);
  CHECK(diagnostics.sorted(Severity::error).size() == 50);
  CHECK(diagnostics.not_kept() == 4);
}

// ---- Showing -----------------------------------------------------------------------------------

TEST_CASE("a fault is shown with its place, its line, a caret and its hints") {
  const Diagnostic diagnostic{Severity::error,
                              {"patterns/card.toml", 12, 8, 15},
                              {"deep", {{"flap", "80 mm"}, {"depth", "70 mm"}}},
                              {{"lower", {{"depth", "70 mm"}}}, "lower"}};
  const std::string source = repeated("# a line\n", 11) + "flap = \"80 mm\"\n# the next line\n";
  CHECK(shown(diagnostic, {{"patterns/card.toml", source}}) ==
        "patterns/card.toml:12:8: error: flap depth 80 mm is more than the pocket depth 70 mm\n"
        "   12 | flap = \"80 mm\"\n"
        "      |        ^~~~~~~\n"
        "hint: give 70 mm or less\n"
        "hint: give {depth} or less\n");
}

TEST_CASE("a warning says so, in the words of the table") {
  const Diagnostic warning{Severity::warning, {"a.toml", 1, 2, 3}, {"say", {{"text", "thin"}}}, {}};
  CHECK(shown(warning) == "a.toml:1:2: warning: thin\n");
  CHECK(to_text(warning, Words(), {}) == "a.toml:1:2: [severity-warning]: [say text=thin]\n");
}

TEST_CASE("what is not known of the place is left out") {
  const Message oops{"say", {{"text", "oops"}}};
  CHECK(shown({Severity::error, {}, oops, {}}) == "error: oops\n");
  CHECK(shown({Severity::error, {"a.toml", 0, 0, 0}, oops, {}}, {{"a.toml", "x"}}) ==
        "a.toml: error: oops\n");
  CHECK(shown({Severity::error, {"a.toml", 3, 0, 0}, oops, {}}, {{"a.toml", "\n\nx"}}) ==
        "a.toml:3: error: oops\n");
}

TEST_CASE("the caret line covers the stretch and no more than the line") {
  CHECK(shown_source("width = 3", 9, 10) == "    1 | width = 3\n      |         ^\n");
  CHECK(shown_source("width = 3", 1, 6) == "    1 | width = 3\n      | ^~~~~\n");
  CHECK(shown_source("width = 3", 9, 9) == "    1 | width = 3\n      |         ^\n");
  CHECK(shown_source("width = 3", 9, 0) == "    1 | width = 3\n      |         ^\n");
  CHECK(shown_source("width = 3", 7, 99) == "    1 | width = 3\n      |       ^~~\n");
  CHECK(shown_source("width = 3", 99, 100) == "    1 | width = 3\n      |          ^\n");
}

TEST_CASE("columns count code points, whatever their bytes") {
  CHECK(shown_source("größe = 7¼", 9, 11) == "    1 | größe = 7¼\n      |         ^~\n");
}

TEST_CASE("tabs stay tabs below the line, so that the caret meets its column") {
  CHECK(shown_source("\ta\t= 3", 5, 6) == "    1 | \ta\t= 3\n      | \t \t ^\n");
}

TEST_CASE("line ends of either kind are not part of the line") {
  const Sources sources = {{"a.toml", "first\r\nsecond\r\n"}};
  CHECK(shown(fault_at({"a.toml", 2, 1, 7}), sources).find("second\n") != std::string::npos);
  CHECK(shown(fault_at({"a.toml", 1, 1, 99}), sources).find("first\n      | ^~~~~\n") !=
        std::string::npos);
}

TEST_CASE("a line that is absent, empty or too long is not shown") {
  const std::string only_message = "a.toml:2:1: error: {text}\n";
  const Diagnostic fault = fault_at({"a.toml", 2, 1, 2});
  CHECK(shown(fault, {}) == only_message);
  CHECK(shown(fault, {{"b.toml", "x\ny"}}) == only_message);
  CHECK(shown(fault, {{"a.toml", "x"}}) == only_message);
  CHECK(shown(fault, {{"a.toml", "x\n"}}) == only_message);
  CHECK(shown(fault, {{"a.toml", "x\n\ny"}}) == only_message);
  CHECK(shown(fault, {{"a.toml", "x\n" + repeated("ö", 201)}}) == only_message);
  CHECK(shown(fault, {{"a.toml", "x\n" + repeated("ö", 200)}}) != only_message);
  CHECK(shown(fault, {{"a.toml", "x\n" + repeated("y", 1'000'000)}}) == only_message);
}

TEST_CASE("no control character of a file, a name or a value reaches the terminal") {
  // ECMA-48: C0 and C1 controls; RFC 3629: bytes that are no UTF-8; Unicode 15 chapter 23.2:
  // marks that turn the direction.
  const std::string nasty =
      "a\x1B["
      "2J\x07\x7F\u009B\x9B\u202E\u2066\u2028\r\nb\xE0\x80\x9B\xED\xA0\x80\xF0\x80\x80\x80\xF4\x90"
      "\x80\x80";
  const Diagnostic diagnostic{
      Severity::error, {nasty, 1, 1, 2}, {"say", {{"text", nasty}}}, {{"say", {{"text", nasty}}}}};
  const std::string safe = "a?[2J????????" + std::string("?b") + repeated("?", 14);
  CHECK(shown(diagnostic, {{nasty, "\x1B]0;title\x07 = 1"}}) ==
        safe + ":1:1: error: " + safe + "\n    1 | ?]0;title? = 1\n      | ^\nhint: " + safe +
            "\n");
}

TEST_CASE("ordinary writing of every size of code point passes unchanged") {
  const std::string text = "180 mm\t7¼″ ≈ ★ 𝄞 \U0010FFFD";
  CHECK(shown({Severity::error, {}, {"say", {{"text", text}}}, {}}) == "error: " + text + "\n");
}

TEST_CASE("a failure carries its diagnostic") {
  const Failure failure("out.pdf", {"disk-full", {{"file", "out.pdf"}}}, {"make-room"});
  CHECK(failure.diagnostic() == Diagnostic{Severity::error,
                                           {"out.pdf", 0, 0, 0},
                                           {"disk-full", {{"file", "out.pdf"}}},
                                           {"make-room"}});
  CHECK(std::string(failure.what()) == "disk-full");
}

// ---- Nearest word ------------------------------------------------------------------------------

TEST_CASE("the nearest known word is offered") {
  const std::vector<std::string> known = {"width", "depth", "lip-drop", "flap", "seam-allowance"};
  CHECK(nearest("widht", known) == "width");  // two neighbours swapped
  CHECK(nearest("wdith", known) == "width");
  CHECK(nearest("dept", known) == "depth");  // one left out
  CHECK(nearest("flapp", known) == "flap");  // one too many
  CHECK(nearest("lip_drop", known) == "lip-drop");
  CHECK(nearest("width", known) == "width");
  CHECK(nearest("seamallowanse", known) == "seam-allowance");
}

TEST_CASE("a word that is too far from all of them is not replaced") {
  const std::vector<std::string> known = {"width", "depth", "x"};
  CHECK(nearest("colour", known).empty());
  CHECK(nearest("wixyz", known).empty());
  CHECK(nearest("y", known).empty());
  CHECK(nearest("", known).empty());
  CHECK(nearest("width", {}).empty());
}

TEST_CASE("of words equally near the first is offered, a nearer one before it") {
  CHECK(nearest("bat", {"cat", "hat"}) == "cat");
  CHECK(nearest("lip-dorp", {"lip-dort", "lip-drop"}) == "lip-dort");
  CHECK(nearest("seal-widht", {"seal-wide", "seal-width"}) == "seal-width");
}

TEST_CASE("one letter beyond ASCII counts as one") {
  CHECK(nearest("groß", {"grob"}) == "grob");
  CHECK(nearest("größe", {"grosse", "grase"}).empty());
  CHECK(nearest("größe", {"groesse", "größen"}) == "größen");
}

TEST_CASE("a word of a hundred thousand letters is refused quickly") {
  CHECK(nearest(repeated("x", 100'000), {"width", "depth"}).empty());
}

TEST_CASE("a note is kept, counted among no errors, and told as one") {
  Diagnostics diagnostics;
  diagnostics.note({"a.toml", 1, 2, 3}, {"say", {{"text", "always so"}}});
  CHECK_FALSE(diagnostics.has_errors());
  CHECK(diagnostics.sorted(Severity::warning).empty());
  REQUIRE(diagnostics.sorted(Severity::note).size() == 1);
  CHECK(shown(diagnostics.sorted(Severity::note).front()) == "a.toml:1:2: note: always so\n");
}

TEST_CASE("a pouch that leaks is told of before all else that is warned of") {
  Diagnostics found;
  found.warning({"job.toml", 1, 1, 2}, {"say", {{"text", "first"}}});
  found.add({.severity = Severity::warning,
             .place = {"job.toml", 9, 1, 2},
             .message = {"say", {{"text", "leaks"}}},
             .leaks = true});
  found.error({"job.toml", 5, 1, 2}, {"say", {{"text", "wrong"}}});
  const auto warnings = found.sorted(Severity::warning);
  REQUIRE(warnings.size() == 2);
  CHECK(warnings[0].leaks);
  // Together with errors, the order of the file.
  CHECK(found.sorted().front().place.line == 1);
}

TEST_CASE("a remedy is typed with its unit and says what it does") {
  const Words words({{"remedy-set", "set {field} to {value}"},
                     {"remedy-leave-out", "leave {field} out"},
                     {"own", "take it"}});
  const Voice mm(words);
  const Voice inches(words, default_style(Unit::inch));
  const Remedy seal{"pouch.seal_width", exact(Length::inches(5, 8))};
  CHECK(typed(seal, mm) == "15.875 mm");
  CHECK(typed(seal, inches) == "5/8 in");
  CHECK(inches.say(told(seal)) == "set pouch.seal_width to 5/8 in");
  CHECK(typed({"liners.count", 3}, mm) == "3");
  CHECK(typed({"batch.spoiled", "4 %"}, mm) == "4 %");
  CHECK(typed({"pouch.knife"}, mm).empty());
  CHECK(mm.say(told({"pouch.knife"})) == "leave pouch.knife out");
  CHECK(mm.say(told({"a", "b", {"own"}})) == "take it");
}
