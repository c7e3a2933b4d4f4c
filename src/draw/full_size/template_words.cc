#include "draw/full_size/template_words.h"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "base/length.h"
#include "draw/full_size/part_marks.h"
#include "draw/full_size/template.h"
#include "ink/canvas.h"
#include "pouch/questions.h"
#include "tell/capacity.h"
#include "tell/fill.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

using base::Length;

/// A legend's samples; half a line's width is left for their ends.
constexpr double kSampleStart = 0.5;
constexpr double kSample = 18.5;
constexpr double kSampleIndent = 22;

/// A distance that a hand marks.
std::string marked(Length length, const base::Voice& words) {
  return ink::kept_together(words.text(base::mark(length)));
}

std::string arrow_key(pouch::Turn turn) { return key_of("drawing-arrow-", base::kTurnWords, turn); }

Shape sample_line(Stroke stroke, double from = kSampleStart, double to = kSample) {
  return {.group = Group::label,
          .path = line({from, 0}, {to, 0}),
          .stroke = stroke,
          .fill = Fill::none,
          .name = "sample"};
}

Row legend_row(std::string words, std::vector<Shape> sample) {
  return {.words = std::move(words),
          .size = kTextSize,
          .weight = Weight::regular,
          .space_before = 1,
          .indent = kSampleIndent,
          .sample = std::move(sample)};
}

std::vector<Shape> band_sample() {
  const Box box{kSampleStart, -1.4, kSample, 1.4};
  Shape lines{.group = Group::label,
              .path = hatch(box, kHatchSpacing / 2),
              .stroke = kHatchStroke,
              .fill = Fill::none,
              .name = "sample"};
  Shape limit = sample_line(kSealStroke);
  limit.path = line({kSampleStart, 1.4}, {kSample, 1.4});
  return {lines, limit};
}

/// The cloth that a part is cut from; an outer the job has none of is cut from laminate.
const pouch::Material* cloth_of(const pouch::Request& request, const pouch::CutPart& part) {
  switch (part.cloth) {
    case pouch::ClothKind::laminate:
      return &request.laminate;
    case pouch::ClothKind::outer:
      return request.outer ? &*request.outer : &request.laminate;
    case pouch::ClothKind::lining:
      return request.lining ? &*request.lining : nullptr;
    case pouch::ClothKind::bought:
      return nullptr;
  }
  return nullptr;
}

/// How many of a part, from which cloth and which way up.
base::Message cut_from(const pouch::Request& request, const pouch::CutPart& part) {
  const bool both_faces = request.laminate.film == pouch::FilmFaces::both;
  if (part.panel && part.cloth == pouch::ClothKind::laminate) {
    return both_faces ? "drawing-cut-laminate-both" : "drawing-cut-laminate";
  }
  const bool of_outer = part.cloth == pouch::ClothKind::outer && request.outer;
  const char* key = of_outer || part.cloth == pouch::ClothKind::bought ? "drawing-cut-piece-outer"
                    : part.cloth == pouch::ClothKind::lining           ? "drawing-cut-piece-lining"
                                                             : "drawing-cut-piece-laminate";
  return {key, {{"count", part.count}}};
}

/// What is cut, and below it how it lies on the cloth.
void add_cut(Block& block, const base::Message& what, const pouch::Material* cloth,
             const base::Voice& words) {
  block.push_back(heading_row(words.say(what), 2));
  if (cloth == nullptr) return;
  block.push_back({.words = words.say(arrow_key(cloth->turn)), .space_before = 0.5});
}

/// The outer that goes with a panel; where it is smaller, with its size.
void add_outer(Block& block, const pouch::Pouch& pouch, const pouch::CutPart& part,
               const base::Voice& words) {
  add_cut(block, "drawing-cut-outer", &*pouch.request.outer, words);
  if (!part.outer || (part.outer->width == part.width && part.outer->length == part.length)) return;
  block.push_back({.words = words.say({"drawing-outer-size",
                                       {{"width", kept_together(part.outer->width, words)},
                                        {"length", kept_together(part.outer->length, words)}}}),
                   .weight = Weight::bold,
                   .space_before = 0.5});
}

