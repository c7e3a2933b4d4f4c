/// What other layers ask of a finished pouch: facts that follow from its operations and its parts.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "pouch/pouch.h"

namespace pouchwright::pouch {

/// Is the span a wall of a compartment, not a flap or a lining?
[[nodiscard]] bool is_wall(const Pouch& pouch, SpanId span);

/// What people call a fold: the one that the flap turns about; the one that the pouch stands on,
/// where there is a single one. All others are called by what lies on either side.
enum class FoldRole { bottom, flap, other };
[[nodiscard]] FoldRole role_of(const Pouch& pouch, std::size_t panel, const FoldLine& fold);

/// What keeps a pouch shut besides its folds, and whether it sits on a strap.
struct Closure {
  AttachmentKind kind{};
  bool on_straps = false;
};

/// The first snap or tape that the job fixes; nothing where it fixes none.
[[nodiscard]] std::optional<Closure> closure_of(const Pouch& pouch);

/// True where an end finish stitches a line of its own.
[[nodiscard]] bool has_needle_line(const EndFinish& finish);

/// A notch is never longer than this, nor than half the seam allowance: a snip that reaches the
/// clear seal leaks.
inline constexpr base::Length kLongestNotch = base::Length::whole_mm(3);
[[nodiscard]] base::Length notch_length(base::Length seam_allowance);

/// The seal width that leaves kGoodClearSeal in the worst case, where less is left: advice, which
/// decides nothing.
[[nodiscard]] std::optional<base::Length> seal_for_many_hands(const Pouch& pouch);

/// The operations that roll the mouth, in order; none where it is not rolled.
[[nodiscard]] std::vector<std::size_t> rolls_of(const Pouch& pouch);

/// How long the water stands in a first pouch before it is read: common practice, no source.
inline constexpr int kFirstFillMinutes = 2;

/// Is the flap caught in the seam of this operation? Only where it lies turned down by then.
[[nodiscard]] bool sews_flap(const Pouch& pouch, std::size_t seam);

/// The stage that tests the pouch; the last where the construction tests none.
[[nodiscard]] std::size_t tested_at(const Pouch& pouch);

/// How the fused bands can be pressed again once the pouch is sewn. Where something was folded after
/// the pressing and then sewn down, as a caught flap, no card goes back in: only a shield still
/// keeps the iron to the edges, laid on top of it all (common practice, no source).
enum class Mending { never, with_its_cards, under_shield };
[[nodiscard]] Mending mending_of(const Pouch& pouch);

/// The operation that a stage comes after.
[[nodiscard]] const Operation& operation_at(const Pouch& pouch, std::size_t stage);

/// The last stage before the test, or the test itself, that does so.
[[nodiscard]] std::optional<std::size_t> last_before_test(const Pouch& pouch, Action action);

/// How long the water stays in at the least where no table of work says: common practice, no source.
inline constexpr int kTestMinutes = 5;

}  // namespace pouchwright::pouch
