/// The scene: what is to be drawn, at fixed places, before it is cut into pages or written to a
/// file. All numbers in this layer and in `paper` are millimetres, x to the right, y down.
///
///     Drawing card{.name = "slip-card", .title = "Slip card"};
///     const Path outline = rectangle({0, 0, 174, 140});
///     card.add(Shape{.group = Group::cut, .path = outline, .stroke = Stroke{}});
///     card.add(Text{.words = "this side up", .at = {87, 70}, .size = kLabelSize});
///
/// Not for pages (see paper/pages.h) and not for pixels, points or colours: lines and letters are
/// black, areas black, one of two greys, or the paper's white, which covers what lies under it.
#pragma once

#include <array>
#include <memory>
#include <numbers>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace pouchwright::ink {

struct Point {
  double x = 0;
  double y = 0;

  bool operator==(const Point&) const = default;
};

/// A rectangle along the axes: `x0` <= `x1`, `y0` <= `y1`.
struct Box {
  double x0 = 0;
  double y0 = 0;
  double x1 = 0;
  double y1 = 0;

  [[nodiscard]] double width() const { return x1 - x0; }
  [[nodiscard]] double height() const { return y1 - y0; }
  bool operator==(const Box&) const = default;
};

/// The smallest box around both.
[[nodiscard]] Box united(const Box& a, const Box& b);
[[nodiscard]] Box grown(const Box& box, double by);
[[nodiscard]] Point middle(const Box& box);
/// True where the two share inner points.
[[nodiscard]] bool overlap(const Box& a, const Box& b);

/// What an item stands for. SVG files have one group each, under these ids (see `id_of`).
enum class Group { cut, fold, seam, seal, notch, grain, label, registration, scale_check };
inline constexpr std::array kGroups = {Group::cut,   Group::fold,         Group::seam,
                                       Group::seal,  Group::notch,        Group::grain,
                                       Group::label, Group::registration, Group::scale_check};
/// `cut`, `fold`, … `scale-check`.
[[nodiscard]] std::string_view id_of(Group group);

/// Line types of ISO 128-20 (element lengths from memory of the 2001 edition, now ISO 128-2), in
/// line widths d: dash 12, gap 3, long dash 24, dot 0.5.
enum class LinePattern {
  continuous,            ///< 01
  dashed,                ///< 02: 12-3
  long_dash_dot,         ///< 04: 24-3-0.5-3
  long_dash_double_dot,  ///< 05: 24-3-0.5-3-0.5-3
  dotted,                ///< 07: 0.5-3
  specks,                ///< of a tint, no line type: 0.9-4.6
  far_specks,            ///< 1-9.3
};
/// The lengths of dashes and gaps by turns, in mm, for a line `width` mm wide; empty for
/// continuous.
[[nodiscard]] std::vector<double> dashes_of(LinePattern pattern, double width);

/// Line widths of the ISO 128-20 series (0.13 0.18 0.25 0.35 0.5 0.7 1.0).
struct Stroke {
  LinePattern pattern = LinePattern::continuous;
  double width = 0.25;

  bool operator==(const Stroke&) const = default;
};

enum class Verb { move, line, curve, close };

/// One step of a path: `move` and `line` go to `to`; `curve` is a cubic Bézier over `c1`, `c2`.
struct Step {
  Verb verb = Verb::move;
  Point to;
  Point c1;
  Point c2;

  bool operator==(const Step&) const = default;
};
using Path = std::vector<Step>;

void append(Path& path, const Path& more);
[[nodiscard]] Path line(Point from, Point to);
/// Closed, clockwise as seen, from the top left corner.
[[nodiscard]] Path rectangle(const Box& box);
/// Open or closed through `corners` in order.
enum class Ends { open, closed };
[[nodiscard]] Path polyline(const std::vector<Point>& corners, Ends ends);
/// How far a quarter circle's control points lie from its ends, in radii: 4/3 · (√2 − 1). The arc
/// is then exact at its ends and middle and at most 0.027 % of the radius too far out between.
inline constexpr double kQuarterArm = 4.0 / 3.0 * (std::numbers::sqrt2 - 1.0);
/// Four cubic arcs, closed.
[[nodiscard]] Path circle(Point centre, double radius);
/// Parallel lines at 45 degrees, `spacing` apart measured across them, clipped to `box`; the lines
/// of neighbouring boxes with one `spacing` run on, since they are anchored at the origin.
[[nodiscard]] Path hatch(const Box& box, double spacing);
/// The box around all points and control points; the zero box for an empty path.
[[nodiscard]] Box bounds(const Path& path);

