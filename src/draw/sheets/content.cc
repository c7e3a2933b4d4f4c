#include "draw/sheets/content.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "base/length.h"
#include "draw/full_size/nested.h"
#include "draw/full_size/template_words.h"
#include "ink/canvas.h"
#include "pouch/judge/content.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

using base::Length;

constexpr Stroke kClothStroke{LinePattern::continuous, 0.5};
constexpr Stroke kLinerStroke{LinePattern::continuous, 0.18};
constexpr Stroke kBehindStroke{LinePattern::dashed, 0.25};
constexpr Stroke kMeasureStroke{LinePattern::continuous, 0.13};
constexpr Stroke kMarkStroke{LinePattern::long_dash_double_dot, 0.25};
/// From the page's left edge to the front view, for the depth.
constexpr double kLeft = 9;
/// Between the views, for the names of the front view's lines.
constexpr double kBetween = 34;
/// Right of the section, for the liners' length.
constexpr double kRight = 11;
constexpr double kNarrowestSection = 34;
/// Above the views, with the heading; below, with measures and captions.
constexpr double kAbove = 13;
constexpr double kBelow = 24;
constexpr double kLine = 4;
constexpr double kTick = 1.2;
/// The cloth is drawn this far off what it wraps, on paper.
constexpr double kOff = 0.9;

class Picture {
 public:
  Picture(const pouch::Pouch& pouch, const pouch::Packed& packed, const base::Voice& words,
          const TextMeasure& measure, Point room)
      : pouch_(pouch), packed_(packed), words_(words), sheet_(words, measure), room_(room) {
    width_ = on_paper(pouch.sizes.cut_width);
    front_ = on_paper(packed.cloth.front);
    back_ = on_paper(packed.cloth.back);
    climb_ = on_paper(packed.climb);
    length_ = on_paper(packed.box.length);
    height_ = on_paper(packed.box.height);
    tallest_ = std::max({front_, back_, climb_ + length_}) + height_ / 2;
    const double across = room.x - kLeft - kBetween - kRight;
    const double down = room.y - kAbove - kBelow;
    scale_ = std::min(
        {1.0, across / (width_ + height_), (across - kNarrowestSection) / width_, down / tallest_});
    base_ = kAbove + tallest_ * scale_;
    section_ = kLeft + width_ * scale_ + kBetween;
  }

  Drawing drawn(NamedBy named_by) {
    const Text name =
        with_top_left(label(title(), kHeadingSize, Weight::bold), {0, 0}, sheet_.measure());
    if (named_by == NamedBy::picture) sheet_.draw(name);
    name_views();
    front_view();
    section();
    captions();
    Drawing made = sheet_.finished("content", sheet_.say({"content-title", {{"title", title()}}}));
    // Named or not, the picture takes the same room.
    made.extent = united(made.extent, grown(bounds(name, sheet_.measure()), kWhiteAround));
    return made;
  }

 private:
  [[nodiscard]] std::string title() const { return tell::title_of(pouch_, words_); }
  [[nodiscard]] std::string shown(Length length) const {
    return kept_together(words_.text(length));
  }
  [[nodiscard]] double y_of(double height) const { return base_ - height * scale_; }
  [[nodiscard]] Text small(std::string words) const {
    return label(std::move(words), kSmallestSize);
  }

  void name_views() {
    const auto under_view = [&](const char* key, double x) {
      sheet_.draw(with_top_left(small(sheet_.say(key)), {x, 7}, sheet_.measure()));
    };
    under_view("content-front-view", kLeft);
    under_view("content-section", section_);
  }

  // ---- Measures --------------------------------------------------------------------------------

  void measure_across(double x0, double x1, double y, const std::string& words) {
    sheet_.draw(Group::label, line({x0, y}, {x1, y}), kMeasureStroke, "measure");
    for (const double x : {x0, x1}) {
      sheet_.draw(Group::label, line({x, y - kTick}, {x, y + kTick}), kMeasureStroke, "measure");
    }
    const Box size = bounds(small(words), sheet_.measure());
    sheet_.draw(centred_on(small(words),
                           {(x0 + x1) / 2, y + kTick + kClearance + size.height() / 2},
                           sheet_.measure()));
  }

  /// The words stand on the side of `sense`: -1 left, 1 right.
  void measure_up(double x, double low, double high, double sense, const std::string& words) {
    sheet_.draw(Group::label, line({x, y_of(low)}, {x, y_of(high)}), kMeasureStroke, "measure");
    for (const double height : {low, high}) {
      const double y = y_of(height);
      sheet_.draw(Group::label, line({x - kTick, y}, {x + kTick, y}), kMeasureStroke, "measure");
    }
    Text upright = small(words);
    upright.turn_deg = 270;
    const Box size = bounds(upright, sheet_.measure());
    const double away = sense * (kTick + kClearance + size.width() / 2);
    sheet_.draw(centred_on(upright, {x + away, y_of((low + high) / 2)}, sheet_.measure()));
  }

