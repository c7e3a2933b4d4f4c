/// One run of a command: options in, files and text out. The command line and the desk both fill
/// JobOptions and call run_job; nothing else reads or writes a file.
///
///     Outcome outcome = run_job({.command = Command::size, .job_file = "pouch.toml"});
///     std::cout << outcome.out; std::cerr << outcome.err; return outcome.status;
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "diag/words.h"
#include "job/cloth_plans.h"

namespace pouchwright::job {

enum class Command { check, size, cutting_template, mask, savings, lay, list };

/// How much is said beside the results.
enum class Talk { normal, quiet };
/// What standard output holds.
enum class Form { text, json };
/// What a whole-canvas SVG holds: everything, or only what a cutting machine cuts and folds.
enum class Lines { all, cut_and_fold };
/// Are pictures written beside the documents?
enum class Previews { none, png };

/// The options of one run, as texts that are read together with the job.
struct JobOptions {
  Command command = Command::check;
  std::string job_file;
  std::vector<std::string> sets;              ///< "path=value", in order
  std::optional<std::string> liners;          ///< replaces liners.count
  std::optional<std::string> units;           ///< printing only
  std::optional<std::string> paper;           ///< replaces paper.size
  std::optional<std::string> printed_square;  ///< replaces paper.printed_square
  std::optional<std::string> tolerance;       ///< `savings`: how much a size may change; 10 mm
  std::optional<int> apply;                   ///< `savings`: write the job with this change, from 1
  QuickLay quick;                             ///< `lay` without a job: a cloth and pieces
  Lines lines = Lines::all;
  Previews previews = Previews::none;
  bool test_page = false;                     ///< `template`: only a page to measure a printer by
  std::string out;                            ///< folder; empty: the working folder
  Form form = Form::text;
  Talk talk = Talk::normal;
};

/// Exit codes of the program.
enum class Status { done = 0, job_wrong = 1, usage_wrong = 2, machine_refused = 3, our_bug = 70 };

struct Outcome {
  Status status = Status::done;
  std::string out;  ///< for standard output
  std::string err;  ///< for standard error
};

/// Runs one command. Never throws for a job or machine at fault: the outcome tells.
[[nodiscard]] Outcome run_job(const JobOptions& options);

/// The words of the program's own messages.
/// Fails: throws diag::Failure where the data folder or its words cannot be read.
[[nodiscard]] diag::Words load_words();

/// A machine's fault as an outcome, for those that catch it outside run_job.
[[nodiscard]] Outcome refused(const diag::Words& words, const std::exception& failure);

}  // namespace pouchwright::job
