#include "drawing/cutting_template.h"

#include <algorithm>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "drawing/panel_words.h"
#include "drawing/sheet.h"
#include "units/length.h"

namespace pouchwright::drawing {
namespace {

using pouch::EndFinish;
using pouch::FinishKind;
using pouch::Interval;
using pouch::Span;
using units::Length;

/// White between a line and running text, mm.
constexpr double kInset = 2.5;
/// From the panel's right edge to what stands beside it, mm.
constexpr double kBeside = 6;
constexpr double kNoLowerEnd = 1e6;
/// A band narrower than this has no room for words beside the seam line.
constexpr double kNarrowestNamedBand = 8;
constexpr double kLongestArrow = 90;
constexpr double kArrowHead = 4;
/// How wide a strip the arrow takes, its words included.
constexpr double kArrowStrip = 10;
/// How wide a strip the words along the fold of the cloth take.
constexpr double kFoldEdgeStrip = 8;
/// Where the inside is narrower than this, all running text stands beside the panel.
constexpr double kNarrowestInside = 58;

class Template {
 public:
  Template(const pouch::Pouch& pouch, Pattern pattern, const diag::Words& words,
           const TextMeasure& measure)
      : pouch_(pouch),
        sizes_(pouch.sizes),
        pattern_(pattern),
        words_(words),
        sheet_(words, measure),
        width_(on_paper(sizes_.cut_width) / (pattern == Pattern::half ? 2 : 1)),
        length_(on_paper(sizes_.cut_length)),
        left_(on_paper(sizes_.cut_width) - width_) {
    const double band =
        on_paper(std::max({sizes_.seal_width, sizes_.seam_allowance, sizes_.needle_reach}));
    inside_left_ = (is_half() ? kFoldEdgeStrip : band) + kInset;
    inside_right_ = width_ - band - kInset;
  }

  Drawing drawn() {
    outline();
    bands();
    seam_lines();
    needle_lines();
    folds();
    direction_arrow();
    lip();
    fold_names();
    end_notes();
    span_names();
    blocks();
    if (!is_half()) centre_line();
    return sheet_.finished(
        "template", sheet_.say({"drawing-template-title", {{"title", title_of(pouch_, words_)}}}));
  }

 private:
  [[nodiscard]] bool is_half() const { return pattern_ == Pattern::half; }
  /// Where a point of the whole panel lies across this drawing.
  [[nodiscard]] double across(Length x) const { return on_paper(x) - left_; }

  /// In both units; a line may break between the two.
  [[nodiscard]] std::string both(Length length) const {
    return in_both(length, pouch_.request.style);
  }
  // ---- Lines -----------------------------------------------------------------------------------

  void outline() {
    if (!is_half()) {
      sheet_.draw(Group::cut, rectangle({0, 0, width_, length_}), kCutStroke, "panel");
      return;
    }
    // Three edges are cut; the fourth lies on the fold of the cloth.
    const Path edges = polyline({{0, 0}, {width_, 0}, {width_, length_}, {0, length_}}, Ends::open);
    sheet_.draw(Group::cut, edges, kCutStroke, "half panel");
    sheet_.draw(Group::fold, line({0, 0}, {0, length_}), kClothFoldStroke, "fold of the cloth");
    for (Text& words : words_along(sheet_.say("drawing-lay-on-fold"), kFoldEdgeStrip / 2 + 0.5, 0,
                                   length_, sheet_.measure())) {
      words.weight = Weight::bold;
      sheet_.draw(words);
    }
  }

  /// Bands that touch are one to the hand with the iron, whatever layers meet there.
  void bands() {
    std::map<std::pair<Length, Length>, std::vector<Interval>> stretches;
    for (const pouch::SealZone& zone : pouch_.seal_zones) {
      stretches[{zone.x.from, zone.x.to}].push_back(zone.y);
    }
    for (const auto& stretch : stretches) {
      if (across(stretch.first.first) < 0) continue;
      for (const Interval& y : joined(stretch.second)) {
        band({across(stretch.first.first), on_paper(y.from), across(stretch.first.second),
              on_paper(y.to)});
      }
    }
  }

  void band(const Box& box) {
    std::vector<Box> holes;
    for (const Text& words : fuse_words(box)) {
      holes.push_back(grown(bounds(words, sheet_.measure()), kClearance));
      sheet_.draw(words);
    }
    hatch_around(box, holes);
    sheet_.draw(Group::seal, rectangle(box), kSealStroke, "fused band");
    sheet_.placer().take(box);
  }

