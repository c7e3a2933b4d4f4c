#include "drawing/panel_words.h"

#include <string>
#include <utility>
#include <vector>

#include "drawing/cutting_template.h"
#include "drawing/sheet.h"
#include "units/length.h"

namespace pouchwright::drawing {
namespace {

using units::Length;

/// A legend's samples; half a line's width is left for their ends.
constexpr double kSampleStart = 0.5;
constexpr double kSample = 18.5;
constexpr double kSampleIndent = 22;

const char* arrow_key(pouch::Turn turn) {
  switch (turn) {
    case pouch::Turn::along:
      return "drawing-arrow-along";
    case pouch::Turn::across:
      return "drawing-arrow-across";
    case pouch::Turn::either:
      return "drawing-arrow-either";
  }
  return "";
}

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

}  // namespace

std::string title_of(const pouch::Pouch& pouch, const diag::Words& words) {
  return pouch.request.title.empty() ? words.say("drawing-untitled") : pouch.request.title;
}

std::string span_name(const std::string& name, const diag::Words& words) {
  const std::string key = "drawing-span-" + name;
  return words.has(key) ? words.say(key) : name;
}

bool has_needle_line(const pouch::EndFinish& finish) {
  return finish.kind != pouch::FinishKind::none && finish.needle_reach > Length();
}

Block title_block(const pouch::Pouch& pouch, Pattern pattern, const diag::Words& words) {
  Block block{
      {.words = title_of(pouch, words), .size = kTitleSize, .weight = Weight::bold},
      {.words = words.say(pattern == Pattern::half ? "drawing-half-template" : "drawing-template"),
       .space_before = 1}};
  const auto add = [&](const char* key, Length length, Weight weight, double before) {
    block.push_back({.words = words.say({key, {{"size", in_both(length, pouch.request.style)}}}),
                     .weight = weight,
                     .space_before = before});
  };
  add("drawing-cut-width", pouch.sizes.cut_width, Weight::bold, 2.5);
  add("drawing-cut-length", pouch.sizes.cut_length, Weight::bold, 0.5);
  add("drawing-finished-width", pouch.sizes.finished_width, Weight::regular, 2);
  add("drawing-finished-depth", pouch.sizes.depth, Weight::regular, 0.5);
  if (pouch.sizes.flap > Length()) add("drawing-flap", pouch.sizes.flap, Weight::regular, 0.5);
  if (pouch.request.liners && pouch.request.liners->count) {
    const int count = pouch.request.liners->count->value;
    block.push_back({.words = words.say({count == 1 ? "drawing-one-liner" : "drawing-liners",
                                         {{"count", std::to_string(count)}}}),
                     .space_before = 2});
  }
  return block;
}

Block cutting_block(const pouch::Pouch& pouch, const diag::Words& words) {
  const pouch::Request& request = pouch.request;
  Block block{
      {.words = words.say("drawing-cut-each"), .size = kHeadingSize, .weight = Weight::bold}};
  const bool both_faces = request.laminate.film == pouch::FilmFaces::both;
  block.push_back(
      {.words = words.say(both_faces ? "drawing-cut-laminate-both" : "drawing-cut-laminate"),
       .space_before = 1.5});
  block.push_back({.words = words.say(arrow_key(request.laminate.turn)), .indent = 4});
  if (!request.outer) return block;
  block.push_back({.words = words.say("drawing-cut-outer"), .space_before = 1.5});
  block.push_back({.words = words.say(arrow_key(request.outer->turn)), .indent = 4});
  return block;
}

Block caution_block(const diag::Words& words) {
  return {{.words = words.say("drawing-never-laser"), .weight = Weight::bold}};
}

Block marking_block(const diag::Words& words) {
  return {{.words = words.say("drawing-mark"), .size = kHeadingSize, .weight = Weight::bold},
          {.words = words.say("drawing-mark-folds"), .space_before = 1.5},
          {.words = words.say("drawing-mark-pins"), .space_before = 1.5}};
}

Block legend(const pouch::Pouch& pouch, Pattern pattern, const diag::Words& words) {
  const pouch::Sizes& sizes = pouch.sizes;
  const pouch::Request& request = pouch.request;
  const auto shown = [&](Length length) { return kept_together(text(length, request.style)); };
  Block block{{.words = words.say("drawing-lines"), .size = kHeadingSize, .weight = Weight::bold}};
  const auto add = [&](const diag::Message& meaning, std::vector<Shape> sample) {
    block.push_back(legend_row(words.say(meaning), std::move(sample)));
  };
  add("drawing-line-cut", {sample_line(kCutStroke)});
  add("drawing-line-fold", {sample_line(kFoldStroke)});
  add({"drawing-line-seam", {{"allowance", shown(sizes.seam_allowance)}}},
      {sample_line(kSeamStroke)});
  if (!pouch.seal_zones.empty()) {
    add({"drawing-line-seal", {{"seal", shown(sizes.seal_width)}}}, band_sample());
  }
  if (has_needle_line(request.start_finish) || has_needle_line(request.end_finish)) {
    add("drawing-line-needle", {sample_line(kNeedleStroke)});
  }
  if (!sizes.folds.empty()) {
    const double tick = on_paper(notch_length(sizes.seam_allowance));
    add("drawing-line-notch", {sample_line(kTickStroke, kSampleStart, kSampleStart + tick)});
  }
  if (pattern == Pattern::half) {
    add("drawing-line-cloth-fold", {sample_line(kClothFoldStroke)});
  } else {
    add("drawing-line-centre", {sample_line(kCentreStroke)});
  }
  return block;
}

}  // namespace pouchwright::drawing
