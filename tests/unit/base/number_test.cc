#include "base/number.h"

#include <doctest/doctest.h>

#include <charconv>
#include <clocale>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <limits>
#include <random>
#include <string>

#include "base/number_read.h"

using namespace pouchwright::base;

namespace {

double read_back(const std::string& digits) {
  double value = std::numeric_limits<double>::quiet_NaN();
  std::from_chars(digits.data(), digits.data() + digits.size(), value);
  return value;
}

}  // namespace

TEST_CASE("decimal prints exactly the places asked for") {
  CHECK(decimal(12.3456, 2) == "12.35");
  CHECK(decimal(12, 3) == "12.000");
  CHECK(decimal(0.004, 2) == "0.00");
  CHECK(decimal(-7.5, 1) == "-7.5");
  CHECK(decimal(1234567.5, 1) == "1234567.5");
  CHECK(decimal(9.96, 1) == "10.0");
}

TEST_CASE("no places means no point") {
  CHECK(decimal(12.4, 0) == "12");
  CHECK(shortest(12.4, 0) == "12");
  CHECK(shortest(100, 0) == "100");
}

TEST_CASE("a half that a double holds exactly goes to the even neighbour") {
  // IEEE 754-2019 section 4.3.1, roundTiesToEven: what std::to_chars does.
  CHECK(decimal(0.125, 2) == "0.12");
  CHECK(decimal(0.375, 2) == "0.38");
  CHECK(decimal(2.5, 0) == "2");
  CHECK(decimal(3.5, 0) == "4");
}

TEST_CASE("zero has no minus sign, however it came about") {
  CHECK(decimal(-0.0, 2) == "0.00");
  CHECK(decimal(-0.004, 2) == "0.00");
  CHECK(shortest(-0.0, 3) == "0");
  CHECK(shortest(-0.0004, 3) == "0");
  CHECK(significant(-0.0, 2) == "0");
  CHECK(decimal(-0.006, 2) == "-0.01");
}

TEST_CASE("what is printed by whole numbers is what std::to_chars prints") {
  std::mt19937_64 random(7);
  for (int k = 0; k < 200'000; ++k) {
    const int places = k % 9;
    // Near halves of the last place, too: those are where a product of doubles goes wrong.
    const double scale = std::pow(10, places);
    double value = static_cast<double>(static_cast<std::int64_t>(random() % 2'000'001) - 1'000'000);
    value = (k % 2 == 0 ? value + 0.5 : value * 1.234567) / scale;
    value = std::nextafter(value, k % 3 == 0 ? 1e9 : k % 3 == 1 ? -1e9 : value);
    std::string expected = decimal(value, places);
    if (expected.find('.') != std::string::npos) {
      expected.erase(expected.find_last_not_of('0') + 1);
      if (expected.back() == '.') expected.pop_back();
    }
    REQUIRE(shortest(value, places) == expected);
  }
}

TEST_CASE("shortest drops zeros behind the point and no others") {
  CHECK(shortest(12.50, 3) == "12.5");
  CHECK(shortest(12.0, 3) == "12");
  CHECK(shortest(1200, 3) == "1200");
  CHECK(shortest(0.001, 3) == "0.001");
  CHECK(shortest(-3.10, 2) == "-3.1");
}

TEST_CASE("significant keeps the leading figures") {
  CHECK(significant(1984, 2) == "2000");
  CHECK(significant(1984, 4) == "1984");
  CHECK(significant(1984, 6) == "1984.00");
  CHECK(significant(0.012345, 2) == "0.012");
  CHECK(significant(-123456, 3) == "-123000");
  CHECK(significant(3.14159, 3) == "3.14");
  CHECK(significant(7, 1) == "7");
  CHECK(significant(0, 3) == "0");
}

TEST_CASE("rounding that carries into a new place keeps the count of figures") {
  CHECK(significant(99.6, 2) == "100");
  CHECK(significant(0.996, 2) == "1.0");
  CHECK(significant(9.96, 2) == "10");
  CHECK(significant(0.0996, 2) == "0.10");
}

TEST_CASE("the largest and the smallest double fit") {
  const std::string largest = decimal(std::numeric_limits<double>::lowest(), 3);
  CHECK(largest.size() == 1 + 309 + 1 + 3);
  CHECK(largest.starts_with("-1797693134862315"));
  CHECK(decimal(std::numeric_limits<double>::denorm_min(), 3) == "0.000");
  CHECK(significant(std::numeric_limits<double>::max(), 1).size() == 309);
}