  /// The words along the band between each two folds, in the wider part beside the seam line. None
  /// where the band is too narrow.
  [[nodiscard]] std::vector<Text> fuse_words(const Box& box) const {
    std::vector<Text> result;
    if (box.width() < kNarrowestNamedBand) return result;
    const Interval free = part_beside_the_seam(box);
    const double x = on_paper(free.from + half(free.size()));
    for (const Span& span : sizes_.panel.spans) {
      const double from = std::max(box.y0, on_paper(span.from));
      const double to = std::min(box.y1, on_paper(span.to));
      for (Text& words :
           words_along(sheet_.say("drawing-fuse-here"), x, from, to, sheet_.measure())) {
        const Box size = bounds(words, sheet_.measure());
        if (on_paper(free.size()) < size.width() + kClearance) continue;
        result.push_back(std::move(words));
      }
    }
    return result;
  }

  /// The widest part of the band that no seam line runs through; of two alike the inner one.
  [[nodiscard]] Interval part_beside_the_seam(const Box& box) const {
    const Length from = Length::mm(box.x0);
    const Length to = Length::mm(box.x1);
    const Length width = Length::mm(width_);
    const bool is_left = !is_half() && from + to < width;
    const Length seam = is_left ? sizes_.seam_allowance : width - sizes_.seam_allowance;
    if (seam <= from || seam >= to) return {from, to};
    const Interval outer = is_left ? Interval{from, seam} : Interval{seam, to};
    const Interval inner = is_left ? Interval{seam, to} : Interval{from, seam};
    return inner.size() < outer.size() && on_paper(inner.size()) < kNarrowestNamedBand / 2 ? outer
                                                                                           : inner;
  }

  /// The hatch of `box` without the holes, which lie one below the other.
  void hatch_around(const Box& box, const std::vector<Box>& holes) {
    Path path;
    const auto add = [&path](const Box& part) {
      const Path lines = hatch(part, kHatchSpacing);
      path.insert(path.end(), lines.begin(), lines.end());
    };
    double y = box.y0;
    for (const Box& hole : holes) {
      add({box.x0, y, box.x1, hole.y0});
      add({box.x0, hole.y0, hole.x0, hole.y1});
      add({hole.x1, hole.y0, box.x1, hole.y1});
      y = hole.y1;
    }
    add({box.x0, y, box.x1, box.y1});
    if (path.empty()) return;
    sheet_.draw_freely(Shape{.group = Group::seal,
                             .path = std::move(path),
                             .stroke = kHatchStroke,
                             .fill = Fill::none,
                             .name = "hatch"});
  }

  void seam_lines() {
    for (const Length x : {sizes_.seam_allowance, sizes_.cut_width - sizes_.seam_allowance}) {
      if (across(x) < 0) continue;
      sheet_.draw(Group::seam, line({across(x), 0}, {across(x), length_}), kSeamStroke,
                  "seam line");
    }
  }

  void needle_lines() {
    const auto draw_at = [&](Length y, const char* name) {
      sheet_.draw(Group::seam, line({0, on_paper(y)}, {width_, on_paper(y)}), kNeedleStroke, name);
    };
    const EndFinish& start = pouch_.request.start_finish;
    const EndFinish& end = pouch_.request.end_finish;
    if (has_needle_line(start)) draw_at(start.needle_reach, "needle line: start");
    if (has_needle_line(end)) draw_at(sizes_.cut_length - end.needle_reach, "needle line: end");
  }

  void folds() {
    const double tick = on_paper(notch_length(sizes_.seam_allowance));
    for (const pouch::FoldLine& fold : sizes_.folds) {
      const double y = on_paper(fold.at);
      sheet_.draw(Group::fold, line({0, y}, {width_, y}), kFoldStroke, fold_name(fold));
      if (!(tick > 0)) continue;
      if (!is_half()) {
        sheet_.draw(Group::notch, line({0, y}, {tick, y}), kTickStroke, "notch: left");
      }
      sheet_.draw(Group::notch, line({width_ - tick, y}, {width_, y}), kTickStroke, "notch: right");
    }
  }

  /// In the longest span, at the right of what is inside; the words beside it where they fit.
  void direction_arrow() {
    const Span span = longest_spans().front();
    const double middle = (on_paper(span.from) + on_paper(span.to)) / 2;
    const double reach =
        std::min(kLongestArrow, on_paper(span.to) - on_paper(span.from) - 4 * kInset) / 2;
    if (reach < 1.5 * kArrowHead) return;
    const double x = inside_right_ - kArrowHead / 2;
    sheet_.draw(Group::grain, line({x, middle - reach}, {x, middle + reach}), kGrainStroke,
                "direction of the length");
    arrow_head({x, middle - reach}, -1);
    arrow_head({x, middle + reach}, 1);
    sheet_.placer().take({x - kArrowHead / 2, middle - reach, x + kArrowHead / 2, middle + reach});
    Text words = label(sheet_.say("drawing-direction"), kSmallestSize);
    words.turn_deg = 270;
    const Box size = bounds(words, sheet_.measure());
    if (size.height() > 2 * reach) return;
    sheet_.put(words,
               {{x - kArrowHead / 2 - kClearance - size.width(), middle - size.height() / 2}});
  }

