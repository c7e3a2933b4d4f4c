/// The finished pouch as a person sees it before them: closed, open with its liners half in, or
/// standing with water up to its line. For the overview, the cards that go home, the leak sheet.
///
///     Drawing hero = closed_view(pouch, {.room = {90, 70}, .sizes = true}, words, measure);
///
/// Each fits its room, from its top left corner at 0, 0, some white around it, and is all in the
/// groups `cut`, `seam` and `label`: what covers what stands in `cut`. Film is grey, an outer pale
/// and dotted, as in every view. Not at full size.
#pragma once

#include <functional>

#include "base/voice.h"
#include "draw/views/view.h"
#include "draw/with_ink.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

struct FinishedLook {
  Point room{90, 70};
  /// With dimension lines (ISO 129-1, from memory): finished width, depth and, where there is one,
  /// flap, in the job's units.
  bool sizes = false;
  ViewAngles angles = kViewAngles;  ///< of the closed and the open view
  bool held = true;                 ///< the straps of a rolled mouth are snapped together
  /// Draws what else is told of it, at each scale that is tried; the room holds that, too.
  std::function<void(Drawing&, const View&)> marks{};
};

/// As it is carried: flap down, or the mouth rolled and the straps out; its seams are seen, where
/// they are not too near to the edge for that.
[[nodiscard]] Drawing closed_view(const pouch::Pouch& pouch, const FinishedLook& look,
                                  const base::Voice& words, const TextMeasure& measure);

/// Its mouth open, a flap turned back, a pile of the job's liners half in; without liners none.
[[nodiscard]] Drawing open_view(const pouch::Pouch& pouch, const FinishedLook& look,
                                const base::Voice& words, const TextMeasure& measure);

/// Held upright with its mouth open, filled as for a test: a wavy line along the front and, with
/// `sizes`, how high above the bottom it stands, as tell::fill_read says it. Without seams.
[[nodiscard]] Drawing filled_view(const pouch::Pouch& pouch, const FinishedLook& look,
                                  const base::Voice& words, const TextMeasure& measure);

}  // namespace pouchwright::draw
