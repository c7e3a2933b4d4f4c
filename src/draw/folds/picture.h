/// Pictures of the folded pouch: a view of it as it lies before the reader, what is turned in the
/// air, and beside it, where that tells more, cut through and seen from the side.
///
///     Drawing picture = fold_picture(pouch, moment(pouch, 0, 3), Point{80, 60}, icons, words, measure);
///
/// The mouth is up. Both are much thicker than the pouch; the section's top layer is towards the
/// view. Not at full size (see template.h, cards.h).
#pragma once

#include "base/voice.h"
#include "draw/views/space.h"
#include "draw/with_ink.h"
#include "ink/icons.h"
#include "pouch/fold/moment.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// With words, or with pictures and numbers only.
enum class Wording { words, wordless };

struct PictureLook {
  double scale = 0.2;    ///< mm of paper for a mm of cloth
  double thickness = 1;  ///< of the layers in the side view, in parts of what is best
  Wording wording = Wording::words;
  ViewAngles angles = kViewAngles;  ///< other ones for tests
};

/// The picture with the left raw edge at x = 0 and the bottom at y = 0. The extent is its ink.
/// Groups: `cut` the view, in painter's order, `fold` the layers of the section, `seal` where to press, `seam` where to sew, `notch` the ticks, `label` the rest.
[[nodiscard]] Drawing fold_picture(const pouch::Pouch& pouch, const pouch::FoldMoment& moment,
                                   PictureLook look, const Icons& icons, const base::Voice& words,
                                   const TextMeasure& measure);

/// The largest picture within `room`, from its top left corner at 0, 0, some white around it.
[[nodiscard]] Drawing fold_picture(const pouch::Pouch& pouch, const pouch::FoldMoment& moment,
                                   Point room, const Icons& icons, const base::Voice& words,
                                   const TextMeasure& measure);

/// The finished pouch with all that was pressed and sewn, for a list of constructions: 60 to 90 mm
/// wide pictures are legible.
[[nodiscard]] Drawing finished_picture(const pouch::Pouch& pouch, Point room,
                                       const base::Voice& words, const TextMeasure& measure);

}  // namespace pouchwright::draw
