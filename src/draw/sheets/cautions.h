/// The cautions page: hot irons, steam, fumes, blades, soiled textiles, each short, with a sign beside
/// it; the sources of its figures at the end.
#pragma once

#include <vector>

#include "base/voice.h"
#include "batch/settings.h"
#include "draw/with_ink.h"
#include "ink/icons.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

struct CautionsSheet {
  pouch::Request request;
  bool has_place_to_hold = false;  ///< does a card say "hold here"?
};
[[nodiscard]] CautionsSheet cautions_of(const pouch::Pouch& pouch, const batch::IronSole& sole);

/// As many pages of `room` as it takes; one on A4 and Letter. Nothing is said of what the job has
/// not.
[[nodiscard]] std::vector<Drawing> cautions(const CautionsSheet& sheet, const Icons& icons,
                                            const base::Voice& words, const TextMeasure& measure,
                                            Point room);

}  // namespace pouchwright::draw
