#include "render/ink.h"

#include <cairo.h>

#include <algorithm>
#include <array>
#include <utility>

#include "render/text.h"

namespace pouchwright::render {
namespace {

using ink::Box;
using ink::Item;
using ink::Path;
using ink::Point;
using ink::Shape;
using ink::Step;
using ink::Text;
using ink::Verb;

/// What an item may cover, widely: mitred corners at their longest, and the few percent by which
/// letters, which keep their size, may outreach a drawing shrunk for its printer.
Box reach_of(const Item& item, const ink::TextMeasure& measure) {
  const Box box = ink::bounds(item, measure);
  const auto* shape = std::get_if<Shape>(&item);
  if (shape != nullptr && shape->stroke) {
    return ink::grown(box, shape->stroke->width * kMiterLimit / 2);
  }
  return ink::grown(box, 0.1 * std::max(box.width(), box.height()));
}

using Steps = std::pair<Path::const_iterator, Path::const_iterator>;

/// The box around all points and control points of a part of a path.
Box box_around(const Steps& steps) {
  const Point first = steps.first->to;
  Box box{first.x, first.y, first.x, first.y};
  const auto widen = [&box](Point p) {
    box = {std::min(box.x0, p.x), std::min(box.y0, p.y), std::max(box.x1, p.x),
           std::max(box.y1, p.y)};
  };
  for (auto step = steps.first; step != steps.second; ++step) {
    if (step->verb != Verb::close) widen(step->to);
    if (step->verb != Verb::curve) continue;
    widen(step->c1);
    widen(step->c2);
  }
  return box;
}

/// The shape with only those of its parts that may show in `window`: hatching is one path over a
/// whole drawing, and each of four hundred pages would carry all of it. Dashes begin anew at each
/// part, and a part fills nothing outside its bounds, so what shows stays as it is.
Shape within(const Shape& shape, const Box& window) {
  const double reach = shape.stroke ? shape.stroke->width * (kMiterLimit + 1) / 2 : 0;
  Shape kept{shape.group, {}, shape.stroke, shape.fill, shape.name, shape.figure};
  for (auto part = shape.path.begin(); part != shape.path.end();) {
    const auto end = std::find_if(part + 1, shape.path.end(),
                                  [](const Step& step) { return step.verb == Verb::move; });
    if (ink::overlap(ink::grown(box_around({part, end}), reach), window)) {
      kept.path.insert(kept.path.end(), part, end);
    }
    part = end;
  }
  return kept;
}

bool holds(const Box& outer, const Box& inner) {
  return outer.x0 <= inner.x0 && outer.y0 <= inner.y0 && outer.x1 >= inner.x1 &&
         outer.y1 >= inner.y1;
}

/// Is what lies between the windows' far sides and the middle of what they share without the text?
/// That part of `window` is cut off or covered when the two are joined.
bool ends_past_the_join(const Box& window, const Box& other, const Box& text) {
  const auto past = [](double from, double to, double its_from, double its_to, double a, double b) {
    if (its_from > from) return a >= (its_from + to) / 2;
    return its_to < to && b <= (from + its_to) / 2;
  };
  return past(window.x0, window.x1, other.x0, other.x1, text.x0, text.x1) ||
         past(window.y0, window.y1, other.y0, other.y1, text.y0, text.y1);
}

/// A text that the window cuts is left to the one that has it whole, unless it runs across the join:
/// then the two halves meet there.
bool is_left_to_another(const paper::Pages& pages, const paper::Placement& placement,
                        const Box& text) {
  if (holds(placement.window, text)) return false;
  for (const paper::Page& page : pages.pages) {
    for (const paper::Placement& other : page.placements) {
      if (other.drawing != placement.drawing || !holds(other.window, text)) continue;
      if (ends_past_the_join(placement.window, other.window, text)) return true;
    }
  }
  return false;
}

void set_path(cairo_t* target, const Path& path) {
  cairo_new_path(target);
  for (const Step& step : path) {
    switch (step.verb) {
      case Verb::move:
        cairo_move_to(target, step.to.x, step.to.y);
        break;
      case Verb::line:
        cairo_line_to(target, step.to.x, step.to.y);
        break;
      case Verb::curve:
        cairo_curve_to(target, step.c1.x, step.c1.y, step.c2.x, step.c2.y, step.to.x, step.to.y);
        break;
      case Verb::close:
        cairo_close_path(target);
        break;
    }
  }
}

void draw_shape(cairo_t* target, const Shape& shape) {
  if (shape.path.empty()) return;
  set_path(target, shape.path);
  if (shape.fill != ink::Fill::none) {
    const double white = ink::lightness(shape.fill);
    cairo_set_source_rgb(target, white, white, white);
    cairo_fill_preserve(target);
    cairo_set_source_rgb(target, 0, 0, 0);
  }
  if (shape.stroke) {
    const std::vector<double> dashes = ink::dashes_of(shape.stroke->pattern, shape.stroke->width);
    cairo_set_line_width(target, shape.stroke->width);
    cairo_set_dash(target, dashes.data(), static_cast<int>(dashes.size()), 0);
    cairo_stroke_preserve(target);
  }
  cairo_new_path(target);
}

/// The turn as a matrix of exact noughts and ones: sines of quarter turns leave 1e-17 behind.
cairo_matrix_t turned(int turn_deg, Point at) {
  constexpr std::array<int, 4> kCosine = {1, 0, -1, 0};
  constexpr std::array<int, 4> kSine = {0, 1, 0, -1};
  const auto quarter = static_cast<std::size_t>(turn_deg / 90 % 4);
  const double c = kCosine[quarter];
  const double s = kSine[quarter];
  cairo_matrix_t matrix;
  cairo_matrix_init(&matrix, c, s, -s, c, at.x, at.y);
  return matrix;
}

void draw_text(cairo_t* target, const Text& text, const Fonts& fonts) {
  const ShapedLine shaped = fonts.shaped(text.words, text.weight);
  const cairo_matrix_t turn = turned(text.turn_deg, text.at);
  cairo_save(target);
  cairo_transform(target, &turn);
  cairo_scale(target, text.size / kUnitsPerEm, text.size / kUnitsPerEm);
  double x = start_of(text.anchor, shaped.width) * kUnitsPerEm;
  for (const GlyphRun& run : shaped.runs) {
    cairo_move_to(target, x, 0);
    show(*target, shaped.text, run);
    x += static_cast<double>(run.width()) / kPartsOfUnit;
  }
  cairo_restore(target);
  cairo_new_path(target);
}

void prepare(cairo_t* target) {
  cairo_set_source_rgb(target, 0, 0, 0);
  cairo_set_line_cap(target, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_join(target, CAIRO_LINE_JOIN_MITER);
  cairo_set_miter_limit(target, kMiterLimit);
}

/// Marked, and a line that goes on with the blank at which it was broken: whoever hears the words
/// would hear two of them as one.
void draw_item(cairo_t& target, const Item& item, const Fonts& fonts, Tags* tags) {
  if (tags != nullptr) tags->open_for(item);
  const auto* text = std::get_if<Text>(&item);
  if (tags != nullptr && text != nullptr && text->goes_on) {
    Text blank = *text;
    blank.words = " ";
    render::draw_item(target, blank, fonts);
  }
  render::draw_item(target, item, fonts);
}

void draw_placement(cairo_t* target, const paper::Pages& pages, const paper::Page& page,
                    const paper::Placement& placement, const Fonts& fonts, Tags* tags) {
  cairo_save(target);
  for (const Box& box : clip_on_paper(placement, pages.scale, page)) {
    cairo_rectangle(target, box.x0, box.y0, box.width(), box.height());
  }
  cairo_set_fill_rule(target, CAIRO_FILL_RULE_EVEN_ODD);
  cairo_clip(target);
  cairo_set_fill_rule(target, CAIRO_FILL_RULE_WINDING);
  if (tags != nullptr && pages.content == paper::Content::full_size) {
    tags->open_picture(pages.drawings[placement.drawing].title);
  }
  for (const Item& item : window_items(pages, placement, FontMeasure(fonts))) {
    draw_item(*target, item, fonts, tags);
  }
  if (tags != nullptr) tags->close();
  cairo_restore(target);
}

}  // namespace

Box window_on_paper(const paper::Placement& placement, Point scale) {
  const Box& window = placement.window;
  const Point a = paper::on_paper(placement, scale, {window.x0, window.y0});
  const Point b = paper::on_paper(placement, scale, {window.x1, window.y1});
  return {std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x), std::max(a.y, b.y)};
}

std::vector<Box> clip_on_paper(const paper::Placement& placement, Point scale,
                               const paper::Page& page) {
  const Box window = window_on_paper(placement, scale);
  std::vector<Box> clip{window};
  for (const Box& gap : page.gaps) {
    // What reached out of the window would show, by the even-odd rule.
    if (!ink::overlap(gap, window)) continue;
    clip.push_back({std::max(gap.x0, window.x0), std::max(gap.y0, window.y0),
                    std::min(gap.x1, window.x1), std::min(gap.y1, window.y1)});
  }
  return clip;
}

Item on_paper(const Item& item, const paper::Placement& placement, Point scale) {
  const auto moved = [&](Point p) { return paper::on_paper(placement, scale, p); };
  if (const auto* text = std::get_if<Text>(&item)) {
    Text result = *text;
    result.at = moved(text->at);
    result.turn_deg = (text->turn_deg + placement.turn_deg) % 360;
    return result;
  }
  Shape result = std::get<Shape>(item);
  for (Step& step : result.path) {
    step.to = moved(step.to);
    if (step.verb == Verb::curve) {
      step.c1 = moved(step.c1);
      step.c2 = moved(step.c2);
    }
  }
  return result;
}

std::vector<Item> window_items(const paper::Pages& pages, const paper::Placement& placement,
                               const ink::TextMeasure& measure) {
  std::vector<Item> items;
  for (const Item& item : pages.drawings.at(placement.drawing).items) {
    if (!ink::overlap(reach_of(item, measure), placement.window)) continue;
    const auto* shape = std::get_if<Shape>(&item);
    if (shape == nullptr && is_left_to_another(pages, placement, ink::bounds(item, measure))) {
      continue;
    }
    items.push_back(
        on_paper(shape ? Item(within(*shape, placement.window)) : item, placement, pages.scale));
  }
  return items;
}

void draw_item(cairo_t& target, const Item& item, const Fonts& fonts) {
  prepare(&target);
  if (const auto* text = std::get_if<Text>(&item)) {
    draw_text(&target, *text, fonts);
  } else {
    draw_shape(&target, std::get<Shape>(item));
  }
}

void draw_page(cairo_t& target, const paper::Pages& pages, const paper::Page& page,
               const Fonts& fonts, Tags* tags) {
  for (const paper::Placement& placement : page.placements) {
    draw_placement(&target, pages, page, placement, fonts, tags);
  }
  for (const Item& item : page.furniture) {
    draw_item(target, item, fonts, tags);
  }
  if (tags != nullptr) tags->close();
}

}  // namespace pouchwright::render
