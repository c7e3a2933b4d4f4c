// Which form goes with a number. Source: Unicode CLDR 48, supplemental/plurals (rules and their
// samples, `@integer`, `@decimal`); tests/words asks CLDR itself for many more.
#include "base/plurals.h"

#include <doctest/doctest.h>

#include <initializer_list>

using namespace pouchwright::base;

namespace {

using Rules = std::initializer_list<std::pair<const char*, const char*>>;

Plurals plurals(Rules rules) {
  Plurals made;
  for (const auto& [category, rule] : rules) REQUIRE(made.add(category, rule));
  return made;
}

void check_all(const Plurals& language, std::string_view category,
               std::initializer_list<const char*> numbers) {
  for (const char* number : numbers) {
    CAPTURE(number);
    CHECK(language.category(number) == category);
  }
}

}  // namespace

TEST_CASE("Arabic has six forms") {
  const Plurals arabic = plurals({{"zero", "n = 0"},
                                  {"one", "n = 1"},
                                  {"two", "n = 2"},
                                  {"few", "n % 100 = 3..10"},
                                  {"many", "n % 100 = 11..99"}});
  check_all(arabic, "zero", {"0", "0.0", "0.000"});
  check_all(arabic, "one", {"1", "1.0", "1.00"});
  check_all(arabic, "two", {"2", "2.0"});
  check_all(arabic, "few", {"3", "10", "103", "110", "1003", "3.0"});
  check_all(arabic, "many", {"11", "26", "111", "1011", "11.0"});
  check_all(arabic, "other", {"100", "102", "200", "1000", "1000000", "0.1", "1.7", "10.1"});
}

TEST_CASE("English and German take one form for 1 alone, and not for 1.0") {
  const Plurals english = plurals({{"one", "i = 1 and v = 0"}});
  check_all(english, "one", {"1"});
  check_all(english, "other", {"0", "2", "16", "100", "1000000", "0.0", "1.5", "1.0"});
}

TEST_CASE("Hindi and French take the one form below two, each in its way") {
  const Plurals hindi = plurals({{"one", "i = 0 or n = 1"}});
  check_all(hindi, "one", {"0", "1", "0.0", "1.0", "0.04"});
  check_all(hindi, "other", {"2", "17", "100", "1.1", "2.6", "10.0"});
  const Plurals french =
      plurals({{"one", "i = 0,1"},
               {"many", "e = 0 and i != 0 and i % 1000000 = 0 and v = 0 or e != 0..5"}});
  check_all(french, "one", {"0", "1", "0,0", "1,5"});
  check_all(french, "many", {"1000000"});
  check_all(french, "other", {"2", "17", "100", "1000", "100000", "2,0", "3,5"});
}

TEST_CASE("the samples behind a rule are no part of it") {
  const Plurals spanish = plurals({{"one", "n = 1 @integer 1 @decimal 1.0, 1.00, 1.000, 1.0000"}});
  check_all(spanish, "one", {"1", "1,0"});
}

TEST_CASE("decimals are asked for by their digits") {
  // Operands of UTS #35: 1.30 has v 2, w 1, f 30, t 3.
  const Plurals digits =
      plurals({{"zero", "v = 0"}, {"one", "w = 1"}, {"two", "f = 20..29"}, {"few", "t % 10 = 5"}});
  check_all(digits, "zero", {"7"});
  check_all(digits, "one", {"1.30", "1.3"});
  check_all(digits, "two", {"1.22"});
  check_all(digits, "few", {"1.35"});
  check_all(digits, "other", {"1.00"});
}

TEST_CASE("what is no number has the last form") {
  const Plurals language = plurals({{"one", "n = 1"}});
  check_all(language, "other",
            {"", "one", "≈ 1", "1 mm", "-1", "1.", ".1", "1.2.3", "1e0",
             "99999999999999999999999999999999"});
}

TEST_CASE("a rule that cannot be read is refused") {
  Plurals made;
  for (const char* rule : {"", "n", "n =", "x = 1", "n = 1 and", "n = 1 or", "n % = 1", "n % 0 = 1",
                           "n = -1", "n = 1..", "n = 1 2", "n == 1", "n is 1", "n = a"}) {
    CAPTURE(rule);
    CHECK_FALSE(made.add("one", rule));
  }
  CHECK(made.categories().empty());
}
