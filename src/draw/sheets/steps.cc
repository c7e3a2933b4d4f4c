#include "draw/sheets/steps.h"

#include <algorithm>
#include <optional>
#include <string>
#include <utility>

#include "draw/folds/cut_through.h"
#include "draw/folds/from_above.h"
#include "draw/folds/step_icons.h"
#include "draw/full_size/template_words.h"
#include "ink/canvas.h"
#include "ink/flow.h"
#include "ink/icons.h"
#include "ink/labels.h"
#include "ink/sentences.h"
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
/// Between a step's words and its picture.
constexpr double kUnderWords = 2.5;
/// Pictures left of the words have this share of the page.
constexpr double kPictureShare = 0.42;
/// Words beside a picture need so much: 45 letters a line.
constexpr double kNarrowestWords = 90;
/// The highest picture is drawn between these, mm of paper.
constexpr double kLowestPicture = 30;
constexpr double kHighestPicture = 88;
/// The panel is drawn no wider than this, and than so many of the height above.
constexpr double kWidestPlan = 60;
constexpr double kWidthOfHeight = 1.25;
/// How many pages more than planned are tried before pictures shrink.
constexpr std::size_t kMorePages = 2;
constexpr int kScaleRounds = 12;
/// Where even the lowest pictures find no room they shrink by this, again and again.
constexpr double kShrinks = 0.8;
constexpr Stroke kRule{LinePattern::continuous, 0.13};

/// Columns of one width, with each step's number and words (or icons) broken to it.
struct Columns {
  std::size_t count = 1;
  double width = 0;
  double picture_room = 0;        ///< how wide a picture may be
  bool has_words_beside = false;  ///< right of the picture, else above it
  std::vector<Frame> heads;       ///< by step; top left corner at 0, 0
};

/// The pictures of all steps at one scale.
struct Pictures {
  double scale = 0;
  std::vector<Drawing> drawn;
};

/// A row of steps: where its pictures begin, and how high all of it is.
struct StepsRow {
  double picture_top = 0;
  double height = 0;
};
using StepsRows = std::vector<StepsRow>;

/// How large pictures come out at a scale, by the straight line through their sizes at two others.
/// They grow evenly with the scale, but where names and icons, which keep their size, stand out
/// beyond small ones they grow slower at first: so they are no larger than that between the two,
/// and no smaller beyond them.
std::vector<Point> sizes_by(const Pictures& small, const Pictures& large, double scale) {
  const double way = large.scale - small.scale;
  const double part = way > 0 ? (scale - small.scale) / way : 0;
  std::vector<Point> sizes;
  for (std::size_t i = 0; i < small.drawn.size(); ++i) {
    const Box& a = small.drawn[i].extent;
    const Box& b = large.drawn[i].extent;
    sizes.push_back({a.width() + part * (b.width() - a.width()),
                     a.height() + part * (b.height() - a.height())});
  }
  return sizes;
}

