#include "draw/full_size/template.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "base/length.h"
#include "draw/full_size/part_marks.h"
#include "draw/full_size/template_words.h"
#include "ink/arrows.h"
#include "ink/canvas.h"
#include "pouch/questions.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::EndFinish;
using pouch::FinishKind;
using pouch::Interval;
using pouch::Span;

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
  Template(const pouch::Pouch& pouch, const pouch::CutPart& part, Pattern pattern,
           const base::Voice& words, const TextMeasure& measure)
      : pouch_(pouch),
        sizes_(pouch.sizes),
        part_(part),
        flat_(flat_of(pouch.sizes, part)),
        seam_allowance_(std::max(Length(), sizes_.seam_allowance - flat_.inset)),
        corners_(corners_of(pouch, part)),
        pattern_(pattern),
        words_(words),
        sheet_(words, measure),
        width_(on_paper(part.width) / (pattern == Pattern::half ? 2 : 1)),
        length_(on_paper(part.length)),
        left_(on_paper(part.width) - width_) {
    const Length reach = std::max({sizes_.seal_width, sizes_.seam_allowance, sizes_.needle_reach});
    const double band = part.panel ? std::max(0.0, on_paper(reach - flat_.inset)) : 0;
    inside_left_ = (is_half() ? kFoldEdgeStrip : band) + kInset;
    inside_right_ = width_ - band - kInset;
  }

  Drawing drawn() {
    outline();
    smaller_outer();
    if (part_.panel) {
      bands();
      seam_lines();
      needle_lines();
      folds();
    }
    attachment_marks();
    direction_arrow();
    if (part_.panel) {
      lips();
      fold_names();
      end_notes();
      span_names();
    }
    attachment_names();
    blocks();
    if (!is_half()) centre_line();
    return sheet_.finished(template_name(pouch_, part_), title());
  }

 private:
  [[nodiscard]] bool is_half() const { return pattern_ == Pattern::half; }
  [[nodiscard]] bool is_main() const { return part_.panel && *part_.panel == 0; }
  /// Where a point of this panel lies across this drawing.
  [[nodiscard]] double across(Length x) const { return on_paper(x) - left_; }

  [[nodiscard]] std::string title() const {
    const std::string of_the_job = tell::title_of(pouch_, words_);
    if (is_main()) return sheet_.say({"drawing-template-title", {{"title", of_the_job}}});
    return sheet_.say({"drawing-template-part-title",
                       {{"part", tell::part_name(part_.name, words_)}, {"title", of_the_job}}});
  }

  /// How far the flap's shaped corner leaves the panel's side behind at `y`.
  [[nodiscard]] double corner_at(double y) const {
    return cut_off(corners_, corners_.at_start ? y : length_ - y);
  }
  /// A line all across at `y`, from cut to cut.
  [[nodiscard]] Path line_across(double y) const {
    const double off = corner_at(y);
    return line({is_half() ? 0 : off, y}, {width_ - off, y});
  }

  [[nodiscard]] const EndFinish& finish(pouch::Edge end) const {
    return pouch::finish_of(pouch_.request, *part_.panel, end);
  }

  /// In both units; a line may break between the two.
  [[nodiscard]] std::string both(Length length) const { return in_both(length, words_); }
  // ---- Lines -----------------------------------------------------------------------------------

  void outline() {
    if (!is_half()) {
      sheet_.draw(Group::cut, outline_with(corners_, {0, 0, width_, length_}), kCutStroke, "panel");
      return;
    }
    // Three edges are cut; the fourth lies on the fold of the cloth.
    sheet_.draw(Group::cut, half_outline_with(corners_, {0, 0, width_, length_}), kCutStroke,
                "half panel");
    sheet_.draw(Group::fold, line({0, 0}, {0, length_}), kClothFoldStroke, "fold of the cloth");
    for (Text& words : words_along(sheet_.say("drawing-lay-on-fold"), kFoldEdgeStrip / 2 + 0.5, 0,
                                   length_, sheet_.measure())) {
      words.weight = Weight::bold;
      sheet_.draw(words);
    }
  }

  /// An outer that stays behind its panel; one of the panel's own size needs no line.
  void smaller_outer() {
    if (!part_.outer || !flat_.outer) return;
    if (part_.outer->width == part_.width && part_.outer->length == part_.length) return;
    const Length side = flat_.outer_inset - flat_.inset;
    const Box box{std::max(0.0, across(side)), on_paper(flat_.outer->from),
                  across(part_.width - side), on_paper(flat_.outer->to)};
    EndCorners corners = corners_;
    const Length behind = corners_.at_start ? flat_.outer->from : part_.length - flat_.outer->to;
    corners.size = std::max(0.0, corners.size - on_paper(std::min(side, behind)));
    sheet_.draw(Group::seam, outline_with(corners, box), kSmallOuterStroke, "outer");
  }

  /// Bands that touch are one to the hand with the iron, whatever layers meet there.
  void bands() {
    std::map<std::pair<Length, Length>, std::vector<Interval>> stretches;
    for (const pouch::SealZone& zone : own_zones(pouch_, part_)) {
      stretches[{zone.x.from, zone.x.to}].push_back(zone.y);
    }
    for (const auto& stretch : stretches) {
      const double x0 = std::max(0.0, across(stretch.first.first));
      const double x1 = across(stretch.first.second);
      if (x1 <= x0) continue;
      for (const Interval& y : joined(stretch.second)) {
        const Box box{x0, on_paper(y.from), x1, on_paper(y.to)};
        if (is_across({stretch.first.first, stretch.first.second}, part_)) {
          band(box, words_in_bottom_band(box));
        } else {
          band(box, fuse_words(box));
        }
      }
    }
  }

  /// In the wider part beside the seam line, once.
  [[nodiscard]] std::vector<Text> words_in_bottom_band(const Box& box) const {
    const bool at_start = box.y0 + box.y1 < length_;
    const double seam = on_paper(sizes_.seam_allowance);
    const bool is_outer = seam > box.height() / 2 && seam < box.height();
    const double from_edge = is_outer              ? seam / 2
                             : seam < box.height() ? (seam + box.height()) / 2
                                                   : box.height() / 2;
    Text words = label(sheet_.say("drawing-fuse-here"), kSmallestSize);
    const double y = at_start ? box.y0 + from_edge : box.y1 - from_edge;
    words = centred_on(words, {(box.x0 + 3 * box.x1) / 4, y}, sheet_.measure());
    const Box size = bounds(words, sheet_.measure());
    if (size.width() + 2 * kClearance > box.width() || box.height() < kNarrowestNamedBand)
      return {};
    return {words};
  }

  void band(const Box& box, const std::vector<Text>& named) {
    std::vector<Box> holes;
    for (const Text& words : named) {
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
    for (const Span& span : flat_.spans) {
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
    const Length seam = is_left ? seam_allowance_ : width - seam_allowance_;
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
    const auto draw_line = [&](Point from, Point to) {
      sheet_.draw(Group::seam, line(from, to), kSeamStroke, "seam line");
    };
    for (const Length x : {seam_allowance_, part_.width - seam_allowance_}) {
      if (across(x) < 0 || seam_allowance_ == Length()) continue;
      const double off = cut_off(corners_, on_paper(seam_allowance_));
      draw_line({across(x), corners_.at_start ? off : 0},
                {across(x), corners_.at_start ? length_ : length_ - off});
    }
    if (const auto end = bottom_end(pouch_, part_)) {
      const double allowance = on_paper(sizes_.seam_allowance);
      const double y = *end == pouch::Edge::start ? allowance : length_ - allowance;
      draw_line({0, y}, {width_, y});
    }
  }

  void needle_lines() {
    const auto draw_at = [&](Length y, const char* name) {
      sheet_.draw(Group::seam, line_across(on_paper(y)), kNeedleStroke, name);
    };
    const EndFinish& start = finish(pouch::Edge::start);
    const EndFinish& end = finish(pouch::Edge::end);
    if (pouch::has_needle_line(start)) draw_at(start.needle_reach, "needle line: start");
    if (pouch::has_needle_line(end)) draw_at(part_.length - end.needle_reach, "needle line: end");
  }

  void folds() {
    const double tick = on_paper(pouch::notch_length(sizes_.seam_allowance));
    for (const pouch::FoldLine& fold : folds_of(flat_)) {
      const double y = on_paper(fold.at);
      const double off = corner_at(y);
      sheet_.draw(Group::fold, line_across(y), kFoldStroke, fold_name(fold));
      if (!(tick > 0)) continue;
      if (!is_half()) {
        sheet_.draw(Group::notch, line({off, y}, {off + tick, y}), kTickStroke, "notch: left");
      }
      sheet_.draw(Group::notch, line({width_ - off - tick, y}, {width_ - off, y}), kTickStroke,
                  "notch: right");
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
    for (const double end : {-reach, reach}) {
      sheet_.draw_freely(Shape{.group = Group::grain,
                               .path = arrow_head({x, middle + end}, {x, middle},
                                                  {kArrowHead, kArrowHead * 2 / 3}, Ends::closed),
                               .stroke = std::nullopt,
                               .fill = Fill::solid,
                               .name = "arrow head"});
    }
    sheet_.placer().take({x - kArrowHead / 2, middle - reach, x + kArrowHead / 2, middle + reach});
    Text words = label(sheet_.say("drawing-direction"), kSmallestSize);
    words.turn_deg = 270;
    const Box size = bounds(words, sheet_.measure());
    if (size.height() > 2 * reach) return;
    sheet_.put(words,
               {{x - kArrowHead / 2 - kClearance - size.width(), middle - size.height() / 2}});
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
    for (const Interval& part : without({Length(), part_.length}, holes)) {
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
    return sheet_.say({"drawing-fold",
                       {{"before", tell::span_name(fold.before, words_)},
                        {"after", tell::span_name(fold.after, words_)}}});
  }

  /// Just above the line or just below it, from the left; where spans are too short for words, to
  /// the right of the panel.
  void fold_names() {
    for (const pouch::FoldLine& fold : folds_of(flat_)) {
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

  /// Where nothing is folded over the mouth, its edges may be equally high.
  [[nodiscard]] const char* lip_name(bool below) const {
    if (pouch_.request.construction.flap_span.empty()) {
      return below ? "drawing-edge-above" : "drawing-edge-below";
    }
    return below ? "drawing-lip-above" : "drawing-lip-below";
  }

  /// The free end of a compartment's film is its lip; two compartments may share one.
  void lips() {
    std::vector<Length> named;
    for (const Lip& lip : lips_of(pouch_, part_)) {
      if (std::find(named.begin(), named.end(), lip.y) != named.end()) continue;
      named.push_back(lip.y);
      const bool below = lip.film_follows;
      std::string words = sheet_.say(lip_name(below));
      if (bounds(label(words, kSmallestSize, Weight::bold), sheet_.measure()).width() >
          inside_right_ - inside_left_) {
        words = sheet_.say(below ? "drawing-lip-above-short" : "drawing-lip-below-short");
      }
      note_at_end(std::move(words), Weight::bold, on_paper(lip.y), below);
    }
  }

  void end_notes() {
    end_note(finish(pouch::Edge::start), true);
    end_note(finish(pouch::Edge::end), false);
  }

  void end_note(const EndFinish& made, bool at_start) {
    if (made.kind == FinishKind::none) return;
    const std::string takes = words_.text(made.takes);
    const base::Message words =
        made.kind == FinishKind::turned ? base::Message("drawing-end-turned", {{"takes", takes}})
        : made.takes > Length()         ? base::Message("drawing-end-trimmed", {{"takes", takes}})
                                        : base::Message("drawing-end-overedge");
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

  // ---- Attachments -----------------------------------------------------------------------------

  [[nodiscard]] std::vector<const pouch::Fixed*> own_attachments() const {
    std::vector<const pouch::Fixed*> own;
    for (const pouch::Fixed& fixed : pouch_.fixed) {
      const bool is_own = part_.panel ? fixed.piece.empty() && fixed.panel == *part_.panel
                                      : fixed.piece == part_.name;
      if (is_own) own.push_back(&fixed);
    }
    return own;
  }

  /// Places across as this drawing has them. A half pattern keeps its half, and shows on it what
  /// lies on the other side alone: its words say which side that is.
  [[nodiscard]] std::vector<double> places_across(const pouch::Fixed& fixed) const {
    std::vector<double> places;
    for (const Length x : fixed.x) {
      double at = across(x - flat_.inset);
      if (at <= -kInset && fixed.x.size() == 1) at = across(part_.width - (x - flat_.inset));
      if (at > -kInset) places.push_back(std::max(0.0, at));
    }
    for (const pouch::Edge seam : fixed.caught) {
      if (seam == pouch::Edge::left && !is_half()) places.push_back(0);
      const bool shown_there =
          seam == pouch::Edge::right || (is_half() && fixed.caught.size() == 1);
      if (shown_there) places.push_back(width_);
    }
    return places;
  }

  void attachment_marks() {
    for (const pouch::Fixed* fixed : own_attachments()) {
      const double y0 = on_paper(fixed->y.from);
      const double y1 = on_paper(fixed->y.to);
      for (const double x : places_across(*fixed)) {
        sheet_.draw(Group::notch, attachment_mark({x, y0}, y1, fixed->width.in_mm(), {0, width_}),
                    kMarkStroke, "attachment: " + fixed->name);
      }
    }
  }

  void attachment_names() {
    const Box beside{width_ + kBeside, 0, width_ + kBeside + kWidestBlock, kNoLowerEnd};
    for (const pouch::Fixed* fixed : own_attachments()) {
      const std::vector<double> places = places_across(*fixed);
      if (places.empty()) continue;
      const Block block = attachment_block(pouch_, part_, *fixed, words_);
      const double y = on_paper(fixed->y.from);
      std::vector<Box> regions;
      for (const double x : places) {
        for (const Box& near : regions_near({x, y})) {
          Box region = near;
          region.x0 = std::max(region.x0, inside_left_);
          region.x1 = std::min(region.x1, inside_right_);
          region.y0 = std::max(region.y0, kInset);
          region.y1 = std::min(region.y1, length_ - kInset);
          if (region.width() > kNarrowestNote) regions.push_back(region);
        }
      }
      // Its words say where it is, so that they may stand in a span nearby.
      std::vector<Span> spans = flat_.spans;
      const auto away = [&](const Span& span) {
        return std::abs(on_paper(span.from) + on_paper(span.to) - 2 * y);
      };
      std::stable_sort(spans.begin(), spans.end(),
                       [&](const Span& a, const Span& b) { return away(a) < away(b); });
      for (const Span& span : spans) regions.push_back(inside_of(span));
      sheet_.put(block, regions, beside);
    }
  }

  // ---- Words in spans --------------------------------------------------------------------------

  [[nodiscard]] Box inside_of(const Span& span) const {
    return {inside_left_, on_paper(span.from) + kInset / 2, inside_right_ - kArrowStrip,
            on_paper(span.to) - kInset / 2};
  }

  /// Name and length of every span that has room for them.
  void span_names() {
    for (const Span& span : flat_.spans) {
      const Box inside = inside_of(span);
      const std::string name = tell::span_name(span.name, words_);
      const std::string size = both(span.to - span.from);
      const Block tall{{.words = name, .size = kHeadingSize, .weight = Weight::bold},
                       {.words = size}};
      if (sheet_.put(tall, columns(inside, width_ / 2), std::nullopt)) continue;
      sheet_.put({{.words = name + ": " + size, .size = kSmallestSize}}, {inside}, std::nullopt);
    }
  }

  /// Spans from the longest down; of two alike the first.
  [[nodiscard]] std::vector<Span> longest_spans() const {
    std::vector<Span> spans = flat_.spans;
    std::stable_sort(spans.begin(), spans.end(),
                     [](const Span& a, const Span& b) { return a.to - a.from > b.to - b.from; });
    return spans;
  }

  /// Where blocks stand: the columns of the two longest spans in the panel's order, then of all
  /// others; and the whole spans, for what no column has room for.
  struct BlockRegions {
    std::vector<Box> columns, whole;

    [[nodiscard]] std::vector<Box> from(std::size_t first) const {
      std::vector<Box> all = beginning_at(columns, first);
      all.insert(all.end(), whole.begin(), whole.end());
      return all;
    }
  };
  [[nodiscard]] BlockRegions block_regions() const {
    std::vector<Span> spans = longest_spans();
    if (spans.size() > 1 && spans[1].from < spans[0].from) std::swap(spans[0], spans[1]);
    BlockRegions regions;
    for (const Span& span : spans) {
      for (const Box& column : columns(inside_of(span), width_ / 2)) {
        regions.columns.push_back(column);
      }
      regions.whole.push_back(inside_of(span));
    }
    return regions;
  }

  void blocks() {
    const bool is_narrow = inside_of(longest_spans().front()).width() < kNarrowestInside;
    const BlockRegions regions = is_narrow ? BlockRegions() : block_regions();
    const std::size_t a_column =
        columns(inside_of(longest_spans().front()), width_ / 2).size() > 1 ? 1 : 0;
    const std::size_t next_span = a_column + 1;
    const Box beside{width_ + kBeside, 0, width_ + kBeside + kWidestBlock, kNoLowerEnd};
    const auto put = [&](const Block& block, std::size_t first) {
      sheet_.put(block, regions.from(first), beside);
    };
    if (!is_main()) {
      put(part_block(pouch_, part_, words_), 0);
      if (part_.panel) put(legend(pouch_, part_, pattern_, words_), a_column);
      put(caution_block(words_), a_column);
      return;
    }
    put(title_block(pouch_, pattern_, words_), 0);
    put(cutting_block(pouch_, words_), a_column);
    put(legend(pouch_, part_, pattern_, words_), next_span);
    put(caution_block(words_), next_span + a_column);
    put(marking_block(words_), next_span + a_column);
  }

  const pouch::Pouch& pouch_;
  const pouch::Sizes& sizes_;
  const pouch::CutPart& part_;
  pouch::FlatPanel flat_;
  Length seam_allowance_;  ///< from this panel's own raw side edge
  EndCorners corners_;
  Pattern pattern_;
  base::Voice words_;
  Sheet sheet_;
  double width_;  ///< of what is drawn: the panel, or half of it
  double length_;
  double left_;             ///< where what is drawn begins on the whole panel
  double inside_left_ = 0;  ///< between these two no seam, band or needle of the sides lies
  double inside_right_ = 0;
};

}  // namespace

Drawing cutting_template(const pouch::Pouch& pouch, Pattern pattern, const base::Voice& words,
                         const TextMeasure& measure) {
  return Template(pouch, pouch.sizes.parts.front(), pattern, words, measure).drawn();
}

std::vector<Drawing> cutting_templates(const pouch::Pouch& pouch, Pattern pattern,
                                       const base::Voice& words, const TextMeasure& measure) {
  std::vector<Drawing> drawings;
  for (const pouch::CutPart& part : pouch.sizes.parts) {
    if (part.cloth == pouch::ClothKind::bought) continue;
    const Pattern way = part.panel ? pattern : Pattern::whole;
    drawings.push_back(Template(pouch, part, way, words, measure).drawn());
  }
  return drawings;
}

}  // namespace pouchwright::draw
