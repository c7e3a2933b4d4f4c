#include "draw/sheets/post_cards.h"

#include <algorithm>
#include <optional>
#include <string>
#include <utility>

#include "draw/folds/picture.h"
#include "ink/canvas.h"
#include "ink/labels.h"
#include "tell/step_list.h"

namespace pouchwright::draw {
namespace {

constexpr Stroke kCutLine{LinePattern::dashed, 0.25};
constexpr Stroke kThin{LinePattern::continuous, 0.25};
constexpr double kBetween = 5;  ///< the card's edge to its words
constexpr double kColumnGap = 6;
constexpr double kApart = 2.2;  ///< two paragraphs
constexpr double kTick = 7.5;   ///< a box to tick
constexpr double kTickApart = 1;
/// A picture of its card's width at most, and as high at most.
constexpr double kPicturePart = 0.44;
constexpr double kHighestPicture = 62;

class Card {
 public:
  Card(const pouch::Pouch& pouch, const tell::PostCardSaid& card, const Icons& icons,
       const base::Voice& words, const TextMeasure& measure, double width, std::size_t explained)
      : pouch_(pouch),
        card_(card),
        icons_(icons),
        words_(words),
        measure_(measure),
        width_(width),
        explained_(explained) {}

  /// As high as it takes.
  [[nodiscard]] Frame drawn() const {
    Frame made;
    double y = write(made, card_.title, {0, ink::kHeadingSize}, width_,
                     {.step = line_distance(ink::kHeadingSize),
                      .weight = Weight::bold,
                      .size = ink::kHeadingSize}) -
               ink::kHeadingSize + kApart / 2;
    y = write(made, card_.who, {0, y + kTextSize}, width_, text()) - kTextSize + kApart;
    const Frame shown = picture();
    const double left = shown.items.empty() ? 0 : kPicturePart * width_ + kColumnGap;
    if (!shown.items.empty()) made.place(shown, {0, y});
    const double below = said(made, {left, y}, width_ - left);
    y = std::max(below, y + shown.box.y1) + kApart;
    y = ticks(made, y);
    made.box = {0, 0, width_, y};
    return made;
  }

 private:
  [[nodiscard]] static Lines text(Weight weight = Weight::regular) {
    return {.step = line_distance(kTextSize), .weight = weight, .size = kTextSize};
  }

  /// Returns the baseline of the line below.
  double write(Frame& frame, const std::string& said, Point at, double width,
               const Lines& lines) const {
    return frame.write_lines(said, at, width, lines, measure_);
  }

  [[nodiscard]] Frame picture() const {
    Frame made;
    if (!card_.picture) return made;
    const auto steps = tell::assembly_steps(pouch_);
    const Point room{kPicturePart * width_, kHighestPicture};
    const Drawing drawing =
        fold_picture(pouch_, steps[*card_.picture].moment, room, icons_, words_, measure_);
    made.items = drawing.items;
    made.box = {0, 0, room.x, drawing.extent.y1};
    return as_figure(std::move(made), card_.title);
  }

  /// What to do, what good looks like, what goes wrong. Returns the lower end.
  double said(Frame& made, Point at, double width) const {
    double y = at.y + kTextSize;
    const auto paragraph = [&](const std::string& words, Weight weight) {
      y = write(made, words, {at.x, y}, width, text(weight));
    };
    if (!card_.first.empty()) {
      paragraph(words_.say({"post-card-first", {{"first", card_.first}}}), Weight::regular);
      y += kApart;
    }
    for (std::size_t i = 0; i < card_.does.size(); ++i) {
      paragraph(card_.does[i].head + ".", Weight::bold);
      if (i < explained_ && !card_.does[i].how.empty()) {
        paragraph(card_.does[i].how, Weight::regular);
      }
      y += kApart;
    }
    if (!card_.good.empty()) {
      paragraph(words_.say({"post-card-good", {{"good", card_.good}}}), Weight::regular);
      y += kApart;
    }
    if (!card_.faults.empty()) paragraph(words_.say("post-card-faults"), Weight::bold);
    for (const std::string& fault : card_.faults) {
      constexpr double kMark = 4;
      made.write("–", {at.x, y}, Anchor::start, Weight::regular, kTextSize);
      y = write(made, fault, {at.x + kMark, y}, width - kMark, text());
    }
    return y - kTextSize;
  }