std::vector<Point> sizes_of(const Pictures& pictures) {
  return sizes_by(pictures, pictures, pictures.scale);
}

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
        said_.push_back(block_of(tell::step_words(pouch, step, look.facts, words), size, words));
      }
    }
    sheet_ = {"steps", words.say({"steps-title", {{"title", tell::title_of(pouch, words)}}}),
              look.room};
    pages_ = {.gap = kRowGap, .rule = kRule, .height = ink::PageHeight::taken};
    if (look.wording == Wording::wordless) return;
    pages_.first_head = pages_.later_head = page_head(sheet_.title, look.room.x, measure);
  }

  /// On as few pages as six steps each need, the pictures as large as there is room for; where not
  /// even small ones find it, on one page more, and so on.
  std::vector<Drawing> drawn() {
    if (look_.wording == Wording::words && words_left() >= kNarrowestWords) {
      columns_.push_back(beside());
    }
    for (const std::size_t count : {2U, 3U, 1U}) columns_.push_back(columns_of(count));
    const Pictures small = pictures(scale_for(kLowestPicture));
    const Pictures large = pictures(scale_for(kHighestPicture));
    const std::size_t least = (steps_.size() + kStepsOnPage - 1) / kStepsOnPage;
    for (most_pages_ = least; most_pages_ <= least + kMorePages; ++most_pages_) {
      const Columns* best = nullptr;
      double scale = 0;
      for (const Columns& columns : columns_) {
        if (!finds_room(columns, sizes_of(small))) continue;
        const double largest = largest_scale(columns, small, large);
        if (best != nullptr && largest <= scale) continue;
        best = &columns;
        scale = largest;
        // One step a row is read best; columns are for sheets where it finds no room.
        if (columns.has_words_beside) break;
      }
      if (best != nullptr) return on_pages(*best, largest(*best, small, large));
    }
    return longer(small);
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

  [[nodiscard]] Pictures pictures(double scale) const {
    Pictures made{scale, {}};
    for (const tell::AssemblyStep& step : steps_) {
      made.drawn.push_back(fold_picture(pouch_, step.moment,
                                        {.scale = scale, .wording = look_.wording}, icons_, words_,
                                        measure_));
    }
    return made;
  }

  /// The pictures at the largest scale at which all steps find room on `most_pages_`. Requires:
  /// those of `small` do.
  [[nodiscard]] Pictures largest(const Columns& columns, Pictures small, Pictures large) const {
    Pictures before = small;
    for (;;) {
      const double at_least = largest_scale(columns, small, large);
      if (at_least > small.scale) before = std::exchange(small, pictures(at_least));
      const double at_most = largest_scale(columns, before, small);
      if (at_most <= small.scale || at_most >= large.scale) return small;
      large = pictures(at_most);
      if (finds_room(columns, sizes_of(large))) return large;
    }
  }

  /// The largest scale at which all steps find room, by their sizes at two.
  [[nodiscard]] double largest_scale(const Columns& columns, const Pictures& small,
                                     const Pictures& large) const {
    double low = kLowestPicture;
    double high = kHighestPicture;
    for (int round = 0; round < kScaleRounds; ++round) {
      const double height = (low + high) / 2;
      const double scale = scale_for(height);
      const bool fits = scale <= small.scale || finds_room(columns, sizes_by(small, large, scale));
      (fits ? low : high) = height;
    }
    return scale_for(low);
  }

  [[nodiscard]] bool finds_room(const Columns& columns, const std::vector<Point>& sizes) const {
    const auto rows = rows_of(columns, sizes);
    return rows && pages_for(*rows) <= most_pages_;
  }

  /// How many pages the rows take.
  [[nodiscard]] std::size_t pages_for(const StepsRows& rows) const {
    ink::FlowLook boxes{.gap = pages_.gap};
    boxes.first_head.box = pages_.first_head.box;
    boxes.later_head.box = pages_.later_head.box;
    ink::Flow flow({{}, {}, look_.room}, std::move(boxes));
    for (const StepsRow& row : rows) flow.add({.items = {}, .box = {0, 0, 0, row.height}});
    return flow.pages().size();
  }

  /// More pages than planned for: the fewest with the smallest pictures. In a room too narrow for
  /// any, the pictures shrink further, until there is nothing left to shrink.
  [[nodiscard]] std::vector<Drawing> longer(Pictures shown) const {
    for (double height = kLowestPicture; height > 1; height *= kShrinks) {
      if (height < kLowestPicture) shown = pictures(scale_for(height));
      const Columns* best = nullptr;
      std::pair<std::size_t, std::size_t> fewest;
      for (const Columns& columns : columns_) {
        const auto rows = rows_of(columns, sizes_of(shown));
        if (!rows) continue;
        const std::pair pages(pages_for(*rows), columns.count);
        if (best != nullptr && pages > fewest) continue;
        best = &columns;
        fewest = pages;
      }
      if (best != nullptr) return on_pages(*best, shown);
    }
    return {};
  }

  /// Empty where a picture is wider than its column.
  [[nodiscard]] static std::optional<StepsRows> rows_of(const Columns& columns,
                                                        const std::vector<Point>& sizes) {
    StepsRows rows;
    for (std::size_t from = 0; from < sizes.size(); from += columns.count) {
      double head = 0;
      double picture = 0;
      for (std::size_t i = from; i < std::min(sizes.size(), from + columns.count); ++i) {
        if (sizes[i].x > columns.picture_room) return std::nullopt;
        head = std::max(head, columns.heads[i].box.y1);
        picture = std::max(picture, sizes[i].y);
      }
      const double top = columns.has_words_beside ? 0 : head + kUnderWords;
      rows.push_back({top, std::max(head, top + picture)});
    }
    return rows;
  }

  /// Requires: no picture is wider than its column.
  [[nodiscard]] std::vector<Drawing> on_pages(const Columns& columns,
                                              const Pictures& pictures) const {
    double indent = number_width_;
    for (const Drawing& picture : pictures.drawn) {
      if (columns.has_words_beside) break;
      indent = std::min(indent, columns.picture_room - picture.extent.width());
    }
    ink::Flow flow(sheet_, pages_);
    std::size_t step = 0;
    const StepsRows rows = *rows_of(columns, sizes_of(pictures));
    for (const StepsRow& row : rows) {
      Frame made{.items = {}, .box = {0, 0, look_.room.x, row.height}};
      for (std::size_t i = 0; i < columns.count && step < steps_.size(); ++i, ++step) {
        const double left = static_cast<double>(i) * (columns.width + kColumnGap);
        made.place(columns.heads[step], {left, 0});
        const Drawing& picture = pictures.drawn[step];
        made.place({picture.items, picture.extent},
                   {left + indent - picture.extent.x0, row.picture_top - picture.extent.y0});
      }
      flow.add(made);
    }
    return flow.pages();
  }

  // ---- What stands over a picture --------------------------------------------------------------

  [[nodiscard]] Columns columns_of(std::size_t count) const {
    const double gaps = static_cast<double>(count - 1) * kColumnGap;
    const double width = (look_.room.x - gaps) / static_cast<double>(count);
    Columns made{.count = count, .width = width, .picture_room = width, .heads = {}};
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
  [[nodiscard]] Columns beside() const {
    Columns made{.count = 1,
                 .width = look_.room.x,
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
  std::vector<Block> said_;  ///< by step; empty on the wordless sheet
  double number_width_;
  std::size_t most_pages_ = 0;
  ink::SheetRoom sheet_;
  ink::FlowLook pages_;           ///< with what stands above the steps
  std::vector<Columns> columns_;  ///< what is best with pictures of one size comes first
};

}  // namespace

std::vector<Drawing> steps_sheet(const pouch::Pouch& pouch, const StepsLook& look,
                                 const Icons& icons, const base::Voice& words,
                                 const TextMeasure& measure) {
  return StepsSheet(pouch, look, icons, words, measure).drawn();
}

}  // namespace pouchwright::draw
