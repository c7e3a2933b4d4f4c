// Construction files: both of patterns/ read whole, and what can be wrong in one.
#include "support.h"

using namespace pouchwright;
using namespace pouchwright::input;
using base::Length;
using test::Lines;
using test::told;

namespace {

struct Read {
  std::optional<pouch::Construction> made;
  Lines told;
  Lines hints;
};

Read read(const std::string& text) {
  base::Diagnostics diagnostics;
  Read result;
  const auto found = read_construction({"own.toml", text}, "own", diagnostics);
  if (found) result.made = found->construction;
  result.told = told(diagnostics, "own.toml");
  result.hints = test::first_hints(diagnostics);
  return result;
}

/// The fold-over pouch's file with one stretch of it replaced.
std::string foldover_with(const std::string& old_text, const std::string& new_text) {
  std::string text = test::source_file("patterns/foldover.toml").text;
  const auto at = text.find(old_text);
  REQUIRE(at != std::string::npos);
  return text.replace(at, old_text.size(), new_text);
}

pouch::Construction pattern(const std::string& name) {
  base::Diagnostics diagnostics;
  const auto made =
      read_construction(test::source_file("patterns/" + name + ".toml"), name, diagnostics);
  CHECK(told(diagnostics) == Lines{});
  REQUIRE(made);
  return made->construction;
}

std::string form(const pouch::LinearForm& length) {
  std::string text;
  for (const auto& term : length.terms) {
    text += (text.empty() ? "" : " + ") + std::to_string(term.numerator) + "/" +
            std::to_string(term.denominator) + " " + term.size;
  }
  return text;
}

Lines operations(const pouch::Construction& made) {
  Lines lines;
  for (const auto& operation : made.operations) {
    std::string line = operation.id + ":";
    for (const std::size_t need : operation.needs) line += " " + made.operations[need].id;
    lines.push_back(line);
  }
  return lines;
}

}  // namespace

TEST_CASE("the fold-over pouch is read as its file states it") {
  const auto made = pattern("foldover");
  CHECK(made.name == "foldover");
  CHECK_FALSE(made.title.empty());
  CHECK_FALSE(made.about.empty());
  CHECK(made.flap_law == pouch::FlapLaw::caught);
  CHECK(made.span(made.bottom_a).name == "front");
  CHECK(made.span(made.bottom_b).name == "back");
  CHECK(made.span(made.spare).name == "flap");
  CHECK(made.span(made.depth_span).name == "back");
  CHECK(made.flap_span == made.spare);
  CHECK_FALSE(made.turn_of_cloth);
  REQUIRE(made.panels.size() == 1);
  REQUIRE(made.panels[0].spans.size() == 3);
  CHECK(made.panels[0].spans[0].name == "front");
  CHECK(form(made.panels[0].spans[0].length) == "1/1 depth + -1/1 lip_drop");
  CHECK(form(made.panels[0].spans[2].length) == "1/1 flap");
  REQUIRE(made.compartments.size() == 1);
  REQUIRE(made.compartments[0].film.size() == 2);
  CHECK(made.compartments[0].film[1] == made.depth_span);
  CHECK(operations(made) ==
        Lines{"pair:", "finish-start: pair", "finish-end: pair", "card-in: finish-start finish-end",
              "fold-front: finish-start card-in", "press-sides: fold-front",
              "card-out: press-sides", "look: card-out", "fill-first: look",
              "fold-flap: fill-first", "sew-sides: fold-flap", "tails: sew-sides", "test: tails"});
  const auto* fold = made.operations[4].as<pouch::does::Fold>();
  REQUIRE(fold);
  CHECK(fold->between_a == made.bottom_a);
  CHECK(fold->between_b == made.bottom_b);
  CHECK(fold->turn == made.bottom_a);
  CHECK(fold->landing == pouch::Landing::on_top);
  const auto* press = made.operations[5].as<pouch::does::Press>();
  REQUIRE(press);
  CHECK(press->from == pouch::PressFrom::front);
  CHECK(press->edges == std::vector{pouch::Edge::left, pouch::Edge::right});
  const auto* finish = made.operations[2].as<pouch::does::Finish>();
  REQUIRE(finish);
  CHECK(finish->end == pouch::Edge::end);
}

