/// How a pouch's cloth goes round its content: which spans climb the front, lie under it as a
/// floor, climb the back and are rolled up, and what a box asks of each.
///
/// Inside `pouch` only; callers outside use content.h.
#pragma once

#include <vector>

#include "pouch/construction.h"
#include "pouch/judge/capacity.h"
#include "pouch/pouch.h"

namespace pouchwright::pouch {

/// The box that N liners in c columns make: c·w wide, l long, ⌈N/c⌉·t thick.
struct ContentBox {
  Length width, length, height;

  bool operator==(const ContentBox&) const = default;
};

/// The spans round the content of the first compartment, each group in the order of its film.
/// Nothing here knows a style by its name: the film's path from the lip is broken where the panel
/// is folded before the (last) pressing and where it passes to another panel. The first stretch is
/// the front, the last the back; what lies between them opens to the floor. Where the mouth is
/// rolled, the stretches are rolled but for their spans next to the bottom.
struct WrappedSpans {
  std::vector<SpanRef> front, floor, back;
  std::vector<SpanRef> rolled;  ///< of the front; the back's roll with them
  /// The front, or the back, is a panel of its own: what is sealed at its bottom holds nothing.
  bool front_is_sealed = false;
  bool back_is_sealed = false;
};
[[nodiscard]] WrappedSpans wrapped_spans(const Construction& construction);

/// The lengths that go round the content.
struct WrapLengths {
  Length inside;       ///< across, between the seals
  Length front, back;  ///< from the bottom (or the floor) up; without what is rolled
  Length floor;        ///< from front to back
  Length flap;
  Length lip_below;         ///< how far the lip lies below the flap fold
  Length rolled;            ///< 0 where nothing is rolled
  bool has_rolled = false;  ///< the construction has spans of their own for the roll
};
/// What a seal across the bottom takes of a panel's end.
[[nodiscard]] Length sealed_end(Length seal_width, Length needle_reach);
[[nodiscard]] WrapLengths wrap_lengths(const Construction& construction, const Sizes& sizes);

/// What a box asks of each of the lengths above; derived in wrap.cc. Lengths that are not asked for
/// are 0.
struct WrapNeeds {
  Length inside;  ///< across
  Length front;   ///< up the front
  Length back;    ///< up the back, of a rolled pouch up the front as well
  Length sheet;   ///< front, back and flap together
  Length flap;    ///< of a rolled pouch: the roll
};
[[nodiscard]] WrapNeeds wrap_needs(const ContentBox& box, const Liners& liners, FlapLaw law,
                                   const WrapLengths& lengths);

/// One length of a pouch that its content limits: what is there, and what it must be.
struct WrapLimit {
  CapacityLimit limit{};
  Length has, needs;
};
/// Every limit that `law` has, in the order of CapacityLimit.
[[nodiscard]] std::vector<WrapLimit> wrap_limits(const WrapLengths& lengths, const WrapNeeds& needs,
                                                 FlapLaw law);

}  // namespace pouchwright::pouch
