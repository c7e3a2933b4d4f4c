/// The wrapped content as a picture: the liners seen through the front, and the pouch cut through
/// the middle, with the cloth that goes round them.
///
///     auto pictures = content_picture(*pouch, words, measure, {190, 120});
///
/// Both views are to one scale, but not at full size: these carry no check square.
#pragma once

#include <vector>

#include "base/voice.h"
#include "draw/with_ink.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// Smaller than this, the words no longer keep clear of each other.
inline constexpr Point kLeastPictureRoom{120, 80};

/// Who names the pouch: the picture, or the page that it stands on?
enum class NamedBy { picture, page };

/// One drawing no larger than `room` (mm), or none where the job has no liners or none goes in.
/// Groups: `cut` the pouch, `fold` folds and lip, `seam` the seals' inner limits, `grain` liners,
/// `label` words and measures. Requires: room at least kLeastPictureRoom.
[[nodiscard]] std::vector<Drawing> content_picture(const pouch::Pouch& pouch,
                                                   const base::Voice& words,
                                                   const TextMeasure& measure, Point room,
                                                   NamedBy named_by = NamedBy::picture);

}  // namespace pouchwright::draw
