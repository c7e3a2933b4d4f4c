/// The files of page/, built into the program.
#pragma once

#include <string_view>

namespace pouchwright::desk {

/// The text of page/`name`. Requires: there is such a file.
[[nodiscard]] std::string_view asset(std::string_view name);

}  // namespace pouchwright::desk
