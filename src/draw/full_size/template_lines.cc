#include "draw/full_size/template_lines.h"

#include <algorithm>
#include <map>
#include <utility>
#include <vector>

#include "base/length.h"
#include "ink/arrows.h"
#include "pouch/questions.h"
#include "tell/fill.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::Edge;
using pouch::Interval;
using pouch::Span;

/// A band narrower than this has no room for words beside the seam line.
constexpr double kNarrowestNamedBand = 8;
constexpr double kLongestArrow = 120;
constexpr double kArrowHead = 6;
constexpr double kLevelTick = 8;
/// How wide a strip the words along the fold of the cloth take.
constexpr double kFoldEdgeStrip = 8;

Length reach_of_sides(const PartOnPaper& shown) {
  const pouch::Sizes& sizes = shown.pouch.sizes;
  return std::max({sizes.seal_width, sizes.seam_allowance, sizes.needle_reach}) - shown.flat.inset;
}

/// From this part's own raw side edge; a panel that is set in further has less of it, or none.
Length seam_allowance(const PartOnPaper& shown) {
  return std::max(Length(), shown.pouch.sizes.seam_allowance - shown.flat.inset);
}

/// How far the flap's shaped corner leaves the panel's side behind at `y`.
double corner_at(const PartOnPaper& shown, double y) {
  return cut_off(shown.corners, shown.corners.at_start ? y : shown.length - y);
}

/// A line all across at `y`, from cut to cut.
Path line_across(const PartOnPaper& shown, double y) {
  const double off = corner_at(shown, y);
  return line({shown.is_half() ? 0 : off, y}, {shown.width - off, y});
}

void draw_outline(Sheet& sheet, const PartOnPaper& shown) {
  const Box whole{0, 0, shown.width, shown.length};
  if (!shown.is_half()) {
    sheet.draw(Group::cut, outline_with(shown.corners, whole), kCutStroke, "panel");
    return;
  }
  // Three edges are cut; the fourth lies on the fold of the cloth.
  sheet.draw(Group::cut, half_outline_with(shown.corners, whole), kCutStroke, "half panel");
  sheet.draw(Group::fold, line({0, 0}, {0, shown.length}), kClothFoldStroke, "fold of the cloth");
  for (Text& words : words_along(sheet, sheet.say("drawing-lay-on-fold"), kFoldEdgeStrip / 2 + 0.5,
                                 0, shown.length)) {
    words.weight = Weight::bold;
    sheet.draw(words);
  }
}

/// An outer of the panel's own size needs no line.
void draw_smaller_outer(Sheet& sheet, const PartOnPaper& shown) {
  const pouch::CutPart& part = shown.part;
  if (!part.outer || !shown.flat.outer) return;
  if (part.outer->width == part.width && part.outer->length == part.length) return;
  const Interval& along = *shown.flat.outer;
  const Length side = shown.flat.outer_inset - shown.flat.inset;
  EndCorners corners = shown.corners;
  const Length behind = corners.at_start ? part.length - along.to : along.from;
  corners.size = std::max(0.0, corners.size - on_paper(std::min(side, behind)));
  sheet.draw(Group::seam,
             outline_with(corners, {std::max(0.0, shown.across(side)), shown.down(along.to),
                                    shown.across(part.width - side), shown.down(along.from)}),
             kSmallOuterStroke, "outer");
}

// ---- Bands -------------------------------------------------------------------------------------

/// In the wider part beside the seam line, once.
std::vector<Text> words_in_bottom_band(const Sheet& sheet, const PartOnPaper& shown,
                                       const Box& band) {
  const double seam = on_paper(shown.pouch.sizes.seam_allowance);
  const bool is_outer = seam > band.height() / 2 && seam < band.height();
  const double from_edge = is_outer               ? seam / 2
                           : seam < band.height() ? (seam + band.height()) / 2
                                                  : band.height() / 2;
  const bool at_start = band.y0 + band.y1 < shown.length;
  const double y = at_start ? band.y0 + from_edge : band.y1 - from_edge;
  const Text words = centred_on(label(sheet.say("drawing-fuse-here"), kSmallestSize),
                                {(band.x0 + 3 * band.x1) / 4, y}, sheet.measure());
  const double width = bounds(words, sheet.measure()).width();
  if (width + 2 * kClearance > band.width() || band.height() < kNarrowestNamedBand) return {};
  return {words};
}