  // ---- The front -------------------------------------------------------------------------------

  void front_view() {
    const double left = kLeft;
    const double right = left + width_ * scale_;
    const double top = y_of(back_);
    sheet_.draw(Group::cut, rectangle({left, top, right, base_}), kClothStroke, "pouch");
    const double inside = on_paper(pouch_.sizes.inside_width);
    const double rim = (width_ - inside) / 2 * scale_;
    for (const double x : {left + rim, right - rim}) {
      sheet_.draw(Group::seam, line({x, y_of(std::min(front_, back_))}, {x, base_}), kBehindStroke,
                  "seal's inner limit");
    }
    liners_from_the_front((left + right) / 2);
    lines_across(left, right);
    measure_up(left - 3.2, 0, back_, -1, shown(packed_.cloth.back));
    const double half_box = on_paper(packed_.box.width) / 2 * scale_;
    const double middle = (left + right) / 2;
    measure_across(middle - half_box, middle + half_box, base_ + 3, shown(packed_.box.width));
    measure_across(left + rim, right - rim, base_ + 10, shown(pouch_.sizes.inside_width));
  }

  void liners_from_the_front(double middle) {
    const double one = on_paper(packed_.box.width) / packed_.columns * scale_;
    double x = middle - one * packed_.columns / 2;
    for (int column = 0; column < packed_.columns; ++column, x += one) {
      sheet_.draw(Group::grain, rectangle({x, y_of(climb_ + length_), x + one, y_of(climb_)}),
                  kLinerStroke, "liners");
    }
  }

  /// Lip and flap, named at their right end.
  void lines_across(double left, double right) {
    struct Named {
      double height;
      const char* key;
    };
    std::vector<Named> lines{{front_, "content-lip"}};
    const FlapLaw law = pouch_.construction().flap_law;
    if (law == FlapLaw::rolled) {
      lines = {{back_, "content-roll"}};
    } else if (pouch_.sizes.flap > Length()) {
      lines.push_back({back_, "content-flap-fold"});
      const double flap_end = back_ - on_paper(pouch_.sizes.flap);
      if (flap_end > 0) lines.push_back({flap_end, "content-flap-end"});
    }
    std::stable_sort(lines.begin(), lines.end(),
                     [](const Named& a, const Named& b) { return a.height > b.height; });
    double lowest = 0;
    for (const Named& one : lines) {
      const double y = y_of(one.height);
      sheet_.draw(Group::fold, line({left, y}, {right, y}), kMarkStroke, one.key);
      const Text words = small(sheet_.say(one.key));
      const Box size = bounds(words, sheet_.measure());
      const double at = std::max(y, lowest + size.height());
      lowest = at;
      sheet_.draw(centred_on(words, {right + 4 + size.width() / 2, at}, sheet_.measure()));
      sheet_.draw_freely(Shape{.group = Group::label,
                               .path = line({right, y}, {right + 3.2, at}),
                               .stroke = kMeasureStroke,
                               .fill = Fill::none,
                               .name = "leader"});
    }
  }

  using FlapLaw = pouch::FlapLaw;

  // ---- The section -----------------------------------------------------------------------------

  [[nodiscard]] double section_middle() const {
    return section_ + std::max(kNarrowestSection, height_ * scale_) / 2;
  }

  /// Heights in the section count from the content's underside, the front is on the left.
  [[nodiscard]] Point at(double across, double up) const {
    return {section_middle() + (across - height_ / 2) * scale_, y_of(climb_ + up)};
  }

  void section() {
    const double one = height_ / packed_.layers;
    for (int layer = 0; layer < packed_.layers; ++layer) {
      const Point low = at(layer * one, 0);
      const Point high = at((layer + 1) * one, length_);
      sheet_.draw(Group::grain, rectangle({low.x, high.y, high.x, low.y}), kLinerStroke, "liner");
    }
    switch (pouch_.construction().flap_law) {
      case FlapLaw::rolled:
        rolled_cloth();
        break;
      case FlapLaw::caught:
        caught_cloth();
        break;
      case FlapLaw::free:
      case FlapLaw::none:
        open_cloth();
        break;
    }
    const Point low = at(0, 0);
    const Point high = at(height_, length_);
    measure_across(low.x, high.x, low.y + kOff + 3, shown(packed_.box.height));
    measure_up(high.x + kOff + 4, climb_, climb_ + length_, 1, shown(packed_.box.length));
  }

