#include "render/text.h"

#include <pango/pangocairo.h>

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

/// From glyph units on the baseline to the drawing.
class Setting {
 public:
  Setting(const ink::Text& text, double start)
      : at_(text.at),
        scale_(text.size / kUnitsPerEm),
        start_(start),
        quarters_(text.turn_deg / 90) {}

  [[nodiscard]] Point operator()(const cairo_path_data_t& data) const {
    Point p{data.point.x * scale_ + start_, data.point.y * scale_};
    for (int k = 0; k < quarters_; ++k) p = {-p.y, p.x};
    return {p.x + at_.x, p.y + at_.y};
  }

 private:
  Point at_;
  double scale_;
  double start_;
  int quarters_;
};

Step step_of(const cairo_path_data_t* data, const Setting& set) {
  switch (data->header.type) {
    case CAIRO_PATH_MOVE_TO:
      return {Verb::move, set(data[1]), {}, {}};
    case CAIRO_PATH_LINE_TO:
      return {Verb::line, set(data[1]), {}, {}};
    case CAIRO_PATH_CURVE_TO:
      return {Verb::curve, set(data[3]), set(data[1]), set(data[2])};
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
  const FontHeight height = fonts_->height(weight);
  return {.width = fonts_->shaped(words, weight).width * size,
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

/// A place to lay glyph paths on: nothing is ever painted there. It has no bounds, since Cairo
/// leaves out letters that lie more than ten ems off a surface, from paths too.
struct TextOutliner::Pen {
  cairo_surface_t* surface = cairo_recording_surface_create(CAIRO_CONTENT_ALPHA, nullptr);
  cairo_t* target = cairo_create(surface);

  Pen() { cairo_scale(target, kDeviceScale, kDeviceScale); }
  ~Pen() {
    cairo_destroy(target);
    cairo_surface_destroy(surface);
  }
  Pen(const Pen&) = delete;
  Pen& operator=(const Pen&) = delete;
};

TextOutliner::TextOutliner(const Fonts& fonts) : fonts_(&fonts), pen_(std::make_unique<Pen>()) {}
TextOutliner::~TextOutliner() = default;
TextOutliner::TextOutliner(TextOutliner&&) noexcept = default;
TextOutliner& TextOutliner::operator=(TextOutliner&&) noexcept = default;

Path TextOutliner::outlines(const ink::Text& text) const {
  const ShapedLine shaped = fonts_->shaped(text.words, text.weight);
  cairo_new_path(pen_->target);
  cairo_move_to(pen_->target, 0, 0);
  pango_cairo_layout_line_path(pen_->target, shaped.line);
  const std::unique_ptr<cairo_path_t, PathDropper> glyphs(cairo_copy_path(pen_->target));

  const Setting set(text, start_of(text.anchor, shaped.width * text.size));
  Path path;
  for (int k = 0; k < glyphs->num_data; k += glyphs->data[k].header.length) {
    path.push_back(step_of(&glyphs->data[k], set));
  }
  drop_idle_moves(path);
  name_closing_points(path);
  return path;
}

}  // namespace pouchwright::render
