/// Path data as SVG 1.1 writes it (W3C Recommendation, section 8.3), the part that small pictures
/// need: M, L, H, V, C and Z, absolute or, in small letters, from the last point.
///
///     const auto path = path_of("M0 0 H10 l0 5 z");
///
/// Not for S, Q, T and A.
#pragma once

#include <optional>
#include <string_view>

#include "ink/scene.h"

namespace pouchwright::ink {

/// Every subpath begins with a `move`, also where the data go on behind a Z.
/// Fails: empty where `data` do not follow the grammar, or hold another command.
[[nodiscard]] std::optional<Path> path_of(std::string_view data);

}  // namespace pouchwright::ink
