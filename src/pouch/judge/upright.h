/// Which way up a print stands on the outside of the made pouch. One piece of cloth has one way up,
/// so where a panel goes round the bottom, its front and its back cannot both stand upright.
///
///     for (const Standing& panel : standing_of(pouch)) tell(panel.upright, panel.on_head);
///
/// Folded, not looked up: whatever a construction does to its panels shows itself.
#pragma once

#include <cstddef>
#include <vector>

#include "pouch/pouch.h"

namespace pouchwright::pouch {

/// Of one panel, the spans that are seen from outside once the pouch is made.
struct Standing {
  std::size_t panel = 0;
  /// The end of the panel that the top of the print points to, so that its first wall stands
  /// upright.
  Edge top = Edge::end;
  std::vector<SpanId> upright;  ///< in order along the panel, as all of these
  std::vector<SpanId> on_head;
  bool walls_differ = false;  ///< is a wall of a compartment among those on their head?
};

/// Each panel of laminate (its outer lies on its outside) that shows at all. A wall counts as seen
/// where only a flap lies over it.
[[nodiscard]] std::vector<Standing> standing_of(const Pouch& pouch);

/// Does every wall stand upright, if each panel is cut as it should lie?
[[nodiscard]] bool takes_upright_print(const Pouch& pouch);

/// Does the cloth that is seen have a print that must stand upright?
[[nodiscard]] bool has_upright_print(const Request& request);

}  // namespace pouchwright::pouch
