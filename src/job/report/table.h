/// A table for people: rows of a name and a value, the values in one column, under headings.
///
///     TextTable table(words);
///     table.heading("size-water");
///     table.row("size-water-line", "140 mm");
///     std::string text = table.text();
///
/// Inside `job` only.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "base/voice.h"

namespace pouchwright::job {

class TextTable {
 public:
  /// `words` must outlive the table.
  explicit TextTable(const base::Voice& words) : words_(words) {}

  /// `key` is looked up.
  void row(const char* key, std::string value);
  void row(std::string name, std::string value);
  void heading(const char* key);

  [[nodiscard]] std::string text() const;

 private:
  base::Voice words_;
  std::vector<std::pair<std::string, std::string>> rows_;
};

}  // namespace pouchwright::job
