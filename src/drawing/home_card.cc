#include "drawing/home_card.h"

#include <algorithm>
#include <array>
#include <string>

#include "drawing/labels.h"
#include "drawing/panel_words.h"
#include "drawing/sheet.h"
#include "drawing/small_pictures.h"
#include "drawing/text_page.h"

namespace pouchwright::drawing {
namespace {

constexpr double kNarrowestCard = 90;
/// White inside a card's edge.
constexpr double kInset = 3;
constexpr double kAcross = 3;  ///< pictures side by side
constexpr double kCaptionGap = 1;
/// Half a cut line stays inside the page.
constexpr double kEdge = 0.4;

struct Shown {
  Scene scene;
  const char* caption;
};
constexpr std::array kShown = {Shown{Scene::fill, "home-fill"},
                               Shown{Scene::hold, "home-hold"},
                               Shown{Scene::no_shaking, "home-no-shaking"},
                               Shown{Scene::rinse, "home-rinse"},
                               Shown{Scene::wash, "home-wash"},
                               Shown{Scene::dry, "home-dry"}};

/// One card as a picture `width` wide; its height is what it takes.
class Card {
 public:
  Card(const pouch::Pouch& pouch, const diag::Words& words, const TextMeasure& measure,
       double width)
      : pouch_(pouch), words_(words), measure_(measure) {
    made_.width = width;
  }

  Picture drawn() {
    double y =
        block({{.words = title_of(pouch_, words_), .size = kLabelSize, .weight = Weight::bold}},
              kInset, kInset, made_.width - 2 * kInset) +
        2;
    for (std::size_t first = 0; first < kShown.size(); first += static_cast<std::size_t>(kAcross)) {
      y = pictures(first, y) + 1.5;
    }
    y = block(foot(), kInset, y, made_.width - 2 * kInset);
    made_.height = y + kInset;
    return std::move(made_);
  }

 private:
  /// Returns its foot.
  double block(const Block& words, double x, double y, double width) {
    const PlacedBlock placed = laid_out(words, width, 1, measure_);
    for (const Item& item : placed.items) made_.items.push_back(moved(item, {x, y}));
    return y + placed.box.y1;
  }

  /// A row of pictures with their captions; returns the lowest foot.
  double pictures(std::size_t first, double y) {
    const double step = (made_.width - 2 * kInset) / kAcross;
    double foot = y;
    for (std::size_t i = 0; i < static_cast<std::size_t>(kAcross); ++i) {
      const Shown& one = kShown[first + i];
      const double left = kInset + step * static_cast<double>(i);
      made_.place(scene_picture(one.scene), {left + (step - kSceneWidth) / 2, y});
      const double below = y + kSceneHeight + kCaptionGap;
      const Row caption{.words = words_.say(one.caption), .size = kSmallestSize};
      foot = std::max(foot, block({caption}, left + 1, below, step - 2));
    }
    return foot;
  }

  [[nodiscard]] Block foot() const {
    std::string first = words_.say("home-heat");
    if (pouch_.water_line > units::Length()) {
      const std::string water = kept_together(text(pouch_.water_line, pouch_.request.style));
      first = words_.say({"home-water", {{"water", water}}}) + " " + first;
    }
    return {{.words = first, .size = kSmallestSize},
            {.words = words_.say("home-no-device"),
             .size = kSmallestSize,
             .weight = Weight::bold,
             .space_before = 0.8}};
  }

  const pouch::Pouch& pouch_;
  const diag::Words& words_;
  const TextMeasure& measure_;
  Picture made_;
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

}  // namespace

std::vector<Drawing> home_cards(const HomeCard& card, const diag::Words& words,
                                const TextMeasure& measure, Point room) {
  const int columns = std::max(1, static_cast<int>(room.x / kNarrowestCard));
  const double width = room.x / columns;
  const Picture one = Card(*card.pouch, words, measure, width).drawn();
  const int rows = std::max(1, static_cast<int>(room.y / one.height));
  const double height = std::max(room.y / rows, one.height);
  std::vector<Drawing> pages;
  for (int i = 0; i < card.copies; ++i) {
    const int on_page = i % (columns * rows);
    if (on_page == 0) {
      pages.push_back({.name = "home-card",
                       .title = words.say("home-title"),
                       .extent = {0, 0, room.x, room.y}});
    }
    const int row = on_page / columns;
    const Point at{(on_page % columns) * width, row * height};
    cut_lines(pages.back(), {at.x, at.y, at.x + width, at.y + height});
    for (const Item& item : one.items) {
      pages.back().add(moved(item, {at.x, at.y + (height - one.height) / 2}));
    }
  }
  return pages;
}

}  // namespace pouchwright::drawing