TEST_CASE("the locale changes nothing") {
  // A locale with a decimal comma, where the machine has one; the check holds with or without.
  const std::string before = std::setlocale(LC_ALL, nullptr);
  std::setlocale(LC_ALL, "de_DE.UTF-8");
  CHECK(decimal(1234.5, 1) == "1234.5");
  CHECK(shortest(0.5, 2) == "0.5");
  std::setlocale(LC_ALL, before.c_str());
}

TEST_CASE("a printed number is never further off than half its last place") {
  const std::uint64_t seed = 20240611;
  CAPTURE(seed);
  std::mt19937_64 random(seed);
  for (int i = 0; i < 2000; ++i) {
    const double value =
        static_cast<double>(static_cast<std::int64_t>(random() >> 20U)) / 1e6 - 8e6;
    const int places = static_cast<int>(random() % 5);
    CAPTURE(value);
    CAPTURE(places);
    const double printed = read_back(decimal(value, places));
    CHECK(std::abs(printed - value) <= 0.5 * std::pow(10, -places) + 1e-8);
    CHECK(read_back(shortest(value, places)) == printed);
  }
}

TEST_CASE("numbers are printed and read as the standard library's own exact functions do it") {
  // std::to_chars and std::from_chars (charconv), which the C++ library in a browser lacks.
  constexpr unsigned kSeed = 20;
  CAPTURE(kSeed);
  std::mt19937_64 random(kSeed);
  std::string buffer(400, '\0');
  const auto by_standard = [&](double value, std::chars_format form, int places) {
    char* const end = buffer.data() + buffer.size();
    return std::string(buffer.data(), std::to_chars(buffer.data(), end, value, form, places).ptr);
  };
  int odd = 0;
  for (int k = 0; k < 20'000; ++k) {
    // Any pattern of bits, and numbers of the size that things have.
    double value = 0;
    const std::uint64_t bits = random();
    std::memcpy(&value, &bits, sizeof value);
    if (k % 2 == 0) value = std::ldexp(static_cast<double>(bits), -56);
    if (!std::isfinite(value)) continue;
    const int places = k % 13;
    const std::string standard = by_standard(std::abs(value), std::chars_format::fixed, places);
    if (decimal(std::abs(value), places) != standard) ++odd;
    const std::string scientific =
        by_standard(std::abs(value), std::chars_format::scientific, places);
    const auto read = number_at_front(scientific + " mm");
    if (!read || read->value != read_back(scientific) || read->size != scientific.size()) ++odd;
  }
  CHECK(odd == 0);
}

TEST_CASE("a number at the front ends where no number goes on") {
  const auto size = [](const char* text) {
    const auto read = number_at_front(text);
    return read ? static_cast<int>(read->size) : -1;
  };
  CHECK(size("1.5.5") == 3);
  CHECK(size("2.") == 2);
  CHECK(size(".5 ") == 2);
  CHECK(size("1e3e") == 3);
  CHECK(size("1e") == 1);
  CHECK(size("1e+") == 1);
  for (const char* none : {"", ".", "-1", "+1", "inf", "nan", "e5", " 1", "1e999", "1e-999"}) {
    CAPTURE(std::string(none));
    CHECK(size(none) == -1);
  }
}

TEST_CASE("a decimal number has a point or a comma") {
  CHECK(read_decimal("4.5").value == 4.5);
  CHECK(read_decimal("4,5").value == 4.5);
  CHECK(read_decimal(",5").value == 0.5);
  CHECK(read_decimal("-3").value == -3);
  CHECK(read_decimal("0,125").value == 0.125);
  CHECK(read_decimal("1234,567").value == 1234.567);
  for (const char* text : {"", "x", "1e3", "4.5 ", "1,2,3", "1.2,3", "nan", "inf", "4,"}) {
    CAPTURE(text);
    CHECK_FALSE(read_decimal(text).value);
    CHECK_FALSE(read_decimal(text).thousands_at);
  }
  CHECK(read_decimal("1,500").thousands_at == 1);
  CHECK_FALSE(read_decimal("1,500").value);
}
