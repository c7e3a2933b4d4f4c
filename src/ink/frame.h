/// Items that are put on a page as one: a picture, a block of words, a row of a table.
///
///     Frame frame{.box = {0, 0, 90, 6}};
///     frame.draw(line({0, 3}, {90, 3}), {});
///     page.place(frame, {10, 20});
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "ink/scene.h"

namespace pouchwright::ink {

/// From baseline to baseline of words of `size`: the same wherever they stand, so that lines side by
/// side keep their height. A fifth of white (common practice, no source).
[[nodiscard]] constexpr double line_distance(double size) { return 1.2 * size; }

/// How running words stand: `step` mm from baseline to baseline.
struct Lines {
  double step = 0;
  Weight weight = Weight::regular;
  double size = kSmallestSize;
  Anchor anchor = Anchor::start;
  Role role = Role::by_size;
};
/// A sheet's title.
inline constexpr Lines kTitleLines{
    .step = line_distance(kTitleSize), .weight = Weight::bold, .size = kTitleSize};

/// Items and the room they take, in places of their own, most often from 0, 0 to the right and
/// down. Never broken.
struct Frame {
  std::vector<Item> items;
  Box box;
  bool is_heading = false;  ///< never the last on a page

  /// Adds a line. Default: of Group::label, without a name.
  void draw(Path path, Stroke stroke);
  void draw(Group group, Path path, Stroke stroke, const char* name);
  /// Adds words of Group::label.
  void write(std::string words, Point at, Anchor anchor = Anchor::start,
             Weight weight = Weight::regular, double size = kSmallestSize, int turn_deg = 0);
  /// Adds words from baseline `at`, broken to `width`; returns the baseline below the last line.
  double write_lines(std::string_view words, Point at, double width, const Lines& lines,
                     const TextMeasure& measure);
  /// Adds `other` with its 0, 0 at `at`; the box stays.
  void place(const Frame& other, Point at);
};

[[nodiscard]] Box moved(const Box& box, Point by);
[[nodiscard]] Text moved(Text text, Point by);
[[nodiscard]] Frame moved(Frame frame, Point by);

/// The frame as one picture: `words` say what it shows to whoever cannot see it.
[[nodiscard]] Frame as_figure(Frame frame, std::string words);

}  // namespace pouchwright::ink
