/// The running words of the cutting template: what the sheet is, what to cut, how to mark it, what
/// its lines mean.
///
/// Inside `drawing` only. Where the blocks stand is for cutting_template.cc to say.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "diag/words.h"
#include "drawing/cutting_template.h"
#include "drawing/labels.h"
#include "pouch/pouch.h"

namespace pouchwright::drawing {

/// The job's title, or a plain word for a job without one.
[[nodiscard]] std::string title_of(const pouch::Pouch& pouch, const diag::Words& words);
/// What a span is called on paper: a construction's own names are shown with blanks for hyphens.
[[nodiscard]] std::string span_name(const std::string& name, const diag::Words& words);
/// What a panel, a piece or an attachment is called on paper; likewise.
[[nodiscard]] std::string part_name(const std::string& name, const diag::Words& words);
/// The key of what kind of thing is fixed: `construction-kind-snap`.
[[nodiscard]] const char* kind_key(pouch::AttachmentKind kind);
/// Is the span a wall of a compartment, not a flap or a lining?
[[nodiscard]] bool is_wall(const pouch::Pouch& pouch, std::string_view span);
/// What keeps a pouch shut besides its folds, and whether it sits on a strap.
struct Closure {
  pouch::AttachmentKind kind{};
  bool on_straps = false;
};
/// The first snap or tape that the job fixes; nothing where it fixes none.
[[nodiscard]] std::optional<Closure> closure_of(const pouch::Pouch& pouch);
/// The pockets that are to hold water, where the pouch has others besides; else nothing.
[[nodiscard]] std::string wet_pockets(const pouch::Pouch& pouch);
/// True where an end finish stitches a line of its own.
[[nodiscard]] bool has_needle_line(const pouch::EndFinish& finish);

/// Title, cut sizes, finished sizes, liners.
[[nodiscard]] Block title_block(const pouch::Pouch& pouch, Pattern pattern,
                                const diag::Words& words);
/// What to cut from which cloth, which face up and how it lies.
[[nodiscard]] Block cutting_block(const pouch::Pouch& pouch, const diag::Words& words);
/// Paper and card only, never a laser.
[[nodiscard]] Block caution_block(const diag::Words& words);
[[nodiscard]] Block marking_block(const diag::Words& words);
/// One row with a sample for every kind of line that the template of a panel has.
[[nodiscard]] Block legend(const pouch::Pouch& pouch, const pouch::CutPart& part, Pattern pattern,
                           const diag::Words& words);
/// What a further panel or a piece is: its name, cut size, how many, from which cloth.
[[nodiscard]] Block part_block(const pouch::Pouch& pouch, const pouch::CutPart& part,
                               const diag::Words& words);
/// Where an attachment sits, and what it goes through.
[[nodiscard]] Block attachment_block(const pouch::Pouch& pouch, const pouch::CutPart& part,
                                     const pouch::Fixed& fixed, const diag::Words& words);

}  // namespace pouchwright::drawing
