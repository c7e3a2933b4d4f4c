/// The command line: arguments to JobOptions, and the help texts. Nothing is computed here.
///
///     auto asked = read_arguments(argc, argv, words);
///     if (asked.options) outcome = job::run_job(*asked.options);
#pragma once

#include <optional>
#include <string>

#include "diag/words.h"
#include "job/job.h"

namespace pouchwright::cli {

/// Either options to run, or something to print and the status to leave with.
struct Asked {
  std::optional<job::JobOptions> options;
  job::Outcome answer;
};

[[nodiscard]] Asked read_arguments(int argc, const char* const* argv, const diag::Words& words);

}  // namespace pouchwright::cli
