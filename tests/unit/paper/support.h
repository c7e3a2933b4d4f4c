/// Papers, drawings and checks for the tests of the layer paper.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "ink/scene.h"
#include "paper/ink.h"
#include "paper/pages.h"
#include "support/words.h"

namespace pouchwright::test {

using base::Length;
using ink::Box;
using ink::Drawing;
using ink::Group;
using ink::Item;
using ink::Point;
using ink::Shape;
using ink::Text;

/// Every letter 0.6 em wide.
class EvenMeasure final : public ink::TextMeasure {
 public:
  [[nodiscard]] ink::TextSize measure(std::string_view words, double size,
                                      ink::Weight /*weight*/) const override {
    return {0.6 * size * static_cast<double>(words.size()), 0.9 * size, 0.25 * size};
  }
};

/// Sizes in mm: ISO 216 (A series), ASME Y14.1 (A and B, 8.5 x 11 in and 11 x 17 in; inches are
/// exact here), and a roll of 914 mm (36 in, common practice, no source).
struct Format {
  const char* name;
  Length width;
  Length height;
};
inline std::vector<Format> formats() {
  const auto mm = [](std::int64_t count) { return Length::whole_mm(count); };
  return {{"A6", mm(105), mm(148)},
          {"A5", mm(148), mm(210)},
          {"A4", mm(210), mm(297)},
          {"A3", mm(297), mm(420)},
          {"ASME A", Length::inches(17, 2), Length::inches(11)},
          {"ASME B", Length::inches(11), Length::inches(17)},
          {"roll", mm(914), mm(3000)}};
}

inline paper::PageSetup setup_of(const Format& format) {
  paper::PageSetup setup;
  setup.name = format.name;
  setup.width = format.width;
  setup.height = format.height;
  setup.margins = {paper::kMargin.mm, paper::kMargin.mm, paper::kMargin.mm, paper::kMargin.mm};
  setup.overlap = paper::kOverlap;
  return setup;
}
inline paper::PageSetup a4() { return setup_of(formats()[2]); }

inline Shape ruled(ink::Path path, double width = 0.35, Group group = Group::cut) {
  return {.group = group,
          .path = std::move(path),
          .stroke = ink::Stroke{ink::LinePattern::continuous, width}};
}

/// A frame just inside its extent.
inline Drawing frame(double width, double height, const std::string& name = "frame") {
  Drawing drawing{.name = name, .title = name, .extent = {0, 0, width, height}};
  drawing.add(ruled(ink::rectangle({2, 2, width - 2, height - 2})));
  return drawing;
}

/// Numbers from a seed, the same on every machine (xorshift, from memory of Marsaglia 2003).
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_(seed * 0x9E3779B97F4A7C15ULL + 1) {}
  /// From `from` up to and including `to`.
  int whole(int from, int to) {
    state_ ^= state_ << 13U;
    state_ ^= state_ >> 7U;
    state_ ^= state_ << 17U;
    return from + static_cast<int>(state_ % static_cast<std::uint64_t>(to - from + 1));
  }
  double real(double from, double to) { return from + (to - from) * whole(0, 100'000) / 100'000.0; }

 private:
  std::uint64_t state_;
};

/// Lines, curves, hatches and words at random places.
inline Drawing scribble(Dice& dice, double width, double height, const std::string& name) {
  Drawing drawing = frame(width, height, name);
  const int count = dice.whole(0, 12);
  for (int k = 0; k < count; ++k) {
    const Point a{dice.real(3, width - 3), dice.real(3, height - 3)};
    const Point b{dice.real(3, width - 3), dice.real(3, height - 3)};
    switch (dice.whole(0, 3)) {
      case 0:
        drawing.add(ruled(ink::line(a, b), 0.5, Group::fold));
        break;
      case 1:
        drawing.add(
            ruled(ink::hatch({std::min(a.x, b.x), 3, std::min(a.x, b.x) + 12, height - 3}, 4), 0.13,
                  Group::seal));
        break;
      case 2:
        drawing.add(
            ruled(ink::circle({width / 2, height / 2}, dice.real(3, 0.4 * std::min(width, height))),
                  0.7));
        break;
      default:
        drawing.add(Text{.words = "words on a drawing", .at = {width / 3, a.y}, .size = 4});
    }
  }
  return drawing;
}

/// One case of the seeded tests.
struct Case {
  paper::PageSetup setup;
  paper::Document document;
};
inline Case random_case(int seed) {
  Dice dice(static_cast<std::uint64_t>(seed));
  Case made;
  const auto all = formats();
  const auto pick = static_cast<std::size_t>(dice.whole(0, static_cast<int>(all.size()) - 1));
  made.setup = setup_of(all[pick]);
  const auto margin = [&] { return Length::whole_mm(dice.whole(3, 12)); };
  made.setup.margins = {margin(), margin(), margin(), margin()};
  made.setup.overlap = Length::whole_mm(dice.whole(0, 15));
  if (dice.whole(0, 2) == 0) {
    made.setup.printed_across = dice.whole(48'600, 51'400) * Length::nm(1'000);
    made.setup.printed_down = dice.whole(48'600, 51'400) * Length::nm(1'000);
  }
  const double most = 2.6 * made.setup.width.in_mm();
  made.document = {"case", "A case of the Heron Quay Sewing Circle", {}};
  const int count = dice.whole(1, 3);
  for (int k = 0; k < count; ++k) {
    made.document.drawings.push_back(scribble(dice, dice.real(40, std::min(most, 700.0)),
                                              dice.real(40, std::min(most, 700.0)),
                                              "drawing-" + std::to_string(k)));
  }
  return made;
}

inline paper::Pages paged(const Case& made, base::Diagnostics& diagnostics) {
  const EvenMeasure measure;
  base::Diagnostics asked;
  const bool can_be = paper::can_be_paged(made.document, made.setup, own_words(), measure, asked);
  paper::Pages pages = paper::paged(made.document, made.setup, own_words(), measure, diagnostics);
  CHECK(can_be == !pages.pages.empty());
  CHECK(asked.sorted() == diagnostics.sorted());
  return pages;
}
inline paper::Pages paged(std::vector<Drawing> drawings, const paper::PageSetup& setup) {
  base::Diagnostics diagnostics;
  return paged(Case{setup, {"test", "Test", std::move(drawings)}}, diagnostics);
}

inline Box on_paper(const paper::Pages& pages, const paper::Placement& placement) {
  const Box& window = placement.window;
  const Point a = paper::on_paper(placement, pages.scale, {window.x0, window.y0});
  const Point b = paper::on_paper(placement, pages.scale, {window.x1, window.y1});
  return {std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x), std::max(a.y, b.y)};
}

inline Box printable(const paper::Pages& pages, const paper::PageSetup& setup) {
  const auto& margins = setup.margins;
  return {margins.left.in_mm(), margins.top.in_mm(), pages.width - margins.right.in_mm(),
          pages.height - margins.bottom.in_mm()};
}

inline bool contains(const Box& outer, const Box& inner, double tolerance = 1e-6) {
  return inner.x0 >= outer.x0 - tolerance && inner.y0 >= outer.y0 - tolerance &&
         inner.x1 <= outer.x1 + tolerance && inner.y1 <= outer.y1 + tolerance;
}

inline std::string name_of(const Item& item) {
  const auto* shape = std::get_if<Shape>(&item);
  return shape == nullptr ? std::string() : shape->name;
}

inline std::vector<std::string> texts_of(const paper::Page& page) {
  std::vector<std::string> result;
  for (const Item& item : page.furniture) {
    if (const auto* text = std::get_if<Text>(&item)) result.push_back(text->words);
  }
  return result;
}

inline bool has_text(const paper::Page& page, std::string_view words) {
  const auto texts = texts_of(page);
  return std::find(texts.begin(), texts.end(), words) != texts.end();
}

}  // namespace pouchwright::test
