/// The lines of a cutting template, and how its part lies on paper.
///
///     const PartOnPaper part = part_on_paper(pouch, pouch.sizes.parts.front(), Pattern::half);
///     draw_lines(sheet, part);
///
/// Inside `draw/full_size` only, for template.cc.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/voice.h"
#include "draw/full_size/part_marks.h"
#include "draw/full_size/template.h"
#include "draw/with_ink.h"
#include "ink/canvas.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// White between a line and running text, mm.
inline constexpr double kInset = 2.5;

/// What its template shows of a part, in mm from the upper left corner of what is shown. The part's
/// start is at the lower edge, so that it lies as in the pictures of the steps. What it refers to
/// must outlive it.
struct PartOnPaper {
  const pouch::Pouch& pouch;
  const pouch::CutPart& part;
  Pattern pattern;
  pouch::FlatPanel flat;
  EndCorners corners;  ///< as they lie on the paper: `at_start` at the upper edge
  double width;        ///< of what is shown: the part, or half of it
  double length;       ///< of the part
  double inside_left;  ///< between these two no seam, band or needle of the sides lies
  double inside_right;

  [[nodiscard]] bool is_half() const { return pattern == Pattern::half; }
  /// Where a point of the part, so far from its left raw edge, lies across.
  [[nodiscard]] double across(base::Length x) const {
    return on_paper(x) - (on_paper(part.width) - width);
  }
  /// Where a point of the part, so far from its start, lies below the upper edge.
  [[nodiscard]] double down(base::Length y) const { return length - on_paper(y); }
};
[[nodiscard]] PartOnPaper part_on_paper(const pouch::Pouch& pouch, const pouch::CutPart& part,
                                        Pattern pattern);

/// All lines but the centre line, with the words that have their place at one: those of bands, of
/// the fold of the cloth and of the arrow.
void draw_lines(Sheet& sheet, const PartOnPaper& shown);

/// What stands at a fold of a panel: what it is called, and what lies on either side.
[[nodiscard]] std::string fold_label(const pouch::Pouch& pouch, std::size_t panel,
                                     const pouch::FoldLine& fold, const base::Voice& words);

/// Up to where the leak test fills, on the front of the pocket that holds water; empty on a part
/// that shows none of it.
[[nodiscard]] std::optional<base::Length> test_level_on(const PartOnPaper& shown,
                                                        const base::Voice& words);
/// From the longest down; of two alike the first.
[[nodiscard]] std::vector<pouch::Span> longest_spans(const pouch::FlatPanel& flat);

/// What is fixed to the part at the heights `fixed->y`.
struct Attached {
  const pouch::Fixed* fixed;
  std::vector<double> across;  ///< where: at one place or several
};
/// A half pattern keeps its half, and shows on it what lies on the other side alone: its words say
/// which side that is.
[[nodiscard]] std::vector<Attached> attachments_of(const PartOnPaper& shown);

}  // namespace pouchwright::draw
