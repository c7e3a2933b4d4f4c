#include "base/length.h"

#include <doctest/doctest.h>

#include <chrono>
#include <cstdint>
#include <ostream>
#include <random>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/voice.h"

using namespace pouchwright::base;
using Kind = LengthFault::Kind;

namespace pouchwright::base {

std::ostream& operator<<(std::ostream& out, Length length) {
  return out << length.in_nm() << " nm";
}

std::ostream& operator<<(std::ostream& out, const LengthFault& fault) {
  return out << "fault " << static_cast<int>(fault.kind) << " at " << fault.at << " size "
             << fault.size;
}

}  // namespace pouchwright::base

namespace {

constexpr Length k64thInch = Length::inches(1, 64);
const Length kNotRead = Length::nm(INT64_MIN);

/// The length read, kNotRead for a fault.
Length read(std::string_view text, Unit bare = Unit::mm) {
  const auto reading = read_length(text, bare);
  const auto* length = std::get_if<Length>(&reading);
  return length == nullptr ? kNotRead : *length;
}

LengthFault fault_of(std::string_view text, Unit bare = Unit::mm) {
  const auto reading = read_length(text, bare);
  const auto* fault = std::get_if<LengthFault>(&reading);
  const std::string shown(text.substr(0, 60));
  CAPTURE(shown);
  REQUIRE(fault != nullptr);
  return *fault;
}

/// The bytes at which the fault points.
std::string pointed_at(std::string_view text) {
  const LengthFault fault = fault_of(text);
  return std::string(text.substr(fault.at, fault.size));
}

std::int64_t between(std::mt19937_64& random, std::int64_t low, std::int64_t high) {
  return low + static_cast<std::int64_t>(random() % static_cast<std::uint64_t>(high - low + 1));
}

}  // namespace

// ---- Exactness ---------------------------------------------------------------------------------

TEST_CASE("an inch is 25.4 mm and a yard 914.4 mm, exactly") {
  // International yard and pound agreement, 1959; NIST SP 811 (2008), appendix B.8.
  CHECK(Length::inches(1).in_nm() == 25'400'000);
  CHECK(read("1 in") == read("25.4 mm"));
  CHECK(read("1 yd") == read("914.4 mm"));
  CHECK(read("1 yd") == read("36 in"));
}

TEST_CASE("metric units are powers of ten apart") {
  // SI Brochure, 9th edition, table 7: centi is 10^-2, milli is 10^-3.
  CHECK(read("1 m") == read("100 cm"));
  CHECK(read("1 cm") == read("10 mm"));
  CHECK(read("1 mm").in_nm() == 1'000'000);
}