void add_cut_size(Block& block, Length width, Length length, const base::Voice& words) {
  const auto add = [&](const char* key, Length size, double before) {
    block.push_back({.words = words.say({key, {{"size", kept_together(size, words)}}}),
                     .weight = Weight::bold,
                     .space_before = before});
  };
  add("drawing-cut-width", width, 2);
  add("drawing-cut-length", length, 0);
}

}  // namespace

Block title_block(const pouch::Pouch& pouch, Pattern pattern, const base::Voice& words) {
  const pouch::Request& request = pouch.request;
  Block block{{.words = tell::title_of(pouch, words), .size = kTitleSize, .weight = Weight::bold}};
  if (pouch.sizes.panels.size() > 1) {
    block.push_back(heading_row(tell::part_name(pouch.sizes.panels.front().name, words), 1));
  }
  const bool both_faces = request.laminate.film == pouch::FilmFaces::both;
  add_cut(block, both_faces ? "drawing-cut-laminate-both" : "drawing-cut-laminate",
          &request.laminate, words);
  if (request.outer) add_outer(block, pouch, pouch.sizes.parts.front(), words);
  add_cut_size(block, pouch.sizes.cut_width, pouch.sizes.cut_length, words);
  if (pattern == Pattern::half) {
    block.push_back({.words = words.say("drawing-half-template"), .space_before = 2});
  }
  return block;
}

Block part_block(const pouch::Pouch& pouch, const pouch::CutPart& part, const base::Voice& words) {
  Block block{
      {.words = tell::part_name(part.name, words), .size = kTitleSize, .weight = Weight::bold},
      {.words = tell::title_of(pouch, words), .space_before = 1}};
  add_cut(block, cut_from(pouch.request, part), cloth_of(pouch.request, part), words);
  if (part.outer) add_outer(block, pouch, part, words);
  add_cut_size(block, part.width, part.length, words);
  const std::string how = part.piece ? pouch.construction().pieces[*part.piece].how : "";
  if (!how.empty()) block.push_back({.words = how, .space_before = 2});
  return block;
}

namespace {

/// Where it lies across: from which raw edge, or from either.
const char* side_key(const pouch::Fixed& fixed, Length x, Length width) {
  if (fixed.x.size() != 1 || 2 * x == width) return "drawing-from-sides";
  return 2 * x < width ? "drawing-from-left" : "drawing-from-right";
}

/// How far from an end of the part: a panel's by the name of the span that ends there.
base::Message from_end(const pouch::Pouch& pouch, const pouch::CutPart& part, bool start,
                       const std::string& size, const base::Voice& words) {
  if (!part.panel) return {start ? "drawing-from-start" : "drawing-from-end", {{"size", size}}};
  const std::vector<pouch::Span>& spans = pouch.sizes.panels[*part.panel].spans;
  return {"drawing-from-span",
          {{"size", size},
           {"span", tell::span_name(start ? spans.front().name : spans.back().name, words)}}};
}

/// What the needle or the punch goes through.
const char* through_key(const pouch::Fixed& fixed) {
  if (fixed.piece) return "drawing-attachment-piece";
  if (fixed.caught.size() == 1) {
    return fixed.caught.front() == pouch::Edge::left ? "drawing-attachment-caught-left"
                                                     : "drawing-attachment-caught-right";
  }
  if (!fixed.caught.empty()) return "drawing-attachment-caught";
  return fixed.through == pouch::Through::outer ? "drawing-attachment-outer"
                                                : "drawing-attachment-film";
}

}  // namespace

