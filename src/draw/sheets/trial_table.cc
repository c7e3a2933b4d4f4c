#include "draw/sheets/trial_table.h"

#include <algorithm>

#include "draw/sheets/scenes.h"
#include "ink/labels.h"
#include "ink/table.h"

namespace pouchwright::draw {
namespace {

constexpr double kInset = 1.5;
constexpr double kLeading = ink::line_distance(kSmallestSize);
/// Of what is set, in the table, beside the words: the iron, and the white around both.
constexpr double kBesideSetting = kIronWidth + 4 * kInset;
/// Between the words of two columns.
constexpr double kSeenGap = 4;

class TrialTable {
 public:
  TrialTable(const Icons& icons, const base::Voice& words, const TextMeasure& measure)
      : icons_(icons), words_(words), measure_(measure) {}

  [[nodiscard]] double widest() const {
    return setting_width() + static_cast<double>(kTrialSeconds.size()) * seen_width();
  }

  [[nodiscard]] Frame drawn(double width) const {
    Frame made;
    made.box.x1 = width;
    constexpr auto kColumns = static_cast<double>(kTrialSeconds.size());
    const double label = std::min(setting_width(), width - kColumns * seen_width());
    const double column = (width - label) / kColumns;
    const double head = kLeading + 2;
    const double base = head - 2;
    made.items.emplace_back(Shape{.group = Group::label,
                                  .path = rectangle({0, 0, width, head}),
                                  .fill = Fill::pale,
                                  .name = "head"});
    made.write(words_.say("iron-grid-setting"), {kInset, base}, Anchor::start, Weight::bold);
    for (std::size_t i = 0; i < kTrialSeconds.size(); ++i) {
      made.write(words_.say({"iron-grid-seconds", {{"seconds", kTrialSeconds[i]}}}),
                 {label + column * (static_cast<double>(i) + 0.5), base}, Anchor::middle,
                 Weight::bold);
    }
    double y = head;
    for (const IronSetting& setting : kIronSettings) y = grid_row(made, setting, y, label, column);
    made.box.y1 = y + 0.2;
    return made;
  }

 private:
  [[nodiscard]] double width_of(const std::string& words, Weight weight) const {
    return measure_.measure(words, kSmallestSize, weight).width;
  }

  /// Of the widest words on one line, with the iron.
  [[nodiscard]] double setting_width() const {
    double widest = 0;
    for (const IronSetting& setting : kIronSettings) {
      const std::string dial = words_.say("iron-dial-" + std::to_string(setting.dots));
      widest = std::max({widest, width_of(dial, Weight::bold),
                         width_of(temperature_words(setting, words_), Weight::regular),
                         width_of(steam_words(setting, words_), Weight::regular)});
    }
    return kBesideSetting + widest + 0.1;
  }

  [[nodiscard]] double seen_width() const {
    double widest = 0;
    for (const char* key : {"iron-saw-holds", "iron-saw-peels", "iron-saw-hot"}) {
      widest = std::max(widest, width_of(words_.say(key), Weight::regular));
    }
    return widest + kSeenGap;
  }

  double grid_row(Frame& picture, const IronSetting& setting, double y, double label,
                  double column) const {
    const double left = kIronWidth + 3 * kInset;
    const Block block{{.words = words_.say("iron-dial-" + std::to_string(setting.dots)),
                       .size = kSmallestSize,
                       .weight = Weight::bold},
                      {.words = temperature_words(setting, words_), .size = kSmallestSize},
                      {.words = steam_words(setting, words_), .size = kSmallestSize}};
    const Frame placed = laid_out(block, label - left - kInset, 1, measure_);
    const double height = std::max(kIronHeight, placed.box.y1) + 1;
    picture.place(iron_picture(icons_, setting.dots, setting.steam ? Steam::on : Steam::never),
                  {kInset, y + (height - kIronHeight) / 2});
    const double top = y + (height - placed.box.y1) / 2;
    picture.place(placed, {left, top});
    for (std::size_t i = 0; i < kTrialSeconds.size(); ++i) {
      outcomes(picture, label + column * (static_cast<double>(i) + 0.5), y + height / 2);
    }
    picture.draw(line({0.2, y + height}, {picture.box.x1 - 0.2, y + height}), ink::kRowRule);
    return y + height;
  }

  /// What was seen, to be ringed: one word a line.
  void outcomes(Frame& picture, double middle, double y) const {
    double base = y - kLeading + 1.1;
    for (const char* key : {"iron-saw-holds", "iron-saw-peels", "iron-saw-hot"}) {
      picture.write(words_.say(key), {middle, base}, Anchor::middle);
      base += kLeading;
    }
  }

  const Icons& icons_;
  const base::Voice& words_;
  const TextMeasure& measure_;
};

}  // namespace

std::string temperature_words(const IronSetting& setting, const base::Voice& words) {
  const int celsius = sole_temperature(setting.dots);
  return words.say({"iron-temperature",
                    {{"celsius", kept_together(std::to_string(celsius) + " °C")},
                     {"fahrenheit", kept_together(std::to_string(celsius * 9 / 5 + 32) + " °F")}}});
}

std::string steam_words(const IronSetting& setting, const base::Voice& words) {
  if (setting.steam) return words.say("iron-steam");
  return words.say(setting.dots == 1 ? "iron-never-steam" : "iron-no-steam");
}

double trial_table_width(const base::Voice& words, const TextMeasure& measure) {
  static const Icons kNone;
  return TrialTable(kNone, words, measure).widest();
}

Frame trial_table(double width, const Icons& icons, const base::Voice& words,
                  const TextMeasure& measure) {
  return TrialTable(icons, words, measure).drawn(width);
}

}  // namespace pouchwright::draw
