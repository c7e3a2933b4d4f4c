#include "draw/full_size/gauge.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "draw/full_size/template_lines.h"
#include "ink/canvas.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::FlatPanel;
using Kind = GaugeMark::Kind;

constexpr double kStripWidth = 58;
constexpr double kStripGap = 5;
constexpr double kRowWidth = 190;  ///< of strips side by side: inside A4 and Letter
constexpr double kBelowMarks = 22;
constexpr double kBelowLast = 8;    ///< where the words stand higher up
constexpr double kAboveWords = 30;  ///< below a line, clear of the cell's name at a page's corner

/// Where the first compartment's edge comes to lie on the span opposite, on its flat panel.
std::optional<Length> lip_on_panel(const pouch::Pouch& pouch) {
  const pouch::SpanRef lip = pouch.construction().compartments.front().film.front();
  const pouch::SpanRef back = pouch.construction().depth_span;
  if (lip == back || lip.panel != back.panel || pouch.stages.empty()) return std::nullopt;
  const pouch::SpanId id = cut_span(pouch.sizes.panels, back);
  const pouch::Span& span = pouch.sizes.span(id);
  const pouch::Folded& folded = pouch.stages.back().folded;
  const Length from = folded.height_of(id, span.from);
  const Length to = folded.height_of(id, span.to);
  const Length at =
      from < to ? span.from + (pouch.lip_height - from) : span.from + (from - pouch.lip_height);
  if (at <= span.from || at >= span.to) return std::nullopt;
  return at;
}

void sort_marks(GaugeStrip& strip) {
  std::stable_sort(strip.marks.begin(), strip.marks.end(),
                   [](const GaugeMark& a, const GaugeMark& b) { return a.at < b.at; });
}

std::string end_name(const pouch::Pouch& pouch, std::size_t panel, pouch::Edge end,
                     const base::Voice& words) {
  return words.say(
      {"gauge-end",
       {{"span", tell::span_name(pouch::end_span(pouch.sizes.panels[panel], end).name, words)}}});
}

/// One for each end from which something is measured.
void add_end_strips(std::vector<GaugeStrip>& strips, const pouch::Pouch& pouch, std::size_t panel,
                    const base::Voice& words) {
  const FlatPanel& flat = pouch.sizes.panels[panel];
  const Length whole = flat.spans.back().to;
  GaugeStrip start{end_name(pouch, panel, pouch::Edge::start, words), {}};
  GaugeStrip end{end_name(pouch, panel, pouch::Edge::end, words), {}};
  const auto add = [&](Kind kind, Length at, std::string name) {
    const bool is_near_start = at <= whole - at;
    (is_near_start ? start : end)
        .marks.push_back({kind, is_near_start ? at : whole - at, std::move(name)});
  };
  for (const pouch::FoldLine& fold : folds_of(flat)) {
    add(Kind::fold, fold.at, fold_label(pouch, panel, fold, words));
  }
  if (panel == pouch.construction().depth_span.panel) {
    if (const auto lip = lip_on_panel(pouch)) add(Kind::lip, *lip, words.say("gauge-lip"));
  }
  for (GaugeStrip* strip : {&start, &end}) {
    if (strip->marks.empty()) continue;
    sort_marks(*strip);
    strips.push_back(std::move(*strip));
  }
}

GaugeStrip side_strip(const pouch::Pouch& pouch, const base::Voice& words) {
  const pouch::Sizes& sizes = pouch.sizes;
  GaugeStrip strip{words.say("gauge-side"), {}};
  strip.marks.push_back({Kind::seam, sizes.seam_allowance, words.say("gauge-seam")});
  if (sizes.needle_reach != sizes.seam_allowance) {
    strip.marks.push_back({Kind::needle, sizes.needle_reach, words.say("gauge-needle")});
  }
  if (!pouch.seal_zones.empty()) {
    strip.marks.push_back({Kind::seal, sizes.seal_width, words.say("gauge-seal")});
  }
  sort_marks(strip);
  return strip;
}