  /// From the lip down, round below, up the back; then over the top and down in front, as far as
  /// back and flap go.
  void open_cloth() {
    const double lip = std::max(0.0, front_ - climb_);
    std::vector<Point> corners{off(at(0, lip), -1, 0), off(at(0, 0), -1, 1),
                               off(at(height_, 0), 1, 1)};
    double left = back_ + on_paper(pouch_.sizes.flap) - climb_;
    const double top = pouch_.sizes.flap > Length() ? std::max(length_, lip) : left;
    const auto go = [&](double leg, Point from, Point to) {
      const double part = leg > 0 ? std::clamp(left / leg, 0.0, 1.0) : 1.0;
      if (left <= 0) return;
      corners.push_back({from.x + (to.x - from.x) * part, from.y + (to.y - from.y) * part});
      left -= leg;
    };
    const Point back_top = off(at(height_, top), 1, -1);
    const Point front_top = off(at(0, top), -2, -1);
    go(top, corners.back(), back_top);
    go(height_, back_top, front_top);
    go(std::max(left, 1e-9), front_top, {front_top.x, front_top.y + left * scale_});
    sheet_.draw(Group::cut, polyline(corners, Ends::open), kClothStroke, "cloth");
  }

  /// Front and back lean together above the content, as the seams hold them at the sides; the flap
  /// lies on the front.
  void caught_cloth() {
    const double half = height_ / 2;
    const double lean = std::max(0.0, back_ - climb_ - length_);
    const Point fold = at(half, length_ + std::sqrt(std::max(0.0, lean * lean - half * half)));
    const Point shoulder = off(at(0, length_), -1, 0);
    const double up_to_lip = std::max(0.0, front_ - climb_ - length_) * scale_;
    sheet_.draw(
        Group::cut,
        polyline({towards(shoulder, fold, up_to_lip), shoulder, off(at(0, 0), -1, 1),
                  off(at(height_, 0), 1, 1), off(at(height_, length_), 1, 0), off(fold, 0, -1)},
                 Ends::open),
        kClothStroke, "cloth");
    const Point over = off(fold, 0, -1);
    const Point under = off(shoulder, -1, -0.5);
    const double flap = on_paper(pouch_.sizes.flap) * scale_;
    const double slope = std::hypot(under.x - over.x, under.y - over.y);
    std::vector<Point> corners{over, towards(over, under, std::min(flap, slope))};
    if (flap > slope) corners.push_back({under.x, under.y + flap - slope});
    sheet_.draw(Group::cut, polyline(corners, Ends::open), kClothStroke, "flap");
  }

  /// `way` mm from `from` on the line to `to`.
  static Point towards(Point from, Point to, double way) {
    const double all = std::hypot(to.x - from.x, to.y - from.y);
    const double part = all > 0 ? std::min(way / all, 1.0) : 0.0;
    return {from.x + (to.x - from.x) * part, from.y + (to.y - from.y) * part};
  }

  /// Front and back come together above the content, into the roll.
  void rolled_cloth() {
    const Point pinch = at(height_ / 2, length_ + height_ / 2);
    const double radius = std::max(1.5, height_ * scale_ / 6);
    sheet_.draw(Group::cut,
                polyline({pinch, off(at(0, length_), -1, 0), off(at(0, 0), -1, 1),
                          off(at(height_, 0), 1, 1), off(at(height_, length_), 1, 0), pinch},
                         Ends::open),
                kClothStroke, "cloth");
    for (const double ring : {1.0, 0.6, 0.25}) {
      sheet_.draw(Group::cut, circle({pinch.x, pinch.y - radius}, radius * ring), kClothStroke,
                  "roll");
    }
  }

  /// A point moved off the content: `across` and `down` in steps of kOff.
  static Point off(Point point, double across, double down) {
    return {point.x + across * kOff, point.y + down * kOff};
  }

  // ---- Words -----------------------------------------------------------------------------------

  void captions() {
    const base::Message counts{packed_.columns == 1 ? "content-caption-one" : "content-caption",
                               {{"liners", liners_named({packed_.liners}, words_)},
                                {"columns", packed_.columns},
                                {"layers", packed_.layers}}};
    double y = base_ + 16.5;
    for (const std::string& words : broken_into_lines(
             sheet_.say(counts), room_.x - 2, kSmallestSize, Weight::regular, sheet_.measure())) {
      sheet_.draw(with_top_left(small(words), {0, y}, sheet_.measure()));
      y += kLine;
    }
  }

  const pouch::Pouch& pouch_;
  const pouch::Packed& packed_;
  base::Voice words_;
  Sheet sheet_;
  Point room_;
  // Millimetres of the pouch.
  double width_ = 0, front_ = 0, back_ = 0, climb_ = 0, length_ = 0, height_ = 0, tallest_ = 0;
  // Millimetres on paper.
  double scale_ = 1;
  double base_ = 0;     ///< the bottom
  double section_ = 0;  ///< left edge of the section's field
};

}  // namespace

std::vector<Drawing> content_picture(const pouch::Pouch& pouch, const base::Voice& words,
                                     const TextMeasure& measure, Point room, NamedBy named_by) {
  const auto packed = pouch::packed(pouch);
  if (!packed) return {};
  const Point inner{room.x - 2 * kWhiteAround, room.y - 2 * kWhiteAround};
  return {Picture(pouch, *packed, words, measure, inner).drawn(named_by)};
}

}  // namespace pouchwright::draw
