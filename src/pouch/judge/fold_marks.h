/// The sizes of a panel that is cut and folded at lines that somebody names: each span is known,
/// and the sizes follow from the sums that the construction states for them.
///
///     values = values_from_folds(request, std::move(values), diagnostics);
///
/// Not for a cut panel whose folds are to be found: see sizes.h, which asks here.
#pragma once

#include <optional>

#include "base/diagnostic.h"
#include "pouch/judge/sizes.h"
#include "pouch/request.h"

namespace pouchwright::pouch {

/// `values` with every size that the folds decide in place of what is there. A size that the job
/// states holds, and so does one that the folds leave open.
/// Requires: the request has a panel with folds.
/// Fails: empty after an error where the folds are not in order, not one for each line, or where
/// two spans ask for different sizes.
[[nodiscard]] std::optional<Values> values_from_folds(const Request& request, Values values,
                                                      base::Diagnostics& diagnostics);

}  // namespace pouchwright::pouch
