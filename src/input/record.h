/// A group's record, as comma-separated values with a head: any order of columns, comma or semicolon,
/// decimal point or comma.
///
///     const Record record = *read_record({"march.csv", text}, terms, diagnostics);
///     record.left_out   // rows that say nothing sure, each with its line and why
///
/// Not for what follows from it (batch/record/findings.h).
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/diagnostic.h"
#include "base/length.h"
#include "batch/record/record.h"
#include "input/node.h"

namespace pouchwright::input {

/// A record is at most this large.
inline constexpr std::size_t kMostRecordBytes = 16UL * 1024 * 1024;
/// One row tells of at most so many minutes, and so many pouches.
inline constexpr double kMostRecordMinutes = 10'000;
inline constexpr int kMostRecordPouches = 2000;

struct RecordWords {
  /// What a row may call an operation, and the operation; capitals are as good as small letters.
  std::vector<std::pair<std::string, std::string>> operations;
  base::Unit unit = base::Unit::mm;  ///< of bare numbers
};

/// The head of a record.
[[nodiscard]] std::string record_head();

/// Fails: empty after an error where the file is too large, has no letters, no column `operation` or
/// `bundle`, one of them twice, or only rows of another job. All else costs its row, or is a warning.
[[nodiscard]] std::optional<batch::Record> read_record(const LoadedFile& file,
                                                       const RecordWords& words,
                                                       base::Diagnostics& diagnostics);

}  // namespace pouchwright::input
