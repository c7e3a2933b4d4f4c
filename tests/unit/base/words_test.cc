#include "base/words.h"

#include <doctest/doctest.h>

#include "base/message.h"
#include "base/reading.h"

using namespace pouchwright::base;

namespace {

Words sample() {
  return Words({{"plain", "nothing to fill"},
                {"both", "flap {flap} is more than depth {depth}"},
                {"twice", "{name}, {name}"}});
}

std::string filled(std::string_view pattern, const Texts& texts) {
  Plurals english;
  REQUIRE(english.add("one", "i = 1 and v = 0"));
  return pouchwright::base::filled(pattern, texts, english);
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

TEST_CASE("a count takes the form that goes with it") {
  const std::string pattern =
      "{n, plural, =0 {nothing} one {{n} liner of {all}} other {{n} liners of {all}}}, dry";
  CHECK(filled(pattern, {{"n", "1"}, {"all", "9"}}) == "1 liner of 9, dry");
  CHECK(filled(pattern, {{"n", "3"}, {"all", "9"}}) == "3 liners of 9, dry");
  CHECK(filled(pattern, {{"n", "0"}, {"all", "9"}}) == "nothing, dry");
  CHECK(filled(pattern, {{"n", "about 1"}, {"all", "9"}}) == "about 1 liners of 9, dry");
  // One form within another's.
  CHECK(filled("{a, plural, one {{b, plural, one {A B} other {A Bs}}} other {As}}",
               {{"a", "1"}, {"b", "2"}}) == "A Bs");
}

TEST_CASE("forms that cannot be read, or of an unknown hole, stay as they are") {
  for (const char* pattern : {"{n, plural, one {x}}", "{n, plural, one {x} other}", "{n, plural,}",
                              "{n, plural, one {x} other {y}", "{n, number}", "{n, plural}"}) {
    CAPTURE(pattern);
    CHECK(filled(pattern, {{"n", "1"}}) == pattern);
  }
  CHECK(filled("{m, plural, one {x {n}} other {y}}", {{"n", "1"}}) ==
        "{m, plural, one {x 1} other {y}}");
}

TEST_CASE("a language says at its head how it counts and writes") {
  const Words swapped({{"language-name", "Deutsch"},
                       {"language-decimal", ","},
                       {"language-direction", "rtl"},
                       {"language-plural-two", "n = 2"},
                       {"language-state", "drafted by a machine"}});
  const Language& head = swapped.language();
  CHECK(head.name == "Deutsch");
  CHECK(head.decimal_mark == ",");
  CHECK(head.direction == Language::Direction::from_right);
  CHECK(head.plurals.category("2") == "two");
  CHECK(head.is_draft);
  CHECK(head.unread.empty());
  const Words wrong({{"language-direction", "up"},
                     {"language-plural-one", "n is 1"},
                     {"language-state", "good"}});
  CHECK(wrong.language().unread ==
        std::vector<std::string>{"language-direction", "language-plural-one", "language-state"});
  CHECK(Words().language().decimal_mark == ".");
}

TEST_CASE("one language is laid over another, its head alone counts") {
  const Words under({{"a", "A"},
                     {"c", "C"},
                     {"language-name", "English"},
                     {"language-plural-one", "n = 1"},
                     {"z", "Z"}});
  const Words over({{"b", "be"}, {"c", "ce"}, {"language-name", "Français"}, {"zz", "last"}});
  const Words both = over.over(under);
  CHECK(both.table() == Words::Table{{"a", "A"},
                                     {"b", "be"},
                                     {"c", "ce"},
                                     {"language-name", "Français"},
                                     {"z", "Z"},
                                     {"zz", "last"}});
  CHECK(both.language().plurals.categories().empty());
  CHECK(both.filled("c", {}) == "ce");
}

TEST_CASE("a language is found by its tag") {
  // Tags: BCP 47 (RFC 5646, with RFC 4647's lookup); locales: POSIX.1, 8.2.
  const std::vector<std::string> known = {"ar", "en", "en-GB", "pt"};
  CHECK(language_named("pt", known) == "pt");
  CHECK(language_named("pt-BR", known) == "pt");
  CHECK(language_named("en_GB.UTF-8", known) == "en-GB");
  CHECK(language_named("EN-gb", known) == "en-GB");
  CHECK(language_named("ar_EG@x", known) == "ar");
  CHECK(language_named("en-Latn-US", known) == "en");
  for (const char* none : {"", "C", "POSIX", "C.UTF-8", "xx", "xx-GB", "e", "english"}) {
    CAPTURE(none);
    CHECK_FALSE(language_named(none, known));
  }
}

TEST_CASE("a measure keeps its order between words that are read from the right") {
  const std::string mark = "\u200E";
  const std::string on = "\u200F";
  const auto marked = [&](const std::string& measure) { return mark + measure + mark + on; };
  CHECK(measures_from_left("عرض 12.5 mm، 3 %") ==
        "عرض " + marked("12.5 mm") + "، " + marked("3 %"));
  CHECK(measures_from_left("3 1/8 in × 150 °C") == marked("3 1/8 in") + " × " + marked("150 °C"));
  CHECK(measures_from_left("1 2 m² 3⅛ in") == "1 " + marked("2 m²") + " " + marked("3⅛ in"));
  CHECK(measures_from_left("____ °C") == "____ " + marked("°C"));
  CHECK(measures_from_left(mark + "12 mm" + mark) == mark + "12 mm" + mark);
  CHECK(measures_from_left("5 من 6") == "5 من 6");
  CHECK(measures_from_left("").empty());
}

TEST_CASE("a line of a language that is read from the right is marked, with its own commas") {
  const std::string on = "\u200F";
  CHECK(read_from_right("قص, تعليم; جمع") == on + "قص، تعليم؛ جمع");
  CHECK(read_from_right("A1, A2") == "A1, A2");
  CHECK(read_from_right(on + "قص") == on + "قص");
  CHECK(has_letters_from_right("A ب"));
  CHECK_FALSE(has_letters_from_right("A é ज"));
}

TEST_CASE("what a head says of a mark that is none is refused") {
  for (const char* mark : {"", "..", "x"}) {
    const Words words(Words::Table{{"language-decimal", mark}});
    CHECK(words.language().decimal_mark == ".");
    CHECK(words.language().unread == std::vector<std::string>{"language-decimal"});
  }
}
