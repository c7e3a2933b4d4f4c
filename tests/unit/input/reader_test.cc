// Typed reading: every getter's values and faults, each with its place.
#include "input/reader.h"

#include "support.h"

using namespace pouchwright;
using namespace pouchwright::input;
using base::Unit;
using test::Lines;

namespace {

/// A file's root and a reader over it.
class Reading {
 public:
  explicit Reading(const std::string& text, Unit bare = Unit::mm)
      : root_(parsed({"job.toml", text}, diagnostics)),
        reader(*root_, "pouch", {diagnostics, bare}) {}

  [[nodiscard]] Lines told() const { return test::told(diagnostics); }
  [[nodiscard]] Lines hints() const { return test::first_hints(diagnostics); }

  base::Diagnostics diagnostics;

 private:
  std::optional<Node> root_;

 public:
  TableReader reader;
};

std::optional<Length> length(const std::string& written, Unit bare = Unit::mm) {
  Reading reading("a = " + written, bare);
  const auto found = reading.reader.length("a", Zero::allowed);
  CHECK(reading.told() == Lines{});
  if (!found) return std::nullopt;
  return found->value;
}

Lines length_faults(const std::string& written, Zero zero = Zero::refused) {
  Reading reading("a = " + written);
  CHECK_FALSE(reading.reader.length("a", zero));
  return reading.told();
}

}  // namespace

TEST_CASE("a length is a text with a unit, or a bare number in the file's units") {
  CHECK(length("\"180 mm\"") == Length::whole_mm(180));
  CHECK(length("180") == Length::whole_mm(180));
  CHECK(length("7", Unit::inch) == Length::inches(7));
  CHECK(length("7.25", Unit::inch) == Length::inches(29, 4));
  CHECK(length("\"7.25\"", Unit::inch) == Length::inches(29, 4));
  CHECK(length("\"1 mm\"", Unit::inch) == Length::whole_mm(1));
  CHECK(length("+1_000") == Length::whole_mm(1000));
  CHECK(length("0") == Length());
  CHECK(length("-0") == Length());
}