TEST_CASE("a construction's sizes have defaults and say where nothing is something") {
  const auto made = pattern("foldover");
  const auto standard = [&](const char* name) { return made.size_rule(name)->standard; };
  CHECK(standard("width") == Length::whole_mm(190));
  CHECK(standard("depth") == Length::whole_mm(150));
  CHECK(standard("flap") == Length::whole_mm(70));
  CHECK(standard("lip_drop") == Length::whole_mm(10));
  CHECK(standard("seam_allowance") == Length::whole_mm(7));
  CHECK(standard("seal_width") == Length::whole_mm(16));
  // Both systems have a default, each on its own ruler.
  CHECK(made.size_rule("seal_width")->usual(base::Unit::inch) == Length::inches(5, 8));
  CHECK(made.size_rule("lip_drop")->usual(base::Unit::inch) == Length::inches(1, 2));
  CHECK(made.size_rule("seal_width")->usual(base::Unit::mm) == Length::whole_mm(16));
  CHECK(made.size_rule("seal_width")->usual_before(base::Unit::mm) == Length::whole_mm(13));
  CHECK_FALSE(made.size_rule("lip_drop")->usual_before(base::Unit::mm));
  CHECK(made.size_rule("lip_drop")->usual_before(base::Unit::inch) == Length::whole_mm(10));
  CHECK(made.size_rule("lip_drop")->zero == pouch::Zero::allowed);
  CHECK(made.size_rule("width")->zero == pouch::Zero::refused);
  // Every construction has these two, stated or not.
  CHECK_FALSE(standard("needle_reach"));
  CHECK_FALSE(standard("min_clear_seal"));
  CHECK(made.size_rule("min_clear_seal")->zero == pouch::Zero::allowed);
  CHECK_FALSE(made.size_rule("gusset"));
}

TEST_CASE("the gusset pouch has a size of its own and spans of half of it") {
  const auto made = pattern("gusset");
  CHECK(made.size_rule("gusset")->standard == Length::whole_mm(50));
  REQUIRE(made.panels[0].spans.size() == 5);
  CHECK(form(made.panels[0].spans[1].length) == "1/2 gusset");
  CHECK(made.span(made.bottom_a).name == "gusset-back");
  CHECK(made.compartments[0].film.size() == 4);
  CHECK(made.operations.size() == 15);
}

TEST_CASE("what a file does not say is missing at its place") {
  CHECK(read("").told == Lines{"0:0 key-missing key=bottom", "0:0 key-missing key=spare",
                               "0:0 key-missing key=depth_is", "0:0 key-missing key=size",
                               "0:0 key-missing key=panel"});
  CHECK(read(foldover_with("between = [\"front\", \"back\"]\n", "")).told ==
        Lines{"61:1 key-missing key=operation.between"});
  CHECK(read(foldover_with("turn = \"front\"\n", "")).told ==
        Lines{"61:1 key-missing key=operation.turn"});
  CHECK(read(foldover_with("edges = [\"sides\"]\n", "")).told ==
        Lines{"68:1 key-missing key=operation.edges"});
  CHECK(read(foldover_with("end = \"start\"\n", "")).told ==
        Lines{"44:1 key-missing key=operation.end"});
  CHECK(read(foldover_with("do = \"pair\"\n", "")).told ==
        Lines{"40:1 key-missing key=operation.do"});
}

TEST_CASE("wrong kinds and words are told at their value") {
  for (const char* known : {"free", "none", "rolled"}) {
    CHECK(read(foldover_with("flap = \"caught\"", "flap = \"" + std::string(known) + "\"")).told ==
          Lines{});
  }
  CHECK(read(foldover_with("flap = \"caught\"", "flap = \"loose\"")).told ==
        Lines{"12:8 not-a-choice key=flap text=loose"});
  CHECK(read(foldover_with("do = \"press\"", "do = \"iron\"")).told ==
        Lines{"70:6 not-a-choice key=operation.do text=iron"});
  CHECK(read(foldover_with("edges = [\"sides\"]", "edges = [\"sides\", \"lip\"]")).told ==
        Lines{"71:19 not-a-choice key=edges text=lip"});
  CHECK(read(foldover_with("from = \"front\"", "from = \"below\"")).told ==
        Lines{"72:8 not-a-choice key=operation.from text=below"});
  CHECK(read(foldover_with("needs = [\"fold-front\"]", "needs = \"fold-front\"")).told ==
        Lines{"73:9 wrong-kind-texts key=operation.needs"});
  CHECK(read(foldover_with("bottom = [\"front\", \"back\"]", "bottom = [\"front\"]")).told ==
        Lines{"13:10 two-spans key=bottom"});
  CHECK(read(foldover_with("length = { flap = 1 }", "length = 70")).told ==
        Lines{"31:29 wrong-kind-table key=span.length"});
  CHECK(
      read(foldover_with("width = { default = \"190 mm\"", "width = { default = \"0 mm\"")).told ==
      Lines{"19:21 length-zero key=size.width.default text=0 mm"});
}