Block attachment_block(const pouch::Pouch& pouch, const pouch::CutPart& part,
                       const pouch::Fixed& fixed, const base::Voice& words) {
  const Length middle = base::half(fixed.y.from + fixed.y.to);
  const bool from_start = 2 * middle <= part.length;
  const Length along = from_start ? middle : part.length - middle;
  std::string place = words.say(from_end(pouch, part, from_start, marked(along, words), words));
  if (!fixed.x.empty()) {
    const Length inset = fixed.span ? pouch.sizes.panels[fixed.span->panel].inset : Length();
    const Length x = fixed.x.front() - inset;
    place = words.say({side_key(fixed, x, part.width),
                       {{"side", marked(std::min(x, part.width - x), words)}, {"along", place}}});
  }
  if (fixed.y.size() > Length()) place = words.say({"drawing-middle", {{"place", place}}});
  Block block{{.words = tell::part_name(pouch.rule(fixed).name, words),
               .size = kSmallestSize,
               .weight = Weight::bold},
              {.words = place, .size = kSmallestSize}};
  if (fixed.y.size() > Length()) {
    const std::string covered = kept_together(fixed.y.size(), words);
    block.push_back({.words = fixed.width > Length()
                                  ? words.say({"drawing-attachment-covers-both",
                                               {{"across", kept_together(fixed.width, words)},
                                                {"along", covered}}})
                                  : words.say({"drawing-attachment-covers", {{"size", covered}}}),
                     .size = kSmallestSize});
  }
  block.push_back({.words = words.say(through_key(fixed)), .size = kSmallestSize});
  return block;
}

Block caution_block(const base::Voice& words) {
  return {{.words = words.say("drawing-never-laser"), .size = kSmallestSize}};
}

Block legend(const pouch::Pouch& pouch, const pouch::CutPart& part, Pattern pattern,
             const base::Voice& words) {
  const pouch::Sizes& sizes = pouch.sizes;
  const pouch::Request& request = pouch.request;
  const auto finish = [&](pouch::Edge end) -> const pouch::EndFinish& {
    return pouch::finish_of(request, *part.panel, end);
  };
  const bool has_folds = sizes.panels[*part.panel].spans.size() > 1;
  Block block{heading_row(words.say("drawing-lines"))};
  const auto add = [&](const base::Message& meaning, std::vector<Shape> sample) {
    block.push_back(legend_row(words.say(meaning), std::move(sample)));
  };
  add("drawing-line-cut", {sample_line(kCutStroke)});
  if (has_folds) add("drawing-line-fold", {sample_line(kFoldStroke)});
  if (sizes.panels[*part.panel].inset < sizes.seam_allowance) {
    add({"drawing-line-seam", {{"allowance", kept_together(sizes.seam_allowance, words)}}},
        {sample_line(kSeamStroke)});
  }
  if (!own_zones(pouch, part).empty()) {
    add({"drawing-line-seal", {{"seal", kept_together(sizes.seal_width, words)}}}, band_sample());
  }
  if (pouch::has_needle_line(finish(pouch::Edge::start)) ||
      pouch::has_needle_line(finish(pouch::Edge::end))) {
    const bool zigzagged = finish(pouch::Edge::start).kind == pouch::FinishKind::zigzag ||
                           finish(pouch::Edge::end).kind == pouch::FinishKind::zigzag;
    add(zigzagged ? "drawing-line-needle-zigzag" : "drawing-line-needle",
        {sample_line(kNeedleStroke)});
  }
  if (part.outer && (part.outer->width != part.width || part.outer->length != part.length)) {
    add("drawing-line-outer", {sample_line(kSmallOuterStroke)});
  }
  if (has_folds) {
    const double tick = on_paper(pouch::notch_length(sizes.seam_allowance));
    add({"drawing-line-notch",
         {{"notch", kept_together(pouch::notch_length(sizes.seam_allowance), words)}}},
        {sample_line(kTickStroke, kSampleStart, kSampleStart + tick)});
  }
  if (pattern == Pattern::half) {
    add("drawing-line-cloth-fold", {sample_line(kClothFoldStroke)});
  } else {
    add("drawing-line-centre", {sample_line(kCentreStroke)});
  }
  return block;
}

}  // namespace pouchwright::draw
