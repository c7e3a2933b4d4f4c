/// Liners to pouch and back: which sizes carry them, and how many a pouch takes.
///
///     for (const Alternative& one : alternatives(request)) print(one.columns, one.cut_width);
///     Capacity with_towels = capacity_for(*pouch, towels);
///
/// What a box of liners asks of a pouch is in wrap.h.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "pouch/judge/sizes.h"
#include "pouch/judge/wrap.h"
#include "pouch/pouch.h"

namespace pouchwright::pouch {

[[nodiscard]] ContentBox content_box(const Liners& liners, int count, int columns,
                                     Lies lies = Lies::as_given);

/// The ways to lay the job's liners: for each number of layers the fewest columns, since more only
/// make the same box wider; fewest columns first. With `liners.columns` that one way. Empty without
/// a liner count, with a cut panel, and where no way comes out under 100 m. The liners lie as given;
/// where a width is stated that holds them in no such way, the ways with turned ones follow.
/// Chosen is what derive() takes: one that holds them and fits the cloth if there is any, of these
/// the one whose panel is smallest.
[[nodiscard]] std::vector<Alternative> alternatives(const Request& request);

/// Liners as they lie in the pouch: the job's count, or as many as it takes.
struct Packed {
  Lies lies = Lies::as_given;
  int liners = 0;
  int columns = 0;
  int layers = 0;
  ContentBox box;
  WrapLengths cloth;
  Length climb;  ///< what front and back cover of the thickness from below, each
};
/// As given where that holds them, in the fewest columns. Empty where not a single one goes in.
[[nodiscard]] std::optional<Packed> packed(const Pouch& pouch);

/// How many of other liners the pouch would take, by the same laws.
[[nodiscard]] Capacity capacity_for(const Pouch& pouch, const Liners& liners);

/// The size that opens the construction's floor, if there is exactly one that nothing else depends
/// on: a gusset. Liners decide it where the job does not.
[[nodiscard]] std::optional<std::string> floor_size(const Construction& construction);

/// Do liners decide this size where the job does not? Width, depth, flap and the floor's.
[[nodiscard]] bool follows_liners(const Construction& construction, const std::string& size_name);

// ---- Inside `pouch` only ------------------------------------------------------------------------

/// The sizes that carry `count` liners in `columns`, lying so, for those of width, depth, flap and floor size
/// that `values` leaves open, each rounded up to the job's ruler; stated ones are kept.
[[nodiscard]] Values values_for(const Request& request, Values values, int count, int columns,
                                Lies lies = Lies::as_given);

/// `values` completed so that the pouch carries the job's liners; see alternatives(). Where stated
/// sizes are too small whatever is done, the way that takes most. Fails: empty after an error where
/// no pouch under 100 m comes out.
[[nodiscard]] std::optional<Values> values_from_liners(const Request& request, const Values& values,
                                                       base::Diagnostics& diagnostics);

/// The largest count that the pouch takes, either way round and over all columns that the job
/// allows, the limits that stop the next one, and how thick a liner may be for one more or as many.
[[nodiscard]] Capacity capacity_of(const Request& request, const Sizes& sizes);

/// The stated sizes that are too small for the job's liners, and what each has to be at least. As
/// few as will do: the width alone, else another alone, else several together. Of a cut panel its
/// own width, or both its sides.
struct LeastSizes {
  std::vector<std::pair<std::string, Length>> sizes;  ///< by their names
  Length cut_width, cut_length;                       ///< of the panel that comes of it
};
/// Requires: a count of liners. Empty where no pouch under 100 m carries them.
[[nodiscard]] std::optional<LeastSizes> least_sizes(const Request& request);

}  // namespace pouchwright::pouch