  /// A filled head whose tip is at `tip`; `sense` 1 points down, -1 up.
  void arrow_head(Point tip, double sense) {
    const double back = tip.y - sense * kArrowHead;
    sheet_.draw_freely(Shape{
        .group = Group::grain,
        .path = polyline({tip, {tip.x + kArrowHead / 3, back}, {tip.x - kArrowHead / 3, back}},
                         Ends::closed),
        .stroke = std::nullopt,
        .fill = Fill::solid,
        .name = "arrow head"});
  }

  /// Drawn last, broken where words stand.
  void centre_line() {
    const double x = width_ / 2;
    std::vector<Interval> holes;
    for (const Box& words : sheet_.word_boxes()) {
      const Box box = grown(words, kInset / 2);
      if (box.x0 < x && x < box.x1) holes.push_back({Length::mm(box.y0), Length::mm(box.y1)});
    }
    Path path;
    for (const Interval& part : without({Length(), sizes_.cut_length}, holes)) {
      const Path piece = line({x, on_paper(part.from)}, {x, on_paper(part.to)});
      path.insert(path.end(), piece.begin(), piece.end());
    }
    sheet_.draw_freely(Shape{.group = Group::grain,
                             .path = std::move(path),
                             .stroke = kCentreStroke,
                             .fill = Fill::none,
                             .name = "centre line"});
  }

  // ---- Words at lines --------------------------------------------------------------------------

  [[nodiscard]] std::string fold_name(const pouch::FoldLine& fold) const {
    return sheet_.say(
        {"drawing-fold",
         {{"before", span_name(fold.before, words_)}, {"after", span_name(fold.after, words_)}}});
  }

  /// Just above the line or just below it, from the left; where spans are too short for words, to
  /// the right of the panel.
  void fold_names() {
    for (const pouch::FoldLine& fold : sizes_.folds) {
      const Text words = label(fold_name(fold), kSmallestSize, Weight::bold);
      const Box size = bounds(words, sheet_.measure());
      const double y = on_paper(fold.at);
      const double away = kFoldStroke.width / 2 + kClearance;
      std::vector<Point> corners;
      for (double x = inside_left_; x + size.width() <= inside_right_; x += 5) {
        corners.push_back({x, y - away - size.height()});
        corners.push_back({x, y + away});
      }
      for (int k = 0; k < 200; ++k) {
        corners.push_back({width_ + kInset, y - size.height() / 2 + k * 2.0});
      }
      sheet_.put(words, corners);
    }
  }

  /// The free end of the first compartment's film is its lip.
  void lip() {
    const auto& film = pouch_.construction().compartments.front().film;
    const Span* first = span_named(film.front().value);
    const Span* second = film.size() > 1 ? span_named(film[1].value) : nullptr;
    if (first == nullptr) return;
    const bool at_start = second == nullptr || first->from < second->from;
    std::string words = sheet_.say(at_start ? "drawing-lip-above" : "drawing-lip-below");
    if (bounds(label(words, kSmallestSize, Weight::bold), sheet_.measure()).width() >
        inside_right_ - inside_left_) {
      words = sheet_.say(at_start ? "drawing-lip-above-short" : "drawing-lip-below-short");
    }
    note_at_end(std::move(words), Weight::bold, on_paper(at_start ? first->from : first->to),
                at_start);
  }

  void end_notes() {
    end_note(pouch_.request.start_finish, true);
    end_note(pouch_.request.end_finish, false);
  }

  void end_note(const EndFinish& finish, bool at_start) {
    if (finish.kind == FinishKind::none) return;
    const std::string takes = text(finish.takes, pouch_.request.style);
    const diag::Message words =
        finish.kind == FinishKind::turned ? diag::Message("drawing-end-turned", {{"takes", takes}})
        : finish.takes > Length()         ? diag::Message("drawing-end-trimmed", {{"takes", takes}})
                                          : diag::Message("drawing-end-overedge");
    note_at_end(sheet_.say(words), Weight::regular, at_start ? 0 : length_, at_start);
  }