/// The widest part of a side's band that no seam line runs through; of two alike the inner one.
Interval part_beside_the_seam(const PartOnPaper& shown, const Box& band) {
  const Interval all{Length::mm(band.x0), Length::mm(band.x1)};
  const Length width = Length::mm(shown.width);
  const bool is_left = !shown.is_half() && all.from + all.to < width;
  const Length seam = is_left ? seam_allowance(shown) : width - seam_allowance(shown);
  if (seam <= all.from || seam >= all.to) return all;
  const Interval left{all.from, seam};
  const Interval right{seam, all.to};
  const Interval& outer = is_left ? left : right;
  const Interval& inner = is_left ? right : left;
  const bool has_room_inside =
      inner.size() >= outer.size() || on_paper(inner.size()) >= kNarrowestNamedBand / 2;
  return has_room_inside ? inner : outer;
}

/// The panel's spans, the front in two where the test's level marks it.
std::vector<Interval> stretches_to_name(const Sheet& sheet, const PartOnPaper& shown) {
  const auto level = test_level_on(shown, sheet.words());
  std::vector<Interval> stretches;
  for (const Span& span : shown.flat.spans) {
    const bool is_marked = level && *level > span.from && *level < span.to;
    stretches.push_back({span.from, is_marked ? *level : span.to});
    if (is_marked) stretches.push_back({*level, span.to});
  }
  return stretches;
}

/// Along the band between each two folds, in the wider part beside the seam line.
std::vector<Text> words_in_side_band(const Sheet& sheet, const PartOnPaper& shown,
                                     const Box& band) {
  std::vector<Text> result;
  if (band.width() < kNarrowestNamedBand) return result;
  const Interval free = part_beside_the_seam(shown, band);
  const double x = on_paper(free.from + half(free.size()));
  for (const Interval& stretch : stretches_to_name(sheet, shown)) {
    for (Text& words : words_along(sheet, sheet.say("drawing-fuse-here"), x,
                                   std::max(band.y0, shown.down(stretch.to)),
                                   std::min(band.y1, shown.down(stretch.from)))) {
      const double width = bounds(words, sheet.measure()).width();
      if (on_paper(free.size()) >= width + kClearance) result.push_back(std::move(words));
    }
  }
  return result;
}

/// The hatch of `box` without the holes, which lie one below the other.
Path hatch_around(const Box& box, const std::vector<Box>& holes) {
  Path path;
  double y = box.y0;
  for (const Box& hole : holes) {
    append(path, hatch({box.x0, y, box.x1, hole.y0}, kHatchSpacing));
    append(path, hatch({box.x0, hole.y0, hole.x0, hole.y1}, kHatchSpacing));
    append(path, hatch({hole.x1, hole.y0, box.x1, hole.y1}, kHatchSpacing));
    y = hole.y1;
  }
  append(path, hatch({box.x0, y, box.x1, box.y1}, kHatchSpacing));
  return path;
}

void draw_band(Sheet& sheet, const Box& band, const std::vector<Text>& named) {
  std::vector<Box> holes;
  for (const Text& words : named) {
    holes.push_back(grown(bounds(words, sheet.measure()), kClearance));
    sheet.draw(words);
  }
  std::sort(holes.begin(), holes.end(), [](const Box& a, const Box& b) { return a.y0 < b.y0; });
  sheet.draw_freely(Group::seal, hatch_around(band, holes), kHatchStroke, "hatch");
  sheet.draw(Group::seal, rectangle(band), kSealStroke, "fused band");
  sheet.keep_free(band);
}

/// Bands that touch are one to the hand with the iron, whatever layers meet there.
void draw_bands(Sheet& sheet, const PartOnPaper& shown) {
  std::map<std::pair<Length, Length>, std::vector<Interval>> stretches;
  for (const pouch::SealZone& zone : own_zones(shown.pouch, shown.part)) {
    stretches[{zone.x.from, zone.x.to}].push_back(zone.y);
  }
  for (const auto& [x, heights] : stretches) {
    const double x0 = std::max(0.0, shown.across(x.first));
    const double x1 = shown.across(x.second);
    if (x1 <= x0) continue;
    for (const Interval& y : joined(heights)) {
      const Box band{x0, shown.down(y.to), x1, shown.down(y.from)};
      draw_band(sheet, band,
                is_across({x.first, x.second}, shown.part)
                    ? words_in_bottom_band(sheet, shown, band)
                    : words_in_side_band(sheet, shown, band));
    }
  }
}

// ---- Seams and folds ---------------------------------------------------------------------------

void draw_seam_lines(Sheet& sheet, const PartOnPaper& shown) {
  const auto draw_line = [&](Point from, Point to) {
    sheet.draw(Group::seam, line(from, to), kSeamStroke, "seam line");
  };
  const EndCorners& corners = shown.corners;
  const Length in = seam_allowance(shown);
  for (const Length from_left : {in, shown.part.width - in}) {
    const double x = shown.across(from_left);
    if (x < 0 || in == Length()) continue;
    const double off = cut_off(corners, on_paper(in));
    draw_line({x, corners.at_start ? off : 0},
              {x, corners.at_start ? shown.length : shown.length - off});
  }
  if (const auto end = bottom_end(shown.pouch, shown.part)) {
    const double allowance = on_paper(shown.pouch.sizes.seam_allowance);
    const double y = *end == Edge::start ? shown.length - allowance : allowance;
    draw_line({0, y}, {shown.width, y});
  }
}

