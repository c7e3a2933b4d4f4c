/// The files of page/, built into the program.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace pouchwright::desk {

/// The text of page/`name`. Requires: there is such a file.
[[nodiscard]] std::string_view asset(std::string_view name);

/// Names of all files of page/.
[[nodiscard]] const std::vector<std::string>& asset_names();

}  // namespace pouchwright::desk