  /// A line of words as near to the end at `y` as room is, in the right half if it can be.
  void note_at_end(std::string words, Weight weight, double y, bool below) {
    constexpr double kReach = 30;
    const Box band = below ? Box{inside_left_, y, inside_right_, std::min(length_, y + kReach)}
                           : Box{inside_left_, std::max(0.0, y - kReach), inside_right_, y};
    Box right = band;
    right.x0 = width_ / 2 + kInset;
    const Text text = label(std::move(words), kSmallestSize, weight);
    const Box size = bounds(text, sheet_.measure());
    std::vector<Point> corners;
    for (const Box& region : {right, band}) {
      if (region.width() < size.width()) continue;
      for (double step = kClearance; step + size.height() < region.height(); step += 0.5) {
        corners.push_back({region.x0, below ? y + step : y - step - size.height()});
      }
    }
    for (int k = 0; k < 200; ++k)
      corners.push_back({width_ + kInset, std::max(0.0, y - 4) + k * 2.0});
    sheet_.put(text, corners);
  }

  [[nodiscard]] const Span* span_named(const std::string& name) const {
    for (const Span& span : sizes_.panel.spans) {
      if (span.name == name) return &span;
    }
    return nullptr;
  }

  // ---- Words in spans --------------------------------------------------------------------------

  [[nodiscard]] Box inside_of(const Span& span) const {
    return {inside_left_, on_paper(span.from) + kInset / 2, inside_right_ - kArrowStrip,
            on_paper(span.to) - kInset / 2};
  }

  /// Name and length of every span that has room for them.
  void span_names() {
    for (const Span& span : sizes_.panel.spans) {
      const Box inside = inside_of(span);
      const std::string name = span_name(span.name, words_);
      const std::string size = both(span.to - span.from);
      const Block tall{{.words = name, .size = kHeadingSize, .weight = Weight::bold},
                       {.words = size}};
      if (sheet_.put(tall, columns(inside, width_ / 2), std::nullopt)) continue;
      sheet_.put({{.words = name + ": " + size, .size = kSmallestSize}}, {inside}, std::nullopt);
    }
  }

  /// Spans from the longest down; of two alike the first.
  [[nodiscard]] std::vector<Span> longest_spans() const {
    std::vector<Span> spans = sizes_.panel.spans;
    std::stable_sort(spans.begin(), spans.end(),
                     [](const Span& a, const Span& b) { return a.to - a.from > b.to - b.from; });
    return spans;
  }

  /// The columns of the two longest spans in the panel's order, then of all others, then whole
  /// spans.
  [[nodiscard]] std::vector<Box> block_regions() const {
    std::vector<Span> spans = longest_spans();
    if (spans.size() > 1 && spans[1].from < spans[0].from) std::swap(spans[0], spans[1]);
    std::vector<Box> regions;
    for (const Span& span : spans) {
      for (const Box& column : columns(inside_of(span), width_ / 2)) regions.push_back(column);
    }
    for (const Span& span : spans) regions.push_back(inside_of(span));
    return regions;
  }

  void blocks() {
    const bool is_narrow = inside_of(longest_spans().front()).width() < kNarrowestInside;
    const std::vector<Box> regions = is_narrow ? std::vector<Box>() : block_regions();
    const std::size_t a_column =
        columns(inside_of(longest_spans().front()), width_ / 2).size() > 1 ? 1 : 0;
    const std::size_t next_span = a_column + 1;
    const Box beside{width_ + kBeside, 0, width_ + kBeside + kWidestBlock, kNoLowerEnd};
    const auto put = [&](const Block& block, std::size_t first) {
      sheet_.put(block, beginning_at(regions, first), beside);
    };
    put(title_block(pouch_, pattern_, words_), 0);
    put(cutting_block(pouch_, words_), a_column);
    put(legend(pouch_, pattern_, words_), next_span);
    put(caution_block(words_), next_span + a_column);
    put(marking_block(words_), next_span + a_column);
  }

  const pouch::Pouch& pouch_;
  const pouch::Sizes& sizes_;
  Pattern pattern_;
  const diag::Words& words_;
  Sheet sheet_;
  double width_;  ///< of what is drawn: the panel, or half of it
  double length_;
  double left_;             ///< where what is drawn begins on the whole panel
  double inside_left_ = 0;  ///< between these two no seam, band or needle of the sides lies
  double inside_right_ = 0;
};

}  // namespace

units::Length notch_length(units::Length seam_allowance) {
  // Rounded down, unlike every other half: a notch may be shorter, never longer.
  return std::min(Length::nm(seam_allowance.in_nm() / 2), kLongestNotch);
}

Drawing cutting_template(const pouch::Pouch& pouch, Pattern pattern, const diag::Words& words,
                         const TextMeasure& measure) {
  return Template(pouch, pattern, words, measure).drawn();
}

}  // namespace pouchwright::drawing
