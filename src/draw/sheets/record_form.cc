#include "draw/sheets/record_form.h"

#include <algorithm>
#include <utility>

#include "base/text.h"
#include "ink/flow.h"

namespace pouchwright::draw {

namespace {

constexpr double kRow = 8.5;
constexpr int kTrialRows = 4;
constexpr Stroke kRule{LinePattern::continuous, 0.18};
/// White beside a column's name.
constexpr double kInside = 1;

/// A column's name, and how much of the width it takes beside the others.
struct Column {
  const char* key;
  double share;
};
using Columns = std::vector<Column>;

const Columns kRows{
    {"record-form-day", 2},     {"record-form-bundle", 1.4},  {"record-form-work", 4},
    {"record-form-who", 2.4},   {"record-form-minutes", 1.6}, {"record-form-pouches", 1.6},
    {"record-form-leaks", 1.2}, {"record-form-where", 2.6},   {"record-form-seal", 1.6}};
/// Bundles are numbered within each make.
Columns with_makes(Columns columns) {
  columns.insert(columns.begin() + 1, {"record-form-make", 2.6});
  return columns;
}

const Columns kTrials{{"record-form-day", 2},       {"record-form-who", 2.4},
                      {"record-form-dots", 1.5},    {"record-form-steam", 1.5},
                      {"record-form-seconds", 1.5}, {"record-form-held", 1.5},
                      {"record-form-note", 6}};

class Form {
 public:
  Form(const Columns& columns, double width, const base::Voice& words, const TextMeasure& measure)
      : columns_(columns), width_(width), words_(words), measure_(measure) {
    double x = 0;
    for (const double wide : widths()) {
      from_.push_back(x);
      x += wide;
    }
    from_.push_back(width);
  }

  /// As high as the longest name, broken to its column.
  [[nodiscard]] Frame head() const {
    Frame made;
    made.is_heading = true;
    double bottom = kRow;
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      const double width = from_[i + 1] - from_[i] - 2 * kInside;
      const double end = made.write_lines(
          words_.say(columns_[i].key), {from_[i] + kInside, line_distance(kSmallestSize)}, width,
          {.step = line_distance(kSmallestSize), .weight = Weight::bold}, measure_);
      bottom = std::max(bottom, end - line_distance(kSmallestSize) + 2);
    }
    made.box = {0, 0, width_, bottom};
    rule(made);
    return made;
  }

  [[nodiscard]] Frame row() const {
    Frame made;
    made.box = {0, 0, width_, kRow};
    rule(made);
    return made;
  }

 private:
  void rule(Frame& made) const {
    // Half a line's width inside, so that nothing of it is cut off at the page's edge.
    constexpr double kHalf = 0.09;
    const double bottom = made.box.y1 - kHalf;
    made.draw(line({0, bottom}, {width_, bottom}), kRule);
    if (made.is_heading) made.draw(line({0, kHalf}, {width_, kHalf}), kRule);
    for (const double x : from_) {
      const double at = std::clamp(x, kHalf, width_ - kHalf);
      made.draw(line({at, 0}, {at, bottom}), kRule);
    }
  }

  const Columns& columns_;
  /// By their shares, but none narrower than the longest word of its name: what that takes, the others
  /// give by what they have to spare.
  [[nodiscard]] std::vector<double> widths() const {
    double sum = 0;
    for (const Column& one : columns_) sum += one.share;
    std::vector<double> all;
    double lacking = 0;
    double spare = 0;
    for (const Column& one : columns_) {
      const double share = width_ * one.share / sum;
      const double least = longest_word(words_.say(one.key)) + 2 * kInside;
      all.push_back(std::max(share, least));
      lacking += std::max(0.0, least - share);
      spare += std::max(0.0, share - least);
    }
    for (std::size_t i = 0; i < all.size() && lacking > 0 && spare > 0; ++i) {
      const double least = longest_word(words_.say(columns_[i].key)) + 2 * kInside;
      all[i] -= (all[i] - least) * std::min(1.0, lacking / spare);
    }
    return all;
  }

  [[nodiscard]] double longest_word(const std::string& name) const {
    double longest = 0;
    for (const std::string& line :
         broken_into_lines(name, 0, kSmallestSize, Weight::bold, measure_)) {
      longest = std::max(longest, measure_.measure(line, kSmallestSize, Weight::bold).width);
    }
    return longest;
  }

  double width_;
  const base::Voice& words_;
  const TextMeasure& measure_;
  std::vector<double> from_;
};

}  // namespace

std::vector<Drawing> record_form(const RecordForm& form, const base::Voice& words,
                                 const TextMeasure& measure, Point room) {
  TextPages pages("record-form", words.say({"record-form-title", {{"title", form.title}}}), room,
                  TextPages::Columns::one, measure);
  pages.add({text_paragraph(words.say("record-form-how")),
             text_paragraph(words.say(
                 {"record-form-works", {{"works", base::list_text(form.works, "; ")}}}))});
  const Form trials(kTrials, pages.width(), words, measure);
  pages.add({heading(words.say("record-form-trials"))});
  pages.add(trials.head(), 1);
  for (int i = 0; i < kTrialRows; ++i) pages.add(trials.row(), 0);
  if (!form.makes.empty()) {
    pages.add({text_paragraph(
        words.say({"record-form-makes", {{"makes", base::list_text(form.makes, "; ")}}}))});
  }
  const Columns columns = form.makes.empty() ? kRows : with_makes(kRows);
  const Form rows(columns, pages.width(), words, measure);
  pages.make_room(std::min(8 * kRow, pages.height_of_page()));
  pages.add({heading(words.say("record-form-rows"))});
  pages.add(rows.head(), 1);
  while (pages.height_left() >= kRow + 1) pages.add(rows.row(), 0);
  return pages.finished();
}

}  // namespace pouchwright::draw
