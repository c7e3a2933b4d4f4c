#include <map>

#include "job/documents.h"
#include "render/text.h"
#include "unit/job/run_support.h"

using namespace pouchwright;
using namespace pouchwright::job;
using namespace pouchwright::test;
using ink::Box;

namespace {

/// What a text says, or what part of the arrow along the cloth a shape is; empty for all else.
std::string words_or_arrow(const ink::Item& item) {
  if (const auto* text = std::get_if<ink::Text>(&item)) return text->words;
  const std::string& name = std::get<ink::Shape>(item).name;
  return name == "arrow head" || name == "direction of the length" ? name : "";
}

/// The words and arrows of a drawing that run over a line where two of its pages meet: halfway
/// through what their windows share, worked out anew here.
std::vector<std::string> cut_on(const paper::Pages& pages, const ink::TextMeasure& measure) {
  using Cell = std::tuple<std::size_t, int, int>;
  std::map<Cell, Box> windows;
  for (const paper::Page& page : pages.pages) {
    for (const paper::Placement& one : page.placements) {
      windows[{one.drawing, one.column, one.row}] = one.window;
    }
  }
  std::vector<std::string> cut;
  for (const auto& [cell, window] : windows) {
    const auto& [drawing, column, row] = cell;
    const auto right = windows.find({drawing, column + 1, row});
    const auto below = windows.find({drawing, column, row + 1});
    for (const ink::Item& item : pages.drawings[drawing].items) {
      const std::string shown = words_or_arrow(item);
      if (shown.empty()) continue;
      const Box box = ink::bounds(item, measure);
      const auto runs_over = [&](double from, double to, double line) {
        return from < line && to > line;
      };
      const bool beside = box.y1 > window.y0 && box.y0 < window.y1;
      const bool above = box.x1 > window.x0 && box.x0 < window.x1;
      if ((right != windows.end() && beside &&
           runs_over(box.x0, box.x1, (window.x1 + right->second.x0) / 2)) ||
          (below != windows.end() && above &&
           runs_over(box.y0, box.y1, (window.y1 + below->second.y0) / 2))) {
        cut.push_back(shown);
      }
    }
  }
  return cut;
}

}  // namespace

// Words that are cut in two cannot be read while pages are being joined, and an arrow that is cut
// points nowhere (common practice, no source). A page of A6 is narrower than a line of words, and
// its joins lie 75 mm apart: there a few are cut still.
TEST_CASE("no join of pages runs through words or arrows, and on small paper through few") {
  for (const std::string name :
       {"heron-quay", "heron-quay-gusset", "heron-quay-rolltop", "heron-quay-freeflap",
        "heron-quay-twopiece", "heron-quay-double", "heron-quay-sleeve"}) {
    for (const auto& [paper, unit] :
         std::map<std::string, std::string>{{"A4", "mm"}, {"Letter", "in"}, {"A6", "mm"}}) {
      INFO(name << " on " << paper);
      JobOptions options = options_of(starter(name));
      options.paper = paper;
      options.units = unit;
      Run run(options, own_data());
      REQUIRE(run.read_job());
      const render::FontMeasure measure(run.fonts());
      std::size_t words = 0;
      std::size_t cut = 0;
      for (const paper::Pages& pages : {template_pages(run), mask_pages(run)}) {
        REQUIRE_FALSE(pages.pages.empty());
        for (const ink::Drawing& drawing : pages.drawings) words += drawing.items.size();
        for (const std::string& one : cut_on(pages, measure)) {
          INFO(one);
          ++cut;
          if (paper != "A6") FAIL_CHECK("cut in two");
        }
      }
      CHECK(cut * 20 <= words);
    }
  }
}
