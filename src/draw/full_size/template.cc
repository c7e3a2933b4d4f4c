#include "draw/full_size/template.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "base/length.h"
#include "draw/full_size/template_lines.h"
#include "draw/full_size/template_words.h"
#include "ink/canvas.h"
#include "pouch/questions.h"
#include "tell/fill.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::Edge;
using pouch::FinishKind;
using pouch::Span;

/// How wide a strip the arrow takes, its words included.
constexpr double kArrowStrip = 14;
/// Where the inside is narrower than this, all running text stands beside the panel.
constexpr double kNarrowestInside = 58;
/// The words of an end stand no farther from it.
constexpr double kEndReach = 30;
/// Those of a level no farther from its tick.
constexpr double kLevelReach = 12;
/// Those of a mark no farther above its middle.
constexpr double kNoteReach = 13;
/// White between the words of an end and the name of its span.
constexpr double kEndApart = 5;
/// Between the places that are tried for a span's name, mm.
constexpr double kNameStep = 4;

bool is_main(const pouch::CutPart& part) { return part.panel && *part.panel == 0; }

std::string title(const PartOnPaper& shown, const base::Voice& words) {
  const std::string of_the_job = tell::title_of(shown.pouch, words);
  if (is_main(shown.part)) return words.say({"drawing-template-title", {{"title", of_the_job}}});
  return words.say({"drawing-template-part-title",
                    {{"part", tell::part_name(shown.part.name, words)}, {"title", of_the_job}}});
}

/// Where words of a span may stand.
Box inside_of(const PartOnPaper& shown, const Span& span) {
  return {shown.inside_left, shown.down(span.to) + kInset / 2, shown.inside_right - kArrowStrip,
          shown.down(span.from) - kInset / 2};
}

std::vector<Box> columns_in(const PartOnPaper& shown, const Span& span) {
  return columns(inside_of(shown, span), shown.width / 2);
}

// ---- Names of lines ----------------------------------------------------------------------------

/// Just above the line or just below it, from the left; where spans are too short for words, to
/// the right of the panel.
void put_fold_names(Sheet& sheet, const PartOnPaper& shown) {
  for (const pouch::FoldLine& fold : folds_of(shown.flat)) {
    const Text words = label(fold_label(shown.pouch, *shown.part.panel, fold, sheet.words()),
                             kLabelSize, Weight::bold);
    const Box size = bounds(words, sheet.measure());
    const double y = shown.down(fold.at);
    const double away = kFoldStroke.width / 2 + kClearance;
    std::vector<Point> corners;
    for (double x = shown.inside_left; x + size.width() <= shown.inside_right; x += 5) {
      corners.push_back({x, y - away - size.height()});
      corners.push_back({x, y + away});
    }
    add_places_below(corners, {shown.width + kInset, y - size.height() / 2});
    sheet.put(words, corners);
  }
}

/// Beside the left tick, on its line or near it; of a half pattern the right one.
void put_test_level(Sheet& sheet, const PartOnPaper& shown) {
  const base::Voice& voice = sheet.words();
  const auto y = test_level_on(shown, voice);
  if (!y) return;
  const Length level = tell::fill_read(shown.pouch, voice).test_level;
  const Text words =
      label(sheet.say({shown.is_half() ? "drawing-test-level-right" : "drawing-test-level",
                       {{"level", kept_together(level, voice)}}}),
            kSmallestSize);
  const Box size = bounds(words, sheet.measure());
  const double most = shown.inside_right - shown.inside_left - size.width();
  std::vector<Point> corners;
  for (double away = 0; away <= most; away += 5) {
    const double x = shown.is_half() ? shown.inside_left + most - away : shown.inside_left + away;
    for (const double down : {-size.height() / 2, kClearance, -size.height() - kClearance, 4.0}) {
      corners.push_back({x, shown.down(*y) + down});
    }
  }
  if (sheet.put(words, corners)) return;
  // Broken, where no page shows so wide a stretch.
  const Box near{shown.inside_left, shown.down(*y) - kLevelReach, shown.inside_right,
                 shown.down(*y) + kLevelReach};
  sheet.put({{.words = words.words, .size = kSmallestSize}}, {near}, room_beside(shown.width));
}

/// A line of words as near to the end at `y` as room is, in the right half if it can be.
void put_at_end(Sheet& sheet, const PartOnPaper& shown, const Text& words, double y, bool below) {
  const Box band{shown.inside_left, below ? y : std::max(0.0, y - kEndReach), shown.inside_right,
                 below ? std::min(shown.length, y + kEndReach) : y};
  Box right = band;
  right.x0 = shown.width / 2 + kInset;
  const Box size = bounds(words, sheet.measure());
  std::vector<Point> corners;
  for (const Box& region : {right, band}) {
    if (region.width() < size.width()) continue;
    for (double step = kClearance; step + size.height() < region.height(); step += 0.5) {
      corners.push_back({region.x0, below ? y + step : y - step - size.height()});
    }
  }
  add_places_below(corners, {shown.width + kInset, std::max(0.0, y - 4)});
  if (!sheet.put(words, corners)) return;
  Box apart = sheet.word_boxes().back();
  apart.x0 -= kEndApart;
  apart.x1 += kEndApart;
  sheet.keep_free(apart);
}

