#include "draw/sheets/iron_trial.h"

#include <algorithm>
#include <utility>

#include "base/number.h"
#include "draw/full_size/template_words.h"
#include "draw/sheets/scenes.h"
#include "draw/sheets/trial_table.h"
#include "ink/flow.h"
#include "ink/labels.h"

namespace pouchwright::draw {
namespace {

using base::Length;

constexpr Stroke kFrame{LinePattern::continuous, 0.35};
constexpr Stroke kThin{LinePattern::continuous, 0.18};
constexpr Stroke kFused{LinePattern::continuous, 0.13};
constexpr double kInset = 1.5;
/// Ink begins so far from a picture's edge that the widest line stays inside.
constexpr double kHalfLine = 0.4;
constexpr double kLeading = ink::line_distance(kSmallestSize);

class TrialPages {
 public:
  TrialPages(const IronTrialSheet& sheet, const Icons& icons, const base::Voice& words,
             const TextMeasure& measure, Point room)
      : sheet_(sheet),
        icons_(icons),
        words_(words),
        measure_(measure),
        strip_(batch::trial_strip(words.unit())),
        pages_("iron-trial", words.say({"iron-trial-title", {{"title", sheet.title}}}), room,
               TextPages::Columns::one, measure) {}

  std::vector<Drawing> drawn() {
    if (sheet_.result) pages_.add(result());
    pages_.add_beside(preparing(), strips());
    pages_.add_in_columns(pressing());
    add_to_fill();
    pages_.add_in_columns(ways_on());
    return pages_.finished();
  }

 private:
  [[nodiscard]] std::string shown(Length length) const {
    return kept_together(words_.text(length));
  }

  // ---- The known result ------------------------------------------------------------------------

  [[nodiscard]] Frame result() const {
    const batch::IronTrial& found = *sheet_.result;
    const base::Number seconds = base::shortened(found.seconds, 1);
    const Block block{
        {.words = words_.say("iron-result"), .size = kLabelSize, .weight = Weight::bold},
        {.words = temperature_words({found.dots, found.steam}, words_), .size = kLabelSize},
        {.words = steam_words({found.dots, found.steam}, words_), .size = kLabelSize},
        {.words = found.seconds > 0 ? words_.say({"iron-result-seconds", {{"seconds", seconds}}})
                                    : words_.say("iron-result-no-seconds"),
         .size = kLabelSize}};
    const double left = kIronWidth + 3 * kInset;
    const Frame placed = laid_out(block, pages_.width() - left - kInset, 1, measure_);
    Frame made;
    made.box = {0, 0, pages_.width(), std::max(placed.box.y1, kIronHeight) + 2 * kInset};
    made.place(placed, {left, kInset});
    made.place(iron_picture(icons_, found.dots, found.steam ? Steam::on : Steam::never),
               {kInset, (made.box.y1 - kIronHeight) / 2});
    made.draw(rectangle({0.2, 0.2, made.box.x1 - 0.2, made.box.y1 - 0.2}), kFrame);
    return made;
  }

  // ---- What to do ------------------------------------------------------------------------------

  /// Beside the picture of a pair.
  [[nodiscard]] Paragraphs preparing() const {
    const base::Value strips = batch::kStripsAtOnce;
    Paragraphs made{
        text_paragraph(words_.say(sheet_.result ? "iron-trial-again" : "iron-trial-why"))};
    // Read before the iron is switched on.
    for (const char* key : {"iron-rule-window", "iron-rule-three-dots", "iron-rule-steam"}) {
      made.push_back(strong(words_.say(key)));
    }
    made.push_back(
        step(words_.say(sheet_.has_outer ? "iron-trial-begin-outer" : "iron-trial-begin")));
    made.push_back(step(words_.say({sheet_.has_outer ? "iron-trial-cut-outer" : "iron-trial-cut",
                                    {{"count", strips},
                                     {"width", shown(strip_.width)},
                                     {"length", shown(strip_.length)},
                                     {"pairs", kPairsAtOnce}}})));
    made.push_back(step(words_.say({"iron-trial-lay", {{"fused", shown(strip_.fused)}}})));
    return made;
  }

  [[nodiscard]] Paragraphs pressing() const {
    Paragraphs made;
    // How a hand keeps clear is read before anything is hot.
    std::vector<const char*> keys{"iron-trial-hold", "iron-trial-press"};
    if (sheet_.has_shield) keys.push_back("iron-trial-shield");
    keys.push_back("iron-trial-cool");
    for (const char* key : keys) {
      made.push_back(step(words_.say({key,
                                      {{"pairs", kPairsAtOnce},
                                       {"distance", shown(pouch::kHandDistance.of(words_.unit()))},
                                       {"seconds", kTrialSeconds.front()}}})));
    }
    return made;
  }

