// The sheet that carries the job. Source: ISO/IEC 18004 for the quiet zone and the sizes of versions.
#include "draw/sheets/job_code.h"

#include "unit/draw/page_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

CodeSquare square(int modules) {
  const auto side = static_cast<std::size_t>(modules);
  return {modules, std::vector<bool>(side * side, true)};
}

JobCode sheet(std::size_t codes, int modules, JobCode::Holds holds = JobCode::Holds::packed) {
  return {.title = "Carry pouch", .holds = holds, .codes = std::vector(codes, square(modules))};
}

std::string said(const JobCode& one) {
  const EvenMeasure measure;
  return all_words(job_code(one, own_words(), measure, {190, 277}));
}

/// Boxes of the codes' dark modules.
std::vector<Box> codes_on(const Drawing& page) {
  std::vector<Box> all;
  for (const Item& item : page.items) {
    const auto* shape = std::get_if<Shape>(&item);
    if (shape != nullptr && shape->name == "code") all.push_back(bounds(shape->path));
  }
  return all;
}

}  // namespace

TEST_CASE("the sheet is legible on every paper, also in longer words, and no code is lost") {
  const EvenMeasure measure;
  for (const double longer : {0.0, 0.4}) {
    for (const NamedRoom& paper : rooms()) {
      for (const std::size_t codes : {0U, 1U, 2U, 3U, 4U}) {
        CAPTURE(paper.name);
        CAPTURE(codes);
        const auto pages = job_code(sheet(codes, most_modules(paper.room)), own_words(longer),
                                    measure, paper.room);
        check_pages(pages, paper.room);
        std::size_t found = 0;
        for (const Drawing& page : pages) found += codes_on(page).size();
        CHECK(found == codes);
      }
    }
  }
}

TEST_CASE("four codes of the largest size stand on one page of A4 and Letter") {
  const EvenMeasure measure;
  for (const Point room : {Point{190, 277}, Point{195.9, 259.4}}) {
    CHECK(most_modules(room) == 17 + 4 * 30);
    CHECK(job_code(sheet(4, 137), own_words(), measure, room).size() == 1);
  }
}

TEST_CASE("modules are 0.5 to 0.8 mm, and codes have their quiet zone between them") {
  const EvenMeasure measure;
  for (const int modules : {21, 77, 137}) {
    for (const std::size_t codes : {1U, 4U}) {
      const auto pages = job_code(sheet(codes, modules), own_words(), measure, {190, 277});
      const auto found = codes_on(pages.front());
      REQUIRE(found.size() == codes);
      for (const Box& one : found) {
        const double module = one.width() / modules;
        CHECK(module >= 0.5 - 1e-9);
        CHECK(module <= 0.8 + 1e-9);
        for (const Box& other : found) {
          if (one == other) continue;
          CHECK_FALSE(overlap(grown(one, 4 * module - 1e-9), grown(other, 4 * module - 1e-9)));
        }
      }
    }
  }
}

TEST_CASE("the words say what a telephone makes of a code, and where the way back is") {
  CHECK(has(said(sheet(1, 41, JobCode::Holds::text)), "as text"));
  CHECK(has(said(sheet(1, 41)), "few letters"));
  CHECK(has(said(sheet(3, 41)), "These 3 squares"));
  CHECK(has(said(sheet(3, 41)), "2 of 3"));
  CHECK(has(said(sheet(1, 41)), "My pouches"));
  JobCode link = sheet(1, 41, JobCode::Holds::link);
  link.page = "https://example.org/";
  CHECK(has(said(link), "https://example.org/ opens"));
  CHECK_FALSE(has(said(link), "My pouches"));
  link.holds = JobCode::Holds::packed;
  CHECK(has(said(link), "give it to https://example.org/"));
}

TEST_CASE("what the codes lack is said, and nothing where they lack nothing") {
  JobCode one = sheet(1, 41);
  CHECK_FALSE(has(said(one), "as well"));
  CHECK_FALSE(has(said(one), "this print alone"));
  one.files = {"own.toml", "work.toml"};
  one.lacks_settings = true;
  CHECK(has(said(one), "own.toml"));
  CHECK(has(said(one), "work.toml"));
  CHECK(has(said(one), "this print alone"));
}

TEST_CASE("a job that is too long has no code, and its file is to be kept") {
  const std::string words = said(sheet(0, 41));
  CHECK(has(words, "more written about it"));
  CHECK(has(words, "Keep its file"));
  CHECK_FALSE(has(words, "square holds"));
}