/// Where nothing is folded over the mouth, its edges may be equally high.
const char* lip_key(const pouch::Pouch& pouch, bool below) {
  if (!pouch.request.construction.flap_span) {
    return below ? "drawing-edge-above" : "drawing-edge-below";
  }
  return below ? "drawing-lip-above" : "drawing-lip-below";
}

/// The free end of a compartment's film is its lip; two compartments may share one.
void put_lips(Sheet& sheet, const PartOnPaper& shown) {
  std::vector<Length> named;
  for (const Lip& lip : lips_of(shown.pouch, shown.part)) {
    if (std::find(named.begin(), named.end(), lip.y) != named.end()) continue;
    named.push_back(lip.y);
    const bool below = !lip.film_follows;
    Text words = label(sheet.say(lip_key(shown.pouch, below)), kLabelSize, Weight::bold);
    if (bounds(words, sheet.measure()).width() > shown.inside_right - shown.inside_left) {
      words.words = sheet.say(below ? "drawing-lip-above-short" : "drawing-lip-below-short");
    }
    put_at_end(sheet, shown, words, shown.down(lip.y), below);
  }
}

void put_end_notes(Sheet& sheet, const PartOnPaper& shown) {
  for (const Edge edge : {Edge::start, Edge::end}) {
    const pouch::EndFinish& made = pouch::finish_of(shown.pouch.request, *shown.part.panel, edge);
    if (made.kind == FinishKind::none) continue;
    const char* key = made.kind == FinishKind::turned   ? "drawing-end-turned"
                      : made.kind == FinishKind::zigzag ? "drawing-end-zigzag"
                      : made.takes > Length()           ? "drawing-end-trimmed"
                                                        : "drawing-end-overedge";
    const std::string takes = sheet.words().text(made.takes);
    const bool at_start = edge == Edge::start;
    put_at_end(sheet, shown, label(sheet.say({key, {{"takes", takes}}}), kSmallestSize),
               at_start ? shown.length : 0, !at_start);
  }
}

/// Boxes as large as `size` about `x` in `room`, from its middle on up and down.
std::vector<Box> about_the_middle(const Box& room, double x, const Box& size) {
  const Point at{x, middle(room).y};
  const double most = (room.height() - size.height()) / 2;
  std::vector<Box> boxes;
  for (double away = 0; away <= most; away += kNameStep) {
    for (const double y : {at.y - away, at.y + away}) {
      const double left = at.x - size.width() / 2;
      const double top = y - size.height() / 2;
      boxes.push_back({left, top, left + size.width(), top + size.height()});
    }
  }
  return boxes;
}

/// Name and length of every span that has room for them, in its middle.
void put_span_names(Sheet& sheet, const PartOnPaper& shown) {
  for (const Span& span : shown.flat.spans) {
    const std::string name = tell::span_name(span.name, sheet.words());
    const std::string size = kept_together(span.to - span.from, sheet.words());
    Box room = inside_of(shown, span);
    const Block tall{heading_row(kept_together(name)), {.words = size}};
    const Box high = laid_out(tall, room.width(), 1, sheet.measure()).box;
    std::vector<Box> regions =
        about_the_middle(room, shown.is_half() ? middle(room).x : shown.width / 2, high);
    const std::vector<Box> beside = columns_in(shown, span);
    regions.insert(regions.end(), beside.begin(), beside.end());
    if (sheet.put(tall, regions, std::nullopt)) continue;
    sheet.put({{.words = name + ": " + size, .size = kSmallestSize}}, {room}, std::nullopt);
  }
}

