/// The most of everything that the program takes, for the help text and the manual page. The
/// numbers are the constants that the layers hold their values to.
#pragma once

#include <vector>

#include "base/voice.h"

namespace pouchwright::job {

/// A line each: `pouches: 2000`.
[[nodiscard]] std::vector<base::Message> limits();

}  // namespace pouchwright::job
