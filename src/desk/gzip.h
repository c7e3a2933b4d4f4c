/// Answers made smaller for their way to the browser, as RFC 1952 has it; the same for the same bytes.
#pragma once

#include <string>
#include <string_view>

#include "desk/answer.h"

namespace pouchwright::desk {

/// Fails: throws std::bad_alloc.
[[nodiscard]] std::string gzipped(std::string_view bytes);

/// The same answer smaller, where that is worth it.
void shrink(Answer& answer);

}  // namespace pouchwright::desk
