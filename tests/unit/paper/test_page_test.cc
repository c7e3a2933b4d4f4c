#include "paper/test_page.h"

#include <doctest/doctest.h>

#include "support/words.h"

using namespace pouchwright;
using namespace pouchwright::ink;

namespace {

/// Half an em for every byte.
class EvenWidth final : public TextMeasure {
 public:
  TextSize measure(std::string_view words, double size, Weight) const override {
    return {size * 0.5 * static_cast<double>(words.size()), size * 0.8, size * 0.2};
  }
};

paper::Pages page_on(std::int64_t width, std::int64_t height, base::Unit unit) {
  paper::PageSetup setup;
  setup.width = base::Length::whole_mm(width);
  setup.height = base::Length::whole_mm(height);
  return paper::test_page(setup, {test::own_words(), base::default_style(unit)}, EvenWidth());
}

Box box_of(const paper::Pages& pages, std::string_view name) {
  for (const Item& item : pages.pages.front().furniture) {
    const auto* shape = std::get_if<Shape>(&item);
    if (shape && shape->name == name) return bounds(shape->path);
  }
  FAIL("no such shape");
  return {};
}

}  // namespace

// ISO 216: A4 210 x 297 mm, A6 105 x 148 mm.
TEST_CASE("the test page has both squares, both rulers and steps from every edge") {
  for (const auto& [width, height] : {std::pair{210, 297}, std::pair{105, 148}}) {
    for (const auto unit : {base::Unit::mm, base::Unit::inch}) {
      const paper::Pages pages = page_on(width, height, unit);
      REQUIRE(pages.pages.size() == 1);
      CHECK(box_of(pages, "check-square").width() == doctest::Approx(50));
      CHECK(box_of(pages, "check-square").height() == doctest::Approx(50));
      CHECK(box_of(pages, "check-inch").width() == doctest::Approx(50.8));
      CHECK(box_of(pages, "ruler across").width() > width - 40);
      CHECK(box_of(pages, "ruler down").height() > height - 40);
      for (int inset = paper::kNearestFrame; inset <= paper::kFarthestFrame; ++inset) {
        const std::string number = std::to_string(inset);
        CHECK(box_of(pages, "left " + number).x0 == doctest::Approx(inset));
        CHECK(box_of(pages, "top " + number).y0 == doctest::Approx(inset));
        CHECK(box_of(pages, "right " + number).x1 == doctest::Approx(width - inset));
        CHECK(box_of(pages, "bottom " + number).y1 == doctest::Approx(height - inset));
      }
    }
  }
}

TEST_CASE("the words of the test page stay on the paper") {
  const paper::Pages pages = page_on(105, 148, base::Unit::mm);
  const EvenWidth measure;
  for (const Item& item : pages.pages.front().furniture) {
    const Box box = bounds(item, measure);
    CHECK(box.y1 <= 148);
    CHECK(box.y0 >= 0);
  }
}
