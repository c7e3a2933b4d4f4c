#include "base/voice.h"

#include <doctest/doctest.h>

using namespace pouchwright::base;

namespace {

// 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).
const Words kWords({{"plain", "nothing to fill"},
                    {"flap", "flap {flap} is more than depth {depth}"},
                    {"held", "held by {what}"},
                    {"lay-flat", "make {pouch.width} less than {panel.width}, as {panel.} has it"},
                    {"stated", "{field} is stated"},
                    {"too-wide", "wider than {material}"},
                    {"material-pul-150", "150 cm PUL"},
                    {"file-only", "add a line {key} = …"},
                    {"file-only-desk", "fill in {field}"},
                    {"called-pouch-width", "the width"},
                    {"called-panel", "the panel that is there"},
                    {"called-panel-width", "the panel’s width"},
                    {"called-other", "the {name}"},
                    {"schedule-time", "{hours} h {minutes} min"},
                    {"schedule-time-short", "{minutes} min"}});
const Voice kMetric(kWords);
const Voice kInches(kWords, default_style(Unit::inch));

Length mm(double count) { return Length::mm(count); }

}  // namespace

TEST_CASE("a message is said with its holes filled") {
  CHECK(kMetric.say("plain") == "nothing to fill");
  CHECK(kMetric.say({"flap", {{"depth", mm(70)}, {"flap", mm(80)}}}) ==
        "flap 80 mm is more than depth 70 mm");
  CHECK(kInches.say({"flap", {{"depth", Length::inches(5, 2)}, {"flap", Length::inches(3)}}}) ==
        "flap 3 in is more than depth 2 1/2 in");
}

TEST_CASE("who sees no file reads a material's name as the shop has it, if it has one") {
  const Voice people(kWords, {}, FieldNames::words);
  CHECK(people.say({"too-wide", {{"material", "pul-150"}}}) == "wider than 150 cm PUL");
  CHECK(people.say({"too-wide", {{"material", "our own"}}}) == "wider than our own");
  CHECK(kMetric.say({"too-wide", {{"material", "pul-150"}}}) == "wider than pul-150");
}

TEST_CASE("a key that the words lack is shown with its values") {
  CHECK(kMetric.say("gone") == "[gone]");
  CHECK(kMetric.say({"gone", {{"flap", mm(80)}, {"count", 2}}}) == "[gone flap=80 mm count=2]");
}

TEST_CASE("a length is said as a ruler is read, or to its safe side") {
  CHECK(kMetric.text(mm(12.7)) == "≈ 12.5 mm");
  CHECK(kMetric.text(at_most(mm(12.7))) == "≈ 12.5 mm");
  CHECK(kMetric.text(at_least(mm(12.3))) == "≈ 12.5 mm");
  CHECK(kMetric.text(exact(mm(12.7))) == "12.7 mm");
  CHECK(kInches.text(mm(12.7)) == "1/2 in");
  CHECK(kInches.text(at_most(mm(12))) == "≈ 15/32 in (12 mm)");
  CHECK(kInches.text(at_least(mm(12))) == "≈ 1/2 in (12 mm)");
  CHECK(kInches.text(exact(mm(12))) == "≈ 15/32 in (12 mm)");
}

TEST_CASE("what a hand marks is said on the ruler's step, without a word that it was rounded") {
  CHECK(kMetric.text(mark(mm(12.7))) == "13 mm");
  CHECK(kMetric.text(mark(mm(142))) == "142 mm");
  CHECK(kInches.text(mark(mm(142))) == "5 5/8 in");
  // A ruler that is coarser is for cutting.
  const Voice coarse(kWords, {Unit::mm, mm(5)});
  CHECK(coarse.text(mark(mm(12.7))) == "13 mm");
}

TEST_CASE("a length is said in both units, the voice's first") {
  CHECK(kMetric.text(in_both(mm(190))) == "190 mm (≈ 7 1/2 in)");
  CHECK(kInches.text(in_both(Length::inches(15, 2))) == "7 1/2 in (≈ 191 mm)");
  CHECK(kMetric.text(in_both(at_most(mm(190)))) == "190 mm (≈ 7 3/8 in)");
}

