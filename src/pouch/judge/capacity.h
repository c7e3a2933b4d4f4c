/// What liners make of a pouch and a pouch of liners, as plain values: see content.h for how they
/// come about.
#pragma once

#include <optional>
#include <vector>

#include "base/length.h"
#include "base/named.h"

namespace pouchwright::pouch {

/// What may stop one more liner (judge/wrap.h has the laws). `across` the inside width, `front` the lip
/// above the content, `depth` the pinched mouth's corners, `round` the sheet all the way round,
/// `flap` what it covers while the pouch is empty.
enum class CapacityLimit { across, front, depth, round, flap };
inline constexpr base::Named<CapacityLimit> kLimitWords[] = {{CapacityLimit::across, "across"},
                                                             {CapacityLimit::front, "front"},
                                                             {CapacityLimit::depth, "depth"},
                                                             {CapacityLimit::round, "round"},
                                                             {CapacityLimit::flap, "flap"}};

/// One limit in numbers: what the pouch has, what it needs for the liners that it takes, and for
/// one more.
struct LimitState {
  CapacityLimit limit{};
  base::Length has;
  base::Length needs;       ///< for the capacity; for 1 liner where the capacity is 0
  base::Length needs_next;  ///< for one liner more, in the same number of columns

  /// By how much the pouch is too small for one more; 0 where this limit does not bind.
  [[nodiscard]] base::Length is_short_by() const {
    return needs_next > has ? needs_next - has : base::Length();
  }
};

/// How a liner lies: as the job gives it, or turned, its width along the depth.
enum class Lies { as_given, turned };

struct Capacity {
  int liners = 0;
  int columns = 0;
  Lies lies = Lies::as_given;
  std::vector<CapacityLimit> limited_by;  ///< those that one more would break
  std::vector<LimitState> limits;         ///< every limit that this kind of pouch has
  /// The thickest liner of which one more goes in; absent where none is thin enough.
  std::optional<base::Length> one_more_at;
  /// The thickest liner of which as many go in as now; absent where none does.
  std::optional<base::Length> one_fewer_above;
};

/// A pouch for the job's liners laid in so many columns.
struct Alternative {
  Lies lies = Lies::as_given;
  int columns = 0;
  int layers = 0;
  base::Length width, depth, flap;  ///< finished
  base::Length cut_width, cut_length;
  bool holds = false;   ///< false where sizes that the job states are too small for it
  bool chosen = false;  ///< exactly one of a list
};

}  // namespace pouchwright::pouch