struct Look {
  Group group;
  Stroke stroke;
  const char* name;
};
Look look_of(Kind kind) {
  switch (kind) {
    case Kind::fold:
      return {Group::fold, kFoldStroke, "gauge fold"};
    case Kind::lip:
      // Right across, and nobody is to cut there: as thin as what is seen beneath.
      return {Group::notch, kGhostStroke, "gauge lip"};
    case Kind::seam:
      return {Group::seam, kSeamStroke, "gauge seam"};
    case Kind::needle:
      return {Group::seam, kNeedleStroke, "gauge needle"};
    case Kind::seal:
      break;
  }
  return {Group::seal, kSealStroke, "gauge seal"};
}

Shape sample_of(Kind kind) {
  return {.group = Group::label,
          .path = line({0.5, 0}, {11, 0}),
          .stroke = look_of(kind).stroke,
          .fill = Fill::none,
          .name = "sample"};
}

/// What a hand marks is on the ruler; what limits a seam is told as any other length.
std::string distance(const GaugeMark& mark, const base::Voice& words) {
  const bool is_marked = mark.kind == Kind::fold || mark.kind == Kind::lip;
  if (mark.kind == Kind::needle) return words.text(base::at_most(mark.at));
  return is_marked ? words.text(base::mark(mark.at)) : words.text(mark.at);
}

/// What the strip is, and below it what its lines mean where they lie too close for words.
Block words_below(const GaugeStrip& strip, bool named, const base::Voice& words) {
  Block block{heading_row(words.say("gauge-title")),
              {.words = words.say({"gauge-zero", {{"edge", strip.edge}}}), .space_before = 1}};
  if (named) return block;
  for (const GaugeMark& mark : strip.marks) {
    block.push_back({.words = mark.name + ": " + distance(mark, words),
                     .space_before = 1,
                     .indent = 13,
                     .sample = {sample_of(mark.kind)}});
  }
  return block;
}

/// The words of a mark, broken to the strip's width.
Frame name_of(const GaugeMark& mark, const base::Voice& words, const TextMeasure& measure,
              double width = kStripWidth - 2 * kInset) {
  const Row row{.words = mark.name + ": " + kept_together(distance(mark, words)),
                .size = kSmallestSize,
                .weight = Weight::bold};
  return laid_out({row}, width, 1, measure);
}

/// Just above the mark's line that begins at `at`, where no join cuts the words; else as if there
/// were none.
void draw_name(Sheet& sheet, const GaugeMark& mark, Point at) {
  constexpr double kTry = 2;
  const double whole = kStripWidth - 2 * kInset;
  Frame chosen = name_of(mark, sheet.words(), sheet.measure());
  Point corner{at.x + kInset, at.y - kClearance - chosen.box.height()};
  const auto fits = [&](double width, double from) {
    const Frame name = name_of(mark, sheet.words(), sheet.measure(), width);
    const Point there{at.x + kInset + from, at.y - kClearance - name.box.height()};
    if (sheet.is_cut(moved(name.box, there)) || from + name.box.width() > whole) return false;
    chosen = name;
    corner = there;
    return true;
  };
  bool is_placed = false;
  for (double width = whole; width > whole / 3 && !is_placed; width -= 2 * kTry) {
    for (double from = 0; from + width <= whole && !is_placed; from += kTry) {
      is_placed = fits(width, from);
    }
  }
  for (const Item& item : chosen.items) sheet.draw(std::get<Text>(moved(item, corner)));
}

/// Each stands above its line.
bool has_room_for_names(const GaugeStrip& strip, const base::Voice& words,
                        const TextMeasure& measure) {
  Length before;
  for (const GaugeMark& mark : strip.marks) {
    const double high = name_of(mark, words, measure).box.height();
    if (on_paper(mark.at - before) < high + 2 * kClearance) return false;
    before = mark.at;
  }
  return true;
}

