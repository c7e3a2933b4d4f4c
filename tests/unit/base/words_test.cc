#include "base/words.h"

#include <doctest/doctest.h>

#include "base/message.h"

using namespace pouchwright::base;

namespace {

Words sample() {
  return Words({{"plain", "nothing to fill"},
                {"both", "flap {flap} is more than depth {depth}"},
                {"twice", "{name}, {name}"}});
}

}  // namespace

TEST_CASE("a text is filled by its key") {
  CHECK(sample().filled("plain", {}) == "nothing to fill");
  CHECK(sample().filled("both", {{"depth", "70 mm"}, {"flap", "80 mm"}}) ==
        "flap 80 mm is more than depth 70 mm");
  CHECK(sample().filled("twice", {{"name", "lip"}}) == "lip, lip");
}

TEST_CASE("a key that the table lacks is shown with its texts") {
  CHECK(sample().filled("gone", {}) == "[gone]");
  CHECK(sample().filled("gone", {{"flap", "80 mm"}}) == "[gone flap=80 mm]");
  CHECK(Words().filled("gone", {{"a", "1"}, {"b", "2"}}) == "[gone a=1 b=2]");
}

TEST_CASE("the table can be asked for a key") {
  CHECK(sample().has("plain"));
  CHECK_FALSE(sample().has("gone"));
  CHECK(sample().table().size() == 3);
}

TEST_CASE("an unknown hole stays as it is") {
  CHECK(filled("a {b} c {d}", {{"d", "D"}}) == "a {b} c D");
  CHECK(filled("{}", {{"d", "D"}}) == "{}");
}

TEST_CASE("braces without a partner stay as they are") {
  CHECK(filled("a { b", {{"b", "B"}}) == "a { b");
  CHECK(filled("a } b", {{"b", "B"}}) == "a } b");
  CHECK(filled("{ {b}", {{"b", "B"}}) == "{ B");
  CHECK(filled("} {b} {", {{"b", "B"}}) == "} B {");
  CHECK(filled("", {{"b", "B"}}).empty());
}

TEST_CASE("a value is not filled in turn") {
  // A value may be a user's own text: braces in it are text.
  CHECK(filled("{a}{b}", {{"a", "{b}"}, {"b", "{a}"}}) == "{b}{a}");
}

TEST_CASE("a value may be empty and names may be anything but braces") {
  CHECK(filled("<{a}>", {{"a", ""}}) == "<>");
  CHECK(filled("{größe}", {{"größe", "12 mm"}}) == "12 mm");
}

TEST_CASE("messages compare by key and values") {
  CHECK(Message("key") == Message("key", {}));
  CHECK_FALSE(Message("key", {{"a", "1"}}) == Message("key", {{"a", "2"}}));
}