/// What an area is filled with. Text stands out on all but `solid`: black on `grey` has a contrast
/// of 13.1 to 1, where WCAG 2.2 (success criterion 1.4.6) asks for 7.
enum class Fill { none, paper, pale, grey, solid };
/// How much of white is left: 1 is white, 0 black. The greys are 10 and 20 percent of black, which a
/// copier keeps apart (common practice, no source). Requires: not `none`.
[[nodiscard]] constexpr double lightness(Fill fill) {
  switch (fill) {
    case Fill::none:
    case Fill::paper:
      return 1;
    case Fill::pale:
      return 0.9;
    case Fill::grey:
      return 0.8;
    case Fill::solid:
      return 0;
  }
  return 1;
}

/// What a picture shows, in words, for whoever cannot see it. All items of one picture share one.
using FigureWords = std::shared_ptr<const std::string>;

/// Ink along a path: a stroke, a filled area, or both, the stroke on top.
struct Shape {
  Group group = Group::label;
  Path path;
  std::optional<Stroke> stroke;
  Fill fill = Fill::none;
  std::string name;  ///< for tests and SVG ids of single paths; may be empty
  FigureWords figure{};
};

enum class Anchor { start, middle, end };
/// The faces of the one typeface. Italic is for what is no instruction: notes, examples.
enum class Weight { regular, bold, italic };

/// What words are in their document, for whoever has it read aloud: titles and headings by their
/// size, all others a paragraph; `mark` and `item` a list's point, `row` a table row's first cell,
/// `cell` its others; `none` is no part of what is read (a page's number).
enum class Role { by_size, mark, item, row, cell, none };

/// One line of text. `at` is on the baseline; `size` is the em in mm; `turn_deg` turns it clockwise
/// about `at` (0, 90, 180 or 270).
struct Text {
  Group group = Group::label;
  std::string words;
  Point at;
  double size = 0;
  Anchor anchor = Anchor::start;
  Weight weight = Weight::regular;
  int turn_deg = 0;
  Role role = Role::by_size;
  bool goes_on = false;  ///< in the words before it, which were broken
  FigureWords figure{};
};

/// 9 pt, the smallest label that a person at arm's length reads.
inline constexpr double kSmallestSize = 9 * 25.4 / 72;
/// 11 pt, an ordinary label.
inline constexpr double kLabelSize = 11 * 25.4 / 72;
/// 20 pt, a title.
inline constexpr double kTitleSize = 20 * 25.4 / 72;

using Item = std::variant<Shape, Text>;

/// One drawing at full size. `name` is the file name's stem and the SVG's id, `title` what a person
/// reads. Items are drawn in order.
struct Drawing {
  std::string name;
  std::string title;
  Box extent;  ///< all ink lies inside; kept by the maker with some white around
  std::vector<Item> items;

  void add(Item item) { items.push_back(std::move(item)); }
  void add(std::vector<Shape> shapes);
  /// A line without a fill; nothing where the path is empty.
  void add_line(Group group, std::string line_name, Path path, Stroke stroke);
};

/// The same at another place: `by` is added to all points.
[[nodiscard]] Path moved(Path path, Point by);
[[nodiscard]] Item moved(Item item, Point by);

/// The same drawing with the top left corner of its extent at 0, 0, as pages and files count.
[[nodiscard]] Drawing from_top_left(Drawing drawing);

/// The same drawing with only the items of `groups`; its extent stays.
[[nodiscard]] Drawing only(const Drawing& drawing, const std::vector<Group>& groups);

/// Cut lines from the smallest to the largest, so that a machine cuts what is inside before what is
/// around it; all else stays in place.
[[nodiscard]] Drawing in_cutting_order(Drawing drawing);

/// How wide and high text comes out; `render` measures with real fonts, tests with a fixed width.
struct TextSize {
  double width = 0;    ///< advance width, mm
  double ascent = 0;   ///< of the font, above the baseline, mm
  double descent = 0;  ///< of the font, below the baseline, mm
};
class TextMeasure {
 public:
  virtual ~TextMeasure() = default;
  [[nodiscard]] virtual TextSize measure(std::string_view words, double size,
                                         Weight weight) const = 0;
};

/// The box that `text` covers, turned as it is drawn.
[[nodiscard]] Box bounds(const Text& text, const TextMeasure& measure);
/// The box of ink that `item` covers, half the line width included.
[[nodiscard]] Box bounds(const Item& item, const TextMeasure& measure);
/// The box of all their ink; the zero box where there are none.
[[nodiscard]] Box bounds(const std::vector<Item>& items, const TextMeasure& measure);

/// Breaks `words` at blanks into lines no wider than `width` mm; a longer word stands alone, and so
/// does a number with its unit.
[[nodiscard]] std::vector<std::string> broken_into_lines(std::string_view words, double width,
                                                         double size, Weight weight,
                                                         const TextMeasure& measure);

}  // namespace pouchwright::ink
