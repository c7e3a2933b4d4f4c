/// Rows of words in columns, with a box to tick before each.
///
///     const Table table{.rows = {{.cells = {"white thread", "120 m"}}}};
///     for (const Frame& row : rows_of(table, 190, measure)) flow.add(row);
#pragma once

#include <string>
#include <vector>

#include "ink/frame.h"

namespace pouchwright::ink {

/// Between rows that are read across: dots, which take a sixth of a line's toner.
inline constexpr Stroke kRowRule{LinePattern::specks, 0.25};

struct TableRow {
  std::vector<std::string> cells;  ///< as many in each row of a table
  bool has_box = true;             ///< to tick
  bool is_head = false;            ///< bold on a tint
};

struct Table {
  std::vector<TableRow> rows;
  double size = kSmallestSize;
};

/// A frame a row, `width` mm wide. All columns but the first are as wide as their widest words,
/// which end at its right edge, so that figures, which are all of one width, stand below each other;
/// the first has what is left, and its words are broken to that.
[[nodiscard]] std::vector<Frame> rows_of(const Table& table, double width,
                                         const TextMeasure& measure);

}  // namespace pouchwright::ink
