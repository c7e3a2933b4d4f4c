#include "input/csv.h"

#include <algorithm>
#include <optional>

#include "base/text.h"

namespace pouchwright::input {

namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

char separator_of(std::string_view text) {
  bool quoted = false;
  for (const char c : text) {
    if (c == '"') quoted = !quoted;
    if (quoted) continue;
    if (c == ';') return ';';
    if (c == '\n') break;
  }
  return ',';
}

class CsvReader {
 public:
  CsvReader(std::string_view text, char separator) : text_(text), separator_(separator) {}

  std::vector<CsvRow> rows() {
    std::vector<CsvRow> all;
    while (at_ < text_.size()) {
      CsvRow one = row();
      const bool has_letters = std::any_of(one.cells.begin(), one.cells.end(),
                                           [](const CsvCell& cell) { return !cell.text.empty(); });
      if (has_letters || one.is_torn) all.push_back(std::move(one));
    }
    return all;
  }

 private:
  [[nodiscard]] bool ends_here() const { return at_ >= text_.size() || text_[at_] == '\n'; }

  void pass() {
    const auto byte = static_cast<unsigned char>(text_[at_]);
    if (text_[at_] == '\n') {
      ++line_;
      column_ = 1;
    } else if ((byte & 0xC0U) != 0x80U) {  // no further byte of a letter
      ++column_;
    }
    ++at_;
  }

  CsvRow row() {
    CsvRow made{line_, {}, false};
    for (;;) {
      made.cells.push_back(cell(made));
      if (ends_here()) break;
      pass();  // the separator
    }
    if (at_ < text_.size()) pass();
    return made;
  }

  CsvCell cell(CsvRow& row) {
    while (!ends_here() && (text_[at_] == ' ' || text_[at_] == '\t')) pass();
    CsvCell made{{}, line_, column_, 0};
    if (!ends_here() && text_[at_] == '"') {
      if (const auto end = closing_quote()) {
        quoted(*end, made.text);
      } else {
        row.is_torn = true;
      }
    }
    // What follows a closed quote belongs to the cell; of a torn row nothing is asked for.
    while (!ends_here() && (row.is_torn || text_[at_] != separator_)) {
      made.text += text_[at_];
      pass();
    }
    made.text = base::trimmed(made.text);
    made.end_column = std::max(made.column + 1, column_);
    return made;
  }

  /// Of the quote at at_; quotes that are doubled stand for one.
  [[nodiscard]] std::optional<std::size_t> closing_quote() const {
    int lines = 1;
    for (std::size_t i = at_ + 1; i < text_.size(); ++i) {
      if (text_[i] == '\n' && ++lines > kMostLinesOfCell) return std::nullopt;
      if (text_[i] != '"') continue;
      if (i + 1 >= text_.size() || text_[i + 1] != '"') return i;
      ++i;
    }
    return std::nullopt;
  }

  void quoted(std::size_t end, std::string& into) {
    pass();
    while (at_ < end) {
      if (text_[at_] == '"') pass();  // the first of two
      into += text_[at_];
      pass();
    }
    pass();
  }

  std::string_view text_;
  char separator_;
  std::size_t at_ = 0;
  int line_ = 1;
  int column_ = 1;
};

}  // namespace

CsvFile read_csv(std::string_view text) {
  if (text.starts_with(kByteOrderMark)) text.remove_prefix(kByteOrderMark.size());
  CsvFile file;
  file.separator = separator_of(text);
  file.rows = CsvReader(text, file.separator).rows();
  return file;
}

}  // namespace pouchwright::input
