/// The command line: arguments to JobOptions, and the help texts. Nothing is computed here.
///
///     auto asked = read_arguments(argc, argv, words);
///     if (asked.options) outcome = job::run_job(*asked.options, data);
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/words.h"
#include "desk/desk.h"
#include "job/job.h"

namespace pouchwright::cli {

/// Either options to run, or a desk to open, or something to print and the status to leave with.
struct Asked {
  std::optional<job::JobOptions> options;
  job::Outcome answer;
  std::optional<desk::Settings> desk = std::nullopt;
};

[[nodiscard]] Asked read_arguments(int argc, const char* const* argv, const base::Words& words);

/// An option as `--help` shows it.
struct OptionHelp {
  std::vector<std::string> names;    ///< `-o`, `--out`
  std::string value;                 ///< what follows it: `PATH`, `mm|in`; empty for a flag
  std::vector<std::string> choices;  ///< `mm`, `in`; empty where anything may follow
  std::string text;

  bool operator==(const OptionHelp&) const = default;
};

struct CommandHelp {
  std::string name, text, example;
  std::string job;                    ///< `JOB.toml`, empty where the command takes none
  std::vector<std::string> subjects;  ///< what may follow instead of a job: `materials`
  std::vector<OptionHelp> operands;   ///< what follows without a dash, as `JOB.toml`
  std::vector<OptionHelp> options;
};

/// All that `--help` tells, for the manual page and the shell's completion.
struct Help {
  std::string text, example;
  std::vector<OptionHelp> options;  ///< without a command: `--version`
  std::vector<CommandHelp> commands;
};

[[nodiscard]] Help help(const base::Words& words);

}  // namespace pouchwright::cli
