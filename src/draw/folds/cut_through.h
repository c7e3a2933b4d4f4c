/// The cross-section of the folded layers: seen from the side, the bottom fold below and the top
/// layer on the left, much thicker than it is, so that each layer is seen.
///
///       flap | | | back        film: a heavy line; knit: a thin one beside it; outer: dashed
///           front
///
///     const Stack stack = stacked(stage.folded, {});
///     draw_section(drawing, stage.folded, stack, {.origin = {60, 80}, .scale = 0.2});
///
/// Inside `draw` only; callers outside use picture.h. Not for what lies across the panel (see
/// from_above.h).
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "draw/with_ink.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// A card as the cut meets it: between two folded heights, on so many of Folded::layers() and under
/// the rest.
struct CutCard {
  std::string name;
  pouch::Interval heights;
  std::size_t layers_below = 0;
};

/// A layer or card of the section. Level 0 lies on the table.
struct StackedLayer {
  std::optional<pouch::SpanId> id;  ///< absent: a card
  std::string name;
  pouch::Interval heights;
  std::size_t level = 0;
};

/// Bottom to top, in the order of Folded::layers().
struct Stack {
  std::vector<StackedLayer> layers;
  std::size_t levels = 0;

  /// Requires: the span lies in the stack.
  [[nodiscard]] const StackedLayer& of(pouch::SpanId id) const;
};

/// Every layer as low as it comes to lie, on all that is under it; spans that lie flat one after
/// the other are on one level.
[[nodiscard]] Stack stacked(const pouch::Folded& folded, const std::vector<CutCard>& cards);

/// True where the panel is folded between `before` and the next span.
[[nodiscard]] bool is_folded(const pouch::Folded& folded, pouch::SpanId before);

/// From one layer to the next, mm of paper.
inline constexpr double kSectionPitch = 3.8;
/// The distance of a layer's outermost lines from its middle, mm of paper.
inline constexpr double kTrack = 0.9;

struct SectionLook {
  Point origin;              ///< height 0, on the table
  double scale = 0.2;        ///< mm of paper for a mm of height
  bool outer = false;        ///< an outer lies on the knit faces
  bool outer_alone = false;  ///< only the outer lies there, before it is paired
  bool table = true;         ///< show what it lies on

  double thickness = 1;  ///< of layers, in parts of kSectionPitch

  [[nodiscard]] double pitch() const { return thickness * kSectionPitch; }
  [[nodiscard]] double track() const { return thickness * kTrack; }
  [[nodiscard]] double x(double level) const;
  [[nodiscard]] double y(base::Length height) const;
};

/// The table's hatch, right of the origin.
inline constexpr double kTableWidth = 1.6;
inline constexpr Stroke kFilmStroke{LinePattern::continuous, 0.7};
inline constexpr Stroke kKnitStroke{LinePattern::continuous, 0.18};
inline constexpr Stroke kOuterStroke{LinePattern::dashed, 0.25};
inline constexpr Stroke kSectionCardStroke{LinePattern::continuous, 0.25};

/// All ink of the stack: folds reach beyond the heights of their layers.
[[nodiscard]] Box section_box(const pouch::Folded& folded, const Stack& stack,
                              const SectionLook& look);

/// Shapes are called `film: NAME`, `knit: NAME`, `outer: NAME`, `card: NAME`; for a fold NAME is
/// `before / after`, and its line is a half circle.
void draw_section(Drawing& drawing, const pouch::Folded& folded, const Stack& stack,
                  const SectionLook& look);

/// Names at 9 pt beside the section, beginning at `x`, each with a thin line to its layer. `names`
/// are those of the layers of `stack` in its order; empty ones are left out.
void name_layers(Drawing& drawing, const Stack& stack, const SectionLook& look,
                 const std::vector<std::string>& names, double x, const TextMeasure& measure);

}  // namespace pouchwright::draw
