/// The finished pouch as a page on a screen shows it: a picture without words, and where on it the
/// sizes and parts are, so that they can be taken hold of.
///
///     const PlacedPouch shown = placed_pouch(pouch, {120, 96}, words, measure);
///
/// All points are of the picture, from its top left corner, in its mm. Not for paper (finished.h).
#pragma once

#include <string>
#include <vector>

#include "base/voice.h"
#include "draw/with_ink.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// What is told besides the sizes, and follows from them.
inline constexpr const char* kWaterLine = "water_line";

/// A size between two points; it is said beside them, in the direction `out` (of length 1). Taking
/// hold of `to` changes it.
struct PlacedSize {
  std::string name;  ///< of the size, as `width`, or kWaterLine
  Point from, to, out;
  base::Length size;
  double mm_for_each = 0;  ///< mm of cloth for a mm of the picture along it
};

/// A part of the pouch as it is seen.
struct PlacedPart {
  enum class What { front, seal, seam, flap, opening, liners, water };

  What what = What::front;
  std::vector<std::vector<Point>> outlines;
};

struct PlacedPouch {
  Drawing drawing;
  std::vector<PlacedSize> sizes;
  std::vector<PlacedPart> parts;
};

/// Open, its liners half in; as open_view() has it.
[[nodiscard]] PlacedPouch placed_pouch(const pouch::Pouch& pouch, Point room,
                                       const base::Voice& words, const TextMeasure& measure);

}  // namespace pouchwright::draw
