#include "ink/path_data.h"

#include <doctest/doctest.h>

#include <string>

using namespace pouchwright::ink;

namespace {

/// `M 100,100 C 1,2 3,4 5,6 Z`: every step with absolute points, or "refused".
std::string read(std::string_view data) {
  const auto path = path_of(data);
  if (!path) return "refused";
  std::string told;
  const auto point = [](Point p) {
    const auto number = [](double value) {
      std::string text = std::to_string(value);
      text.erase(text.find_last_not_of('0') + 1);
      if (text.back() == '.') text.pop_back();
      return text;
    };
    return " " + number(p.x) + "," + number(p.y);
  };
  for (const Step& step : *path) {
    if (!told.empty()) told += ' ';
    told += "MLCZ"[static_cast<int>(step.verb)];
    if (step.verb == Verb::curve) told += point(step.c1) + point(step.c2);
    if (step.verb != Verb::close) told += point(step.to);
  }
  return told;
}

}  // namespace

// Examples and rules of W3C, Scalable Vector Graphics (SVG) 1.1, section 8.3.

TEST_CASE("the triangle of the recommendation is read (8.3.2)") {
  CHECK(read("M 100 100 L 300 100 L 200 300 z") == "M 100,100 L 300,100 L 200,300 Z");
}

TEST_CASE("what may be left out is left out (8.3.1)") {
  CHECK(read("M 100 100 L 200 200") == read("M100 100L200 200"));
  CHECK(read("M 100 200 L 200 100 L -100 -200") == read("M 100 200 L 200 100 -100 -200"));
  CHECK(read("M100,200L200,100-100-200") == "M 100,200 L 200,100 L -100,-200");
}

TEST_CASE("a number takes as many letters as it can (8.3.9)") {
  CHECK(read("M 100-200") == "M 100,-200");
  CHECK(read("M 0.6.5") == "M 0.6,0.5");
  CHECK(read("M+1.5e1-.5E+1") == "M 15,-5");
  CHECK(read("M5. 1") == "M 5,1");
}

TEST_CASE("pairs behind a move are lines, relative ones behind a relative move (8.3.2)") {
  CHECK(read("M1 2 3 4") == "M 1,2 L 3,4");
  // A relative move at the beginning is absolute.
  CHECK(read("m1 2 3 4 5 6") == "M 1,2 L 4,6 L 9,12");
}

TEST_CASE("a subpath that goes on behind a Z begins where the last one began (8.3.3)") {
  CHECK(read("M1 1 h4 v4 z l-1 0") == "M 1,1 L 5,1 L 5,5 Z M 1,1 L 0,1");
  CHECK(read("M1 1 h4 z m2 2 h1") == "M 1,1 L 5,1 Z M 3,3 L 4,3");
  CHECK(read("M1 1 H4 ZZ") == "M 1,1 L 4,1 Z Z");
}

TEST_CASE("lines along the axes keep the other place, the last of several holds (8.3.4)") {
  CHECK(read("M1 2 H5 3 V7") == "M 1,2 L 5,2 L 3,2 L 3,7");
  CHECK(read("M1 2 h5 3 v7") == "M 1,2 L 6,2 L 9,2 L 9,9");
}

TEST_CASE("curves have two control points, relative ones all count from the last point (8.3.6)") {
  CHECK(read("M100,200 C100,100 250,100 250,200") == "M 100,200 C 100,100 250,100 250,200");
  CHECK(read("M100,200 c0,-100 150,-100 150,0") == "M 100,200 C 100,100 250,100 250,200");
  CHECK(read("M0 0 c1 0 2 0 3 0 1 0 2 0 3 0") == "M 0,0 C 1,0 2,0 3,0 C 4,0 5,0 6,0");
}

TEST_CASE("nothing is read of data that do not follow the grammar (8.3.9)") {
  CHECK(read("") == "");
  CHECK(read(" \t\r\n") == "");
  for (const char* data : {"L1 2", "1 2", "M1", "M1 2 L3", "M1,,2", "M1 2,", "M,1 2", "M1 2 L,3 4",
                           "M1 2 C1 2 3 4 5", "M--1 2", "M+-1 2", "M1e 2", "M. 2", "Minf 0",
                           "Mnan 0", "M1e999 0", "M1 2 X", "M1 2 \xc2\xa0"}) {
    CAPTURE(data);
    CHECK(read(data) == "refused");
  }
  // Commands of the grammar that no picture here needs.
  for (const char* data : {"M0 0 S1 1 2 2", "M0 0 Q1 1 2 2", "M0 0 T1 1", "M0 0 A1 1 0 0 0 2 2"}) {
    CAPTURE(data);
    CHECK(read(data) == "refused");
  }
}
