/// The small pictures of shared/icons.toml.
///
///     const ink::Icons icons = read_icons({"icons.toml", text}, {"iron", "never"}, diagnostics);
#pragma once

#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "ink/icons.h"
#include "input/node.h"

namespace pouchwright::input {

/// The pictures called `names`; one that is missing, and one of another name, is an error.
[[nodiscard]] ink::Icons read_icons(const LoadedFile& file,
                                    const std::vector<std::string_view>& names,
                                    base::Diagnostics& diagnostics);

}  // namespace pouchwright::input
