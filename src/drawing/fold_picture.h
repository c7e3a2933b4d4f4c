/// Pictures of the folded pouch: seen from above, and beside it cut through and seen from the side.
///
///     Drawing picture = fold_picture(*pouch, moment(*pouch, 0, 3), {80, 60}, words, measure);
///
/// The mouth is up. The side view is much thicker than the pouch, its top layer towards the plan
/// view. Not at full size (see cutting_template.h, cards.h).
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "diag/words.h"
#include "drawing/scene.h"
#include "pouch/pouch.h"

namespace pouchwright::drawing {

/// With words, or with pictures and numbers only.
enum class Wording { words, wordless };

/// A card of the pouch where it lies: on so many of the layers, under the rest.
struct LyingCard {
  const pouch::Card* card = nullptr;
  std::size_t layers_below = 0;
};

/// How the pouch lies once something has been done to it, and what that was.
struct FoldMoment {
  pouch::Folded folded;
  std::optional<pouch::Folded> before;  ///< how it lay, where something was turned
  bool outer = false;                   ///< an outer lies on the knit face
  std::vector<LyingCard> cards;         ///< of the pouch, which must outlive this
  /// Done one after the other, as indices into Construction::operations; marks show each.
  std::vector<std::size_t> operations;
  bool to_be_marked = false;  ///< it was only cut: show where its folds are marked
  bool clipped = false;       ///< the sides are held by clips
};

/// The main panel as it was cut.
[[nodiscard]] FoldMoment cut_panel(const pouch::Pouch& pouch);
/// From the stage `first` to the stage `last`, both done. Requires: first <= last < stages.size().
[[nodiscard]] FoldMoment moment(const pouch::Pouch& pouch, std::size_t first, std::size_t last);

struct PictureLook {
  double scale = 0.2;  ///< mm of paper for a mm of cloth
  Wording wording = Wording::words;
};

/// The picture with the left raw edge at x = 0 and the bottom at y = 0. The extent is its ink.
/// Groups: `cut` outlines, folds and ends seen from above, `fold` the layers of the side view and
/// folds to come, `seal` where to press, `seam` where to sew, `notch` the ticks, `label` the rest.
[[nodiscard]] Drawing fold_picture(const pouch::Pouch& pouch, const FoldMoment& moment,
                                   PictureLook look, const diag::Words& words,
                                   const TextMeasure& measure);

/// The largest picture within `room`, from its top left corner at 0, 0, some white around it.
[[nodiscard]] Drawing fold_picture(const pouch::Pouch& pouch, const FoldMoment& moment, Point room,
                                   const diag::Words& words, const TextMeasure& measure);

/// The finished pouch, for a list of constructions: 60 to 90 mm wide pictures are legible.
[[nodiscard]] Drawing finished_picture(const pouch::Pouch& pouch, Point room,
                                       const diag::Words& words, const TextMeasure& measure);

}  // namespace pouchwright::drawing
