/// A job's TOML through reading, folding and drawing, as `check` and `size --json` do it. Lines
/// that begin with `--set ` are options, as on the command line. A job is done or wrong; the
/// machine is never at fault, and neither are we.

#include <memory>
#include <nlohmann/json.hpp>
#include <string>

#include "fuzz/fuzz.h"
#include "job/data.h"
#include "job/job.h"

namespace {

using namespace pouchwright;

job::JobOptions options_from(const std::string& input) {
  job::JobOptions options;
  options.job_file = "job.toml";
  options.naming = job::Naming::names_only;
  options.writing = job::Writing::kept;
  std::string job;
  std::istringstream lines(input);
  constexpr std::string_view kSet = "--set ";
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with(kSet)) {
      options.sets.push_back(line.substr(kSet.size()));
    } else {
      job += line + "\n";
    }
  }
  options.job_text = std::move(job);
  return options;
}

void hold_to_rules(const job::JobOptions& options, const job::Data& data) {
  const job::Outcome outcome = job::run_job(options, data);
  const bool is_wrong =
      outcome.status == job::Status::job_wrong || outcome.status == job::Status::usage_wrong;
  fuzz::hold(is_wrong || outcome.status == job::Status::done, "done or wrong: " + outcome.err);
  if (is_wrong) fuzz::hold(outcome.err.find("error: ") != std::string::npos, "a fault is told");
  if (options.form == job::Form::text || outcome.status == job::Status::usage_wrong) return;
  // RFC 8259; and design: exit code 1 exactly where there are errors.
  const auto report = nlohmann::json::parse(outcome.out, nullptr, false);
  fuzz::hold(!report.is_discarded(), "a report is JSON");
  fuzz::hold(report["errors"].empty() != is_wrong, "errors are reported where the job is wrong");
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const job::Data kData{std::filesystem::path(POUCHWRIGHT_SOURCE)};
  job::JobOptions options = options_from(fuzz::text_of(data, size));
  options.command = job::Command::check;
  hold_to_rules(options, kData);
  options.command = job::Command::size;
  options.form = job::Form::json;
  hold_to_rules(options, kData);
  return 0;
}
