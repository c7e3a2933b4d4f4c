#include "input/record.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <map>
#include <variant>

#include "base/number.h"
#include "base/text.h"
#include "input/csv.h"
#include "input/reader.h"

namespace pouchwright::input {

namespace {

using base::Message;
using batch::RecordRow;

constexpr std::array<std::string_view, 14> kColumns = {
    "date",  "make",  "bundle", "operation", "helper",  "minutes", "pouches",
    "leaks", "place", "dots",   "steam",     "seconds", "held",    "clear_seal"};
constexpr std::string_view kNote = "note";
/// A name of a person, a place or a day has at most so many letters.
constexpr std::size_t kMostName = 60;

std::vector<std::string> column_names() {
  std::vector<std::string> all(kColumns.begin(), kColumns.end());
  all.emplace_back(kNote);
  return all;
}

/// Letters only: no control characters, which a NUL or another file's bytes would bring.
bool is_readable(const std::string& text) {
  return base::is_drawable(text) && std::none_of(text.begin(), text.end(), [](char c) {
           const auto byte = static_cast<unsigned char>(c);
           return (byte < 0x20 && c != '\t' && c != '\n' && c != '\r') || byte == 0x7F;
         });
}

/// What is wrong with a row: thrown by nobody, kept by its reader until the row is done.
struct Fault {
  const CsvCell* cell = nullptr;
  Message why;
};

/// Reads the cells of one row by their column's name.
class RowReader {
 public:
  RowReader(const CsvRow& row, const std::map<std::string, std::size_t, std::less<>>& columns)
      : row_(row), columns_(columns) {}

  [[nodiscard]] const CsvCell* cell(std::string_view column) const {
    const auto at = columns_.find(column);
    if (at == columns_.end() || at->second >= row_.cells.size()) return nullptr;
    const CsvCell& found = row_.cells[at->second];
    return found.text.empty() ? nullptr : &found;
  }

  void wrong(const CsvCell* cell, Message why) {
    if (!fault_) fault_ = Fault{cell, std::move(why)};
  }
  [[nodiscard]] const std::optional<Fault>& fault() const { return fault_; }

  [[nodiscard]] std::string name(std::string_view column) {
    const CsvCell* found = cell(column);
    if (found == nullptr) return {};
    if (base::letter_count(found->text) > kMostName) {
      wrong(found, {"record-long-name", {{"most", kMostName}}});
    }
    return found->text;
  }

  std::optional<double> number(std::string_view column, double most) {
    const CsvCell* found = cell(column);
    if (found == nullptr) return std::nullopt;
    const auto read = base::read_decimal(found->text).value;
    if (!read) {
      wrong(found, {"record-no-number", {{"text", clipped(found->text)}}});
    } else if (*read < 0) {
      wrong(found, {"record-negative", {{"text", clipped(found->text)}}});
    } else if (*read > most) {
      wrong(found, {"record-too-many",
                    {{"text", clipped(found->text)}, {"most", base::shortened(most, 0)}}});
    }
    return read;
  }

  std::optional<int> whole(std::string_view column, int most) {
    const CsvCell* found = cell(column);
    if (found == nullptr) return std::nullopt;
    const auto read = number(column, most);
    if (!read || fault_) return std::nullopt;
    if (*read != static_cast<int>(*read)) {
      wrong(found, {"record-no-whole", {{"text", clipped(found->text)}}});
    }
    return static_cast<int>(*read);
  }

  std::optional<bool> truth(std::string_view column) {
    const CsvCell* found = cell(column);
    if (found == nullptr) return std::nullopt;
    const std::string said = base::lower(found->text);
    for (const char* yes : {"yes", "y", "true", "x", "1"}) {
      if (said == yes) return true;
    }
    for (const char* no : {"no", "n", "false", "0", "-"}) {
      if (said == no) return false;
    }
    wrong(found, {"record-no-truth", {{"text", clipped(found->text)}}});
    return std::nullopt;
  }