TEST_CASE("a 64th of an inch is a whole number of nanometres") {
  CHECK(k64thInch.in_nm() == 396'875);  // 25,400,000 / 64, by hand
  CHECK(64 * k64thInch == Length::inches(1));
}

TEST_CASE("sums are exact where doubles are not") {
  CHECK(0.1 + 0.2 != 0.3);  // why lengths are no doubles
  CHECK(read("0.1 mm") + read("0.2 mm") == read("0.3 mm"));
  CHECK(read("1/8 in") + read("3/8 in") == read("12.7 mm"));
}

TEST_CASE("lengths add, subtract, negate and multiply by whole numbers") {
  Length length = Length::whole_mm(10);
  length += Length::whole_mm(5);
  length -= Length::whole_mm(1);
  CHECK(length == Length::whole_mm(14));
  CHECK(-length == Length::whole_mm(-14));
  CHECK(3 * length == length * 3);
  CHECK(3 * length == Length::whole_mm(42));
  CHECK(Length::whole_mm(1) < Length::inches(1));
}

TEST_CASE("doubles become the nearest nanometre, halves away from zero") {
  CHECK(Length::mm(12.5) == Length::nm(12'500'000));
  CHECK(Length::mm(0.1) == Length::nm(100'000));
  CHECK(Length::mm(0.0000005) == Length::nm(1));
  CHECK(Length::mm(-0.0000005) == Length::nm(-1));
  CHECK(Length::mm(0.0000004) == Length());
  CHECK(Length::mm(12.5).in_mm() == 12.5);
}

// ---- Rounding ----------------------------------------------------------------------------------

TEST_CASE("half of an odd number of nanometres is rounded up") {
  CHECK(half(Length::nm(4)) == Length::nm(2));
  CHECK(half(Length::nm(5)) == Length::nm(3));
  CHECK(half(Length::nm(-5)) == Length::nm(-2));
  CHECK(half(Length::nm(-4)) == Length::nm(-2));
  CHECK(half(Length::nm(1)) == Length::nm(1));
  CHECK(half(Length::nm(-1)) == Length());
}

TEST_CASE("rounding up, down and to the nearest step goes by the number line, not by size") {
  const Length step = Length::nm(10);
  struct Row {
    int length, up, down, nearest;
  };
  const std::vector<Row> rows = {{0, 0, 0, 0},      {1, 10, 0, 0},        {4, 10, 0, 0},
                                 {5, 10, 0, 10},    {9, 10, 0, 10},       {10, 10, 10, 10},
                                 {-1, 0, -10, 0},   {-5, 0, -10, 0},      {-6, 0, -10, -10},
                                 {-9, 0, -10, -10}, {-10, -10, -10, -10}, {-11, -10, -20, -10}};
  for (const Row& row : rows) {
    CAPTURE(row.length);
    CHECK(rounded_up(Length::nm(row.length), step) == Length::nm(row.up));
    CHECK(rounded_down(Length::nm(row.length), step) == Length::nm(row.down));
    CHECK(rounded_nearest(Length::nm(row.length), step) == Length::nm(row.nearest));
  }
}

TEST_CASE("an odd step has no half: the nearer side wins") {
  CHECK(rounded_nearest(Length::nm(3), Length::nm(7)) == Length());
  CHECK(rounded_nearest(Length::nm(4), Length::nm(7)) == Length::nm(7));
  CHECK(rounded_nearest(Length::nm(-3), Length::nm(7)) == Length());
  CHECK(rounded_nearest(Length::nm(-4), Length::nm(7)) == Length::nm(-7));
}

TEST_CASE("rounded lengths are multiples of the step and bracket the length") {
  const std::uint64_t seed = 811;
  CAPTURE(seed);
  std::mt19937_64 random(seed);
  for (int i = 0; i < 2000; ++i) {
    const Length length = Length::nm(between(random, -kLongest.in_nm(), kLongest.in_nm()));
    const Length step = Length::nm(between(random, 1, 30'000'000));
    CAPTURE(length);
    CAPTURE(step);
    const Length down = rounded_down(length, step);
    const Length up = rounded_up(length, step);
    CHECK(down.in_nm() % step.in_nm() == 0);
    CHECK((down <= length && length < down + step));
    CHECK(up == (down == length ? down : down + step));
    const Length nearest = rounded_nearest(length, step);
    CHECK((nearest == down || nearest == up));
    CHECK((2 * (nearest - length) <= step && 2 * (length - nearest) < step));
  }
}

// ---- Reading -----------------------------------------------------------------------------------

TEST_CASE("every notation is read") {
  CHECK(read("180 mm") == Length::whole_mm(180));
  CHECK(read("180mm") == Length::whole_mm(180));
  CHECK(read("18 cm") == Length::whole_mm(180));
  CHECK(read("2 m") == Length::whole_mm(2000));
  CHECK(read("12.5 mm") == Length::nm(12'500'000));
  CHECK(read(".5 mm") == Length::nm(500'000));
  CHECK(read("0.000001 mm") == Length::nm(1));
  CHECK(read("7 in") == Length::inches(7));
  CHECK(read("7.25in") == Length::inches(29, 4));
  CHECK(read("7 1/4 in") == Length::inches(29, 4));
  CHECK(read("7-1/4\"") == Length::inches(29, 4));
  CHECK(read("7-1/4 in") == Length::inches(29, 4));
  CHECK(read("7¼ in") == Length::inches(29, 4));
  CHECK(read("7 ¼ in") == Length::inches(29, 4));
  CHECK(read("7-¼ in") == Length::inches(29, 4));
  CHECK(read("7 1⁄4 in") == Length::inches(29, 4));
  CHECK(read("7 1 / 4 in") == Length::inches(29, 4));
  CHECK(read("8\"") == Length::inches(8));
  CHECK(read("8″") == Length::inches(8));
  CHECK(read("8”") == Length::inches(8));
  CHECK(read("1.5 yd") == Length::inches(54));
  CHECK(read("1 1/2 yd") == Length::inches(54));
  CHECK(read("1/2 in") == Length::inches(1, 2));
  CHECK(read("5/4 in") == Length::inches(5, 4));
  CHECK(read("3/64 in") == 3 * k64thInch);
  CHECK(read("1/2 mm") == Length::nm(500'000));
  CHECK(read("1/64 mm") == Length::nm(15'625));
  CHECK(read("0 mm") == Length());
  CHECK(read("007.50 mm") == Length::nm(7'500'000));
}

TEST_CASE("every one-character fraction is read") {
  CHECK(read("¼ in") == Length::inches(1, 4));
  CHECK(read("½ in") == Length::inches(1, 2));
  CHECK(read("¾ in") == Length::inches(3, 4));
  CHECK(read("⅛ in") == Length::inches(1, 8));
  CHECK(read("⅜ in") == Length::inches(3, 8));
  CHECK(read("⅝ in") == Length::inches(5, 8));
  CHECK(read("⅞\"") == Length::inches(7, 8));
}

TEST_CASE("a bare number is read in the given unit") {
  CHECK(read("180", Unit::mm) == Length::whole_mm(180));
  CHECK(read("7 1/4", Unit::inch) == Length::inches(29, 4));
  CHECK(read("7 mm", Unit::inch) == Length::whole_mm(7));
  CHECK(read("7 in", Unit::mm) == Length::inches(7));
}

TEST_CASE("blanks around and between the parts are free") {
  CHECK(read("  180   mm  ") == Length::whole_mm(180));
  CHECK(read("\t7\t1/4\tin\t") == Length::inches(29, 4));
  CHECK(read("180\u00A0mm") == Length::whole_mm(180));
  CHECK(read("\u00A0180\u202Fmm\u00A0") == Length::whole_mm(180));
}

TEST_CASE("a leading minus sign turns the whole mixed number") {
  CHECK(read("-5 mm") == Length::whole_mm(-5));
  CHECK(read("- 5 mm") == Length::whole_mm(-5));
  CHECK(read("-7-1/4 in") == Length::inches(-29, 4));
  CHECK(read("-0 mm") == Length());
}

TEST_CASE("decimals are read as long as they make whole nanometres") {
  // 25.4 mm / 64 = 0.396875 mm; 1/64 = 0.015625, by hand.
  CHECK(read("0.015625 in") == k64thInch);
  CHECK(read("0.000000001 m") == Length::nm(1));
  CHECK(read("0.5000000000000000000000 mm") == Length::nm(500'000));
  CHECK(read("0.00001 in") == Length::nm(254));
  CHECK(read("0.00390625 yd") == Length::nm(3'571'875));  // 914,400,000 / 256
  CHECK(fault_of("0.0000001 mm").kind == Kind::too_fine);
  CHECK(fault_of("0.0000001 in").kind == Kind::too_fine);
  CHECK(fault_of("0.333333 in").kind == Kind::too_fine);
  CHECK(fault_of("0.0000000001 m").kind == Kind::too_fine);
}

// ---- Faults ------------------------------------------------------------------------------------

TEST_CASE("a text without anything in it is empty") {
  CHECK(fault_of("") == LengthFault{Kind::empty, 0, 0});
  CHECK(fault_of("   ") == LengthFault{Kind::empty, 0, 3});
  CHECK(fault_of("\u00A0") == LengthFault{Kind::empty, 0, 2});
}

TEST_CASE("what begins no number is pointed at") {
  CHECK(fault_of("nan") == LengthFault{Kind::not_a_number, 0, 3});
  CHECK(fault_of("inf mm") == LengthFault{Kind::not_a_number, 0, 3});
  CHECK(fault_of("-inf") == LengthFault{Kind::not_a_number, 1, 3});
  CHECK(fault_of("mm") == LengthFault{Kind::not_a_number, 0, 2});
  CHECK(fault_of("  wide") == LengthFault{Kind::not_a_number, 2, 4});
  CHECK(fault_of("-") == LengthFault{Kind::not_a_number, 0, 1});
  CHECK(fault_of("--5 mm") == LengthFault{Kind::not_a_number, 1, 2});
  CHECK(fault_of("+5 mm") == LengthFault{Kind::not_a_number, 0, 2});
  CHECK(fault_of(". mm") == LengthFault{Kind::not_a_number, 0, 1});
  CHECK(fault_of("5. mm") == LengthFault{Kind::not_a_number, 1, 1});
  CHECK(fault_of("٣ mm") == LengthFault{Kind::not_a_number, 0, 2});  // a digit, but not ASCII
}

TEST_CASE("a comma is a decimal comma") {
  CHECK(read("7,25 in") == Length::inches(29, 4));
  CHECK(read("1,5 mm") == Length::mm(1.5));
  CHECK(read(",5 mm") == Length::mm(0.5));
  CHECK(read("0,0001 mm") == Length::nm(100));
}

TEST_CASE("a comma and three digits may be thousands, and is refused") {
  CHECK(fault_of("1,000 mm") == LengthFault{Kind::two_readings, 1, 4});
  // Nobody writes thousands of nothing, nor of ten thousand.
  CHECK(read("0,125 in") == Length::inches(1, 8));
  CHECK(read("12345,678 mm") == Length::nm(12'345'678'000));
  CHECK(fault_of("12,500") == LengthFault{Kind::two_readings, 2, 4});
  CHECK(fault_of("2 yd 1,000 in").kind == Kind::two_readings);
  // A further mark leaves no such doubt, but no number either.
  CHECK(fault_of("1,000,000 mm") == LengthFault{Kind::not_a_number, 5, 1});
  CHECK(fault_of("1,000.5 mm").kind == Kind::unknown_unit);
  CHECK(fault_of("1.000,5 mm") == LengthFault{Kind::not_a_number, 5, 1});
}

TEST_CASE("a point and three digits may be thousands where no decimal needs its nought") {
  CHECK(fault_of("1.500 mm") == LengthFault{Kind::two_readings, 1, 4});
  CHECK(fault_of("1.500") == LengthFault{Kind::two_readings, 1, 4});
  CHECK(fault_of("12.350 cm").kind == Kind::two_readings);
  CHECK(read("3.175 mm") == Length::inches(1, 8));
  CHECK(read("0.500 mm") == Length::nm(500'000));
  // A metre to the millimetre, and an inch to the thousandth, are written so.
  CHECK(read("1.500 m") == Length::whole_mm(1500));
  CHECK(read("7.250 in") == Length::inches(29, 4));
}

TEST_CASE("digits may stand in threes") {
  // ISO 80000-1, 7.3.1 (from memory): groups of three digits with a small space between.
  CHECK(read("1 500 mm") == Length::whole_mm(1500));
  CHECK(read("1\u202F500,5 mm") == Length::nm(1'500'500'000));
  CHECK(fault_of("1 500 000 mm").kind == Kind::too_long);
  CHECK(fault_of("1 50 mm").kind == Kind::unknown_unit);
  CHECK(fault_of("1234 500 mm").kind == Kind::unknown_unit);
  CHECK(fault_of("0 500 mm").kind == Kind::unknown_unit);
  CHECK(fault_of("7 125/128 in").kind == Kind::fine_denominator);
}

TEST_CASE("units have names in full") {
  // Millimetres in a metre, inches in a foot and a yard: NIST Handbook 44, appendix C, and SP 811,
  // appendix B (from memory).
  for (const char* text : {"80 millimetres", "80 millimeters", "8 centimetres", "8 centimeters",
                           "8 Centimetre", "80 mm.", "8 cm.", "0.08 metres", "0.08 meter"}) {
    CAPTURE(text);
    CHECK(read(text) == Length::whole_mm(80));
  }
  for (const char* text :
       {"3 ft", "3 feet", "3'", "3 ft.", "1 yard", "1 yd.", "36 inches", "2 ft 12 in"}) {
    CAPTURE(text);
    CHECK(read(text) == Length::nm(914'400'000));
  }
  CHECK(read("1 ft 2 in") == Length::inches(14));
  CHECK(read("1 foot 2 1/2 inches") == Length::inches(29, 2));
  CHECK(read("2 yards 1 foot") == Length::inches(84));
  CHECK(fault_of("8 centi").kind == Kind::unknown_unit);
  CHECK(fault_of("8 inches.").kind == Kind::unknown_unit);
}

TEST_CASE("units are read as people write them") {
  for (const char* text : {"8 in", "8 inch", "8 inches", "8 in.", "8 IN", "8 Inches", "8\"", "8″",
                           "8”", "8''", "8’’", "8in."}) {
    CAPTURE(text);
    CHECK(read(text) == Length::inches(8));
  }
  CHECK(read("5 MM") == Length::whole_mm(5));
  CHECK(read("5 Cm") == Length::whole_mm(50));
}

TEST_CASE("a length of several units is one, the larger first") {
  CHECK(read("8 cm 5 mm") == Length::whole_mm(85));
  CHECK(read("8cm5mm") == Length::whole_mm(85));
  // A foot has twelve inches, a yard three feet.
  CHECK(read("1' 2\"") == Length::inches(14));
  CHECK(read("1′ 2 1/2″") == Length::inches(29, 2));
  CHECK(read("1 yd 2' 3 in") == Length::inches(36 + 24 + 3));
  CHECK(read("-1 m 5 cm") == Length::whole_mm(-1050));
  CHECK(fault_of("5 mm 8 cm") == LengthFault{Kind::larger_behind, 5, 4});
  CHECK(fault_of("5 mm 8 mm") == LengthFault{Kind::larger_behind, 5, 4});
  CHECK(fault_of("1/4 in 1/2 in") == LengthFault{Kind::larger_behind, 7, 6});
  CHECK(fault_of("1' 2") == LengthFault{Kind::unknown_unit, 3, 1});
  CHECK(fault_of("1' 2 ell").kind == Kind::unknown_unit);
  CHECK(fault_of("99 m 101 cm").kind == Kind::too_long);
}

TEST_CASE("an exponent is a fault inside the number") {
  CHECK(fault_of("1e3 mm") == LengthFault{Kind::not_a_number, 1, 2});
  CHECK(fault_of("1E-3 mm") == LengthFault{Kind::not_a_number, 1, 3});
  CHECK(fault_of("1.5e+3") == LengthFault{Kind::not_a_number, 3, 3});
  CHECK(fault_of("1 ell") == LengthFault{Kind::unknown_unit, 2, 3});
}

TEST_CASE("a unit that is not known is pointed at, in bytes") {
  CHECK(fault_of("5 el") == LengthFault{Kind::unknown_unit, 2, 2});
  CHECK(fault_of("5 inc") == LengthFault{Kind::unknown_unit, 2, 3});
  CHECK(fault_of("5 mm;") == LengthFault{Kind::unknown_unit, 2, 3});
  CHECK(fault_of("5 mm wide ") == LengthFault{Kind::unknown_unit, 2, 7});
  CHECK(fault_of("7¼ µm") == LengthFault{Kind::unknown_unit, 4, 3});
  CHECK(fault_of("7 8 mm") == LengthFault{Kind::unknown_unit, 2, 4});
  CHECK(fault_of("7-5 mm") == LengthFault{Kind::unknown_unit, 1, 5});
  CHECK(fault_of("5 mm\n") == LengthFault{Kind::unknown_unit, 2, 3});
  CHECK(fault_of(std::string_view("5\0mm", 4)) == LengthFault{Kind::unknown_unit, 1, 3});
}

TEST_CASE("a hyphen with blanks around it is no mixed number") {
  CHECK(fault_of("7 - 1/4 in") == LengthFault{Kind::unknown_unit, 2, 8});
  CHECK(fault_of("7 -1/4 in") == LengthFault{Kind::unknown_unit, 2, 7});
  CHECK(fault_of("7- 1/4 in") == LengthFault{Kind::unknown_unit, 1, 8});
}

TEST_CASE("a fraction that cannot be right is pointed at") {
  CHECK(fault_of("7 5/4 in") == LengthFault{Kind::bad_fraction, 2, 3});
  CHECK(fault_of("7 4/4 in") == LengthFault{Kind::bad_fraction, 2, 3});
  CHECK(fault_of("1/0 in") == LengthFault{Kind::bad_fraction, 0, 3});
  CHECK(fault_of("7 1/0 in") == LengthFault{Kind::bad_fraction, 2, 3});
  CHECK(fault_of("1/ in") == LengthFault{Kind::bad_fraction, 0, 2});
  CHECK(fault_of("7.5 1/4 in") == LengthFault{Kind::bad_fraction, 4, 3});
  CHECK(pointed_at("7.5¼ in") == "¼");
}

TEST_CASE("a denominator that is no divisor of 64 is pointed at") {
  CHECK(fault_of("1/3 in") == LengthFault{Kind::fine_denominator, 2, 1});
  CHECK(fault_of("7 1/128 in") == LengthFault{Kind::fine_denominator, 4, 3});
  CHECK(fault_of("1/10 mm") == LengthFault{Kind::fine_denominator, 2, 2});
  for (const int denominator : {1, 2, 4, 8, 16, 32, 64}) {
    CHECK(read("1/" + std::to_string(denominator) + " in") == Length::inches(1, denominator));
  }
}

TEST_CASE("too fine points at the number, too long at the whole length") {
  CHECK(fault_of(" -0.0000001 mm") == LengthFault{Kind::too_fine, 2, 9});
  CHECK(fault_of(" -101 m ") == LengthFault{Kind::too_long, 1, 6});
}

TEST_CASE("a hundred metres is the longest length, either way") {
  CHECK(read("100 m") == kLongest);
  CHECK(read("-100000 mm") == -kLongest);
  CHECK(fault_of("100000.000001 mm").kind == Kind::too_long);
  CHECK(fault_of("-100000.000001 mm").kind == Kind::too_long);
  CHECK(read("109.25 yd") == Length::nm(99'898'200'000));
  CHECK(fault_of("110 yd").kind == Kind::too_long);
}

TEST_CASE("no number of digits overflows or takes long") {
  const std::string nines(100'000, '9');
  const std::string zeros(100'000, '0');
  const auto begin = std::chrono::steady_clock::now();
  CHECK(fault_of(nines + " mm").kind == Kind::too_long);
  CHECK(fault_of(nines + " m").kind == Kind::too_long);
  CHECK(fault_of("-" + nines + ".5 yd").kind == Kind::too_long);
  CHECK(fault_of(nines + "/64 yd").kind == Kind::too_long);
  CHECK(fault_of("1 " + nines + "/64 yd").kind == Kind::bad_fraction);
  CHECK(fault_of("1/" + nines + " in") == LengthFault{Kind::fine_denominator, 2, nines.size()});
  CHECK(fault_of("0." + nines + " mm").kind == Kind::too_fine);
  CHECK(fault_of("0." + zeros + "1 mm").kind == Kind::too_fine);
  CHECK(fault_of(std::string(100'000, ' ')).kind == Kind::empty);
  CHECK(fault_of("1" + std::string(100'000, 'm')).kind == Kind::unknown_unit);
  CHECK(read(zeros + "7 mm") == Length::whole_mm(7));
  CHECK(read("7." + zeros + " mm") == Length::whole_mm(7));
  CHECK(read("1/" + zeros + "2 in") == Length::inches(1, 2));
  const auto taken = std::chrono::steady_clock::now() - begin;
  // Linear work on 1.3 MB takes some milliseconds; quadratic work would take minutes.
  CHECK(taken < std::chrono::seconds(5));
}

TEST_CASE("a fault always lies within the text") {
  const std::uint64_t seed = 1959;
  CAPTURE(seed);
  std::mt19937_64 random(seed);
  const std::vector<std::string> parts = {"1",  "7", "0", "64", ".",    ",",  "/",  "⁄",
                                          "-",  " ", "¼", "⅞",  "″",    "mm", "in", "m",
                                          "yd", "x", "e", "\n", "\xC2", "'",  "IN", "cm"};
  int faults = 0;
  for (int i = 0; i < 20'000; ++i) {
    std::string text;
    for (auto n = between(random, 0, 7); n > 0; --n) text += parts[random() % parts.size()];
    CAPTURE(text);
    const auto reading = read_length(text, Unit::mm);
    if (const auto* fault = std::get_if<LengthFault>(&reading)) {
      ++faults;
      CHECK(fault->at <= text.size());
      CHECK(fault->size <= text.size() - fault->at);
      CHECK((fault->size > 0 || text.empty()));
    }
  }
  CHECK(faults > 1000);
  CHECK(faults < 20'000);
}

// ---- Printing ----------------------------------------------------------------------------------

namespace {

const Words kWords(Words::Table{{"length-under", "under {length}"}});

std::string text(Value value, LengthStyle style) { return Voice(kWords, style).text(value); }

}  // namespace

TEST_CASE("millimetres print to the ruler step") {
  const LengthStyle whole = default_style(Unit::mm);
  CHECK(text(Length::whole_mm(190), whole) == "190 mm");
  CHECK(text(Length::mm(112.7), whole) == "≈ 113 mm");
  CHECK(text(Length::mm(112.5), whole) == "≈ 113 mm");
  CHECK(text(Length::mm(112.4), whole) == "≈ 112 mm");
  CHECK(text(Length(), whole) == "0 mm");
  const LengthStyle halves{Unit::mm, Length::mm(0.5)};
  CHECK(text(Length::mm(12.5), halves) == "12.5 mm");
  CHECK(text(Length::mm(12.7), halves) == "≈ 12.5 mm");
  CHECK(text(Length::whole_mm(12), halves) == "12 mm");
  // A coarse step is for what is cut: the width of a seal is read as finely as ever.
  const LengthStyle coarse{Unit::mm, Length::whole_mm(5)};
  CHECK(text(Length::whole_mm(12), coarse) == "12 mm");
  CHECK(text(Length::mm(112.7), coarse) == "≈ 113 mm");
  CHECK(text(Length::inches(67, 16), {Unit::inch, Length::inches(1, 2)}) == "≈ 4 1/4 in");
  // What lies on it is exact, also where the default step has no such line.
  CHECK(text(Length::mm(7.5), {Unit::mm, Length::mm(1.5)}) == "7.5 mm");
  CHECK(text(Length::inches(9, 16), {Unit::inch, Length::inches(3, 16)}) == "9/16 in");
}

TEST_CASE("what must not be passed prints to the step below") {
  const LengthStyle whole = default_style(Unit::mm);
  CHECK(text(at_most(Length::mm(108.5)), whole) == "≈ 108 mm");
  CHECK(text(at_most(Length::mm(108.999999)), whole) == "≈ 108 mm");
  CHECK(text(at_most(Length::whole_mm(9)), whole) == "9 mm");
  CHECK(text(at_most(Length::mm(-40.5)), whole) == "≈ -41 mm");
  const LengthStyle eighths = default_style(Unit::inch);
  CHECK(text(at_most(Length::inches(21, 16)), eighths) == "≈ 1 1/4 in");
  CHECK(text(in_both(at_most(Length::whole_mm(155))), whole) == "155 mm (≈ 6 in)");
  CHECK(text(in_both(at_most(Length::whole_mm(152))), whole) == "152 mm (≈ 5 7/8 in)");
  CHECK(read_at_most(Length::mm(108.5), whole) == Length::whole_mm(108));
  const LengthStyle odd{Unit::mm, Length::mm(1.5)};
  CHECK(read_at_most(Length::mm(7.5), odd) == Length::mm(7.5));
  CHECK(text(at_most(Length::mm(107.6)), odd) == "≈ 107 mm");
}

TEST_CASE("what is lacking prints to the step above") {
  const LengthStyle whole = default_style(Unit::mm);
  CHECK(text(at_least(Length::mm(100.3)), whole) == "≈ 101 mm");
  CHECK(text(at_least(Length::whole_mm(5)), whole) == "5 mm");
  CHECK(text(at_least(Length::mm(30.4)), default_style(Unit::inch)) == "≈ 1 1/4 in");
}

TEST_CASE("inches print as a mixed number in lowest terms") {
  const LengthStyle eighths = default_style(Unit::inch);
  CHECK(text(Length::inches(29, 4), eighths) == "7 1/4 in");
  CHECK(text(Length::inches(1, 2), eighths) == "1/2 in");
  CHECK(text(Length::inches(7), eighths) == "7 in");
  CHECK(text(Length(), eighths) == "0 in");
  CHECK(text(Length::inches(23, 16), eighths) == "≈ 1 1/2 in");
  CHECK(text(Length::inches(7, 16), {Unit::inch, Length::inches(1, 16)}) == "7/16 in");
}

TEST_CASE("a small length that is not on the step is read more finely") {
  const LengthStyle whole = default_style(Unit::mm);
  CHECK(text(Length::mm(12.7), whole) == "≈ 12.5 mm");
  CHECK(text(Length::mm(12.5), whole) == "12.5 mm");
  CHECK(text(at_most(Length::mm(8.9)), whole) == "≈ 8.5 mm");
  CHECK(text(at_least(Length::mm(5.1)), whole) == "≈ 5.5 mm");
  CHECK(text(Length::mm(24.9), whole) == "≈ 25 mm");
  CHECK(text(Length::mm(25.4), whole) == "≈ 25 mm");
  CHECK(read_at_most(Length::mm(8.9), whole) == Length::mm(8.5));
  const LengthStyle tenths{Unit::mm, Length::mm(0.1)};
  CHECK(text(Length::mm(8.94), tenths) == "≈ 8.9 mm");
}

TEST_CASE("in inches a small one has its millimetres beside it, so that 7 and 8 mm differ") {
  // By hand: 7 mm = 8.82/32 in, 8 mm = 10.08/32 in, 5 mm = 6.30/32 in.
  const LengthStyle eighths = default_style(Unit::inch);
  CHECK(text(Length::whole_mm(7), eighths) == "≈ 9/32 in (7 mm)");
  CHECK(text(at_most(Length::whole_mm(8)), eighths) == "≈ 5/16 in (8 mm)");
  CHECK(text(at_most(Length::whole_mm(7)), eighths) == "≈ 1/4 in (7 mm)");
  CHECK(text(Length::whole_mm(5), eighths) == "≈ 3/16 in (5 mm)");
  CHECK(text(Length::inches(3, 16), eighths) == "3/16 in (≈ 5 mm)");
  CHECK(text(Length::inches(1, 4), eighths) == "1/4 in");
  // Once is enough where both are asked for.
  CHECK(text(in_both(Length::whole_mm(7)), eighths) == "≈ 9/32 in (7 mm)");
  // In brackets nobody wants 32nds.
  CHECK(text(in_both(Length::whole_mm(7)), default_style(Unit::mm)) == "7 mm (≈ 1/4 in)");
  CHECK(text(in_both(Length::whole_mm(10)), default_style(Unit::mm)) == "10 mm (≈ 3/8 in)");
  CHECK(text(in_both(at_most(Length::whole_mm(8))), default_style(Unit::mm)) == "8 mm (≈ 5/16 in)");
  CHECK(text(in_both(at_most(Length::whole_mm(6))), default_style(Unit::mm)) == "6 mm (≈ 3/16 in)");
}

TEST_CASE("on paper a fraction of an inch is set as one, and reads back as the same length") {
  // Unicode 15: U+00BC to U+00BE, U+215B to U+215E; U+2044 joins what has no sign of its own.
  LengthStyle sixteenths{.unit = Unit::inch, .ruler = Length::inches(1, 16)};
  sixteenths.fractions = Fractions::set;
  CHECK(text(Length::inches(15, 2), sixteenths) == "7½ in");
  CHECK(text(Length::inches(1, 4), sixteenths) == "¼ in");
  CHECK(text(Length::inches(67, 8), sixteenths) == "8⅜ in");
  CHECK(text(Length::inches(149, 16), sixteenths) == "9\u202F5\u204416 in");
  CHECK(text(Length::inches(5, 16), sixteenths) == "5\u204416 in");
  CHECK(text(Length::inches(8, 1), sixteenths) == "8 in");
  CHECK(text(in_both(Length::whole_mm(190)), sixteenths) == "≈ 7½ in (190 mm)");
  for (int n = 1; n < 320; ++n) {
    const Length length = Length::inches(n, 16);
    const auto again = read_length(text(length, sixteenths), Unit::mm);
    CAPTURE(n);
    REQUIRE(std::holds_alternative<Length>(again));
    CHECK(std::get<Length>(again) == length);
  }
}

TEST_CASE("what would read as nothing and is not says what it is under") {
  const LengthStyle eighths = default_style(Unit::inch);
  CHECK(text(Length::mm(0.2), eighths) == "under 1/32 in (under 0.5 mm)");
  CHECK(text(at_most(Length::mm(0.4)), default_style(Unit::mm)) == "under 0.5 mm");
  CHECK(text(at_least(Length::mm(0.4)), default_style(Unit::mm)) == "≈ 0.5 mm");
  CHECK(text(Length(), default_style(Unit::mm)) == "0 mm");
  CHECK(read_at_most(Length::mm(0.4), default_style(Unit::mm)) == Length());
}

TEST_CASE("an exact length in inches stays inches, its millimetres beside it") {
  const LengthStyle eighths = default_style(Unit::inch);
  CHECK(text(exact(Length::inches(3, 64)), eighths) == "3/64 in");
  CHECK(text(exact(Length::mm(12.8)), eighths) == "≈ 1/2 in (12.8 mm)");
  CHECK(text(exact(Length::mm(-1.525)), eighths) == "≈ -1/16 in (-1.525 mm)");
  CHECK(text(exact(Length::mm(0.1)), eighths) == "under 1/64 in (0.1 mm)");
}

TEST_CASE("a ruler of tenths of an inch prints tenths, a metric one millimetres") {
  CHECK(text(Length::inches(73, 10), {Unit::inch, Length::inches(1, 10)}) == "7 3/10 in");
  CHECK(text(Length::whole_mm(7), {Unit::inch, Length::whole_mm(1)}) == "7 mm");
}

TEST_CASE("negative lengths have one minus sign in front, and zero has none") {
  const LengthStyle whole = default_style(Unit::mm);
  CHECK(text(Length::whole_mm(-1), whole) == "-1 mm");
  CHECK(text(Length::mm(-0.2), whole) == "≈ -0.5 mm");
  CHECK(text(Length::mm(-31.2), whole) == "≈ -31 mm");
  CHECK(text(Length::inches(-29, 4), default_style(Unit::inch)) == "-7 1/4 in");
  CHECK(text(Length::inches(-1, 2), default_style(Unit::inch)) == "-1/2 in");
  CHECK(exact_text(Length::mm(-0.25), Unit::mm) == "-0.25 mm");
  CHECK(decimal_mm(Length::nm(-1)) == "-0.000001");
}

TEST_CASE("both units print with the job's own first") {
  CHECK(text(in_both(Length::whole_mm(190)), default_style(Unit::mm)) == "190 mm (≈ 7 1/2 in)");
  CHECK(text(in_both(Length::inches(29, 4)), default_style(Unit::inch)) == "7 1/4 in (≈ 184 mm)");
  CHECK(text(in_both(Length::whole_mm(127)), default_style(Unit::mm)) == "127 mm (5 in)");
}

TEST_CASE("the default ruler is 1 mm or 1/8 in") {
  CHECK(default_style(Unit::mm) == LengthStyle{Unit::mm, Length::whole_mm(1)});
  CHECK(default_style(Unit::inch) == LengthStyle{Unit::inch, Length::inches(1, 8)});
}

TEST_CASE("exact text rounds nothing") {
  CHECK(exact_text(Length::mm(12.7), Unit::mm) == "12.7 mm");
  CHECK(exact_text(Length::mm(12.7), Unit::inch) == "1/2 in");
  CHECK(exact_text(3 * k64thInch, Unit::inch) == "3/64 in");
  CHECK(exact_text(Length::mm(12.8), Unit::inch) == "12.8 mm");
  CHECK(exact_text(Length::inches(1, 10), Unit::inch) == "2.54 mm");
  CHECK(exact_text(Length::nm(198'437), Unit::inch) == "0.198437 mm");
  CHECK(exact_text(Length::whole_mm(200), Unit::mm) == "200 mm");
}

TEST_CASE("decimals of a millimetre keep leading zeros and drop trailing ones") {
  CHECK(decimal_mm(Length::nm(12'700'000)) == "12.7");
  CHECK(decimal_mm(Length::nm(12'000'001)) == "12.000001");
  CHECK(decimal_mm(Length::nm(50'000)) == "0.05");
  CHECK(decimal_mm(Length::whole_mm(100)) == "100");
  CHECK(decimal_mm(Length()) == "0");
  CHECK(decimal_mm(Length::nm(INT64_MIN)) == "-9223372036854.775808");
}

// ---- Reading what was printed ------------------------------------------------------------------

TEST_CASE("every exact text is read back as the same length") {
  const std::uint64_t seed = 254;
  CAPTURE(seed);
  std::mt19937_64 random(seed);
  const std::int64_t most_64ths = kLongest.in_nm() / k64thInch.in_nm();
  for (int i = 0; i < 3000; ++i) {
    const Length inches = between(random, -most_64ths, most_64ths) * k64thInch;
    const Length any = Length::nm(between(random, -kLongest.in_nm(), kLongest.in_nm()));
    for (const Length length : {inches, any}) {
      CAPTURE(length);
      CHECK(read(exact_text(length, Unit::mm)) == length);
      CHECK(read(exact_text(length, Unit::inch)) == length);
      CHECK(read(decimal_mm(length), Unit::mm) == length);
    }
  }
}

TEST_CASE("a mixed number means the same with a blank, a hyphen and decimals") {
  const std::uint64_t seed = 64;
  CAPTURE(seed);
  std::mt19937_64 random(seed);
  for (int i = 0; i < 1000; ++i) {
    const std::int64_t whole = between(random, 0, 3000);
    const std::int64_t part = between(random, 0, 63);
    const Length expected = Length::inches(whole) + part * k64thInch;
    const std::string fraction = std::to_string(part) + "/64";
    // 1/64 = 0.015625: six decimals hold every 64th.
    const std::string millionths = std::to_string(1'000'000 + part * 15'625).substr(1);
    CAPTURE(whole);
    CAPTURE(fraction);
    CHECK(read(std::to_string(whole) + " " + fraction + " in") == expected);
    CHECK(read(std::to_string(whole) + "-" + fraction + "\"") == expected);
    CHECK(read(std::to_string(whole) + "." + millionths + "″") == expected);
  }
}
