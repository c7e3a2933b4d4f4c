/// A report as text: JSON for machines, lines for people, comma-separated values.
///
///     std::cout << text(report.blocks, words);
///     const std::string file = csv(report.table, words);
///
/// Inside `job` only, but for what the desk shows of a report.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "base/voice.h"
#include "job/report/report.h"

namespace pouchwright::job {

using Json = nlohmann::ordered_json;

[[nodiscard]] Json json(const Cell& cell, const base::Voice& words);
/// Two blanks a level, a newline at the end. Bytes of the user's that are no UTF-8 are replaced.
[[nodiscard]] std::string json_text(const Json& json);
[[nodiscard]] std::string json_text(const Cell::Fields& fields, const base::Voice& words);

/// Each block as `{look, lines: [{kind, cells}]}`, its cells in words without blanks around them.
[[nodiscard]] Json said(const std::vector<Block>& blocks, const base::Voice& words);

/// Columns stand one below the other within a block; white lines stand between blocks and above
/// headings.
[[nodiscard]] std::string text(const std::vector<Block>& blocks, const base::Voice& words);

/// A line a row below the columns' names: lengths in millimetres, times in minutes with two
/// decimals, nothing where a row has no such field.
[[nodiscard]] std::string csv(const Table& table, const base::Voice& words);

}  // namespace pouchwright::job
