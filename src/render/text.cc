#include "render/text.h"

#include <cairo.h>

#include <cstdint>
#include <map>
#include <utility>

namespace pouchwright::render {
namespace {

using ink::Path;
using ink::Point;
using ink::Step;
using ink::Verb;

/// Cairo keeps path points in 1/256 of a device unit: at 8 · kUnitsPerEm device units to the em
/// that is 1/200,000 of an em.
constexpr double kDeviceScale = 8;

struct PathDropper {
  void operator()(cairo_path_t* path) const { cairo_path_destroy(path); }
};

double units(int parts) { return static_cast<double>(parts) / kPartsOfUnit; }

Point point_of(const cairo_path_data_t& data) { return {data.point.x, data.point.y}; }

Step step_of(const cairo_path_data_t* data) {
  switch (data->header.type) {
    case CAIRO_PATH_MOVE_TO:
      return {Verb::move, point_of(data[1]), {}, {}};
    case CAIRO_PATH_LINE_TO:
      return {Verb::line, point_of(data[1]), {}, {}};
    case CAIRO_PATH_CURVE_TO:
      return {Verb::curve, point_of(data[3]), point_of(data[1]), point_of(data[2])};
    case CAIRO_PATH_CLOSE_PATH:
      break;
  }
  return {Verb::close, {}, {}, {}};
}

/// Cairo follows each closing step by a move to where the subpath began; those lead nowhere.
void drop_idle_moves(Path& path) {
  Path kept;
  for (const Step& step : path) {
    if (!kept.empty() && kept.back().verb == Verb::move && step.verb == Verb::move) kept.pop_back();
    kept.push_back(step);
  }
  if (!kept.empty() && kept.back().verb == Verb::move) kept.pop_back();
  path = std::move(kept);
}

/// Gives every closing step the point its subpath began at, as `drawing` has it.
void name_closing_points(Path& path) {
  Point first;
  for (Step& step : path) {
    if (step.verb == Verb::move) first = step.to;
    if (step.verb == Verb::close) step.to = first;
  }
}

}  // namespace

ink::TextSize FontMeasure::measure(std::string_view words, double size, ink::Weight weight) const {
  const FontHeight height = font_height(words);
  return {.width = fonts_->width(words, weight) * size,
          .ascent = height.above * size,
          .descent = height.below * size};
}

double start_of(ink::Anchor anchor, double width) {
  switch (anchor) {
    case ink::Anchor::start:
      return 0;
    case ink::Anchor::middle:
      return -width / 2;
    case ink::Anchor::end:
      return -width;
  }
  return 0;
}

Point set_in(const ink::Text& text, Point p) {
  const double scale = text.size / kUnitsPerEm;
  p = {p.x * scale, p.y * scale};
  for (int k = 0; k < text.turn_deg / 90; ++k) p = {-p.y, p.x};
  return p;
}

/// A place to lay glyph paths on: nothing is ever painted there. It has no bounds, since Cairo
/// leaves out letters that lie more than ten ems off a surface, from paths too.
struct TextOutliner::Pen {
  cairo_surface_t* surface = cairo_recording_surface_create(CAIRO_CONTENT_ALPHA, nullptr);
  cairo_t* target = cairo_create(surface);
  /// The outlines asked for so far, by font and glyph, and of boxes, by what is in them.
  std::map<std::pair<const cairo_scaled_font_t*, std::uint32_t>, Path> outlines;
  std::map<std::vector<std::uint32_t>, Path> boxes;

  Pen() { cairo_scale(target, kDeviceScale, kDeviceScale); }
  ~Pen() {
    cairo_destroy(target);
    cairo_surface_destroy(surface);
  }
  Pen(const Pen&) = delete;
  Pen& operator=(const Pen&) = delete;

  /// The outline of one glyph from its own beginning.
  const Path& outline(cairo_scaled_font_t* font, std::uint32_t glyph) {
    const auto [found, is_new] = outlines.try_emplace({font, glyph});
    if (is_new) {
      cairo_new_path(target);
      append_outline(*target, font, glyph);
      found->second = drawn();
    }
    return found->second;
  }

  const Path& outline(const GlyphRun& box) {
    std::vector<std::uint32_t> digits;
    for (const Glyph& glyph : box.glyphs) digits.push_back(glyph.index);
    const auto [found, is_new] = boxes.try_emplace(digits);
    if (is_new) {
      cairo_new_path(target);
      append_box(*target, box);
      found->second = drawn();
    }
    return found->second;
  }

  /// What is on the path.
  [[nodiscard]] Path drawn() const {
    const std::unique_ptr<cairo_path_t, PathDropper> steps(cairo_copy_path(target));
    Path path;
    for (int k = 0; k < steps->num_data; k += steps->data[k].header.length) {
      path.push_back(step_of(&steps->data[k]));
    }
    drop_idle_moves(path);
    name_closing_points(path);
    return path;
  }
};

TextOutliner::TextOutliner(const Fonts& fonts) : fonts_(&fonts), pen_(std::make_unique<Pen>()) {}
TextOutliner::~TextOutliner() = default;
TextOutliner::TextOutliner(TextOutliner&&) noexcept = default;
TextOutliner& TextOutliner::operator=(TextOutliner&&) noexcept = default;

std::vector<Letter> TextOutliner::letters(const ink::Text& text) const {
  const ShapedLine shaped = fonts_->shaped(text.words, text.weight);
  const double start = start_of(text.anchor, shaped.width) * kUnitsPerEm;
  std::vector<Letter> letters;
  int x = 0;  // parts of a unit
  const auto put = [&](const Path& outline, const Glyph& glyph) {
    if (outline.empty()) return;
    const Point place = set_in(text, {start + units(x + glyph.x_offset), units(glyph.y_offset)});
    letters.push_back({&outline, {text.at.x + place.x, text.at.y + place.y}});
  };
  for (const GlyphRun& run : shaped.runs) {
    if (run.box > 0) {
      put(pen_->outline(run), {});
      x += run.box;
      continue;
    }
    for (const Glyph& glyph : run.glyphs) {
      if (glyph.index != kNoGlyph) put(pen_->outline(run.font, glyph.index), glyph);
      x += glyph.advance;
    }
  }
  return letters;
}

}  // namespace pouchwright::render
