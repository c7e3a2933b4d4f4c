// Which value of a job a place lies in.
#include "input/value_places.h"

#include "support.h"

using namespace pouchwright;
using namespace pouchwright::input;

namespace {

const LoadedFile kJob{"job.toml", R"(construction = "foldover"
[pouch]
width = "19x mm"
start_finish = { finish = "overedge", takes = "0 mm" }
[[lay.remnant]]
width = "60 cm"
)"};

std::string at(int line, int column, const std::string& file = "job.toml") {
  return path_at(value_places(kJob, {{"--set pouch.flap=x", "pouch.flap", "x"}}),
                 {file, line, column, column + 1});
}

}  // namespace

TEST_CASE("a place in a value or on its key is that value's") {
  CHECK(at(1, 1) == "construction");
  CHECK(at(1, 16) == "construction");
  CHECK(at(2, 1) == "pouch");
  CHECK(at(3, 9) == "pouch.width");
  CHECK(at(3, 12) == "pouch.width");
  CHECK(at(4, 47) == "pouch.start_finish.takes");
  CHECK(at(6, 9) == "lay.remnant");
}

TEST_CASE("a place elsewhere is nobody's") {
  CHECK(at(0, 0).empty());
  CHECK(at(9, 1).empty());
  CHECK(at(3, 9, "other.toml").empty());
  CHECK(value_places({"job.toml", "no TOML ["}, {}).empty());
}

TEST_CASE("a place in an option is the value's that it sets") {
  CHECK(at(1, 14, "--set pouch.flap=x") == "pouch.flap");
}
