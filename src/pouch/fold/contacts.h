/// What lies film to film along the raw edges, and what of it an iron fuses.
///
/// Inside `pouch` only; callers outside use derive() in pouch.h.
#pragma once

#include <vector>

#include "pouch/fold/run.h"

namespace pouchwright::pouch {

/// A film contact along the sides between two distances from the raw side edge. Where all panels
/// are of one width there is one band, from the edge to the seal width.
struct EdgeMeeting {
  Meeting meeting;
  Interval from_edge;
};

/// The contacts of the side bands, narrower layers and outers in between considered; sorted by
/// height, then from the bottom up, then from the edge.
[[nodiscard]] std::vector<EdgeMeeting> edge_meetings(const Folded& folded, Length seal_width);

/// Corners where three layers of film meet: a contact ends where another of one of its layers
/// begins.
[[nodiscard]] std::vector<TestPoint> corners(const Folded& folded,
                                             const std::vector<Meeting>& meetings);

/// How many layers of panel the iron's heat passes before it reaches the contact, from the nearer
/// side that is pressed.
[[nodiscard]] std::size_t layers_to_iron(const Folded& folded, const Meeting& meeting,
                                         PressFrom from);
/// Through more layers than these the heat may not reach (common practice, no source).
inline constexpr std::size_t kIronLayers = 2;

}  // namespace pouchwright::pouch
