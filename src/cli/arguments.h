/// The command line: arguments to JobOptions, and the help texts. Nothing is computed here.
///
///     auto asked = read_arguments(argc, argv, words);
///     if (asked.options) outcome = job::run_job(*asked.options, data);
#pragma once

#include <optional>

#include "base/voice.h"
#include "desk/desk.h"
#include "job/job.h"

namespace pouchwright::cli {

/// Either options to run, or a desk to open, or something to print and the status to leave with.
struct Asked {
  std::optional<job::JobOptions> options;
  job::Outcome answer;
  std::optional<desk::Settings> desk = std::nullopt;
};

[[nodiscard]] Asked read_arguments(int argc, const char* const* argv, const base::Voice& words);

}  // namespace pouchwright::cli