TEST_CASE("an operation's key that another operation has is unknown") {
  CHECK(read(foldover_with("do = \"pair\"", "do = \"pair\"\nend = \"start\"")).told ==
        Lines{"43:1 key-unknown key=operation.end"});
  CHECK(read(foldover_with("do = \"finish\"", "do = \"finish\"\nturn = \"front\"")).told ==
        Lines{"47:1 key-unknown key=operation.turn"});
}

TEST_CASE("a share of a size is a whole number or a fraction") {
  const auto share = [](const std::string& written) {
    return read(foldover_with("length = { flap = 1 }", "length = { flap = " + written + " }"));
  };
  CHECK(share("\"3/4\"").told == Lines{});
  CHECK(form(share("\"-1/2\"").made->panels[0].spans[2].length) == "-1/2 flap");
  for (const std::string wrong :
       {"0.5", "true", "\"1/0\"", "\"half\"", "\"1/\"", "\"1/2x\"", "1001", "\"1/1001\"",
        "-9223372036854775808", "\"\"", "\"1/-2\""}) {
    CAPTURE(wrong);
    CHECK(share(wrong).told == Lines{"31:38 not-a-weight size=flap"});
  }
}

TEST_CASE("names that nothing has are told with the nearest one") {
  const auto spare = read(foldover_with("spare = \"flap\"", "spare = \"flop\""));
  CHECK(spare.told == Lines{"14:9 span-unknown span=flop"});
  CHECK(spare.hints == Lines{"did-you-mean word=flap"});
  const auto size = read(foldover_with("{ depth = 1, lip_drop", "{ depht = 1, lip_drop"));
  CHECK(size.told == Lines{"29:32 size-unknown size=depht"});
  CHECK(size.hints == Lines{"did-you-mean word=depth"});
  const auto need = read(foldover_with("needs = [\"tails\"]", "needs = [\"tail\"]"));
  CHECK(need.told == Lines{"112:10 operation-unknown operation=tail"});
}

TEST_CASE("a fold between spans that do not touch is told at its pair") {
  CHECK(read(foldover_with("between = [\"front\", \"back\"]", "between = [\"front\", \"flap\"]"))
            .told == Lines{"64:11 spans-do-not-touch a=front b=flap"});
}

TEST_CASE("an operation before what it needs is told at its own place") {
  CHECK(read(foldover_with("needs = [\"pair\"]", "needs = [\"finish-end\"]")).told ==
        Lines{"45:6 operation-out-of-order operation=finish-start need=finish-end"});
}

TEST_CASE("the same line cannot be folded twice, nor a fold turn a third span") {
  CHECK(read(foldover_with("between = [\"back\", \"flap\"]", "between = [\"front\", \"back\"]"))
            .told ==
        Lines{"92:6 folded-twice a=front b=back", "95:8 turns-another turn=flap a=front b=back"});
}

TEST_CASE("operations that need each other in a circle are told once") {
  const auto circle =
      read(foldover_with("needs = [\"press-sides\"]", "needs = [\"press-sides\", \"look\"]"));
  CHECK(circle.told == Lines{"76:6 operations-in-a-circle chain=card-out, look, card-out"});
}

TEST_CASE("bare numbers are in the file's own units") {
  std::string text = foldover_with("width = { default = \"190 mm\"", "width = { default = 7.5");
  CHECK(read("units = \"in\"\n" + text).made->size_rule("width")->standard ==
        Length::inches(15, 2));
  CHECK(read(text).made->size_rule("width")->standard == Length::nm(7'500'000));
}

TEST_CASE("units that are none are told") {
  const std::string text = test::source_file("patterns/foldover.toml").text;
  CHECK(read("units = \"ft\"\n" + text).told == Lines{"1:9 not-a-choice key=units text=ft"});
}