void draw_needle_lines(Sheet& sheet, const PartOnPaper& shown) {
  for (const Edge edge : {Edge::start, Edge::end}) {
    const pouch::EndFinish& made = pouch::finish_of(shown.pouch.request, *shown.part.panel, edge);
    if (!pouch::has_needle_line(made)) continue;
    const bool at_start = edge == Edge::start;
    const Length y = at_start ? made.needle_reach : shown.part.length - made.needle_reach;
    sheet.draw(Group::seam, line_across(shown, shown.down(y)), kNeedleStroke,
               at_start ? "needle line: start" : "needle line: end");
  }
}

void draw_folds(Sheet& sheet, const PartOnPaper& shown) {
  const base::Voice& words = sheet.words();
  const double tick = on_paper(pouch::notch_length(shown.pouch.sizes.seam_allowance));
  for (const pouch::FoldLine& fold : folds_of(shown.flat)) {
    const double y = shown.down(fold.at);
    const double left = corner_at(shown, y);
    const double right = shown.width - left;
    sheet.draw(
        Group::fold, line_across(shown, y), kFoldStroke,
        sheet.say({"drawing-fold",
                   {{"before", tell::span_name(shown.flat.spans[fold.before].name, words)},
                    {"after", tell::span_name(shown.flat.spans[fold.before + 1].name, words)}}}));
    if (!(tick > 0)) continue;
    if (!shown.is_half()) {
      sheet.draw(Group::notch, line({left, y}, {left + tick, y}), kTickStroke, "notch: left");
    }
    sheet.draw(Group::notch, line({right - tick, y}, {right, y}), kTickStroke, "notch: right");
  }
}

/// At the raw edges, where it can be chalked on to the front.
void draw_test_level(Sheet& sheet, const PartOnPaper& shown) {
  const auto level = test_level_on(shown, sheet.words());
  if (!level) return;
  const double y = shown.down(*level);
  if (!shown.is_half()) {
    sheet.draw(Group::label, line({0, y}, {kLevelTick, y}), kMarkStroke, "test level: left");
  }
  sheet.draw(Group::label, line({shown.width - kLevelTick, y}, {shown.width, y}), kMarkStroke,
             "test level: right");
}

std::vector<double> places_across(const PartOnPaper& shown, const pouch::Fixed& fixed) {
  std::vector<double> places;
  for (const Length from_left : fixed.x) {
    const Length x = from_left - shown.flat.inset;
    double at = shown.across(x);
    if (at <= -kInset && fixed.x.size() == 1) at = shown.across(shown.part.width - x);
    if (at > -kInset) places.push_back(std::max(0.0, at));
  }
  for (const Edge seam : fixed.caught) {
    if (seam == Edge::left && !shown.is_half()) places.push_back(0);
    if (seam == Edge::right || (shown.is_half() && fixed.caught.size() == 1)) {
      places.push_back(shown.width);
    }
  }
  return places;
}

void draw_attachment_marks(Sheet& sheet, const PartOnPaper& shown) {
  for (const auto& [fixed, across] : attachments_of(shown)) {
    for (const double x : across) {
      sheet.draw(Group::notch,
                 attachment_mark({x, shown.down(fixed->y.to)}, shown.down(fixed->y.from),
                                 on_paper(fixed->width), {0, shown.width}),
                 kMarkStroke, "attachment: " + shown.pouch.rule(*fixed).name);
    }
  }
}

/// The longest part of from..to at `x` that no page's join runs through.
Interval uncut_part(const Sheet& sheet, double x, Interval all) {
  std::vector<Interval> cuts;
  for (const Box& join : sheet.joins()) {
    if (join.x0 >= x || join.x1 <= x) continue;
    cuts.push_back({Length::mm(join.y0), Length::mm(join.y1)});
  }
  const std::vector<Interval> parts = without(all, cuts);
  if (parts.empty()) return all;
  return *std::max_element(parts.begin(), parts.end(), [](const Interval& a, const Interval& b) {
    return a.size() < b.size();
  });
}

