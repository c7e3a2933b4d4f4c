/// One letter as Unicode counts it.
#pragma once

#include <string_view>

namespace pouchwright::base {

/// The number in Unicode of one of letters(), see text.h. Requires: it is UTF-8.
[[nodiscard]] char32_t code_point(std::string_view letter);

}  // namespace pouchwright::base
