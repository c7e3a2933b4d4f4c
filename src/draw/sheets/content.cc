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
constexpr double kBelow = 25;
constexpr double kLine = 4;
constexpr double kTick = 1.2;
/// The cloth is drawn this far off what it wraps, on paper.
constexpr double kOff = 0.9;

using FlapLaw = pouch::FlapLaw;

Text small(std::string words) { return label(std::move(words), kSmallestSize); }

/// Both views at one scale: the front on the left, the section right of it, their bottoms on one
/// line.
struct Views {
  // Millimetres of the pouch.
  double width = 0, front = 0, back = 0, climb = 0, length = 0, height = 0;
  // Millimetres on paper.
  double scale = 1;
  double base = 0;     ///< the bottom
  double section = 0;  ///< left edge of the section's field

  [[nodiscard]] double y_of(double up) const { return base - up * scale; }
};

Views views_of(const pouch::Pouch& pouch, const pouch::Packed& packed, Point room) {
  Views views{.width = on_paper(pouch.sizes.cut_width),
              .front = on_paper(packed.cloth.front),
              .back = on_paper(packed.cloth.back),
              .climb = on_paper(packed.climb),
              .length = on_paper(packed.box.length),
              .height = on_paper(packed.box.height)};
  const double tallest =
      std::max({views.front, views.back, views.climb + views.length}) + views.height / 2;
  const double across = room.x - kLeft - kBetween - kRight;
  const double down = room.y - kAbove - kBelow;
  views.scale = std::min({1.0, across / (views.width + views.height),
                          (across - kNarrowestSection) / views.width, down / tallest});
  views.base = kAbove + tallest * views.scale;
  views.section = kLeft + views.width * views.scale + kBetween;
  return views;
}

void measure_across(ink::Sheet& sheet, double x0, double x1, double y, const std::string& words) {
  sheet.draw(Group::label, line({x0, y}, {x1, y}), kMeasureStroke, "measure");
  for (const double x : {x0, x1}) {
    sheet.draw(Group::label, line({x, y - kTick}, {x, y + kTick}), kMeasureStroke, "measure");
  }
  const Box size = bounds(small(words), sheet.measure());
  sheet.draw(centred_on(small(words), {(x0 + x1) / 2, y + kTick + kClearance + size.height() / 2},
                        sheet.measure()));
}

/// From `low` up to `high`; the words stand on the side of `sense`: -1 left, 1 right.
void measure_up(ink::Sheet& sheet, double x, double low, double high, double sense,
                const std::string& words) {
  sheet.draw(Group::label, line({x, low}, {x, high}), kMeasureStroke, "measure");
  for (const double y : {low, high}) {
    sheet.draw(Group::label, line({x - kTick, y}, {x + kTick, y}), kMeasureStroke, "measure");
  }
  Text upright = small(words);
  upright.turn_deg = 270;
  const Box size = bounds(upright, sheet.measure());
  const double away = sense * (kTick + kClearance + size.width() / 2);
  sheet.draw(centred_on(upright, {x + away, (low + high) / 2}, sheet.measure()));
}

/// The pouch from the front: its outline, the liners in it, lip and flap.
class FrontView {
 public:
  FrontView(const pouch::Pouch& pouch, const pouch::Packed& packed, const Views& views,
            ink::Sheet& sheet)
      : pouch_(pouch), packed_(packed), views_(views), sheet_(sheet) {}

  void draw() {
    const double left = kLeft;
    const double right = left + views_.width * views_.scale;
    const double top = views_.y_of(views_.back);
    sheet_.draw(Group::cut, rectangle({left, top, right, views_.base}), kClothStroke, "pouch");
    const double inside = on_paper(pouch_.sizes.inside_width);
    const double rim = (views_.width - inside) / 2 * views_.scale;
    for (const double x : {left + rim, right - rim}) {
      sheet_.draw(Group::seam,
                  line({x, views_.y_of(std::min(views_.front, views_.back))}, {x, views_.base}),
                  kBehindStroke, "seal's inner limit");
    }
    liners_from_the_front((left + right) / 2);
    lines_across(left, right);
    measure_up(sheet_, left - 3.2, views_.base, views_.y_of(views_.back), -1,
               shown(packed_.cloth.back));
    const double half_box = on_paper(packed_.box.width) / 2 * views_.scale;
    const double middle = (left + right) / 2;
    measure_across(sheet_, middle - half_box, middle + half_box, views_.base + 3,
                   shown(packed_.box.width));
    measure_across(sheet_, left + rim, right - rim, views_.base + 10,
                   shown(pouch_.sizes.inside_width));
  }

