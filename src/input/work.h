/// The work table: shared/work.toml, or a file of a group's own that a job names.
///
///     auto table = read_work({"shared/work.toml", text}, diagnostics);
#pragma once

#include <optional>

#include "base/diagnostic.h"
#include "batch/work/steps.h"
#include "input/node.h"

namespace pouchwright::input {

/// A kind of work takes at most so many minutes, in each of its parts.
inline constexpr double kMostMinutes = 600;

/// Fails: empty after errors, each at its place: unknown keys, minutes below 0 or above
/// kMostMinutes, a stitch without a speed, a `then` that is no kind or goes on itself, no `cut`.
[[nodiscard]] std::optional<batch::WorkTable> read_work(const LoadedFile& file,
                                                        base::Diagnostics& diagnostics);

}  // namespace pouchwright::input