  std::optional<base::Length> length(std::string_view column, base::Unit unit) {
    const CsvCell* found = cell(column);
    if (found == nullptr) return std::nullopt;
    const auto read = base::read_length(found->text, unit);
    const auto* length = std::get_if<base::Length>(&read);
    if (length == nullptr || *length < base::Length() || *length > base::kLongest) {
      wrong(found, {"record-no-length", {{"text", clipped(found->text)}}});
      return std::nullopt;
    }
    return *length;
  }

 private:
  const CsvRow& row_;
  const std::map<std::string, std::size_t, std::less<>>& columns_;
  std::optional<Fault> fault_;
};

/// `2026-03-14`.
bool is_iso_date(std::string_view text) {
  constexpr std::size_t kLetters = 10;
  if (text.size() != kLetters) return false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool is_mark = i == 4 || i == 7;
    if (is_mark ? text[i] != '-' : text[i] < '0' || text[i] > '9') return false;
  }
  return true;
}

class RecordReader {
 public:
  RecordReader(const LoadedFile& file, const RecordWords& words, base::Diagnostics& diagnostics)
      : file_(file), unit_(words.unit), diagnostics_(diagnostics) {
    for (const auto& [called, id] : words.operations) {
      operations_.emplace(base::lower(called), id);
      names_.push_back(called);
    }
  }

  std::optional<batch::Record> read() {
    if (file_.text.size() > kMostRecordBytes) {
      fail({"record-file-too-large", {{"most", kMostRecordBytes / (1024UL * 1024)}}});
      return std::nullopt;
    }
    const CsvFile csv = read_csv(file_.text);
    if (csv.rows.empty()) {
      fail("record-empty");
      return std::nullopt;
    }
    if (!read_head(csv.rows.front())) return std::nullopt;
    for (std::size_t i = 1; i < csv.rows.size(); ++i) read_row(csv.rows[i]);
    if (made_.rows.empty() && unknown_ > 0) {
      fail("record-other-job");
      return std::nullopt;
    }
    if (other_date_) {
      diagnostics_.warning(*other_date_, {"record-date-form"}, {{"record-date-form-hint"}});
    }
    return std::move(made_);
  }

 private:
  [[nodiscard]] base::Place place_of(const CsvCell& cell) const {
    return {file_.name, cell.line, cell.column, cell.end_column};
  }
  void fail(Message message) {
    const std::string hint = message.key + "-hint";
    diagnostics_.error({file_.name, 0, 0, 0}, std::move(message), {Message(hint)});
  }

  bool read_head(const CsvRow& head) {
    bool good = true;
    const auto known = column_names();
    for (std::size_t i = 0; i < head.cells.size(); ++i) {
      const CsvCell& cell = head.cells[i];
      if (cell.text.empty()) continue;
      const std::string name = base::lower(cell.text);
      if (std::find(known.begin(), known.end(), name) == known.end()) {
        diagnostics_.warning(place_of(cell),
                             {"record-column-unknown", {{"text", shown(cell.text)}}},
                             {nearest_hint(shown(name), known)});
      } else if (!columns_.emplace(name, i).second) {
        diagnostics_.error(place_of(cell), {"record-column-twice", {{"column", name}}});
        good = false;
      }
    }
    cells_ = head.cells.size();
    for (const char* needed : {"bundle", "operation"}) {
      if (columns_.contains(needed)) continue;
      diagnostics_.error({file_.name, head.line, 0, 0},
                         {"record-column-missing", {{"column", needed}}},
                         {{"record-column-missing-hint", {{"head", record_head()}}}});
      good = false;
    }
    return good;
  }

  /// What is no readable text must not be shown.
  [[nodiscard]] static std::string shown(const std::string& text) {
    return is_readable(text) ? clipped(text) : "?";
  }

  /// What is wrong with the row before anything in it is read.
  [[nodiscard]] std::optional<Fault> unreadable(const CsvRow& row) const {
    if (row.is_torn) return Fault{&row.cells.back(), {"record-torn"}};
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
      const CsvCell& cell = row.cells[i];
      if (!is_readable(cell.text)) return Fault{&cell, {"record-no-letters"}};
      if (i >= cells_ && !cell.text.empty()) return Fault{&cell, {"record-more-cells"}};
    }
    return std::nullopt;
  }