/// In the longest span, at the right of what is inside; its words where they fit beside it.
void draw_direction_arrow(Sheet& sheet, const PartOnPaper& shown) {
  const Span span = longest_spans(shown.flat).front();
  const double x = shown.inside_right - kArrowHead / 2;
  const Interval room =
      uncut_part(sheet, x, {Length::mm(shown.down(span.to)), Length::mm(shown.down(span.from))});
  const double y = on_paper(room.from + half(room.size()));
  const double reach = std::min(kLongestArrow, on_paper(room.size()) - 4 * kInset) / 2;
  if (reach < 1.5 * kArrowHead) return;
  sheet.draw(Group::grain, line({x, y - reach}, {x, y + reach}), kGrainStroke,
             "direction of the length");
  for (const double end : {-reach, reach}) {
    sheet.fill(Group::grain,
               arrow_head({x, y + end}, {x, y}, {kArrowHead, kArrowHead * 2 / 3}, Ends::closed),
               "arrow head");
  }
  const double left = x - kArrowHead / 2;
  sheet.keep_free({left, y - reach, x + kArrowHead / 2, y + reach});
  Text words = label(sheet.say("drawing-direction"), kLabelSize, Weight::bold);
  words.turn_deg = 270;
  const Box size = bounds(words, sheet.measure());
  if (size.height() > 2 * reach) return;
  sheet.put(words, {{left - kClearance - size.width(), y - size.height() / 2}});
}

}  // namespace

PartOnPaper part_on_paper(const pouch::Pouch& pouch, const pouch::CutPart& part, Pattern pattern) {
  PartOnPaper shown{.pouch = pouch,
                    .part = part,
                    .pattern = pattern,
                    .flat = flat_of(pouch.sizes, part),
                    .corners = corners_of(pouch, part),
                    .width = on_paper(part.width) / (pattern == Pattern::half ? 2 : 1),
                    .length = on_paper(part.length),
                    .inside_left = 0,
                    .inside_right = 0};
  shown.corners.at_start = !shown.corners.at_start;
  const double band = part.panel ? std::max(0.0, on_paper(reach_of_sides(shown))) : 0;
  shown.inside_left = (shown.is_half() ? kFoldEdgeStrip : band) + kInset;
  shown.inside_right = shown.width - band - kInset;
  return shown;
}

void draw_lines(Sheet& sheet, const PartOnPaper& shown) {
  draw_outline(sheet, shown);
  draw_smaller_outer(sheet, shown);
  if (shown.part.panel) {
    draw_bands(sheet, shown);
    draw_seam_lines(sheet, shown);
    draw_needle_lines(sheet, shown);
    draw_folds(sheet, shown);
    draw_test_level(sheet, shown);
  }
  draw_attachment_marks(sheet, shown);
  draw_direction_arrow(sheet, shown);
}

std::string fold_label(const pouch::Pouch& pouch, std::size_t panel, const pouch::FoldLine& fold,
                       const base::Voice& words) {
  const pouch::FlatPanel& flat = pouch.sizes.panels[panel];
  const char* key = "drawing-fold";
  switch (pouch::role_of(pouch, panel, fold)) {
    case pouch::FoldRole::bottom:
      key = "drawing-fold-bottom";
      break;
    case pouch::FoldRole::flap:
      key = "drawing-fold-flap";
      break;
    case pouch::FoldRole::other:
      break;
  }
  return words.say({key,
                    {{"before", tell::span_name(flat.spans[fold.before].name, words)},
                     {"after", tell::span_name(flat.spans[fold.before + 1].name, words)}}});
}

std::optional<Length> test_level_on(const PartOnPaper& shown, const base::Voice& words) {
  const auto& pockets = shown.pouch.construction().compartments;
  if (!shown.part.panel || pockets.empty()) return std::nullopt;
  if (pockets.front().film.front().panel != *shown.part.panel) return std::nullopt;
  const Length level = tell::fill_read(shown.pouch, words).test_level;
  if (level <= Length()) return std::nullopt;
  const Lip lip = lips_of(shown.pouch, shown.part).front();
  // As the panel lies flat, before a mouth is rolled: rolling takes the lip nearer to the bottom.
  const Length from_lip = shown.pouch.lip_height - level;
  const Length y = lip.film_follows ? lip.y + from_lip : lip.y - from_lip;
  if (y <= Length() || y >= shown.part.length) return std::nullopt;
  return y;
}

std::vector<Span> longest_spans(const pouch::FlatPanel& flat) {
  std::vector<Span> spans = flat.spans;
  std::stable_sort(spans.begin(), spans.end(),
                   [](const Span& a, const Span& b) { return a.to - a.from > b.to - b.from; });
  return spans;
}

std::vector<Attached> attachments_of(const PartOnPaper& shown) {
  const pouch::CutPart& part = shown.part;
  std::vector<Attached> own;
  for (const pouch::Fixed& fixed : shown.pouch.fixed) {
    const bool is_own =
        part.panel ? fixed.span && fixed.span->panel == *part.panel : fixed.piece == part.piece;
    if (!is_own) continue;
    std::vector<double> across = places_across(shown, fixed);
    if (!across.empty()) own.push_back({&fixed, std::move(across)});
  }
  return own;
}

}  // namespace pouchwright::draw
