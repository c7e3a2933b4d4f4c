/// How a pouch lies at one moment of its making, and what was done to it just before.
///
///     const FoldMoment folded = moment(*pouch, 3, 4);  // stages 3 and 4 are shown in one picture
///
/// Not for what it looks like (see draw/folds/picture.h).
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "pouch/pouch.h"

namespace pouchwright::pouch {

/// A card where it lies: on so many of the layers, under the rest.
struct LyingCard {
  std::size_t card = 0;  ///< index into Pouch::cards
  std::size_t layers_below = 0;
};

/// How the pouch lies once something has been done to it, and what that was.
struct FoldMoment {
  pouch::Folded folded;
  std::optional<pouch::Folded> before;  ///< how it lay, where something was turned
  bool outer = false;                   ///< an outer lies on the knit face
  bool outer_alone = false;             ///< only the outer is worked on, before it is paired
  std::vector<LyingCard> cards;         ///< from the lowest to the one on top
  /// Done one after the other, as indices into Construction::operations; marks show each.
  std::vector<std::size_t> operations;
  bool to_be_marked = false;  ///< it was only cut: show where its folds are marked
  bool clipped = false;       ///< the sides are held by clips
  bool finished = false;      ///< show all that was pressed and sewn
  bool straps_out = false;    ///< as it is used
};

/// A strap that is sewn down beside a side, as it lies on the folded pouch. `x` is from the left
/// raw edge: negative, or beyond the panel, where it stands out.
struct LyingStrap {
  std::size_t attachment = 0;
  pouch::Interval x, heights;
};
/// Which way their free ends lie: over the pouch while it is sewn, or out as they are used.
enum class StrapLies { inwards, outwards };
/// Those on panels that lie already.
[[nodiscard]] std::vector<LyingStrap> straps_at_sides(const pouch::Pouch& pouch,
                                                      const pouch::Folded& folded,
                                                      StrapLies free_ends);

/// The slip card that lies in a compartment at an operation, or is pulled out by it: the one for
/// the first pressing since it was laid in. Index into Pouch::cards; empty where nothing is
/// pressed.
[[nodiscard]] std::optional<std::size_t> slip_card_of(const pouch::Pouch& pouch,
                                                      std::size_t operation,
                                                      std::size_t compartment);

/// The main panel as it was cut.
[[nodiscard]] FoldMoment cut_panel(const pouch::Pouch& pouch);
/// From the stage `first` to the stage `last`, both done. Requires: first <= last < stages.size().
[[nodiscard]] FoldMoment moment(const pouch::Pouch& pouch, std::size_t first, std::size_t last);

/// The span as it lies; empty where its panel has not been laid yet.
[[nodiscard]] std::optional<pouch::Layer> lying(const pouch::Folded& folded, pouch::SpanId id);

/// Spans of one panel, one after the other, that were turned together: each as it lay.
using Turned = std::vector<pouch::Layer>;
/// What lies the other way up, in the order of the panels.
[[nodiscard]] std::vector<Turned> turned(const pouch::Folded& before, const pouch::Folded& after);

/// From the lowest to the highest. Requires: there are layers.
[[nodiscard]] pouch::Interval extent_of(const std::vector<pouch::Layer>& layers);
[[nodiscard]] base::Length middle(const pouch::Interval& heights);

}  // namespace pouchwright::pouch