 private:
  [[nodiscard]] std::string shown(Length length) const {
    return kept_together(sheet_.words().text(length));
  }

  void liners_from_the_front(double middle) {
    const double one = on_paper(packed_.box.width) / packed_.columns * views_.scale;
    double x = middle - one * packed_.columns / 2;
    for (int column = 0; column < packed_.columns; ++column, x += one) {
      sheet_.draw(Group::grain,
                  rectangle({x, views_.y_of(views_.climb + views_.length), x + one,
                             views_.y_of(views_.climb)}),
                  kLinerStroke, "liners");
    }
  }

  /// Lip and flap, named at their right end.
  void lines_across(double left, double right) {
    struct Named {
      double height;
      const char* key;
    };
    std::vector<Named> lines{{views_.front, "content-lip"}};
    const FlapLaw law = pouch_.construction().flap_law;
    if (law == FlapLaw::rolled) {
      lines = {{views_.back, "content-roll"}};
    } else if (pouch_.sizes.flap > Length()) {
      lines.push_back({views_.back, "content-flap-fold"});
      const double flap_end = views_.back - on_paper(pouch_.sizes.flap);
      if (flap_end > 0) lines.push_back({flap_end, "content-flap-end"});
    }
    std::stable_sort(lines.begin(), lines.end(),
                     [](const Named& a, const Named& b) { return a.height > b.height; });
    double lowest = 0;
    for (const Named& one : lines) {
      const double y = views_.y_of(one.height);
      sheet_.draw(Group::fold, line({left, y}, {right, y}), kMarkStroke, one.key);
      const Text words = small(sheet_.say(one.key));
      const Box size = bounds(words, sheet_.measure());
      const double at = std::max(y, lowest + size.height());
      lowest = at;
      sheet_.draw(centred_on(words, {right + 4 + size.width() / 2, at}, sheet_.measure()));
      sheet_.draw_freely(Group::label, line({right, y}, {right + 3.2, at}), kMeasureStroke,
                         "leader");
    }
  }

  const pouch::Pouch& pouch_;
  const pouch::Packed& packed_;
  Views views_;
  ink::Sheet& sheet_;
};

/// The content from the side, and how the cloth lies round it.
class Section {
 public:
  Section(const pouch::Pouch& pouch, const pouch::Packed& packed, const Views& views,
          ink::Sheet& sheet)
      : pouch_(pouch), packed_(packed), views_(views), sheet_(sheet) {}

