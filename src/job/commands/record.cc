#include "job/commands/record.h"

#include <filesystem>
#include <utility>

#include "base/text.h"
#include "input/record.h"
#include "job/commands/commands.h"
#include "job/commands/schedule.h"
#include "job/report/reports.h"
#include "job/sheets.h"
#include "job/step_facts.h"
#include "tell/operations.h"
#include "tell/work.h"

namespace pouchwright::job {

namespace fs = std::filesystem;

namespace {

/// Unless --force says otherwise.
void keep_unless_forced(const Run& run, const fs::path& path) {
  if (!run.options().answers.overwrites && run.options().writing == Writing::disk) {
    keep_what_is_there(path);
  }
}

void add_name(const std::string& id, const std::string& name, Recorded& made) {
  if (made.names.emplace(id, name).second) made.works.push_back(id);
}

/// Minutes and names of all operations that a row may tell of.
void add_operations(const Run& run, const WorkPlan& plan, Recorded& made) {
  const int bundle = plan.line.bundles.front();
  for (const batch::Step& step : plan.line.steps) {
    for (const batch::StepOperation& one : step.operations) {
      const double each = one.each.in_minutes() + one.per_bundle.in_minutes() / bundle;
      made.planned.emplace(one.id, PlannedMinutes{one.kind, each});
      batch::Step alone;
      alone.operations = {one};
      add_name(one.id, tell::work_names({alone}, run.pouch(), run.words()).front().name, made);
    }
  }
  const tell::OperationWords said(run.pouch(), run.words());
  const auto& operations = run.pouch().construction().operations;
  for (std::size_t i = 0; i < operations.size(); ++i) {
    add_name(operations[i].id, said.name(i), made);
  }
}

input::RecordWords words_for(const Run& run, const Recorded& made) {
  input::RecordWords words{{}, run.pouch().request.units};
  for (const auto& [id, name] : made.names) words.operations.emplace_back(id, id);
  // Of two that are called alike the first in the order of their ids is meant.
  for (const auto& [id, name] : made.names) words.operations.emplace_back(name, id);
  return words;
}

std::vector<input::LoadedFile> files_of(const Run& run) {
  std::vector<input::LoadedFile> files;
  for (const std::string& text : run.options().record_texts) {
    files.push_back({"record.csv", text});
  }
  if (run.options().naming == Naming::names_only) return files;
  for (const std::string& path : run.options().records) {
    files.push_back(
        {path, read_whole(path, path, input::kMostRecordBytes, "record-cannot-read-hint")});
  }
  return files;
}

/// Of a day: rows of other jobs are theirs, those of none are told. A trial with the iron is all jobs'.
void keep_own_rows(const Run& run, batch::Record& record) {
  if (!run.called()) return;
  const std::string& title = run.called()->title;
  const std::vector<std::string>& all = run.called()->all;
  std::erase_if(record.rows, [&](const batch::RecordRow& row) {
    const std::string& make = row.of.make;
    if (make == title || (make.empty() && row.operation == batch::kTrialOperation)) return false;
    if (std::find(all.begin(), all.end(), make) == all.end()) {
      record.left_out.push_back({row.at, {"record-make-unknown", {{"make", make.substr(0, 60)}}}});
    }
    return true;
  });
}

/// All files together; on the desk there may be none yet. Fails: false after errors.
bool read_files(Run& run, Recorded& made) {
  const auto files = files_of(run);
  if (files.empty() && run.options().naming != Naming::names_only) {
    throw UsageFault{{"usage-no-record"}, {{"usage-no-record-hint"}}};
  }
  const input::RecordWords words = words_for(run, made);
  for (const input::LoadedFile& file : files) {
    auto read = input::read_record(file, words, run.diagnostics());
    if (!read) continue;
    auto& into = made.record;
    into.rows.insert(into.rows.end(), read->rows.begin(), read->rows.end());
    into.left_out.insert(into.left_out.end(), read->left_out.begin(), read->left_out.end());
    run.go_on();
  }
  keep_own_rows(run, made.record);
  return !run.diagnostics().has_errors();
}

std::optional<Recorded> recorded(Run& run) {
  const auto plans = cloth_plans(run);
  if (run.diagnostics().has_errors()) return std::nullopt;
  const auto plan = work_plan(run, plans, sewing_of(run));
  if (!plan) return std::nullopt;
  Recorded made;
  add_operations(run, *plan, made);
  if (!read_files(run, made)) return std::nullopt;
  made.found = batch::findings(made.record, {.pouches_a_bundle = plan->line.bundles.front(),
                                             .least_clear_seal = run.pouch().sizes.min_clear_seal});
  return made;
}

/// Where the job as recorded goes to.
fs::path copy_of_job(const JobOptions& options) {
  const fs::path job = options.job_file;
  return job.parent_path() / (job.stem().string() + "-recorded.toml");
}

bool wants_charts(const JobOptions& options) {
  return fs::path(options.out).extension() != ".toml";
}

bool wants_work_table(const JobOptions& options) {
  const bool is_copy = options.applies_record && fs::path(options.out) == copy_of_job(options);
  return !wants_charts(options) && !is_copy;
}

/// Adds the files that the options ask for. Fails: false after errors.
bool add_files(Run& run, const Recorded& recorded, Made& made) {
  const JobOptions& options = run.options();
  if (wants_work_table(options)) {
    keep_unless_forced(run, options.out);
    auto work = recorded_work(run, recorded);
    if (!work) return false;
    made.files.add(options.out, *std::move(work));
  }
  if (options.applies_record) {
    const fs::path copy = copy_of_job(options);
    keep_unless_forced(run, copy);
    made.files.add(copy, recorded_job(run, recorded));
  }
  return true;
}

}  // namespace

Answer record(Run& run) {
  auto made_of = recorded(run);
  if (!made_of) return run.job_wrong();
  Made made{record_report(*made_of, run.words()), {}, Made::Told::files};
  if (!add_files(run, *made_of, made)) return run.job_wrong();
  if (wants_charts(run.options())) {
    made.sheets = {"record", [&run, made_of = *std::move(made_of)](ink::Breaks breaks) {
                     constexpr double kEndless = 10'000;
                     ink::Point room = kSheetRoom;
                     if (breaks == ink::Breaks::none) room.y = kEndless;
                     return record_drawings(run, made_of, room);
                   }};
  }
  return made;
}

Answer record_of_day(Run& run, const Day& day) {
  const JobOptions& options = run.options();
  if (options.applies_record || fs::path(options.out).extension() == ".toml") {
    throw UsageFault{{"usage-record-of-day"}, {{"usage-no-day-hint"}}};
  }
  return each_make(run, day, record);
}

Answer record_form(Run& run) {
  const std::string head = input::record_head();
  Made made{Report{}, {}, Made::Told::files};
  made.report.field("head", head);
  const std::string& out = run.options().out;
  if (out.empty()) {
    made.report.write(head);
  } else {
    keep_unless_forced(run, out);
    made.files.add(out, head + "\n");
  }
  return made;
}

}  // namespace pouchwright::job
