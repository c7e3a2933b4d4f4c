#include "paper/test_page.h"

#include <algorithm>
#include <cmath>
#include <string>

namespace pouchwright::paper {

using namespace ink;

namespace {

constexpr Stroke kThin{LinePattern::continuous, 0.18};
constexpr Stroke kWide{LinePattern::continuous, 0.35};
constexpr double kInch = 25.4;

class TestPage {
 public:
  TestPage(const PageSetup& setup, const base::Voice& words, const TextMeasure& measure)
      : words_(words),
        measure_(measure),
        width_(setup.width.in_mm()),
        height_(setup.height.in_mm()) {}

  Page drawn() {
    frames();
    rulers();
    squares();
    instructions();
    page_.label = "test";
    return std::move(page_);
  }

 private:
  void draw(Group group, Path path, Stroke stroke, std::string name) {
    page_.furniture.emplace_back(Shape{.group = group,
                                       .path = std::move(path),
                                       .stroke = stroke,
                                       .fill = Fill::none,
                                       .name = std::move(name)});
  }

  void write(std::string words, Point at, Anchor anchor, Weight weight = Weight::regular) {
    page_.furniture.emplace_back(Text{.group = Group::label,
                                      .words = std::move(words),
                                      .at = at,
                                      .size = kSmallestSize,
                                      .anchor = anchor,
                                      .weight = weight});
  }

  /// Steps every millimetre from each edge, which a clipped print loses one by one; the nearest and
  /// the farthest are numbered.
  void frames() {
    for (int inset = kNearestFrame; inset <= kFarthestFrame; ++inset) {
      const double d = inset;
      const double x = width_ * 0.4 + (inset - kNearestFrame) * kStep;
      const double y = height_ * 0.4 + (inset - kNearestFrame) * kStep;
      draw(Group::label, line({x, d}, {x + kStep, d}), kWide, "top " + std::to_string(inset));
      draw(Group::label, line({x, height_ - d}, {x + kStep, height_ - d}), kWide,
           "bottom " + std::to_string(inset));
      draw(Group::label, line({d, y}, {d, y + kStep}), kWide, "left " + std::to_string(inset));
      draw(Group::label, line({width_ - d, y}, {width_ - d, y + kStep}), kWide,
           "right " + std::to_string(inset));
    }
    const std::string numbers =
        words_.say({"test-page-steps", {{"nearest", kNearestFrame}, {"farthest", kFarthestFrame}}});
    const double after = width_ * 0.4 + (kFarthestFrame - kNearestFrame + 2) * kStep;
    write(numbers, {after, kFarthestFrame}, Anchor::start);
    write(numbers, {after, height_ - kFarthestFrame + 1}, Anchor::start);
  }

  /// A ruler across and one down, in the job's unit, from a corner well inside the paper.
  void rulers() {
    const double length_across = std::floor((width_ - 2 * kRulerStart) / 10) * 10;
    const double length_down = std::floor((height_ - 2 * kRulerStart) / 10) * 10;
    ruler(length_across, true);
    ruler(length_down, false);
  }

  [[nodiscard]] Point on_ruler(double along, double off, bool across) const {
    return across ? Point{kRulerStart + along, kRulerStart + off}
                  : Point{kRulerStart + off, kRulerStart + along};
  }

  void ruler(double length, bool across) {
    draw(Group::registration, line(on_ruler(0, 0, across), on_ruler(length, 0, across)), kWide,
         across ? "ruler across" : "ruler down");
    const bool is_inch = words_.unit() == base::Unit::inch;
    const double step = is_inch ? kInch / 8 : 1;
    const int steps = static_cast<int>(length / step + 1e-9);
    const int whole = is_inch ? 8 : 10;
    for (int i = 0; i <= steps; ++i) {
      const double tick = i % whole == 0 ? 4 : i % (whole / 2) == 0 ? 3 : 2;
      draw(Group::registration,
           line(on_ruler(i * step, 0, across), on_ruler(i * step, tick, across)), kThin, "tick");
      if (i % whole != 0 || i == 0) continue;
      const std::string number = std::to_string(is_inch ? i / whole : i);
      const Point at = on_ruler(i * step, 8, across);
      write(number, across ? at : Point{at.x - 2.5, at.y + 1},
            across ? Anchor::middle : Anchor::start);
    }
  }

  void squares() {
    const double left = kRulerStart + 16;
    const double top = kRulerStart + 16;
    page_.check_square = {left, top, left + kCheckSquare, top + kCheckSquare};
    draw(Group::scale_check, rectangle(page_.check_square), kWide, "check-square");
    write("50 mm", {left + 3, top + 6}, Anchor::start);
    const double room = width_ - kRulerStart - (left + kCheckSquare + 8);
    const bool beside = room >= 2 * kInch;
    const double x = beside ? left + kCheckSquare + 8 : left;
    const double y = beside ? top : top + kCheckSquare + 8;
    draw(Group::scale_check, rectangle({x, y, x + 2 * kInch, y + 2 * kInch}), kWide, "check-inch");
    write("2 in", {x + 3, y + 6}, Anchor::start);
    below_ = std::max(top + kCheckSquare, y + 2 * kInch) + 8;
  }

  void instructions() {
    const double left = kRulerStart + 16;
    const double wide = std::min(width_ - kRulerStart - left - 12, 120.0);
    double y = below_;
    for (const char* key : {"test-page-title", "test-page-print", "test-page-square",
                            "test-page-rulers", "test-page-edges"}) {
      const Weight weight = y == below_ ? Weight::bold : Weight::regular;
      for (const std::string& one :
           broken_into_lines(words_.say({key}), wide, kSmallestSize, weight, measure_)) {
        y += 4;
        if (y > height_ - kRulerStart) return;
        write(one, {left, y}, Anchor::start, weight);
      }
      y += 2;
    }
  }

  static constexpr double kRulerStart = 14;
  static constexpr double kStep = 4;

  base::Voice words_;
  const TextMeasure& measure_;
  double width_;
  double height_;
  double below_ = 0;
  Page page_;
};

}  // namespace

Pages test_page(const PageSetup& setup, const base::Voice& words, const TextMeasure& measure) {
  Pages pages;
  pages.name = "test-page";
  pages.title = words.say({"test-page-title"});
  pages.width = setup.width.in_mm();
  pages.height = setup.height.in_mm();
  pages.pages.push_back(TestPage(setup, words, measure).drawn());
  pages.plain_grid_pages = 1;
  return pages;
}

}  // namespace pouchwright::paper