TEST_CASE("a size that is asked for is one that a ruler has") {
  CHECK(kMetric.text(asked(mm(19.5))) == "19.5 mm");
  CHECK(kInches.text(asked(Length::inches(3, 4))) == "3/4 in");
  CHECK(kInches.text(asked(Length::inches(3, 4) + Length::nm(1))) == "13/16 in");
}

TEST_CASE("two lengths that would read alike are said exactly, and so is what lies between") {
  CHECK(kMetric.text(Distinct{mm(140.4), mm(150)}) == "≈ 140 mm");
  CHECK(kMetric.text(Distinct{mm(140.4), mm(140.9)}) == "140.4 mm");
  CHECK(kMetric.text(Difference{mm(150), mm(140)}) == "10 mm");
  CHECK(kMetric.text(Difference{mm(150), mm(140.4)}) == "≈ 10 mm");
  CHECK(kMetric.text(Difference{mm(140.9), mm(140.4)}) == "0.5 mm");
}

TEST_CASE("counts, numbers and names are said as they are") {
  CHECK(kMetric.text(12) == "12");
  CHECK(kMetric.text(std::size_t{3}) == "3");
  CHECK(kMetric.text(-1) == "-1");
  CHECK(kMetric.text(fixed(12.3456, 2)) == "12.35");
  CHECK(kMetric.text(shortened(12.5, 3)) == "12.5");
  CHECK(kMetric.text(figures(973, 2)) == "970");
  CHECK(kMetric.text("the {lip}") == "the {lip}");
}

TEST_CASE("a time is said in hours and minutes, to the nearest") {
  CHECK(kMetric.text(Time::seconds(89)) == "1 min");
  CHECK(kMetric.text(Time::seconds(90)) == "2 min");
  CHECK(kMetric.text(Time::whole_minutes(59)) == "59 min");
  CHECK(kMetric.text(Time::whole_minutes(125)) == "2 h 5 min");
}

TEST_CASE("a list is said with commas, and a message within a message in full") {
  CHECK(kMetric.text(Value::List{mm(10), 2, "lip"}) == "10 mm, 2, lip");
  CHECK(kMetric.text(std::vector<std::string>{"a", "b"}) == "a, b");
  CHECK(kMetric.text(Value::List{}).empty());
  const Message flap{"flap", {{"flap", mm(80)}, {"depth", mm(70)}}};
  CHECK(kInches.say({"held", {{"what", flap}}}) ==
        "held by flap ≈ 3 1/8 in is more than depth ≈ 2 3/4 in");
}

TEST_CASE("values are equal where they say the same thing of the same kind") {
  const Message flap{"flap", {{"flap", mm(80)}}};
  CHECK(Value(flap) == Value(Message{"flap", {{"flap", mm(80)}}}));
  CHECK_FALSE(Value(flap) == Value(Message{"flap", {{"flap", mm(81)}}}));
  CHECK(Value(mm(80)) == Value(mm(80)));
  CHECK_FALSE(Value(mm(80)) == Value(exact(mm(80))));
  CHECK_FALSE(Value("80") == Value(80));
}

TEST_CASE("a value of the job is called by its key in a file, and by its name at the desk") {
  const Voice desk(kWords, {}, FieldNames::words);
  CHECK(kMetric.say("lay-flat") == "make pouch.width less than panel.width, as [panel] has it");
  CHECK(desk.say("lay-flat") ==
        "make the width less than the panel’s width, as the panel that is there has it");
  const Message stated{"stated", {{"field", FieldName{"pouch.width"}}}};
  CHECK(kMetric.say(stated) == "pouch.width is stated");
  CHECK(desk.say(stated) == "the width is stated");
  // What a construction names itself.
  CHECK(desk.say({"stated", {{"field", FieldName{"pouch.strap_width"}}}}) ==
        "the strap width is stated");
}

TEST_CASE("what a file is told in its own letters has other words at the desk") {
  const Voice desk(kWords, {}, FieldNames::words);
  const Message told{"file-only", {{"key", "width"}, {"field", FieldName{"pouch.width"}}}};
  CHECK(kMetric.say(told) == "add a line width = …");
  CHECK(desk.say(told) == "fill in the width");
}