/// Above the last line where they fit there with its name, so that a long strip stays on one page.
double top_of_words(const GaugeStrip& strip, double high, const base::Voice& words,
                    const TextMeasure& measure) {
  const double last = on_paper(strip.marks.back().at);
  const double before =
      strip.marks.size() > 1 ? on_paper(strip.marks[strip.marks.size() - 2].at) : 0;
  const double name = name_of(strip.marks.back(), words, measure).box.height() + 2 * kClearance;
  const bool fits = last - before - name >= high + kAboveWords + 2 * kInset;
  return fits ? before + kAboveWords : last + kInset;
}

/// How far down from its zero edge a strip's words begin, and itself ends.
struct StripHeights {
  double words, words_high, foot;
};
StripHeights heights_of(const GaugeStrip& strip, const base::Voice& words,
                        const TextMeasure& measure) {
  const double last = on_paper(strip.marks.back().at);
  const Block block = words_below(strip, has_room_for_names(strip, words, measure), words);
  const double high = laid_out(block, kStripWidth - 2 * kInset, 1, measure).box.height();
  const double top = top_of_words(strip, high, words, measure);
  const double foot =
      top < last ? last + kBelowLast : last + std::max(kBelowMarks, high + 2 * kInset);
  return {top, high, foot};
}

/// Draws the strip with its zero edge's left end at `at`.
void draw_strip(Sheet& sheet, const GaugeStrip& strip, Point at) {
  const bool named = has_room_for_names(strip, sheet.words(), sheet.measure());
  const Block block = words_below(strip, named, sheet.words());
  const StripHeights heights = heights_of(strip, sheet.words(), sheet.measure());
  const double top = at.y + heights.words;
  const double foot = at.y + heights.foot;
  for (const GaugeMark& mark : strip.marks) {
    const double y = at.y + on_paper(mark.at);
    const Look look = look_of(mark.kind);
    sheet.draw(look.group, line({at.x, y}, {at.x + kStripWidth, y}), look.stroke, look.name);
    if (named) draw_name(sheet, mark, {at.x, y});
  }
  sheet.put(
      block,
      {{at.x + kInset, top, at.x + kStripWidth - kInset, std::max(foot, top + heights.words_high)}},
      std::nullopt);
  sheet.draw(Group::cut, rectangle({at.x, at.y, at.x + kStripWidth, foot}), kCutStroke,
             "gauge strip");
}

}  // namespace

std::vector<GaugeStrip> gauge_strips(const pouch::Pouch& pouch, const base::Voice& words) {
  std::vector<GaugeStrip> strips;
  for (std::size_t panel = 0; panel < pouch.sizes.panels.size(); ++panel) {
    add_end_strips(strips, pouch, panel, words);
  }
  strips.push_back(side_strip(pouch, words));
  return strips;
}

Drawing fold_gauge(const pouch::Pouch& pouch, const base::Voice& words, const TextMeasure& measure,
                   const Joins& joins) {
  Sheet sheet(words, measure, joins_of(joins, "gauge"));
  // Short ones below each other beside a long one, so that all need no more pages than that.
  double left = 0;
  double row_top = 0;
  double row_foot = 0;
  double column_foot = 0;
  bool is_first = true;
  for (const GaugeStrip& strip : gauge_strips(pouch, words)) {
    const double high = heights_of(strip, words, measure).foot;
    Point at{left, column_foot + kStripGap};
    if (is_first) {
      at = {0, 0};
    } else if (at.y + high > row_foot) {
      at = {left + kStripWidth + kStripGap, row_top};
      if (at.x + kStripWidth > kRowWidth) {
        row_top = row_foot + kStripGap;
        at = {0, row_top};
      }
    }
    draw_strip(sheet, strip, at);
    is_first = false;
    left = at.x;
    column_foot = at.y + high;
    row_foot = std::max(row_foot, column_foot);
  }
  return sheet.finished("gauge",
                        words.say({"gauge-document", {{"title", tell::title_of(pouch, words)}}}));
}

}  // namespace pouchwright::draw
