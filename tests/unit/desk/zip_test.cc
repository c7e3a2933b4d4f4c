#include "desk/zip.h"

#include <doctest/doctest.h>

#include <cstdlib>
#include <ctime>

using namespace pouchwright;

namespace {

const std::vector<job::MadeFile> kFiles = {{"prints/a.svg", "<svg/>"},
                                           {"b.svg", std::string(5000, 'x')}};

/// Where a clock shows another hour.
void live_in(const char* zone) {
  ::setenv("TZ", zone, 1);
  ::tzset();
}

}  // namespace

// The format and its offsets: the ZIP File Format Specification (APPNOTE), 4.3.7, from memory.

TEST_CASE("an archive holds the files by name, without folders, in order") {
  const std::string bytes = desk::zipped(kFiles);
  CHECK(bytes.substr(0, 4) == "PK\x03\x04");
  CHECK(bytes.substr(30, 5) == "a.svg");
  CHECK(bytes.find("prints") == std::string::npos);
  CHECK(bytes.find("b.svg") > bytes.find("a.svg"));
  CHECK(bytes.size() < 1000);
}

TEST_CASE("every entry is of the first of January 1980, whatever the clock and the place") {
  live_in("UTC");
  const std::string here = desk::zipped(kFiles);
  live_in("Pacific/Auckland");
  CHECK(desk::zipped(kFiles) == here);
  live_in("UTC");
  CHECK(here.substr(10, 4) == std::string("\x00\x00\x21\x00", 4));
}