  void draw() {
    const double one = views_.height / packed_.layers;
    for (int layer = 0; layer < packed_.layers; ++layer) {
      const Point low = at(layer * one, 0);
      const Point high = at((layer + 1) * one, views_.length);
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
    const Point high = at(views_.height, views_.length);
    measure_across(sheet_, low.x, high.x, low.y + kOff + 3, shown(packed_.box.height));
    measure_up(sheet_, high.x + kOff + 4, low.y, high.y, 1, shown(packed_.box.length));
  }

 private:
  [[nodiscard]] std::string shown(Length length) const {
    return kept_together(sheet_.words().text(length));
  }

  [[nodiscard]] double section_middle() const {
    return views_.section + std::max(kNarrowestSection, views_.height * views_.scale) / 2;
  }

  /// Heights in the section count from the content's underside, the front is on the left.
  [[nodiscard]] Point at(double across, double up) const {
    return {section_middle() + (across - views_.height / 2) * views_.scale,
            views_.y_of(views_.climb + up)};
  }

  /// From the lip down, round below, up the back; then over the top and down in front, as far as
  /// back and flap go.
  void open_cloth() {
    const double lip = std::max(0.0, views_.front - views_.climb);
    std::vector<Point> corners{off(at(0, lip), -1, 0), off(at(0, 0), -1, 1),
                               off(at(views_.height, 0), 1, 1)};
    double left = views_.back + on_paper(pouch_.sizes.flap) - views_.climb;
    const double top = pouch_.sizes.flap > Length() ? std::max(views_.length, lip) : left;
    const auto go = [&](double leg, Point from, Point to) {
      const double part = leg > 0 ? std::clamp(left / leg, 0.0, 1.0) : 1.0;
      if (left <= 0) return;
      corners.push_back({from.x + (to.x - from.x) * part, from.y + (to.y - from.y) * part});
      left -= leg;
    };
    const Point back_top = off(at(views_.height, top), 1, -1);
    const Point front_top = off(at(0, top), -2, -1);
    go(top, corners.back(), back_top);
    go(views_.height, back_top, front_top);
    go(std::max(left, 1e-9), front_top, {front_top.x, front_top.y + left * views_.scale});
    sheet_.draw(Group::cut, polyline(corners, Ends::open), kClothStroke, "cloth");
  }

  /// Front and back lean together above the content, as the seams hold them at the sides; the flap
  /// lies on the front.
  void caught_cloth() {
    const double half = views_.height / 2;
    const double lean = std::max(0.0, views_.back - views_.climb - views_.length);
    const Point fold =
        at(half, views_.length + std::sqrt(std::max(0.0, lean * lean - half * half)));
    const Point shoulder = off(at(0, views_.length), -1, 0);
    const double up_to_lip =
        std::max(0.0, views_.front - views_.climb - views_.length) * views_.scale;
    sheet_.draw(Group::cut,
                polyline({towards(shoulder, fold, up_to_lip), shoulder, off(at(0, 0), -1, 1),
                          off(at(views_.height, 0), 1, 1),
                          off(at(views_.height, views_.length), 1, 0), off(fold, 0, -1)},
                         Ends::open),
                kClothStroke, "cloth");
    const Point over = off(fold, 0, -1);
    const Point under = off(shoulder, -1, -0.5);
    const double flap = on_paper(pouch_.sizes.flap) * views_.scale;
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
    const Point pinch = at(views_.height / 2, views_.length + views_.height / 2);
    const double radius = std::max(1.5, views_.height * views_.scale / 6);
    sheet_.draw(Group::cut,
                polyline({pinch, off(at(0, views_.length), -1, 0), off(at(0, 0), -1, 1),
                          off(at(views_.height, 0), 1, 1),
                          off(at(views_.height, views_.length), 1, 0), pinch},
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

  const pouch::Pouch& pouch_;
  const pouch::Packed& packed_;
  Views views_;
  ink::Sheet& sheet_;
};

void name_views(const Views& views, ink::Sheet& sheet) {
  const auto under_view = [&](const char* key, double x) {
    sheet.draw(with_top_left(small(sheet.say(key)), {x, 7}, sheet.measure()));
  };
  under_view("content-front-view", kLeft);
  under_view("content-section", views.section);
}

void draw_captions(const pouch::Packed& packed, const Views& views, double width,
                   ink::Sheet& sheet) {
  const base::Message counts{packed.columns == 1 ? "content-caption-one" : "content-caption",
                             {{"liners", liners_named({packed.liners}, sheet.words())},
                              {"columns", packed.columns},
                              {"layers", packed.layers}}};
  std::string caption = sheet.say(counts);
  if (packed.lies == pouch::Lies::turned) caption += " " + sheet.say("content-turned");
  double y = views.base + 16.5;
  for (const std::string& words :
       broken_into_lines(caption, width - 2, kSmallestSize, Weight::regular, sheet.measure())) {
    sheet.draw(with_top_left(small(words), {0, y}, sheet.measure()));
    y += kLine;
  }
}

Drawing picture_of(const pouch::Pouch& pouch, const pouch::Packed& packed, const base::Voice& words,
                   const TextMeasure& measure, Point room, NamedBy named_by) {
  const std::string title = tell::title_of(pouch, words);
  const Views views = views_of(pouch, packed, room);
  ink::Sheet sheet(words, measure);
  const Text name = with_top_left(label(title, kHeadingSize, Weight::bold), {0, 0}, measure);
  if (named_by == NamedBy::picture) sheet.draw(name);
  name_views(views, sheet);
  FrontView(pouch, packed, views, sheet).draw();
  Section(pouch, packed, views, sheet).draw();
  draw_captions(packed, views, room.x, sheet);
  Drawing made = sheet.finished("content", words.say({"content-title", {{"title", title}}}));
  // Named or not, the picture takes the same room.
  made.extent = united(made.extent, grown(bounds(name, measure), kWhiteAround));
  return made;
}

}  // namespace

std::vector<Drawing> content_picture(const pouch::Pouch& pouch, const base::Voice& words,
                                     const TextMeasure& measure, Point room, NamedBy named_by) {
  const auto packed = pouch::packed(pouch);
  if (!packed) return {};
  const Point inner{room.x - 2 * kWhiteAround, room.y - 2 * kWhiteAround};
  return {picture_of(pouch, *packed, words, measure, inner, named_by)};
}

}  // namespace pouchwright::draw