  /// The pair from above, with the part to be fused hatched, and from the side.
  [[nodiscard]] Frame strips() const {
    constexpr double kLong = 56;
    const double scale = kLong / strip_.length.in_mm();
    const double high = strip_.width.in_mm() * scale;
    const double fused = strip_.fused.in_mm() * scale;
    Frame made;
    made.box.x1 = kLong + 4;
    double y = kLeading;
    made.write(shown(strip_.length), {kLong / 2, y}, Anchor::middle);
    y += 1.5;
    made.draw(hatch({0.2, y, fused, y + high}, 3), kFused);
    made.draw(rectangle({0.2, y, kLong, y + high}), kFrame);
    made.draw(line({fused, y}, {fused, y + high}), kThin);
    const double middle = (fused + kLong) / 2;
    words_in(made, "iron-trial-tab", {fused + 0.5, y, kLong - 0.5, y + high}, middle);
    y += high + kLeading;
    made.write(shown(strip_.fused), {fused / 2, y}, Anchor::middle);
    y += 6;
    // From the side: film to film, the free ends spread.
    for (const double side : {-1.0, 1.0}) {
      made.draw({{Verb::move, {kHalfLine, y + side * 0.7}, {}, {}},
                 {Verb::line, {fused, y + side * 0.7}, {}, {}},
                 {Verb::curve,
                  {kLong, y + side * 4},
                  {fused + 6, y + side * 0.7},
                  {kLong - 8, y + side * 3}}},
                {LinePattern::continuous, 0.7});
    }
    made.draw(line({kHalfLine, y}, {fused, y}), {LinePattern::dotted, 0.5});
    y += 4 + kLeading;
    made.box.y1 = below(made, "iron-trial-film-inside", y);
    return as_figure(std::move(made), words_.say("iron-figure-strips"));
  }

  /// `key` broken to the box, centred on it.
  void words_in(Frame& picture, const char* key, const Box& box, double middle) const {
    const auto lines =
        broken_into_lines(words_.say(key), box.width(), kSmallestSize, Weight::regular, measure_);
    double y = (box.y0 + box.y1 - static_cast<double>(lines.size()) * kLeading) / 2 + 3;
    for (const std::string& one : lines) {
      picture.write(one, {middle, y}, Anchor::middle);
      y += kLeading;
    }
  }

  /// `key` below a picture; returns the foot of the last line.
  double below(Frame& picture, const char* key, double y) const {
    return 1 - kLeading +
           picture.write_lines(words_.say(key), {0, y}, picture.box.x1,
                               {.step = kLeading, .weight = Weight::italic}, measure_);
  }

  // ---- The grid --------------------------------------------------------------------------------

  /// The table, and the label beside it where both find room.
  void add_to_fill() {
    constexpr double kBetween = 6;
    const Frame label = label_to_fill();
    const double beside = pages_.width() - label.box.x1 - kBetween;
    if (beside < trial_table_width(words_, measure_)) {
      pages_.add(trial_table(pages_.width(), icons_, words_, measure_));
      pages_.add(label);
      return;
    }
    Frame both = trial_table(beside, icons_, words_, measure_);
    both.place(label, {pages_.width() - label.box.x1, 0});
    both.box = {0, 0, pages_.width(), std::max(both.box.y1, label.box.y1)};
    pages_.add(both);
  }

  // ---- How it goes on --------------------------------------------------------------------------

  [[nodiscard]] Paragraphs ways_on() const {
    const base::Message::Values pairs{{"pairs", kPairsAtOnce}};
    Paragraphs made{heading(words_.say("iron-on"))};
    for (const char* key : {"iron-on-holds", "iron-on-peels", "iron-on-hot"}) {
      made.push_back(point(words_.say({key, pairs})));
    }
    return made;
  }

  /// To be filled in by hand, cut out and taped beside the board.
  [[nodiscard]] Frame label_to_fill() const {
    constexpr double kWide = 72;
    constexpr double kStep = 6.2;
    Frame made;
    made.box.x1 = kWide;
    double y =
        made.write_lines(
            words_.say("iron-label"), {3, 8}, kWide - 6,
            {.step = ink::line_distance(kLabelSize), .weight = Weight::bold, .size = kLabelSize},
            measure_) +
        6;
    made.write(words_.say("iron-label-dots"), {3, y});
    for (const int dots : {1, 2, 3}) {
      made.place(iron_picture(icons_, dots, Steam::unsaid), {19.0 + (dots - 1) * 17, y - 7});
    }
    y += kStep;
    made.write(words_.say("iron-label-steam"), {3, y});
    y += kStep;
    made.write(words_.say("iron-label-cloth"), {3, y});
    for (const char* key : {"iron-label-dial", "iron-label-seconds", "iron-noted-cloth",
                            "iron-noted-iron", "iron-noted-date"}) {
      y += kStep;
      made.write(words_.say(key), {3, y});
      made.draw(line({34, y + 0.8}, {kWide - 4, y + 0.8}), kThin);
    }
    y += kLeading + 2;
    y = made.write_lines(words_.say("iron-label-tape"), {3, y}, kWide - 6, {.step = kLeading},
                         measure_);
    made.box.y1 = y;
    made.draw(rectangle({0.2, 2, kWide - 0.2, made.box.y1 - 0.4}), {LinePattern::dashed, 0.35});
    return made;
  }

  const IronTrialSheet& sheet_;
  const Icons& icons_;
  base::Voice words_;
  const TextMeasure& measure_;
  batch::TrialStrip strip_;
  TextPages pages_;
};

}  // namespace

IronTrialSheet iron_trial_of(const pouch::Pouch& pouch,
                             const std::optional<batch::IronTrial>& result) {
  return {pouch.request.title, pouch.request.outer.has_value(),
          pouch.request.cards != pouch::CardUse::inside, result};
}

std::vector<Drawing> iron_trial(const IronTrialSheet& sheet, const Icons& icons,
                                const base::Voice& words, const TextMeasure& measure, Point room) {
  return TrialPages(sheet, icons, words, measure, room).drawn();
}

}  // namespace pouchwright::draw