TEST_CASE("a decimal number is read from its digits, not through a double") {
  CHECK(length("12.7") == Length::nm(12'700'000));
  CHECK(length("0.000001") == Length::nm(1));
  CHECK(length("99999.999999") == Length::nm(99'999'999'999));
  CHECK(length("0.1", Unit::inch) == Length::nm(2'540'000));
}

TEST_CASE("what is no length is told at the part at fault") {
  CHECK(length_faults("\"19x\"") == Lines{"1:8 length-unknown-unit text=19x key=pouch.a"});
  CHECK(length_faults("\"\"") == Lines{"1:6 length-empty text= key=pouch.a"});
  CHECK(length_faults("\"wide\"") == Lines{"1:6 length-not-a-number text=wide key=pouch.a"});
  CHECK(length_faults("\"1,5,3 mm\"") ==
        Lines{"1:9 length-not-a-number text=1,5,3 mm key=pouch.a"});
  // Thousands to some, a decimal comma to others.
  CHECK(length_faults("\"1,000 mm\"") ==
        Lines{"1:7 length-two-readings text=1,000 mm key=pouch.a many=1000 mm few=1 mm"});
  CHECK(length_faults("\"12,250 in\"") ==
        Lines{"1:8 length-two-readings text=12,250 in key=pouch.a many=12250 in few=12.25 in"});
  CHECK(length_faults("\"5 mm 8 cm\"") ==
        Lines{"1:11 length-larger-behind text=5 mm 8 cm key=pouch.a"});
  CHECK(length_faults("\"7 1/3 in\"") ==
        Lines{"1:10 length-fine-denominator text=7 1/3 in key=pouch.a"});
  CHECK(length_faults("\"7 5/4 in\"") ==
        Lines{"1:8 length-bad-fraction text=7 5/4 in key=pouch.a"});
  CHECK(length_faults("\"0.0000001 mm\"")[0].find("length-too-fine") != std::string::npos);
  CHECK(length_faults("\"101 m\"")[0].find("length-too-long") != std::string::npos);
  CHECK(length_faults("\"½ el\"") == Lines{"1:8 length-unknown-unit text=½ el key=pouch.a"});
}

TEST_CASE("numbers that are no lengths are told") {
  CHECK(length_faults("nan") == Lines{"1:5 length-not-a-number text=nan key=pouch.a"});
  CHECK(length_faults("inf") == Lines{"1:5 length-not-a-number text=inf key=pouch.a"});
  CHECK(length_faults("-inf")[0].find("length-not-a-number text=-inf") != std::string::npos);
  CHECK(length_faults("1e300") == Lines{"1:6 length-not-a-number text=1e300 key=pouch.a"});
  CHECK(length_faults("1e3") == Lines{"1:6 length-not-a-number text=1e3 key=pouch.a"});
  CHECK(length_faults("1000000") == Lines{"1:5 length-too-long text=1000000 key=pouch.a"});
  CHECK(length_faults("0.0000001")[0].find("length-too-fine") != std::string::npos);
  CHECK(length_faults("0x10") == Lines{"1:6 length-unknown-unit text=0x10 key=pouch.a"});
}

TEST_CASE("other kinds of value are no lengths") {
  const Lines wrong{"1:5 wrong-kind-length key=pouch.a"};
  CHECK(length_faults("true") == wrong);
  CHECK(length_faults("[1]") == wrong);
  CHECK(length_faults("{ b = 1 }") == wrong);
  CHECK(length_faults("2024-01-01") == wrong);
}

TEST_CASE("negative sizes are refused, and zero where it makes no sense") {
  CHECK(length_faults("\"-1 mm\"") == Lines{"1:5 length-negative key=pouch.a text=-1 mm"});
  CHECK(length_faults("-0.5", Zero::allowed) == Lines{"1:5 length-negative key=pouch.a text=-0.5"});
  CHECK(length_faults("\"0 in\"") == Lines{"1:5 length-zero key=pouch.a text=0 in"});
  CHECK(length("\"0 mm\"") == Length());
}

TEST_CASE("two lengths stand around an x, and a last unit holds for both") {
  const auto pair = [](std::string_view text, Unit bare = Unit::mm) {
    const auto read = length_pair_of(text, bare);
    return read ? std::pair(read->across, read->down) : std::pair(Length(), Length());
  };
  const auto a4 = std::pair(Length::whole_mm(210), Length::whole_mm(297));
  CHECK(pair("210 x 297 mm") == a4);
  CHECK(pair("210x297") == a4);
  CHECK(pair("210X297mm") == a4);
  CHECK(pair("210 × 297 mm") == a4);
  CHECK(pair("21 cm x 297 mm") == a4);
  CHECK(pair("21 x 29.7 cm") == a4);
  const auto letter = std::pair(Length::inches(17, 2), Length::inches(11));
  CHECK(pair("8 1/2 x 11 in") == letter);
  CHECK(pair("8½ x 11\"") == letter);
  CHECK(pair("8.5x11", Unit::inch) == letter);
  CHECK(pair("8 1/2 in x 279.4", Unit::mm) == letter);
  CHECK(pair("11 x 8½ in") == std::pair(Length::inches(11), Length::inches(17, 2)));
  CHECK(pair("11 x 8½″") == std::pair(Length::inches(11), Length::inches(17, 2)));
}

TEST_CASE("what is no pair of lengths is not read as one") {
  for (const char* text : {"", "x", "210", "210 x", "x 297", "a x b", "210 x 297 x 5 mm", "210 297",
                           "nan x 5", "210 x inf mm", "1e3 x 5 mm"}) {
    CAPTURE(text);
    CHECK_FALSE(length_pair_of(text, Unit::mm));
  }
  Reading reading("a = \"0 x 5 mm\"\nb = \"-1 x 5 mm\"\nc = \"5\"\nd = 5");
  for (const char* key : {"a", "b", "c", "d"}) CHECK_FALSE(reading.reader.length_pair(key));
  CHECK(reading.told() == Lines{"1:5 not-a-size key=pouch.a text=0 x 5 mm",
                                "2:5 not-a-size key=pouch.b text=-1 x 5 mm",
                                "3:5 not-a-size key=pouch.c text=5",
                                "4:5 wrong-kind-text key=pouch.d"});
}

TEST_CASE("whole numbers stay within their limits") {
  Reading reading("a = 3\nb = 0\nc = 11\nd = 3.0\ne = \"3\"\nf = 9223372036854775807");
  const auto a = reading.reader.whole("a", 1, 10);
  REQUIRE(a);
  CHECK(a->value == 3);
  CHECK(a->place.column == 5);
  for (const char* key : {"b", "c", "d", "e", "f", "absent"}) {
    CHECK_FALSE(reading.reader.whole(key, 1, 10));
  }
  const std::string out_of_range =
      "6:5 out-of-range key=pouch.f text=9223372036854775807 least=1 most=10";
  CHECK(reading.told() == Lines{"2:5 out-of-range key=pouch.b text=0 least=1 most=10",
                                "3:5 out-of-range key=pouch.c text=11 least=1 most=10",
                                "4:5 wrong-kind-whole key=pouch.d",
                                "5:5 wrong-kind-whole key=pouch.e", out_of_range});
}

TEST_CASE("numbers are whole or decimal, finite and within their limits") {
  Reading reading("a = 1\nb = 0.25\nc = nan\nd = inf\ne = -0.1\nf = 1e300\ng = \"one\"");
  CHECK(reading.reader.number("a", 0, 1)->value == 1);
  CHECK(reading.reader.number("b", 0, 1)->value == 0.25);
  for (const char* key : {"c", "d", "e", "f", "g"}) CHECK_FALSE(reading.reader.number(key, 0, 0.5));
  CHECK(reading.told() == Lines{"3:5 out-of-range key=pouch.c text=nan least=0 most=0.5",
                                "4:5 out-of-range key=pouch.d text=inf least=0 most=0.5",
                                "5:5 out-of-range key=pouch.e text=-0.1 least=0 most=0.5",
                                "6:5 out-of-range key=pouch.f text=1e300 least=0 most=0.5",
                                "7:5 wrong-kind-number key=pouch.g"});
}

TEST_CASE("texts, lists, tables and truths of another kind say what stands there") {
  Reading reading("a = 1\nb = \"true\"\nc = \"front\"\nd = [1]\ne = 2.5\nf = true\ng = 2024-01-01");
  CHECK_FALSE(reading.reader.text("a"));
  CHECK(reading.hints() == Lines{"found-kind-whole"});
  CHECK_FALSE(reading.reader.truth("b"));
  CHECK(reading.reader.texts("c").empty());
  CHECK(reading.reader.tables("d").empty());
  CHECK(reading.reader.table("e") == nullptr);
  CHECK_FALSE(reading.reader.text("f"));
  CHECK_FALSE(reading.reader.text("g"));
  CHECK(reading.told() ==
        Lines{"1:5 wrong-kind-text key=pouch.a", "2:5 wrong-kind-truth key=pouch.b",
              "3:5 wrong-kind-texts key=pouch.c", "4:6 wrong-kind-tables key=pouch.d",
              "5:5 wrong-kind-table key=pouch.e", "6:5 wrong-kind-text key=pouch.f",
              "7:5 wrong-kind-text key=pouch.g"});
}

TEST_CASE("the good items of a list are read beside the bad ones") {
  Reading reading("a = [\"front\", 7, \"back\"]");
  const auto texts = reading.reader.texts("a");
  REQUIRE(texts.size() == 2);
  CHECK(texts[1].value == "back");
  CHECK(texts[1].place.column == 18);
  CHECK(reading.told() == Lines{"1:15 wrong-kind-texts key=pouch.a"});
}

TEST_CASE("of a table some words may be all that counts") {
  Reading reading("a = \"across\"\nb = \"along\"");
  constexpr pouchwright::base::Named<int> kChoices[] = {{1, "along"}, {2, "across"}};
  CHECK_FALSE(reading.reader.choice("a", kChoices, {1}));
  CHECK(reading.reader.choice("b", kChoices, {1})->value == 1);
  CHECK(reading.hints() == Lines{"choices-hint names=along"});
}

TEST_CASE("a word that is none of the choices is told with all of them") {
  Reading reading("a = \"sideways\"\nb = \"along\"");
  constexpr pouchwright::base::Named<int> kChoices[] = {{1, "along"}, {2, "across"}};
  CHECK_FALSE(reading.reader.choice("a", kChoices));
  CHECK(reading.reader.choice("b", kChoices)->value == 1);
  CHECK(reading.told() == Lines{"1:5 not-a-choice key=pouch.a text=sideways"});
  CHECK(reading.hints() == Lines{"choices-hint names=along, across"});
}

TEST_CASE("an unknown key is told at the key, with the nearest known one") {
  Reading reading("widht = 1\nwidth = \"190 mm\"\nqq = 2");
  (void)reading.reader.length("width", Zero::refused);
  (void)reading.reader.length("depth", Zero::refused);
  (void)reading.reader.length("depth", Zero::refused);
  reading.reader.finish();
  CHECK(reading.told() == Lines{"1:1 key-unknown key=pouch.widht", "3:1 key-unknown key=pouch.qq"});
  CHECK(reading.hints() == Lines{"did-you-mean word=width"});
  CHECK(reading.diagnostics.sorted()[1].hints[0].values[0].second == "width, depth");
}

TEST_CASE("a missing key is told at its table") {
  Reading reading("a = 1");
  CHECK(reading.reader.require("a"));
  CHECK_FALSE(reading.reader.require("width"));
  CHECK(reading.told() == Lines{"1:1 key-missing key=pouch.width"});
  CHECK(reading.hints() == Lines{"key-missing-hint key=width field=pouch.width"});
}

TEST_CASE("a text that would fit on no sheet is told") {
  std::string most;
  for (int i = 0; i < kMostLetters; ++i) most += "ö";
  Reading reading("a = \"" + most + "\"\nb = \"" + most + "ö\"\nc = [\"x\", \"" + most + "y\"]");
  CHECK(reading.reader.text("a")->value == most);
  CHECK_FALSE(reading.reader.text("b"));
  CHECK(reading.reader.texts("c").size() == 1);
  CHECK(reading.told() == Lines{"2:5 text-too-long key=pouch.b count=501 most=500",
                                "3:11 text-too-long key=pouch.c count=501 most=500"});
}

TEST_CASE("a long text is clipped between letters, not inside one") {
  CHECK(clipped(std::string(60, 'a')) == std::string(60, 'a'));
  CHECK(clipped(std::string(61, 'a')) == std::string(60, 'a') + "…");
  CHECK(clipped(std::string(59, 'a') + "öö") == std::string(59, 'a') + "…");
}

TEST_CASE("a number may stand in quotes, with a decimal comma or as so many in a hundred") {
  const auto number = [](const std::string& written, Percent percent) {
    Reading reading("a = " + written);
    const auto found = reading.reader.number("a", 0, 100, percent);
    CHECK(reading.told() == Lines{});
    return found ? found->value : -1;
  };
  CHECK(number("\"4,5\"", Percent::unknown) == 4.5);
  CHECK(number("\" 4.5 \"", Percent::unknown) == 4.5);
  CHECK(number("\"4 %\"", Percent::of_one) == 0.04);
  CHECK(number("\"0,04\"", Percent::of_one) == 0.04);
  CHECK(number("\"1,5 %\"", Percent::of_hundred) == 1.5);
}

TEST_CASE("a number that may be two, or is none, is refused") {
  const auto told = [](const std::string& written, Percent percent = Percent::unknown) {
    Reading reading("a = " + written);
    CHECK_FALSE(reading.reader.number("a", 0, 1e6, percent));
    return reading.told();
  };
  CHECK(told("\"1,500\"") == Lines{"1:5 length-two-readings text=1,500 many=1500 few=1.5"});
  CHECK(told("\"4 %\"") == Lines{"1:5 wrong-kind-number key=pouch.a"});
  CHECK(told("\"much\"", Percent::of_one) == Lines{"1:5 wrong-kind-number key=pouch.a"});
}

TEST_CASE("a whole number where a share is meant is offered as so many in a hundred") {
  Reading reading("a = 4");
  CHECK_FALSE(reading.reader.number("a", 0, 0.5, Percent::of_one));
  const auto found = reading.diagnostics.sorted();
  REQUIRE(found.size() == 1);
  REQUIRE(found.front().remedy);
  CHECK(found.front().remedy->path == "pouch.a");
  CHECK(base::typed(*found.front().remedy, base::Voice(base::Words())) == "4 %");
}

TEST_CASE("two lengths stand around any cross that people write") {
  const Length width = Length::inches(17, 2);
  for (const char* text : {"8 1/2 x 11 in", "8 1/2 by 11 inches", "8 1/2″ × 11″", "8.5*11 in"}) {
    CAPTURE(text);
    const auto pair = length_pair_of(text, Unit::mm);
    REQUIRE(pair);
    CHECK(pair->across == width);
    CHECK(pair->down == Length::inches(11));
  }
  CHECK_FALSE(length_pair_of("8 by", Unit::mm));
  CHECK_FALSE(length_pair_of("8 x 11 x 2 in", Unit::mm));
}
