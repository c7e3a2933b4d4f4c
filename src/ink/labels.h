/// Finding room for words on a drawing, so that no label lies on another or on a line.
///
///     LabelPlacer placer(measure);
///     placer.take({0, 139.5, 204, 140.5});                         // a fold line runs here
///     auto name = placer.put(text, {{15, 138}, {15, 145}});        // the first place that is free
///     auto block = placer.put(legend, {inside_left, inside_right}, beside_the_panel);
///
/// Not for words whose place is the point (dimension figures of a picture): those are just drawn.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ink/box_grid.h"
#include "ink/frame.h"
#include "ink/scene.h"

namespace pouchwright::ink {

/// 11 pt, the size of running text, which is read at the table.
inline constexpr double kTextSize = 11 * 25.4 / 72;
/// White kept between two labels, and between a label and a line, mm.
inline constexpr double kClearance = 0.8;
/// White kept above and below a block, mm.
inline constexpr double kBlockGap = 4;
/// A block wider than this is hard to read: the eye loses the line.
inline constexpr double kWidestBlock = 92;

/// `words` with every blank made one at which no line breaks; laid_out() draws it as a plain blank.
[[nodiscard]] std::string kept_together(std::string_view words);

/// One paragraph of a block, broken at blanks to the block's width.
struct Row {
  std::string words;
  double size = kTextSize;
  Weight weight = Weight::regular;
  double space_before = 0;  ///< mm above the row, except at the block's top
  double indent = 0;        ///< mm from the block's left edge to the words
  Role role = Role::by_size;
  std::vector<Shape> sample{};  ///< drawn left of the words; (0, 0) is the left end of the first
                                ///< line's middle
};
using Block = std::vector<Row>;

/// `text` moved so that the box it covers is centred on `centre`, or has its corner there.
[[nodiscard]] Text centred_on(Text text, Point centre, const TextMeasure& measure);
[[nodiscard]] Text with_top_left(Text text, Point corner, const TextMeasure& measure);

/// `block` with its top left corner at the origin, in a box around all its ink, its lines broken to `width` mm; a longer word
/// stands out. Each size is multiplied by `scale`, but stays at kSmallestSize or above.
[[nodiscard]] Frame laid_out(const Block& block, double width, double scale,
                             const TextMeasure& measure);

/// The boxes already taken on one drawing.
class LabelPlacer {
 public:
  /// `measure` must outlive the placer.
  explicit LabelPlacer(const TextMeasure& measure) : measure_(&measure) {}

  /// From now on nothing is placed over `box`.
  void take(const Box& box) { taken_.add(box); }
  /// Takes the segments of a path, kClearance around them included; curves by their control points.
  void take(const Path& path, double line_width);

  [[nodiscard]] bool is_free(const Box& box) const;
  /// The top left corner of the highest, then leftmost, free place for `width` x `height` mm.
  [[nodiscard]] std::optional<Point> first_free(const Box& region, double width,
                                                double height) const;

  /// Puts the top left corner of `text` on the first of `corners` where it is free, else does so at
  /// kSmallestSize. Takes the place. Empty where none is free.
  [[nodiscard]] std::optional<Text> put(const Text& text, const std::vector<Point>& corners);

  /// Puts `block` into the first of `regions` that has room, at full size, else at 9 pt, else at
  /// full size into `beside` (usually beside the drawing and without a lower end). Takes the place.
  /// Empty where there is no room at all.
  [[nodiscard]] std::optional<Frame> put(const Block& block, const std::vector<Box>& regions,
                                         const std::optional<Box>& beside);

 private:
  [[nodiscard]] std::optional<Frame> fitted(const Block& block, const Box& region,
                                            double scale) const;

  const TextMeasure* measure_;
  BoxGrid taken_;
};

}  // namespace pouchwright::ink
