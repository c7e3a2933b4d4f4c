#include "render/text.h"

#include <pango/pangocairo.h>

#include <map>

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

ink::TextSize PangoMeasure::measure(std::string_view words, double size, ink::Weight weight) const {
  return {.width = fonts_->width(words, weight) * size,
          .ascent = kFontHeight.above * size,
          .descent = kFontHeight.below * size};
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
  /// The outlines asked for so far of one font, which is held, or another might get its address.
  struct Face {
    explicit Face(PangoFont* font_) : font(font_) { g_object_ref(font); }
    ~Face() { g_object_unref(font); }
    Face(const Face&) = delete;
    Face& operator=(const Face&) = delete;

    PangoFont* font;
    std::map<PangoGlyph, Path> outlines;
  };

  cairo_surface_t* surface = cairo_recording_surface_create(CAIRO_CONTENT_ALPHA, nullptr);
  cairo_t* target = cairo_create(surface);
  std::map<PangoFont*, Face> faces;

  Pen() { cairo_scale(target, kDeviceScale, kDeviceScale); }
  ~Pen() {
    cairo_destroy(target);
    cairo_surface_destroy(surface);
  }
  Pen(const Pen&) = delete;
  Pen& operator=(const Pen&) = delete;

  /// The outline of one glyph from its own beginning. Only the glyph of `info` counts.
  const Path& outline(PangoFont* font, PangoGlyphInfo info) {
    Face& face = faces.try_emplace(font, font).first->second;
    const auto [found, is_new] = face.outlines.try_emplace(info.glyph);
    if (is_new) found->second = drawn(font, info);
    return found->second;
  }

  Path drawn(PangoFont* font, PangoGlyphInfo info) {
    info.geometry.x_offset = 0;
    info.geometry.y_offset = 0;
    int cluster = 0;
    PangoGlyphString alone{.num_glyphs = 1, .glyphs = &info, .log_clusters = &cluster, .space = 1};
    cairo_new_path(target);
    cairo_move_to(target, 0, 0);
    pango_cairo_glyph_string_path(target, font, &alone);
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
  int x = 0;  // Pango's units
  for (const PangoGlyphItem* run : shaped.runs) {
    for (int k = 0; k < run->glyphs->num_glyphs; ++k) {
      const PangoGlyphInfo& info = run->glyphs->glyphs[k];
      const Path& outline = pen_->outline(run->item->analysis.font, info);
      if (!outline.empty()) {
        const Point place = set_in(text, {start + pango_units_to_double(x + info.geometry.x_offset),
                                          pango_units_to_double(info.geometry.y_offset)});
        letters.push_back({&outline, {text.at.x + place.x, text.at.y + place.y}});
      }
      x += info.geometry.width;
    }
  }
  return letters;
}

}  // namespace pouchwright::render
