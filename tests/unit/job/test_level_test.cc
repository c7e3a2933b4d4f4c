// Where the template marks how high the leak test fills, whatever is sewn.
#include <algorithm>
#include <cmath>
#include <map>

#include "ink/labels.h"
#include "job/documents.h"
#include "render/text.h"
#include "tell/fill.h"
#include "unit/job/run_support.h"

using namespace pouchwright;
using namespace pouchwright::job;
using namespace pouchwright::test;
using ink::Box;

namespace {

/// The boxes of all lines of that name.
std::vector<Box> lines_named(const ink::Drawing& drawing, const std::string& name) {
  std::vector<Box> boxes;
  for (const ink::Item& item : drawing.items) {
    const auto* shape = std::get_if<ink::Shape>(&item);
    if (shape != nullptr && shape->name == name) boxes.push_back(bounds(shape->path));
  }
  return boxes;
}

}  // namespace

// Water stands on the pouch's bottom: laid flat, the mark is as far from the line that becomes the
// bottom as the water is deep. Which line that is, is read from each starter by hand; of two pieces
// it is their seam.
TEST_CASE("the test's level is marked so high above the bottom, and named beside its tick") {
  const std::map<std::string, std::string> bottoms = {
      {"heron-quay", "fold: front / back"},
      {"heron-quay-freeflap", "fold: front / back"},
      {"heron-quay-sleeve", "fold: front / back"},
      {"heron-quay-rolltop", "fold: front / back"},
      {"heron-quay-gusset", "fold: front / gusset front"},
      {"heron-quay-double", "fold: wet front / wet back"},
      {"heron-quay-twopiece", "seam line"}};
  for (const auto& [name, bottom] : bottoms) {
    INFO(name);
    Run run(options_of(starter(name)), own_data());
    REQUIRE(run.read_job());
    const render::FontMeasure measure(run.fonts());
    const base::Length level = tell::fill_read(run.pouch(), run.paper_words()).test_level;
    int marked = 0;
    const paper::Pages pages = template_pages(run);
    for (const ink::Drawing& drawing : pages.drawings) {
      const std::vector<Box> ticks = lines_named(drawing, "test level: right");
      if (ticks.empty()) continue;
      ++marked;
      REQUIRE(ticks.size() == 1);
      const double tick = ticks.front().y0;
      std::vector<double> away;
      for (const Box& line : lines_named(drawing, bottom)) {
        if (line.width() > line.height()) away.push_back(std::abs(line.y0 - tick));
      }
      REQUIRE(away.size() == 1);
      CHECK(away.front() == doctest::Approx(level.in_mm()));
      const std::string said = ink::kept_together(run.paper_words().text(level));
      const auto words =
          std::find_if(drawing.items.begin(), drawing.items.end(), [&](const ink::Item& item) {
            const auto* text = std::get_if<ink::Text>(&item);
            return text != nullptr && text->words.find("water in the test") != std::string::npos;
          });
      REQUIRE(words != drawing.items.end());
      const Box box = ink::bounds(*words, measure);
      CHECK(std::abs((box.y0 + box.y1) / 2 - tick) <= 8);
      CHECK(std::get<ink::Text>(*words).words.find(said) != std::string::npos);
    }
    CHECK(marked == 1);
  }
}
