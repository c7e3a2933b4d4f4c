#include "draw/full_size/gauge.h"

#include <algorithm>

#include "unit/draw/full_size_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::test;
using Kind = GaugeMark::Kind;

namespace {

base::Voice voice_of(const pouch::Request& request) { return {own_words(), style_of(request)}; }

std::vector<std::pair<Kind, base::Length>> marks_of(const GaugeStrip& strip) {
  std::vector<std::pair<Kind, base::Length>> marks;
  for (const GaugeMark& mark : strip.marks) marks.emplace_back(mark.kind, mark.at);
  return marks;
}

}  // namespace

TEST_CASE("the gauge measures folds, opening edge, seam and seal as worked by hand") {
  // Cut 204 x 360, folded at 140 and 290; the front's edge lies 10 below the flap fold, at 280.
  const pouch::Request request = hand_worked(foldover());
  const auto strips = gauge_strips(derived(request), voice_of(request));
  REQUIRE(strips.size() == 3);
  CHECK(marks_of(strips[0]) == std::vector{std::pair{Kind::fold, mm(140)}});
  CHECK(marks_of(strips[1]) ==
        std::vector{std::pair{Kind::fold, mm(70)}, std::pair{Kind::lip, mm(80)}});
  CHECK(marks_of(strips[2]) ==
        std::vector{std::pair{Kind::seam, mm(7)}, std::pair{Kind::seal, mm(13)}});
}

TEST_CASE("every line of the gauge is drawn so far from a strip's zero edge as it says") {
  for (const pouch::Construction& construction : {foldover(), gusset()}) {
    const pouch::Request request = hand_worked(construction);
    const pouch::Pouch pouch = derived(request);
    const EvenMeasure measure;
    const Drawing drawn = fold_gauge(pouch, voice_of(request), measure);
    const auto strips = gauge_strips(pouch, voice_of(request));
    const auto outlines = shapes_of(drawn, Group::cut);
    REQUIRE(outlines.size() == strips.size());
    std::size_t folds = 0;
    for (std::size_t i = 0; i < strips.size(); ++i) {
      const Box strip = bounds(outlines[i]->path);
      std::vector<double> drawn_at;
      for (const Group group : {Group::fold, Group::notch, Group::seam, Group::seal}) {
        for (const Shape* shape : shapes_of(drawn, group)) {
          const Box line = bounds(shape->path);
          if (line.x0 >= strip.x0 && line.x1 <= strip.x1 && line.y0 >= strip.y0 &&
              line.y0 <= strip.y1) {
            drawn_at.push_back(line.y0 - strip.y0);
          }
        }
      }
      REQUIRE(drawn_at.size() == strips[i].marks.size());
      std::sort(drawn_at.begin(), drawn_at.end());
      for (std::size_t k = 0; k < drawn_at.size(); ++k) {
        CHECK(drawn_at[k] == doctest::Approx(strips[i].marks[k].at.in_mm()));
        if (strips[i].marks[k].kind == Kind::fold) ++folds;
        CHECK(drawn_at[k] < strip.height());
      }
    }
    CHECK(folds == folds_of(pouch.sizes.main_panel()).size());
  }
}

TEST_CASE("no words of the gauge stand out of their strip or on a line") {
  const EvenMeasure measure;
  for (const pouch::Construction& construction : {foldover(), gusset()}) {
    const pouch::Request request = hand_worked(construction);
    const Drawing drawn = fold_gauge(derived(request), voice_of(request), measure);
    const auto outlines = shapes_of(drawn, Group::cut);
    int words = 0;
    for (const Item& item : drawn.items) {
      if (!std::holds_alternative<Text>(item)) continue;
      const Box box = bounds(item, measure);
      ++words;
      CHECK(std::any_of(outlines.begin(), outlines.end(), [&](const Shape* outline) {
        const Box strip = bounds(outline->path);
        return box.x0 >= strip.x0 && box.x1 <= strip.x1 && box.y0 >= strip.y0 && box.y1 <= strip.y1;
      }));
      for (const Group group : {Group::fold, Group::notch, Group::seam, Group::seal}) {
        for (const Shape* shape : shapes_of(drawn, group)) {
          const Box line = bounds(shape->path);
          const bool beside = line.x1 <= box.x0 || line.x0 >= box.x1;
          CHECK((beside || line.y0 <= box.y0 || line.y0 >= box.y1));
        }
      }
    }
    CHECK(words > 4);
  }
}
