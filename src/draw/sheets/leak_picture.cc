#include "draw/sheets/leak_picture.h"

#include <algorithm>
#include <optional>
#include <set>
#include <string>
#include <utility>

#include "draw/folds/from_above.h"
#include "ink/labels.h"
#include "pouch/fold/moment.h"
#include "pouch/questions.h"

namespace pouchwright::draw {
namespace {

using base::Length;

constexpr Stroke kBand{LinePattern::dashed, 0.25};
constexpr Stroke kWater{LinePattern::long_dash_dot, 0.35};
constexpr Stroke kMark{LinePattern::continuous, 0.5};
constexpr double kLargest = 58;
constexpr double kNarrowest = 50;
constexpr double kCornerRadius = 3.4;
/// Rings nearer to each other than this are one, so that their numbers stand apart.
constexpr double kLeastApart = 4.5;
/// White above the picture.
constexpr double kAbove = 1;

class LeakPicture {
 public:
  LeakPicture(const pouch::Pouch& pouch, Length level, const base::Voice& words,
              const TextMeasure& measure)
      : pouch_(pouch),
        level_(level),
        words_(words),
        measure_(measure),
        folded_(pouch.stages[pouch::tested_at(pouch)].folded),
        heights_(extent_of(folded_.layers())) {
    const double wide = pouch_.sizes.cut_width.in_mm();
    const double high = heights_.size().in_mm();
    constexpr double kAround = kCornerRadius + 4;  // the ring and its number
    plan_.width = pouch_.sizes.cut_width;
    plan_.film = false;
    plan_.shaped = shaped_end(pouch_);
    plan_.scale = kLargest / std::max(wide, high);
    made_.box.x1 = std::max(wide * plan_.scale + 2 * kAround, kNarrowest);
    plan_.origin = {(made_.box.x1 - wide * plan_.scale) / 2, 0};
    const double ring_top = plan_.y(corner_heights(pouch_, level_).back()) - kCornerRadius;
    plan_.origin.y = kAbove - std::min(plan_.y(heights_.to), ring_top);
  }

  Frame drawn() {
    draw_pouch();
    draw_bands();
    across("fill level", level_, kWater);
    draw_rings();
    caption(std::max(plan_.y(heights_.from), plan_.y(Length()) + kCornerRadius) + 2);
    return as_figure(std::move(made_),
                     words_.say({"leak-figure", {{"level", words_.text(level_)}}}));
  }

 private:
  void draw(const char* name, Path path, Stroke stroke) {
    made_.items.emplace_back(Shape{.group = Group::label,
                                   .path = std::move(path),
                                   .stroke = stroke,
                                   .fill = Fill::none,
                                   .name = name});
  }

  [[nodiscard]] double left() const { return plan_.x(Length()); }
  [[nodiscard]] double right() const { return plan_.x(plan_.width); }

  void across(const char* name, Length height, Stroke stroke) {
    draw(name, line({left(), plan_.y(height)}, {right(), plan_.y(height)}), stroke);
  }

  /// Edges and folds that are seen; what is yet to be folded stays out.
  void draw_pouch() {
    Drawing plan;
    draw_plan(plan, folded_, {}, plan_);
    for (Item& item : only(plan, {Group::cut}).items) {
      if (auto* shape = std::get_if<Shape>(&item)) shape->group = Group::label;
      made_.items.push_back(std::move(item));
    }
  }

  void draw_bands() {
    for (const Length x : {pouch_.sizes.seal_width, plan_.width - pouch_.sizes.seal_width}) {
      draw("fused band",
           line({plan_.x(x), plan_.y(pouch_.lip_height)}, {plan_.x(x), plan_.y(Length())}), kBand);
    }
  }

  /// From the bottom up; corners too near to each other share a ring.
  void draw_rings() {
    int number = 0;
    std::optional<double> last;
    for (const Length height : corner_heights(pouch_, level_)) {
      const double y = plan_.y(height);
      if (last && *last - y < kLeastApart) continue;
      last = y;
      ring({left(), y}, ++number, Anchor::end);
      ring({right(), y}, ++number, Anchor::start);
    }
  }

  /// The number stands outside, where no line is.
  void ring(Point at, int number, Anchor anchor) {
    draw("corner", circle(at, kCornerRadius), kMark);
    const double aside = kCornerRadius + 1;
    made_.write(std::to_string(number),
                {anchor == Anchor::end ? at.x - aside : at.x + aside, at.y + 1.2}, anchor,
                Weight::bold);
  }

  /// What the lines mean; ends the picture.
  void caption(double y) {
    constexpr double kIndent = 14;
    const auto row = [&](const base::Message& message, Path path, Stroke stroke) {
      return Row{.words = words_.say(message),
                 .size = kSmallestSize,
                 .space_before = 0.6,
                 .indent = kIndent,
                 .sample = {Shape{.group = Group::label,
                                  .path = std::move(path),
                                  .stroke = stroke,
                                  .fill = Fill::none,
                                  .name = "sample"}}};
    };
    const Path stretch = line({0.5, 0}, {12, 0});
    const std::string level = kept_together(words_.text(level_));
    const Block rows{row("leak-picture-corners", circle({6, 0}, 1.6), kMark),
                     row({"leak-picture-water", {{"level", level}}}, stretch, kWater),
                     row("leak-picture-seal", stretch, kBand)};
    const Frame placed = laid_out(rows, made_.box.x1, 1, measure_);
    made_.place(placed, {0, y});
    made_.box.y1 = y + placed.box.y1;
  }

  const pouch::Pouch& pouch_;
  Length level_;
  base::Voice words_;
  const TextMeasure& measure_;
  const pouch::Folded& folded_;
  pouch::Interval heights_;
  PlanLook plan_;
  Frame made_;
};

}  // namespace

std::vector<Length> corner_heights(const pouch::Pouch& pouch, Length level) {
  std::set<Length> heights{Length()};
  for (const pouch::TestPoint& point : pouch.test_points) {
    if (point.height > Length() && point.height < level) heights.insert(point.height);
  }
  return {heights.begin(), heights.end()};
}

Frame leak_picture(const pouch::Pouch& pouch, Length level, const base::Voice& words,
                   const TextMeasure& measure) {
  return LeakPicture(pouch, level, words, measure).drawn();
}

}  // namespace pouchwright::draw
