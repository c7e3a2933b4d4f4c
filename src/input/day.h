/// A day file: which jobs are made together, how many of each, and what they share.
///
///     if (is_day(file)) {
///       auto day = read_day(file, diagnostics);
///       library.make = &day->makes[0];
///       auto settings = read_job(three_liners, overrides, units, library, diagnostics);
///     }
///
/// This layer reads no files: whoever calls it reads each make's job.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "base/length.h"
#include "input/node.h"

namespace pouchwright::input {

/// So many [[make]] tables a day may have: as many as a cut plan has kinds.
inline constexpr int kMostMakes = 20;

/// One job of a day.
struct Make {
  base::Placed<std::string> job;    ///< a path, from the day's folder
  std::optional<std::string> text;  ///< the job itself, which `job` then only names
  Node own;                         ///< laid over the job: its count, title, cloths, what it sets
  Node shared;                      ///< laid under the job: the day's tables
};

struct DayFile {
  std::string title;
  std::optional<base::Unit> units;      ///< how lengths print; absent: as in the first job
  std::optional<std::string> language;  ///< in whose words; absent: as in the first job
  std::vector<Make> makes;              ///< at least one
};

/// Does the file name jobs to make? One that is no TOML does not.
[[nodiscard]] bool is_day(const LoadedFile& file);

/// Who comes, how many machines there are and what they keep to is said once for all of them: the
/// day's own [batch] goes before the jobs' there. Of all else the job's own value wins. A job that is
/// named again, alike in all, is added to the first.
/// Fails: errors for a key that a day does not have, a make without a job, a count of none or too many,
/// a value to set that is a list of tables; all other makes are read. Empty where there is none, or the
/// file is no TOML.
[[nodiscard]] std::optional<DayFile> read_day(const LoadedFile& file, const Languages& languages,
                                              base::Diagnostics& diagnostics);

/// Another make of the day is the same pouch, whose first ones are filled.
void fill_no_first_pouch(Make& make);

}  // namespace pouchwright::input
