/// A drawing while it is made: lines go in and their ink is kept free of words; words go where room
/// is left.
///
///     Sheet sheet(words, measure);
///     sheet.draw(Group::cut, rectangle({0, 0, 204, 380}), kCutStroke, "panel");
///     sheet.put(label(sheet.say("drawing-template"), kTextSize), {{10, 10}, {10, 20}});
///
/// For drawings at full size. Not for pages to read (see flow.h).
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/length.h"
#include "base/voice.h"
#include "ink/labels.h"
#include "ink/scene.h"

namespace pouchwright::ink {

/// The lines of the full-size drawings: what is cut is the heaviest, then what is folded, fused and
/// marked, then what is sewn and measured. No two of a drawing share both pattern and width. ISO
/// 128-24 has 04.2 (long-dashed dotted wide) for limits of a treatment, here of the iron's.
inline constexpr Stroke kCutStroke{LinePattern::continuous, 0.5};
inline constexpr Stroke kFoldStroke{LinePattern::long_dash_double_dot, 0.35};
/// The edge of a half pattern that lies on the fold of the cloth.
inline constexpr Stroke kClothFoldStroke{LinePattern::long_dash_double_dot, 0.5};
inline constexpr Stroke kSeamStroke{LinePattern::dashed, 0.18};
inline constexpr Stroke kSealStroke{LinePattern::long_dash_dot, 0.35};
inline constexpr Stroke kNeedleStroke{LinePattern::dotted, 0.35};
inline constexpr Stroke kCentreStroke{LinePattern::long_dash_dot, 0.18};
inline constexpr Stroke kGrainStroke{LinePattern::continuous, 0.35};
/// An outer that is smaller than its panel.
inline constexpr Stroke kSmallOuterStroke{LinePattern::dashed, 0.35};
/// Where an attachment sits.
inline constexpr Stroke kMarkStroke{LinePattern::continuous, 0.35};
inline constexpr Stroke kTickStroke{LinePattern::continuous, 1.0};
inline constexpr Stroke kGhostStroke{LinePattern::dotted, 0.35};
inline constexpr Stroke kHatchStroke{LinePattern::continuous, 0.18};
inline constexpr double kHatchSpacing = 8;
/// Headings within a drawing: 14 pt.
inline constexpr double kHeadingSize = 14 * 25.4 / 72;
/// White around a drawing, mm.
inline constexpr double kWhiteAround = 4;

/// Where the pages of drawings are joined: by a drawing's name, strips in its millimetres that no
/// words should lie on.
using Joins = std::map<std::string, std::vector<Box>>;
[[nodiscard]] std::vector<Box> joins_of(const Joins& joins, const std::string& drawing);

class Sheet {
 public:
  /// `measure` must outlive the sheet. No words that are put lie on one of `joins`.
  Sheet(const base::Voice& words, const TextMeasure& measure, std::vector<Box> joins = {})
      : words_(words), measure_(&measure), placer_(measure), joins_(std::move(joins)) {
    for (const Box& join : joins_) placer_.take(join);
  }

  [[nodiscard]] std::string say(const base::Message& message) const { return words_.say(message); }
  [[nodiscard]] const base::Voice& words() const { return words_; }
  [[nodiscard]] const TextMeasure& measure() const { return *measure_; }
  [[nodiscard]] const std::vector<Box>& joins() const { return joins_; }
  /// Does a join of pages run through the box?
  [[nodiscard]] bool is_cut(const Box& box) const;
  /// From now on no words are put over `box`.
  void keep_free(const Box& box) { placer_.take(box); }

  /// Draws a line that no words may cross.
  void draw(Group group, Path path, Stroke stroke, std::string name);
  /// Draws a line that words keep away from by other means (a hatch, a broken line).
  void draw_freely(Group group, Path path, Stroke stroke, std::string name);
  void fill(Group group, Path path, std::string name);
  /// Draws words that stand where they stand, and takes their place.
  void draw(const Text& text);

  /// As LabelPlacer::put, and draws it. True where there was room.
  bool put(const Text& text, const std::vector<Point>& corners);
  /// Where there are joins, a block that has no room between them is parted.
  bool put(const Block& block, const std::vector<Box>& regions, const std::optional<Box>& beside);

  /// The places of all words so far; a block is one place, its samples included.
  [[nodiscard]] const std::vector<Box>& word_boxes() const { return word_boxes_; }

  /// The drawing with its extent set, some white around the ink.
  [[nodiscard]] Drawing finished(std::string name, std::string title) const;

 private:
  /// Draws a block where it was placed, if it was.
  bool draw(std::optional<Frame> placed);

  base::Voice words_;
  const TextMeasure* measure_;
  LabelPlacer placer_;
  std::vector<Box> joins_;
  Drawing drawing_;
  std::vector<Box> word_boxes_;
};

/// Millimetres on paper.
[[nodiscard]] inline double on_paper(base::Length length) { return length.in_mm(); }

/// `length` in the units of its job, all on one line.
[[nodiscard]] std::string kept_together(base::Length length, const base::Voice& voice);

[[nodiscard]] Row heading_row(std::string words, double space_before = 0);
[[nodiscard]] Text label(std::string words, double size, Weight weight = Weight::regular);

/// `words` at 9 pt, read from the right, about the upright line at `x` between `from` and `to`:
/// once in the middle, in long stretches again and again, so that every page has them; beside the
/// sheet's joins. Empty where the stretch is too short.
[[nodiscard]] std::vector<Text> words_along(const Sheet& sheet, const std::string& words, double x,
                                            double from, double to);

/// Columns for running text left and right of `centre`, if both are wide enough to read; else one.
/// No column is wider than a readable line, so that blocks stand below each other.
[[nodiscard]] std::vector<Box> columns(const Box& region, double centre);

/// Room for blocks beside a drawing that ends at `right`: a column without a lower end.
[[nodiscard]] Box room_beside(double right);
/// Adds corners for a line of words beside a drawing, each a little below the one before.
void add_places_below(std::vector<Point>& corners, Point first);

/// `first`, then all others in order: regions for a block that would best stand at `first`.
[[nodiscard]] std::vector<Box> beginning_at(const std::vector<Box>& regions, std::size_t first);

}  // namespace pouchwright::ink
