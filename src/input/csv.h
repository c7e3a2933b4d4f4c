/// Values with commas or semicolons between them (RFC 4180), every cell with its place.
///
///     const CsvFile file = read_csv(text);
///     file.rows.front().cells.front().text   // of the head, if there is one
///
/// A mark of byte order is passed over, and so are rows without letters. The separator is the
/// semicolon where the first row has one outside quotes, else the comma. Not for what cells mean.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace pouchwright::input {

struct CsvCell {
  std::string text;  ///< without its quotes, and without blanks around
  int line = 0;      ///< from 1
  int column = 0;    ///< of its first letter, from 1, in code points
  int end_column = 0;
};

struct CsvRow {
  int line = 0;
  std::vector<CsvCell> cells;
  /// A quote is opened and not closed within kMostLinesOfCell lines: the row ends with its line.
  bool is_torn = false;
};

struct CsvFile {
  char separator = ',';
  std::vector<CsvRow> rows;
};

/// A note may be written over so many lines.
inline constexpr int kMostLinesOfCell = 20;

/// Takes time linear in the text.
[[nodiscard]] CsvFile read_csv(std::string_view text);

}  // namespace pouchwright::input
