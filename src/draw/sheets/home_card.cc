#include "draw/sheets/home_card.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <utility>

#include "draw/full_size/template_words.h"
#include "draw/sheets/scenes.h"
#include "draw/views/finished.h"
#include "ink/canvas.h"
#include "ink/flow.h"
#include "ink/labels.h"
#include "pouch/questions.h"
#include "tell/fill.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

/// Read by people who are ill or old: 12 pt.
constexpr double kReadingSize = 12 * 25.4 / 72;
constexpr double kNarrowestCard = 90;
/// White inside a card's edge.
constexpr double kInset = 2;
constexpr std::size_t kAcross = 3;  ///< pictures side by side
/// Of a row's width its first picture gets so much: more where that makes its words shorter.
constexpr std::array kFirstShares = {1.0 / 3, 0.42};
/// White between two pictures.
constexpr double kBesides = 2;
/// The line up to which water may stand goes on so far beside the pouch.
constexpr double kStandsOut = 1.6;
constexpr Stroke kCarryLine{LinePattern::continuous, 0.5};
constexpr double kCaptionGap = 0.5;
/// Between the cards and the line that says how often the page is printed.
constexpr double kAboveLine = 2;
/// Half a cut line stays inside the page.
constexpr double kEdge = 0.4;

struct Shown {
  std::optional<Scene> scene;  ///< absent: the pouch as it is filled
  const char* caption;         ///< null: follows from how the pouch is shut
};
constexpr std::array kShown = {Shown{std::nullopt, nullptr},
                               Shown{Scene::hold, "home-hold"},
                               Shown{Scene::no_shaking, "home-no-shaking"},
                               Shown{Scene::rinse, "home-rinse"},
                               Shown{Scene::wash, "home-wash"},
                               Shown{Scene::dry, "home-dry"}};

/// How a pouch is shut: by a flap, by rolling its mouth down, or not at all.
enum class Shut { flap, rolled, open };
Shut shut_by(const pouch::Pouch& pouch) {
  switch (pouch.construction().flap_law) {
    case pouch::FlapLaw::caught:
    case pouch::FlapLaw::free:
      return Shut::flap;
    case pouch::FlapLaw::rolled:
      return Shut::rolled;
    case pouch::FlapLaw::none:
      break;
  }
  return Shut::open;
}

/// What to do with the pouch once the liners are in it.
base::Message filling(const pouch::Pouch& pouch, const base::Voice& words) {
  const std::optional<pouch::Closure> closure = pouch::closure_of(pouch);
  const std::string name = closure ? words.say(tell::kind_key(closure->kind)) : "";
  const std::string rolls = std::to_string(pouch::rolls_of(pouch).size());
  switch (shut_by(pouch)) {
    case Shut::flap:
      if (name.empty()) return "home-fill";
      return {"home-fill-closure", {{"closure", name}}};
    case Shut::rolled:
      if (name.empty()) return {"home-fill-rolled", {{"rolls", rolls}}};
      return {closure->on_straps ? "home-fill-rolled-straps" : "home-fill-rolled-closure",
              {{"rolls", rolls}, {"closure", name}}};
    case Shut::open:
      break;
  }
  if (name.empty()) return "home-fill-open";
  return {"home-fill-open-closure", {{"closure", name}}};
}

/// US cup of 8 fluid ounces: NIST SP 811, appendix B (from memory).
constexpr double kMlPerCup = 236.5882;

/// As a measuring cup has it, rounded down: "2¼".
std::string in_quarters(double amount) {
  constexpr std::array kParts = {"", "¼", "½", "¾"};
  const auto quarters = static_cast<std::size_t>(std::max(1.0, std::floor(amount * 4)));
  std::string text = quarters >= 4 ? std::to_string(quarters / 4) : "";
  if (quarters % 4 == 0) return text;
  return text + kParts.at(quarters % 4);
}

/// One card as a picture `width` wide; its height is what it takes.
class Card {
 public:
  Card(const pouch::Pouch& pouch, const Icons& icons, const base::Voice& words,
       const TextMeasure& measure, double width)
      : pouch_(pouch),
        fill_(tell::fill_read(pouch, words)),
        icons_(icons),
        words_(words),
        measure_(measure) {
    made_.box.x1 = width;
  }

  Frame drawn() {
    double y = block({{.words = tell::title_of(pouch_, words_),
                       .size = kReadingSize,
                       .weight = Weight::bold}},
                     kInset, kInset, made_.box.x1 - 2 * kInset) +
               2;
    for (std::size_t first = 0; first < kShown.size(); first += kAcross) {
      y = pictures(first, y) + 1;
    }
    y = block(foot(), kInset, y, made_.box.x1 - 2 * kInset);
    made_.box.y1 = y + kInset;
    return std::move(made_);
  }

 private:
  /// Returns its foot.
  double block(const Block& words, double x, double y, double width) {
    const Frame placed = laid_out(words, width, 1, measure_);
    made_.place(placed, {x, y});
    return y + placed.box.y1;
  }

