#include "job/commands/new.h"

#include <algorithm>
#include <optional>
#include <string>
#include <utility>

#include "job/commands/commands.h"
#include "job/commands/have.h"
#include "job/commands/interview.h"
#include "job/commands/new_day.h"
#include "job/commands/unlikely.h"
#include "job/documents.h"
#include "job/job_text/edited.h"
#include "job/job_text/starter.h"
#include "job/report/reports.h"

namespace pouchwright::job {

namespace fs = std::filesystem;

namespace {

constexpr const char* kUsualFile = "new-pouch.toml";
constexpr const char* kStandardOutput = "-";

/// Where the job goes; asked before anything else, so that nobody answers in vain.
std::string free_place(const Run& run) {
  const JobOptions& options = run.options();
  std::string out = options.out.empty() ? kUsualFile : options.out;
  if (out != kStandardOutput && !options.answers.overwrites) keep_what_is_there(out);
  return out;
}

/// The new job as `check` reads it.
JobOptions options_to_check(const Run& run, const std::string& out, const std::string& text) {
  JobOptions options;
  options.command = Command::check;
  options.job_file = out == kStandardOutput ? kUsualFile : out;
  options.job_text = text;
  options.form = run.options().form;
  options.talk = run.options().talk;
  options.writing = run.options().writing;
  return options;
}

/// As many pouches as the cloth yields that is there, one at least; told of besides.
std::string with_all_cloth(const std::string& text, const Run& run, const std::string& out,
                           std::optional<Yield>& made) {
  Run inner(options_to_check(run, out, text), run.data());
  if (!inner.read_job()) return text;
  made = yield_of(inner.pouch(), inner.settings(), inner.settings().lay.remnants);
  const std::string pouches = std::to_string(std::max(1, made->pouches));
  return edited(text, "batch.pouches", pouches).value_or(text);
}

/// Reads the new job, and writes it if nothing is wrong.
Outcome checked_and_written(const Run& run, const std::string& out, const Starter& starter) {
  const bool is_shown = out == kStandardOutput;
  std::string text = starter_text(starter, run.words());
  std::optional<Yield> yield;
  if (starter.takes_all_cloth) text = with_all_cloth(text, run, out, yield);
  Run inner(options_to_check(run, out, text), run.data());
  if (!inner.read_job()) return inner.job_wrong();
  if (!can_be_printed(inner, template_document(inner))) return inner.job_wrong();
  for (base::Message& odd : unlikely_sizes(inner.pouch())) {
    inner.diagnostics().warning(inner.pouch().request.place, std::move(odd),
                                {{"new-unlikely-hint"}});
  }
  Made made{size_report(inner.pouch(), inner.words()), {}, Made::Told::files};
  made.report.field("job", text);
  made.report.blocks.clear();
  if (is_shown) made.report.write(text.substr(0, text.find_last_not_of('\n') + 1));
  if (yield) made.report.field("have", yield_cell(*yield));
  if (yield && !is_shown) {
    made.report.begin();
    say_yield(made.report, *yield);
  }
  if (!is_shown) made.files.add(out, text);
  return inner.done(std::move(made));
}

}  // namespace

Answer new_job(Run& run) {
  if (!run.options().sets.empty()) {
    throw UsageFault{{"new-no-set"}, {{"new-no-set-hint"}}};
  }
  if (!run.options().answers.days.empty()) return new_day(run);
  const std::string out = free_place(run);
  return checked_and_written(run, out, interviewed(run));
}

}  // namespace pouchwright::job