  /// A box for each bundle, its number in the corner.
  double ticks(Frame& made, double y) const {
    if (card_.bundles == 0) return y;
    made.write(words_.say("post-card-bundles"), {0, y + kTextSize}, Anchor::start, Weight::bold,
               kTextSize);
    y += line_distance(kTextSize) + 1;
    constexpr double kCell = kTick + kTickApart;
    const auto columns = static_cast<std::size_t>(std::max(1.0, (width_ + kTickApart / 2) / kCell));
    for (std::size_t i = 0; i < card_.bundles; ++i) {
      const double x = kThin.width + static_cast<double>(i % columns) * kCell;
      const double top = y + static_cast<double>(i / columns) * kCell;
      made.draw(rectangle({x, top, x + kTick, top + kTick}), kThin);
      made.write(std::to_string(i + 1), {x + kTick - 0.6, top + kTick - 0.8}, Anchor::end);
    }
    return y + static_cast<double>((card_.bundles + columns - 1) / columns) * kCell;
  }

  const pouch::Pouch& pouch_;
  const tell::PostCardSaid& card_;
  const Icons& icons_;
  const base::Voice& words_;
  const TextMeasure& measure_;
  double width_;
  std::size_t explained_;  ///< of so many things to do it says how
};

/// With as much explained as half a page holds; else all of it.
Frame card_drawn(const pouch::Pouch& pouch, const tell::PostCardSaid& card, const Icons& icons,
                 const base::Voice& words, const TextMeasure& measure, Point room) {
  const auto with = [&](std::size_t explained) {
    return Card(pouch, card, icons, words, measure, room.x, explained).drawn();
  };
  for (std::size_t explained = card.does.size() + 1; explained-- > 0;) {
    Frame drawn = with(explained);
    if (drawn.box.y1 <= room.y / 2 - kBetween) return drawn;
  }
  return with(card.does.size());
}

Drawing page_of(const base::Voice& words, Point room) {
  Drawing page;
  page.name = "station-cards";
  page.title = words.say("post-cards-title");
  page.extent = {0, 0, room.x, room.y};
  return page;
}

}  // namespace

std::vector<Drawing> post_cards(const pouch::Pouch& pouch,
                                const std::vector<tell::PostCardSaid>& cards, const Icons& icons,
                                const base::Voice& words, const TextMeasure& measure, Point room) {
  std::vector<Drawing> pages;
  const double half = room.y / 2;
  std::optional<std::size_t> open;  // the page that has its lower half free
  for (const tell::PostCardSaid& card : cards) {
    Frame drawn = card_drawn(pouch, card, icons, words, measure, room);
    const bool fits_half = drawn.box.y1 <= half - kBetween;
    const std::size_t at = fits_half && open ? *open : pages.size();
    const double top = at < pages.size() ? half + kBetween : 0;
    if (at < pages.size()) {
      Frame cut;
      cut.draw(Group::cut, line({1, half}, {room.x - 1, half}), kCutLine, "cut line");
      pages[at].items.insert(pages[at].items.end(), cut.items.begin(), cut.items.end());
      open.reset();
    } else {
      pages.push_back(page_of(words, room));
      if (fits_half) open = at;
    }
    const Frame placed = moved(std::move(drawn), {0, top});
    pages[at].items.insert(pages[at].items.end(), placed.items.begin(), placed.items.end());
  }
  return pages;
}

}  // namespace pouchwright::draw
