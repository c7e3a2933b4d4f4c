/// A text as the square code that telephones read: a QR code of ISO/IEC 18004 with error correction
/// level M, in bytes.
///
///     if (const auto square = code_of("https://example.org/", kLargestVersion)) ...
///
/// The same text gives the same square.
#pragma once

#include <optional>
#include <string_view>

#include "ink/code_square.h"

namespace pouchwright::render {

/// A version is a size: version v has 17 + 4 v modules along each side; there are 40.
inline constexpr int kLargestVersion = 40;

/// The smallest square that holds `text`; empty where `largest` (1 to 40) is too small for it. What
/// is not ASCII is marked as UTF-8 (ECI 26): the standard takes bytes for ISO/IEC 8859-1 otherwise.
/// Requires: `text` is UTF-8, and not empty. Fails: throws std::bad_alloc.
[[nodiscard]] std::optional<ink::CodeSquare> code_of(std::string_view text, int largest);

}  // namespace pouchwright::render
