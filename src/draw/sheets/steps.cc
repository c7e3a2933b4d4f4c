#include "draw/sheets/steps.h"

#include <algorithm>
#include <optional>
#include <string>
#include <utility>

#include "base/text.h"
#include "draw/folds/cut_through.h"
#include "draw/folds/from_above.h"
#include "draw/folds/step_icons.h"
#include "draw/full_size/template_words.h"
#include "draw/sheets/steps_layout.h"
#include "ink/canvas.h"
#include "ink/flow.h"
#include "ink/icons.h"
#include "ink/labels.h"
#include "ink/sentences.h"
#include "ink/table.h"
#include "tell/names.h"
#include "tell/step_list.h"
#include "tell/steps.h"

namespace pouchwright::draw {
namespace {

constexpr double kColumnGap = 6;
constexpr double kRowGap = 5;
/// White right of a step's number.
constexpr double kAfterNumber = 3;
constexpr double kNumberSize = kTitleSize;
constexpr double kIcon = 9;
constexpr double kIconStep = 11;
/// Paper less wide is held in the hand, and its words are smaller.
constexpr double kSmallRoom = 120;
/// Pictures left of the words have this share of the page.
constexpr double kPictureShare = 0.42;
/// Words beside a picture need so much: 45 letters a line.
constexpr double kNarrowestWords = 92;
/// The panel is drawn no wider than this, and than so many of the height above.
constexpr double kWidestPlan = 60;
constexpr double kWidthOfHeight = 1.25;
/// A picture that is wider than its room shrinks so often by this, to no less than 63 percent: none
/// is to look like another pouch.
constexpr int kMostShrinks = 9;
constexpr double kShrinks = 0.95;

Text plain(std::string words, double size, Weight weight) {
  return label(std::move(words), size, weight);
}

/// What stands above the steps of a page.
Frame page_head(const std::string& title, double room, const TextMeasure& measure) {
  Frame head = ink::laid_out({{.words = title, .size = kTitleSize, .weight = Weight::bold}}, room,
                             1, measure);
  head.box.y1 += kRowGap;
  return head;
}

/// As many as find room in a row, one row below the other.
Frame icons_head(const std::vector<StepIcon>& shown, double left, double width,
                 const Icons& icons) {
  Frame block;
  double x = left;
  double y = 0;
  for (const StepIcon& one : shown) {
    if (x + kIcon > width && x > left) {
      x = left;
      y += kIconStep;
    }
    const Box box{x, y, x + kIcon, y + kIcon};
    for (Shape& shape : one.never ? forbidden(icons, one.icon, box) : icon(icons, one.icon, box)) {
      block.items.emplace_back(std::move(shape));
    }
    x += kIconStep;
    block.box = {0, 0, width, y + kIcon};
  }
  return block;
}

/// Headings in bold, each with its sentences below.
Block block_of(const std::vector<tell::Said>& said, double size, const base::Voice& words) {
  Block block;
  for (const tell::Said& one : said) {
    block.push_back(
        {.words = words.say(one.head), .size = size, .weight = Weight::bold, .space_before = 1.2});
    if (one.sentences.empty()) continue;
    block.push_back({.words = kept_words(one.sentences, words), .size = size, .space_before = 0.4});
  }
  return block;
}

/// "Pull the slip card out, Look inside"
std::string heads_of(const std::vector<tell::Said>& said, const base::Voice& words) {
  return base::list_text(said, ", ", [&](const tell::Said& one) { return words.say(one.head); });
}

class StepsSheet {
 public:
  StepsSheet(const pouch::Pouch& pouch, const StepsLook& look, const Icons& icons,
             const base::Voice& words, const TextMeasure& measure)
      : pouch_(pouch),
        look_(look),
        icons_(icons),
        words_(words),
        measure_(measure),
        steps_(tell::assembly_steps(pouch)),
        number_width_(
            measure.measure(std::to_string(steps_.size()), kNumberSize, Weight::bold).width +
            kAfterNumber) {
    if (look.wording == Wording::words) {
      const double size = look.room.x < kSmallRoom ? ink::kSmallestSize : kTextSize;
      for (const tell::AssemblyStep& step : steps_) {
        const std::vector<tell::Said> said = tell::step_words(pouch, step, look.facts, words);
        shown_.push_back(words.say({"steps-figure", {{"what", heads_of(said, words)}}}));
        said_.push_back(block_of(said, size, words));
      }
    }
    sheet_ = {"steps", words.say({"steps-title", {{"title", tell::title_of(pouch, words)}}}),
              look.room};
    pages_ = {.gap = kRowGap, .rule = ink::kRowRule, .height = ink::PageHeight::taken};
    if (look.wording == Wording::wordless) return;
    pages_.first_head = pages_.later_head = page_head(sheet_.title, look.room.x, measure);
  }

