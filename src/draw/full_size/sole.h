/// Where an iron's sole lies on a pouch that is pressed under a shield, on the shield's paper.
///
///     const SolePlaces places = sole_places(sole, bands, {.x0 = 0, .y0 = shoulder, ...});
///     for (const Box& box : places.covered) ...
///
/// Pressing a side, the point looks to the opening edge and stops at the top bar, the heel hangs
/// over the bottom edge, and the outer long side lies on the raw edge or beyond it. Inside `draw`
/// only, for cards.cc; x across, y down, the mouth up.
#pragma once

#include <vector>

#include "batch/settings.h"
#include "draw/with_ink.h"

namespace pouchwright::draw {

struct SolePlaces {
  /// Together they hold every place that the sole may cover while it still covers its band.
  std::vector<Box> covered;
  /// Ahead of the point, where steam blows; without an upper end.
  std::vector<Box> steamed;
};

/// `bands` as they lie folded; `pouch` from raw edge to raw edge and from the top bar's lower edge
/// to the bottom.
[[nodiscard]] SolePlaces sole_places(const batch::IronSole& sole, const std::vector<Box>& bands,
                                     const Box& pouch);

/// The sole as it lies at the left side, its long side on the raw edge: a point above and straight
/// sides below. Only what lies inside `within`.
[[nodiscard]] Path sole_at_left(const batch::IronSole& sole, const Box& pouch, const Box& within);
/// Down to here, from the point, the sole grows wider.
[[nodiscard]] double taper_of(const batch::IronSole& sole);

}  // namespace pouchwright::draw
