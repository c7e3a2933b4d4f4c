/// The running words of the cutting template: what the sheet is, what to cut, what its lines mean.
///
/// Inside `draw` only. Where the blocks stand is for template.cc to say.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/voice.h"
#include "draw/full_size/template.h"
#include "draw/with_ink.h"
#include "ink/labels.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// What it is, what is cut for each pouch, which face up and how it lies, the size.
[[nodiscard]] Block title_block(const pouch::Pouch& pouch, Pattern pattern,
                                const base::Voice& words);
/// Paper and card only, never a laser.
[[nodiscard]] Block caution_block(const base::Voice& words);
/// One row with a sample for every kind of line that the template of a panel has.
[[nodiscard]] Block legend(const pouch::Pouch& pouch, const pouch::CutPart& part, Pattern pattern,
                           const base::Voice& words);
/// The same of a further panel or a piece.
[[nodiscard]] Block part_block(const pouch::Pouch& pouch, const pouch::CutPart& part,
                               const base::Voice& words);
/// Where an attachment sits, and what it goes through.
[[nodiscard]] Block attachment_block(const pouch::Pouch& pouch, const pouch::CutPart& part,
                                     const pouch::Fixed& fixed, const base::Voice& words);

}  // namespace pouchwright::draw