  /// A row of pictures with their captions; returns the lowest foot.
  double pictures(std::size_t first, double y) {
    const std::vector<double> widths = row_widths(first);
    double left = kInset;
    double foot = y;
    for (std::size_t i = 0; i < kAcross; ++i) {
      const Frame picture = picture_of(kShown[first + i], widths[i] - kBesides);
      made_.place(picture, {left + (widths[i] - picture.box.x1) / 2,
                            y + (kSceneHeight - picture.box.y1) / 2});
      const double below = y + kSceneHeight + kCaptionGap;
      foot = std::max(foot, block(caption_of(kShown[first + i]), left + 1, below, widths[i] - 2));
      left += widths[i];
    }
    return foot;
  }

  /// The widths at which the row's captions take the fewest lines.
  [[nodiscard]] std::vector<double> row_widths(std::size_t first) const {
    const double all = made_.box.x1 - 2 * kInset;
    std::vector<double> best;
    double least = 0;
    for (const double share : kFirstShares) {
      std::vector<double> widths(kAcross, all * (1 - share) / (kAcross - 1));
      widths.front() = all * share;
      double highest = 0;
      for (std::size_t i = 0; i < kAcross; ++i) {
        const Frame words = laid_out(caption_of(kShown[first + i]), widths[i] - 2, 1, measure_);
        highest = std::max(highest, words.box.y1);
      }
      if (!best.empty() && highest > least - kReadingSize / 2) continue;
      best = std::move(widths);
      least = highest;
    }
    return best;
  }

  [[nodiscard]] Block caption_of(const Shown& shown) const {
    return {{.words = words_.say(shown.caption != nullptr ? base::Message(shown.caption)
                                                          : filling(pouch_, words_)),
             .size = kReadingSize}};
  }

  [[nodiscard]] Frame picture_of(const Shown& shown, double width) const {
    if (!shown.scene) {
      return as_picture(open_view(pouch_, {.room = {width, kSceneHeight}, .angles = kUprightAngles},
                                  words_, measure_));
    }
    Frame picture = scene_picture(icons_, *shown.scene);
    if (shown.scene == Scene::hold) picture.place(carried_pouch(), {kHeldPouch.x0, kHeldPouch.y0});
    return picture;
  }

  /// Shut, with a line up to where water may stand. So small a ring of straps would be a blot.
  [[nodiscard]] Frame carried_pouch() const {
    const base::Length level = fill_.carry_level;
    const auto carry_line = [&](Drawing& drawing, const View& view) {
      if (level <= base::Length()) return;
      const Point left = view.on_top(base::Length(), level);
      const Point right = view.on_top(pouch_.sizes.cut_width, level);
      drawing.add_line(Group::label, "carry line",
                       line({left.x - kStandsOut, left.y}, {right.x + kStandsOut, right.y}),
                       kCarryLine);
    };
    return as_picture(closed_view(pouch_,
                                  {.room = {kHeldPouch.width(), kHeldPouch.height()},
                                   .angles = kUprightAngles,
                                   .held = false,
                                   .marks = carry_line},
                                  words_, measure_));
  }

  /// Of group `cut` are the cards' edges alone.
  [[nodiscard]] static Frame as_picture(Drawing drawing) {
    for (Item& item : drawing.items) {
      if (auto* shape = std::get_if<Shape>(&item)) shape->group = Group::label;
    }
    return {std::move(drawing.items), drawing.extent};
  }

  [[nodiscard]] Block foot() const {
    Block rows{{.words = words_.say(use())}};
    if (fill_.test_level > base::Length()) {
      rows.push_back({.words = words_.say(carried()), .weight = Weight::bold});
    }
    const bool metric = words_.unit() == base::Unit::mm;
    rows.push_back({.words = words_.say(metric ? "home-heat" : "home-heat-fahrenheit")});
    rows.push_back({.words = words_.say("home-no-device"), .weight = Weight::bold});
    for (Row& row : rows) {
      row.size = kReadingSize;
      row.space_before = 0.8;
    }
    return rows;
  }

  /// What it is for, and how many go in.
  [[nodiscard]] base::Message use() const {
    const int liners = pouch_.capacity ? pouch_.capacity->liners : 0;
    if (liners < 1) return "home-use";
    if (liners == 1) return "home-use-one";
    return {"home-use-liners", {{"count", liners}}};
  }

  /// Up to where water may stand while the pouch is carried; never more than was tested.
  [[nodiscard]] base::Message carried() const {
    if (fill_.carry_level <= base::Length()) return "home-carry-none";
    const std::string level = kept_together(words_.text(base::at_most(fill_.carry_level)));
    const std::pair<std::string, base::Value> how{
        "how",
        base::Message(shut_by(pouch_) == Shut::open ? "home-carry-upright" : "home-carry-closed")};
    if (fill_.carry_ml <= 0) return {"home-carry-level", {how, {"level", level}}};
    const base::Number ml = base::figures(fill_.carry_ml, 2);
    if (words_.unit() == base::Unit::mm) return {"home-carry", {how, {"level", level}, {"ml", ml}}};
    return {"home-carry-cups",
            {how, {"level", level}, {"cups", in_quarters(fill_.carry_ml / kMlPerCup)}}};
  }

