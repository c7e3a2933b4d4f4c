/// A square of dark and light modules that a camera reads, and its picture.
///
///     page.place(code_frame(square, 0.7), {0, 20});
///
/// Not for how a text becomes such a square (see render/code.h).
#pragma once

#include <cstddef>
#include <vector>

#include "ink/frame.h"

namespace pouchwright::ink {

struct CodeSquare {
  int modules = 0;         ///< along each side, without the quiet zone
  std::vector<bool> dark;  ///< modules × modules, row by row from the top left

  /// Requires: 0 <= x, y < modules.
  [[nodiscard]] bool is_dark(int x, int y) const {
    return dark[static_cast<std::size_t>(y) * static_cast<std::size_t>(modules) +
                static_cast<std::size_t>(x)];
  }
  bool operator==(const CodeSquare&) const = default;
};

/// White on each side, in modules, as ISO/IEC 18004 asks for.
inline constexpr int kQuietZone = 4;

/// The square with its quiet zone, from 0, 0; `module` mm is a module's side.
[[nodiscard]] Frame code_frame(const CodeSquare& square, double module);

}  // namespace pouchwright::ink
