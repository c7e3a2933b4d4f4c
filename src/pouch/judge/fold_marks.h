/// The sizes of a pouch whose panel is cut and folded at lines that somebody names: each span is
/// known, and the sizes follow from the sums that the construction states for them.
///
///     const auto values = values_from_folds(request, stated_values(request), diagnostics);
///
/// Not for a panel whose folds are to be found (see sizes.h).
#pragma once

#include <optional>

#include "base/diagnostic.h"
#include "pouch/judge/sizes.h"
#include "pouch/request.h"

namespace pouchwright::pouch {

/// `values` with the width, and every size that the folds decide, in place of what is there.
/// Requires: the request has a panel with folds.
/// Fails: empty after an error where the folds are not in order or not one for each line, or where
/// two spans ask for different sizes.
[[nodiscard]] std::optional<Values> values_from_folds(const Request& request, Values values,
                                                      base::Diagnostics& diagnostics);

}  // namespace pouchwright::pouch