/// Beside the mark if it can be. Its words say where the mark is, so that they may stand in a span
/// nearby, the nearest first.
std::vector<Box> regions_for(const PartOnPaper& shown, const Attached& attached) {
  const double y = shown.down(base::half(attached.fixed->y.from + attached.fixed->y.to));
  const double wide = on_paper(attached.fixed->width) / 2;
  std::vector<Box> regions;
  if (attached.fixed->span) {
    // Between the two lines that the mark lies between, beside it.
    const Span& span = shown.pouch.sizes.span(*attached.fixed->span);
    const Box own{shown.inside_left, shown.down(span.to) + kClearance, shown.inside_right,
                  shown.down(span.from) - kClearance};
    for (const double x : attached.across) {
      for (Box region : {Box{x + wide + kInset, own.y0, own.x1, own.y1},
                         Box{own.x0, own.y0, x - wide - kInset, own.y1}}) {
        region.y0 = std::max(own.y0, y - kNoteReach);
        if (region.width() > kNarrowestNote) regions.push_back(region);
      }
    }
  }
  for (const double x : attached.across) {
    for (Box region : regions_near({x, y})) {
      region = {std::max(region.x0, shown.inside_left), std::max(region.y0, kInset),
                std::min(region.x1, shown.inside_right),
                std::min(region.y1, shown.length - kInset)};
      if (region.width() > kNarrowestNote) regions.push_back(region);
    }
  }
  std::vector<Span> spans = shown.flat.spans;
  const auto away = [&](const Span& span) {
    return std::abs(shown.down(span.from) + shown.down(span.to) - 2 * y);
  };
  std::stable_sort(spans.begin(), spans.end(),
                   [&](const Span& a, const Span& b) { return away(a) < away(b); });
  for (const Span& span : spans) regions.push_back(inside_of(shown, span));
  return regions;
}

void put_names(Sheet& sheet, const PartOnPaper& shown) {
  if (shown.part.panel) {
    put_lips(sheet, shown);
    put_test_level(sheet, shown);
    put_fold_names(sheet, shown);
    put_end_notes(sheet, shown);
  }
  for (const Attached& attached : attachments_of(shown)) {
    sheet.put(attachment_block(shown.pouch, shown.part, *attached.fixed, sheet.words()),
              regions_for(shown, attached), room_beside(shown.width));
  }
  if (shown.part.panel) put_span_names(sheet, shown);
}

// ---- Blocks ------------------------------------------------------------------------------------

/// Where blocks stand: the columns of the two longest spans, the upper one first, and of all others,
/// beginning at the `first`; then the whole spans, for what no column has room for.
std::vector<Box> block_regions(const PartOnPaper& shown, std::size_t first) {
  std::vector<Span> spans = longest_spans(shown.flat);
  if (inside_of(shown, spans.front()).width() < kNarrowestInside) return {};
  if (spans.size() > 1 && spans[1].from > spans[0].from) std::swap(spans[0], spans[1]);
  std::vector<Box> in_columns;
  std::vector<Box> whole;
  for (const Span& span : spans) {
    for (const Box& column : columns_in(shown, span)) in_columns.push_back(column);
    whole.push_back(inside_of(shown, span));
  }
  std::vector<Box> regions = beginning_at(in_columns, first);
  regions.insert(regions.end(), whole.begin(), whole.end());
  return regions;
}

void put_blocks(Sheet& sheet, const PartOnPaper& shown) {
  const pouch::CutPart& part = shown.part;
  const base::Voice& words = sheet.words();
  const bool in_columns = columns_in(shown, longest_spans(shown.flat).front()).size() > 1;
  const std::size_t a_column = in_columns ? 1 : 0;
  const std::size_t next_span = a_column + 1;
  const auto put = [&](const Block& block, std::size_t first) {
    sheet.put(block, block_regions(shown, first), room_beside(shown.width));
  };
  if (!is_main(part)) {
    put(part_block(shown.pouch, part, words), 0);
    if (part.panel) put(legend(shown.pouch, part, shown.pattern, words), a_column);
    put(caution_block(words), a_column);
    return;
  }
  put(title_block(shown.pouch, shown.pattern, words), 0);
  put(legend(shown.pouch, part, shown.pattern, words), next_span);
  put(caution_block(words), next_span);
}

Drawing cutting_template(const pouch::Pouch& pouch, const pouch::CutPart& part, Pattern pattern,
                         const base::Voice& words, const TextMeasure& measure, const Joins& joins) {
  Sheet sheet(words, measure, joins_of(joins, template_name(pouch, part)));
  const PartOnPaper shown = part_on_paper(pouch, part, part.panel ? pattern : Pattern::whole);
  draw_lines(sheet, shown);
  put_names(sheet, shown);
  put_blocks(sheet, shown);
  if (!shown.is_half())
    draw_centre_line(sheet, shown.width / 2, {Length(), part.length}, kInset / 2);
  return sheet.finished(template_name(pouch, part), title(shown, words));
}

}  // namespace

std::vector<Drawing> cutting_templates(const pouch::Pouch& pouch, Pattern pattern,
                                       const base::Voice& words, const TextMeasure& measure,
                                       const Joins& joins) {
  std::vector<Drawing> drawings;
  for (const pouch::CutPart& part : pouch.sizes.parts) {
    if (part.cloth == pouch::ClothKind::bought) continue;
    drawings.push_back(cutting_template(pouch, part, pattern, words, measure, joins));
  }
  return drawings;
}

}  // namespace pouchwright::draw