  std::vector<Drawing> drawn() const {
    std::vector<StepColumns> arrangements;
    if (look_.wording == Wording::words && words_left() >= kNarrowestWords) {
      arrangements.push_back(beside());
    }
    for (const std::size_t count : {2U, 3U, 1U}) arrangements.push_back(columns_of(count));
    return laid_out_steps(
        sheet_, pages_, arrangements, shown_,
        [this](double highest, double room) { return pictures(scale_for(highest), room); });
  }

 private:
  /// Paper mm for a mm of cloth at which the highest picture is `height` high.
  [[nodiscard]] double scale_for(double height) const {
    double tallest = 0;
    for (const tell::AssemblyStep& step : steps_) {
      const std::vector<base::Length> breaks = step.moment.folded.breaks();
      tallest = std::max(tallest, (breaks.back() - breaks.front()).in_mm());
    }
    const double widest = std::min(kWidestPlan, height * kWidthOfHeight);
    return std::min(height / tallest, widest / pouch_.sizes.cut_width.in_mm());
  }

  /// All at one scale, but for those that would be wider than the room.
  [[nodiscard]] std::vector<Drawing> pictures(double scale, double room) const {
    std::vector<Drawing> made;
    for (const tell::AssemblyStep& step : steps_) {
      made.push_back(picture(step, scale));
      double smaller = scale;
      for (int round = 0; round < kMostShrinks && made.back().extent.width() > room; ++round) {
        smaller *= kShrinks;
        made.back() = picture(step, smaller);
      }
    }
    return made;
  }

  [[nodiscard]] Drawing picture(const tell::AssemblyStep& step, double scale) const {
    return fold_picture(pouch_, step.moment, {.scale = scale, .wording = look_.wording}, icons_,
                        words_, measure_);
  }

  // ---- What stands over a picture --------------------------------------------------------------

  [[nodiscard]] StepColumns columns_of(std::size_t count) const {
    const double gaps = static_cast<double>(count - 1) * kColumnGap;
    const double width = (look_.room.x - gaps) / static_cast<double>(count);
    StepColumns made{.count = count,
                     .width = width,
                     .picture_from = number_width_,
                     .picture_room = width,
                     .heads = {}};
    for (std::size_t i = 0; i < steps_.size(); ++i) {
      made.heads.push_back(
          numbered(look_.wording == Wording::words
                       ? words_head(i, number_width_, width)
                       : icons_head(step_icons(pouch_, steps_[i]), number_width_, width, icons_),
                   i));
    }
    return made;
  }

  [[nodiscard]] double picture_room() const { return kPictureShare * look_.room.x; }
  [[nodiscard]] double words_left() const {
    return look_.room.x - number_width_ - picture_room() - kColumnGap;
  }
  /// One step a row, its words right of its picture.
  [[nodiscard]] StepColumns beside() const {
    StepColumns made{.count = 1,
                     .width = look_.room.x,
                     .picture_from = number_width_,
                     .picture_room = picture_room(),
                     .has_words_beside = true,
                     .heads = {}};
    for (std::size_t i = 0; i < steps_.size(); ++i) {
      made.heads.push_back(numbered(words_head(i, look_.room.x - words_left(), look_.room.x), i));
    }
    return made;
  }

  /// With the step's number in the top left corner.
  [[nodiscard]] Frame numbered(Frame head, std::size_t step) const {
    const Text number =
        with_top_left(plain(std::to_string(step + 1), kNumberSize, Weight::bold), {0, 0}, measure_);
    head.items.emplace_back(number);
    head.box.y1 = std::max(head.box.y1, bounds(number, measure_).y1);
    return head;
  }

  /// The words between two x, with the signs of what can hurt below.
  [[nodiscard]] Frame words_head(std::size_t step, double left, double width) const {
    constexpr double kAboveSigns = 1.5;
    Frame head = moved(ink::laid_out(said_[step], width - left, 1, measure_), {left, 0});
    const std::vector<StepIcon> signs = danger_signs(pouch_, steps_[step]);
    if (signs.empty()) return head;
    const Frame row = icons_head(signs, left, width, icons_);
    const double y = head.box.y1 + kAboveSigns;
    head.place(row, {0, y});
    head.box.y1 = y + row.box.y1;
    return head;
  }

  const pouch::Pouch& pouch_;
  const StepsLook& look_;
  const Icons& icons_;
  base::Voice words_;
  const TextMeasure& measure_;
  std::vector<tell::AssemblyStep> steps_;
  std::vector<Block> said_;         ///< by step; empty on the wordless sheet
  std::vector<std::string> shown_;  ///< by step, what its picture shows; likewise
  double number_width_;
  ink::SheetRoom sheet_;
  ink::FlowLook pages_;  ///< with what stands above the steps
};

}  // namespace

std::vector<Drawing> steps_sheet(const pouch::Pouch& pouch, const StepsLook& look,
                                 const Icons& icons, const base::Voice& words,
                                 const TextMeasure& measure) {
  return StepsSheet(pouch, look, icons, words, measure).drawn();
}

}  // namespace pouchwright::draw