  void read_row(const CsvRow& row) {
    if (const auto fault = unreadable(row)) return leave_out(row, *fault);
    RowReader reader(row, columns_);
    RecordRow made;
    made.at = {file_.name, row.line, 1, 2};
    read_common(reader, made);
    if (made.operation == batch::kTrialOperation) {
      read_trial(reader, made);
    } else if (!reader.cell("bundle")) {
      reader.wrong(nullptr, {"record-no-bundle"});
    }
    if (made.operation == batch::kTestOperation && !made.leaks) {
      reader.wrong(nullptr, {"record-no-leaks"});
    }
    if (reader.fault()) return leave_out(row, *reader.fault());
    if (!made.of.date.empty() && !is_iso_date(made.of.date) && !other_date_) {
      other_date_ = place_of(*reader.cell("date"));
    }
    made_.rows.push_back(std::move(made));
  }

  void read_common(RowReader& reader, RecordRow& made) {
    made.operation = operation_of(reader);
    made.of.date = reader.name("date");
    made.of.make = reader.name("make");
    made.of.bundle = reader.whole("bundle", kMostBundle).value_or(0);
    made.helper = reader.name("helper");
    made.minutes = reader.number("minutes", kMostRecordMinutes);
    made.pouches = reader.whole("pouches", kMostRecordPouches);
    made.leaks = reader.whole("leaks", kMostRecordPouches);
    made.place = reader.name("place");
    made.clear_seal = reader.length("clear_seal", unit_);
    if (const CsvCell* note = reader.cell(kNote)) made.note = clipped(note->text);
  }

  static void read_trial(RowReader& reader, RecordRow& made) {
    constexpr int kMostDots = 3;
    constexpr double kMostSeconds = 600;
    made.dots = reader.whole("dots", kMostDots);
    made.steam = reader.truth("steam").value_or(false);
    made.seconds = reader.number("seconds", kMostSeconds);
    made.held = reader.truth("held");
    if (!made.dots || *made.dots == 0 || !made.seconds || !made.held) {
      reader.wrong(nullptr, {"record-trial-lacks"});
    } else if (made.steam && *made.dots == 1) {
      reader.wrong(reader.cell("steam"), {"record-steam-at-one-dot"});  // ISO 3758
    }
  }

  std::string operation_of(RowReader& reader) {
    const CsvCell* cell = reader.cell("operation");
    if (cell == nullptr) {
      reader.wrong(nullptr, {"record-no-operation"});
      return {};
    }
    const std::string name = base::lower(cell->text);
    if (name == batch::kTestOperation || name == batch::kTrialOperation) return name;
    const auto found = operations_.find(name);
    if (found != operations_.end()) return found->second;
    ++unknown_;
    // Looking for the nearest takes long: the first few say it.
    constexpr int kMostHints = 20;
    const std::string near = unknown_ <= kMostHints ? base::nearest(name, names_) : "";
    reader.wrong(cell, near.empty()
                           ? Message{"record-operation-unknown", {{"text", clipped(cell->text)}}}
                           : Message{"record-operation-near",
                                     {{"text", clipped(cell->text)}, {"near", near}}});
    return {};
  }

  void leave_out(const CsvRow& row, const Fault& fault) {
    base::Place place{file_.name, row.line, 1, 2};
    if (fault.cell != nullptr) place = place_of(*fault.cell);
    made_.left_out.push_back({place, fault.why});
  }

  static constexpr int kMostBundle = 1'000'000;

  const LoadedFile& file_;
  base::Unit unit_;
  base::Diagnostics& diagnostics_;
  std::map<std::string, std::string> operations_;
  std::vector<std::string> names_;
  std::map<std::string, std::size_t, std::less<>> columns_;
  std::size_t cells_ = 0;
  int unknown_ = 0;
  std::optional<base::Place> other_date_;
  batch::Record made_;
};

}  // namespace

std::string record_head() { return base::list_text(column_names(), ","); }

std::optional<batch::Record> read_record(const LoadedFile& file, const RecordWords& words,
                                         base::Diagnostics& diagnostics) {
  return RecordReader(file, words, diagnostics).read();
}

}  // namespace pouchwright::input
