#include "job/job.h"

#include <filesystem>
#include <memory>
#include <new>
#include <utility>
#include <variant>

#include "base/diagnostic.h"
#include "job/command_table.h"
#include "job/commands/commands.h"
#include "job/day.h"
#include "job/documents.h"
#include "job/sheets.h"
#include "pouch/judge/own_card.h"
#include "pouch/judge/remnant.h"

namespace pouchwright::job {

namespace {

/// --remnant lays the pouch on a piece of cloth that is there.
Run::Change change_of(const Run& run) {
  if (!run.options().remnant) return {};
  const pouch::CutPanel remnant = remnant_of(run);
  return [remnant](pouch::Request& request, base::Diagnostics& diagnostics) {
    request = pouch::from_remnant(request, remnant);
    pouch::fit_to_card(request, diagnostics);
  };
}

Outcome told(Run& run, Answer answer) {
  auto* made = std::get_if<Made>(&answer);
  if (made == nullptr) return std::get<Outcome>(std::move(answer));
  if (made->document) {
    // The run lasts until its files are made.
    add_document(made->files, *made->document, run.out_folder(),
                 {std::shared_ptr<const Run>(), &run});
  }
  if (made->bound) add_bound(run, *made);
  if (made->sheets) add_file_of_sheets(run, *made);
  return run.done(std::move(*made));
}

Outcome told_of_day(Run& run, const CommandRow& row) {
  if (row.of_day == OfDay::refused) {
    throw UsageFault{{"usage-no-day", {{"command", row.name}}}, {{"usage-no-day-hint"}}};
  }
  const auto day = read_day(run, change_of(run));
  if (!day) return run.job_wrong();
  if (row.of_day == OfDay::each) return told(run, each_make(run, *day, row.run));
  return told(run, row.run_day(run, *day));
}

Outcome dispatched(Run& run) {
  run.speak({});
  const CommandRow& row = row_of(run.options().command);
  if (row.goes_alone != nullptr && row.goes_alone(run.options())) {
    return told(run, row.alone(run));
  }
  if (row.needs == Needs::nothing) return told(run, row.run(run));
  if (input::is_day(run.job_file())) return told_of_day(run, row);
  if (row.needs == Needs::job && !run.read_job(change_of(run))) return run.job_wrong();
  return told(run, row.run(run));
}

/// For the one fault that cannot be told by the words: that they cannot be read.
std::string told_without_words(const base::Diagnostic& told) {
  std::string text = told.place.file.empty() ? "" : told.place.file + ": ";
  text += "error: pouchwright's own data cannot be read " +
          base::Voice(base::Words()).say(told.message) + "\n";
  text +=
      "hint: install pouchwright whole, or set POUCHWRIGHT_DATA to the folder that has patterns/";
  return text + "\n";
}

}  // namespace

Outcome refused(const base::Words& words, const std::exception& failure) {
  base::Diagnostic told;
  Status status = Status::our_bug;
  if (const auto* ours = dynamic_cast<const base::Failure*>(&failure)) {
    told = ours->diagnostic();
    status = Status::machine_refused;
  } else if (dynamic_cast<const std::filesystem::filesystem_error*>(&failure) ||
             dynamic_cast<const std::bad_alloc*>(&failure)) {
    told.message = {"machine-refused", {{"why", failure.what()}}};
    status = Status::machine_refused;
  } else {
    told.message = {"our-bug", {{"why", failure.what()}}};
  }
  if (words.empty()) return {status, "", told_without_words(told), {}};
  return {status, "", base::to_text(told, words, {}), {}};
}

Outcome run_job(const JobOptions& options, const Data& data) {
  Run run(options, data);
  try {
    return dispatched(run);
  } catch (const UsageFault& fault) {
    return run.usage_wrong(fault);
  } catch (const Stopped&) {
    return {Status::stopped, "", "", {}};
  } catch (const std::exception& failure) {
    return refused(data.words(), failure);
  }
}

}  // namespace pouchwright::job
