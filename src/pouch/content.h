/// Liners to pouch and back: the content box, what it needs of a pouch, and how much a pouch takes.
///
/// Inside `pouch` only; callers outside use derive() in pouch.h.
#pragma once

#include <optional>

#include "pouch/pouch.h"
#include "pouch/sizes.h"

namespace pouchwright::pouch {

/// The box that N liners in c columns make: c·w wide, l long, ⌈N/c⌉·t thick.
struct ContentBox {
  Length width, length, height;
};
[[nodiscard]] ContentBox content_box(const Liners& liners, int count, int columns);

/// The sizes that carry `count` liners in `columns`, for those of width, depth and flap that
/// `values` leaves open; stated ones are kept.
[[nodiscard]] Values values_for(const Request& request, Values values, int count, int columns);

/// `values` completed so that the pouch carries the job's liners, by the number of columns that
/// needs the least cloth unless the job fixes it. Fails: empty after an error where no pouch under
/// 100 m carries them.
[[nodiscard]] std::optional<Values> values_from_liners(const Request& request, const Values& values,
                                                       diag::Diagnostics& diagnostics);

/// The largest count that the pouch takes, over all columns that the job allows, and the limits
/// that stop the next one.
[[nodiscard]] Capacity capacity_of(const Request& request, const Sizes& sizes);

/// The most liners that a job may name.
inline constexpr int kMostLiners = 1000;

}  // namespace pouchwright::pouch