  const pouch::Pouch& pouch_;
  pouch::Fill fill_;
  const Icons& icons_;
  base::Voice words_;
  const TextMeasure& measure_;
  Frame made_;
};

/// The card's right and lower edge, and where no other card has drawn them the left and upper one.
void cut_lines(Drawing& page, const Box& card) {
  const Box edge{std::max(card.x0, kEdge), std::max(card.y0, kEdge),
                 std::min(card.x1, page.extent.x1 - kEdge),
                 std::min(card.y1, page.extent.y1 - kEdge)};
  const auto cut = [&](Point from, Point to) {
    page.add(Shape{.group = Group::cut,
                   .path = line(from, to),
                   .stroke = Stroke{LinePattern::dashed, 0.25},
                   .fill = Fill::none,
                   .name = "card"});
  };
  cut({edge.x1, edge.y0}, {edge.x1, edge.y1});
  cut({edge.x0, edge.y1}, {edge.x1, edge.y1});
  if (card.x0 <= 0) cut({edge.x0, edge.y0}, {edge.x0, edge.y1});
  if (card.y0 <= 0) cut({edge.x0, edge.y0}, {edge.x1, edge.y0});
}

/// How cards stand on a page: side by side and below each other.
struct Grid {
  int columns = 1;
  int rows = 1;
  double width = 0;
  double height = 0;

  [[nodiscard]] int count() const { return columns * rows; }
};

Grid grid_of(const Frame& card, Point room) {
  Grid grid;
  grid.columns = static_cast<int>(std::round(room.x / card.box.x1));
  grid.rows = std::max(1, static_cast<int>(room.y / card.box.y1));
  grid.width = card.box.x1;
  grid.height = std::max(room.y / grid.rows, card.box.y1);
  return grid;
}

std::vector<Drawing> pages_of(const Frame& card, const Grid& grid, int copies,
                              const base::Voice& words, Point room) {
  std::vector<Drawing> pages;
  for (int i = 0; i < copies; ++i) {
    const int on_page = i % grid.count();
    if (on_page == 0) {
      pages.push_back({.name = "home-card",
                       .title = words.say("home-title"),
                       .extent = {0, 0, room.x, room.y}});
    }
    const int row = on_page / grid.columns;
    const Point at{(on_page % grid.columns) * grid.width, row * grid.height};
    cut_lines(pages.back(), {at.x, at.y, at.x + grid.width, at.y + grid.height});
    for (const Item& item : card.items) {
      pages.back().add(moved(item, {at.x, at.y + (grid.height - card.box.y1) / 2}));
    }
  }
  return pages;
}

/// One full page with a line below the cards; nothing where that leaves no room for a card, or
/// where one page holds them all.
std::optional<HomeCards> page_to_repeat(const Frame& card, const HomeCard& asked,
                                        const base::Voice& words, const TextMeasure& measure,
                                        Point room) {
  const auto line_for = [&](int prints, int on_page) {
    return laid_out(
        {{.words = words.say(
              {"home-print", {{"times", prints}, {"pouches", asked.copies}, {"cards", on_page}}}),
          .size = kLabelSize,
          .weight = Weight::bold}},
        room.x, 1, measure);
  };
  // As high as the line can become: numbers only grow shorter from here.
  const double line_height = line_for(asked.copies, asked.copies).box.y1 + kAboveLine;
  if (card.box.y1 + line_height > room.y) return std::nullopt;
  const Grid grid = grid_of(card, {room.x, room.y - line_height});
  const int on_page = grid.count();
  if (asked.copies <= grid_of(card, room).count()) return std::nullopt;
  HomeCards made;
  made.prints = (asked.copies + on_page - 1) / on_page;
  made.pages = pages_of(card, grid, on_page, words, room);
  for (const Item& item : line_for(made.prints, on_page).items) {
    made.pages.front().add(moved(item, {0, room.y - line_height + kAboveLine}));
  }
  return made;
}

}  // namespace

HomeCards home_cards(const HomeCard& card, const Icons& icons, const base::Voice& words,
                     const TextMeasure& measure, Point room) {
  const int columns = std::max(1, static_cast<int>(room.x / kNarrowestCard));
  const Frame one = Card(*card.pouch, icons, words, measure, room.x / columns).drawn();
  if (card.repeats == Repeats::printed) {
    if (auto made = page_to_repeat(one, card, words, measure, room)) return std::move(*made);
  }
  return {pages_of(one, grid_of(one, room), card.copies, words, room), 1};
}

}  // namespace pouchwright::draw
