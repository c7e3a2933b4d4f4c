/// What a fold's picture adds to its view: where the turned part lay, and the way it goes.
///
/// Inside `draw` only; callers outside use picture.h.
#pragma once

#include <vector>

#include "draw/folds/marks.h"

namespace pouchwright::draw {

/// Where the parts lay, dotted: to go under the view.
[[nodiscard]] std::vector<Shape> places_before(const View& view,
                                               const std::vector<pouch::Turned>& parts,
                                               const pouch::Pouch& pouch);

/// An arrow beside the right edge from where what is turned lay to where it lands, about the fold:
/// action marks as in Agrawala et al. 2003. One comes down to a panel that is laid on.
void draw_way(Drawing& drawing, const FoldViews& views);

/// In the section: what was turned, dotted where it lay, and an arrow over the top of all (or
/// underneath) to where it lies now; not for several turns in one go, which a spiral shows.
void draw_turning_in_section(Drawing& drawing, const FoldViews& views, const pouch::Turned& part);

/// What the arrow takes beside the section, mm.
inline constexpr double kArrowBow = 7;
/// Does the moment's last fold land underneath?
[[nodiscard]] bool lands_underneath(const FoldViews& views);
/// Several turns in one go, as of a rolled mouth.
[[nodiscard]] bool turns_on(const FoldViews& views);

}  // namespace pouchwright::draw
