/// The check square of 50 mm, and for jobs in inches a bar of 2 in: measured between line centres, with no other ink within 1 mm
/// of their lines.
///
/// Where no place on the page is free, `gaps` are the strips in which the drawing must be
/// interrupted. Not for captions (see furniture.h).
#pragma once

#include <string>
#include <vector>

#include "ink/scene.h"
#include "paper/board.h"

namespace pouchwright::paper {

/// A check figure found its place: a square, or a line with end ticks.
struct Check {
  ink::Box box;  ///< between line centres; a line has no height or no width
  std::vector<ink::Box> gaps;
};

/// Other ink stays this far from a check figure's line centres, mm: 1 mm, half the line, and a
/// third of a millimetre for what measuring text and flattening curves may miss.
inline constexpr double kStandOff = 1.45;
inline constexpr double kCheckStroke = 0.25;

/// Finds the place with the least ink for a square of `size` (as it comes on the paper, correction
/// applied) and takes the strips around its lines, so that its inside can still be used. Outside of
/// `avoided` where it can be.
[[nodiscard]] Check placed_square(Board& board, ink::Point size,
                                  const std::vector<ink::Box>& avoided = {});
/// A line across or down, as long as `size` says for that direction. Without any extent if every
/// place is taken. Outside of `avoided` where it can be.
[[nodiscard]] Check placed_line(Board& board, ink::Point size,
                                const std::vector<ink::Box>& avoided = {});

[[nodiscard]] std::vector<ink::Item> drawn(const Check& check, const std::string& name);

}  // namespace pouchwright::paper
