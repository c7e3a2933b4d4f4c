#include "ink/code_square.h"

#include <utility>

namespace pouchwright::ink {

namespace {

/// Dark modules side by side are one rectangle: a seam between two would print as a light hair.
void append_row(Path& path, const CodeSquare& square, int y, double module) {
  const auto at = [module](int modules) { return (modules + kQuietZone) * module; };
  for (int x = 0; x < square.modules; ++x) {
    if (!square.is_dark(x, y)) continue;
    const int from = x;
    while (x + 1 < square.modules && square.is_dark(x + 1, y)) ++x;
    append(path, rectangle({at(from), at(y), at(x + 1), at(y + 1)}));
  }
}

}  // namespace

Frame code_frame(const CodeSquare& square, double module) {
  Path path;
  for (int y = 0; y < square.modules; ++y) append_row(path, square, y, module);
  const double side = (square.modules + 2 * kQuietZone) * module;
  Frame made{.items = {}, .box = {0, 0, side, side}};
  // One path: rows that meet are filled together.
  made.items.emplace_back(
      Shape{.path = std::move(path), .stroke = std::nullopt, .fill = Fill::solid, .name = "code"});
  return made;
}

}  // namespace pouchwright::ink
