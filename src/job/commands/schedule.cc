#include "job/commands/schedule.h"

#include <algorithm>
#include <utility>

#include "base/number.h"
#include "batch/thread.h"
#include "batch/work/stretches.h"
#include "job/commands/commands.h"
#include "job/sheets.h"
#include "job/step_facts.h"
#include "render/text.h"

namespace pouchwright::job {

using batch::Station;
using batch::Time;

namespace {

std::vector<batch::ClothCuts> cloth_cuts(const std::vector<ClothPlan>& plans) {
  std::vector<batch::ClothCuts> cuts;
  for (const ClothPlan& cloth : plans) {
    int lines = cloth.plan.cloth.cuts_made;
    for (const lay::Lay& remnant : cloth.plan.remnants) lines += remnant.cuts_made;
    cuts.push_back({cloth.material, lines});
  }
  return cuts;
}

/// Machines that have to sew all stitches are not called sewing machines.
std::string key_of(const char* prefix, Station station, const WorkPlan& made) {
  const bool is_any = station == Station::machine && made.machines_overedge;
  return is_any ? prefix + std::string("any") : key_of(prefix, batch::kStationWords, station);
}

/// `iron 2`; hands have no number.
std::string station_name(const batch::Step& step, int station) {
  const std::string name = word_of(batch::kStationWords, step.station);
  return step.station == Station::hands ? name : name + " " + std::to_string(station + 1);
}

std::string bottleneck(const batch::Bound& bound) {
  switch (bound.because) {
    case batch::Bound::Because::helpers:
      return "helpers";
    case batch::Bound::Because::station:
      return word_of(batch::kStationWords, bound.station);
    case batch::Bound::Because::chain:
      break;
  }
  return "chain";
}

// ---- Report
// --------------------------------------------------------------------------------------

/// One operation of a task, in its share of the task's time. A step is worked piece by piece, so
/// the shares say how long, and the task from when to when.
struct Row {
  const batch::StepOperation* operation = nullptr;
  const batch::Task* task = nullptr;
  Time start{};
  Time end{};
  int pieces = 0;
};

/// By start, then helper.
std::vector<Row> rows(const WorkPlan& made) {
  std::vector<Row> all;
  for (const batch::Task& task : made.plan.tasks) {
    const int pieces = made.line.bundles[task.bundle];
    Time at = task.start;
    for (const auto& operation : made.line.steps[task.step].operations) {
      const Time end = at + operation.each * pieces + operation.per_bundle;
      all.push_back({&operation, &task, at, end, pieces});
      at = end;
    }
  }
  std::stable_sort(all.begin(), all.end(), [](const Row& a, const Row& b) {
    return std::pair(a.start, a.task->helper) < std::pair(b.start, b.task->helper);
  });
  return all;
}

/// Null for what no picture shows, as cutting.
Json picture(const WorkPlan& made, const batch::StepOperation& operation) {
  const auto found = made.pictures.find(operation.about);
  return found == made.pictures.end() ? Json() : Json(found->second);
}

Json tasks_report(const WorkPlan& made) {
  Json tasks = Json::array();
  for (const Row& row : rows(made)) {
    const batch::Step& step = made.line.steps[row.task->step];
    tasks.push_back({{"operation", row.operation->id},
                     {"station", station_name(step, row.task->station)},
                     {"helper", row.task->helper + 1},
                     {"start_min", row.start.in_minutes()},
                     {"end_min", row.end.in_minutes()},
                     {"pieces", row.pieces},
                     {"bundle", row.task->bundle + 1},
                     {"step", tell::step_letter(row.task->step)},
                     {"picture", picture(made, *row.operation)}});
  }
  return tasks;
}

Json steps_report(const WorkPlan& made) {
  Json all = Json::array();
  for (std::size_t i = 0; i < made.line.steps.size(); ++i) {
    const batch::Step& step = made.line.steps[i];
    Json operations = Json::array();
    for (const auto& operation : step.operations) {
      operations.push_back({{"operation", operation.id},
                            {"kind", operation.kind},
                            {"piece_min", operation.each.in_minutes()},
                            {"bundle_min", operation.per_bundle.in_minutes()},
                            {"picture", picture(made, operation)}});
    }
    Json needs = Json::array();
    for (const std::size_t need : step.needs) needs.push_back(tell::step_letter(need));
    all.push_back({{"step", tell::step_letter(i)},
                   {"operations", std::move(operations)},
                   {"station", word_of(batch::kStationWords, step.station)},
                   {"waits_min", step.waits.in_minutes()},
                   {"needs", std::move(needs)}});
  }
  return all;
}

// ---- Table
// ---------------------------------------------------------------------------------------

std::string batch_text(const WorkPlan& made, const base::Voice& words) {
  const auto& bundles = made.line.bundles;
  int pouches = 0;
  for (const int pieces : bundles) pouches += pieces;
  const bool even = bundles.back() == bundles.front();
  return words.say({even ? "schedule-batch" : "schedule-batch-last",
                    {{"pouches", pouches},
                     {"helpers", made.line.helpers},
                     {"size", bundles.front()},
                     {"last", bundles.back()}}});
}

std::string held_text(const WorkPlan& made, const base::Voice& words) {
  const batch::Bound& bound = made.plan.bound;
  const base::Number percent = base::fixed(100 * batch::balance_efficiency(made.plan), 0);
  switch (bound.because) {
    case batch::Bound::Because::helpers:
      return words.say({"schedule-held-helpers", {{"percent", percent}}});
    case batch::Bound::Because::chain:
      return words.say({"schedule-held-chain", {{"percent", percent}}});
    case batch::Bound::Because::station:
      break;
  }
  const int count = made.line.stations[static_cast<std::size_t>(bound.station)];
  return words.say({"schedule-held-station",
                    {{"station", words.say({key_of("schedule-station-", bound.station, made)})},
                     {"count", count},
                     {"percent", percent}}});
}

std::string what_if_text(const batch::WhatIf& one, const WorkPlan& made, const base::Voice& words) {
  const std::string more = words.say({key_of("schedule-more-", one.more, made)});
  const Time finish = made.plan.finish;
  constexpr Time kWorthSaying = base::Time::seconds(30);
  if (finish - one.finish < kWorthSaying) {
    return words.say({"schedule-saves-nothing", {{"more", more}}});
  }
  return words.say(
      {"schedule-saves", {{"more", more}, {"time", one.finish}, {"saved", finish - one.finish}}});
}

/// Empty where everybody has work.
std::string idle_text(const WorkPlan& made, const base::Voice& words) {
  const auto idle = std::count(made.plan.loads.begin(), made.plan.loads.end(), Time());
  if (idle == 0) return "";
  return words.say(
      {idle == 1 ? "schedule-one-helper-idle" : "schedule-helper-idle", {{"count", idle}}});
}

class HelperText {
 public:
  HelperText(const WorkPlan& made, const base::Voice& words) : made_(made), words_(words) {}

  [[nodiscard]] std::string text() const {
    std::string all;
    const auto own = batch::stretches(made_.plan);
    for (std::size_t i = 0; i < own.size(); ++i) {
      if (own[i].empty()) continue;
      all += "\n" +
             words_.say(
                 {"schedule-helper-works", {{"number", i + 1}, {"time", made_.plan.loads[i]}}}) +
             "\n";
      for (const batch::Stretch& one : own[i]) all += stretch(one) + "\n";
    }
    return all;
  }

 private:
  [[nodiscard]] std::string stretch(const batch::Stretch& one) const {
    const batch::Step& step = made_.line.steps[one.first.step];
    const bool single = one.first.bundle == one.last_bundle;
    std::string task = words_.say({single ? "schedule-task-one" : "schedule-task",
                                   {{"from", tell::clock_time(one.first.start, words_)},
                                    {"to", tell::clock_time(one.end, words_)},
                                    {"letter", tell::step_letter(one.first.step)},
                                    {"name", shown(made_.names[one.first.step])},
                                    {"first", one.first.bundle + 1},
                                    {"last", one.last_bundle + 1}}});
    // Which of several only matters where there are several.
    if (step.station == Station::hands ||
        made_.line.stations[static_cast<std::size_t>(step.station)] < 2) {
      return task;
    }
    const std::string station = words_.say({key_of("schedule-station-", step.station, made_)});
    return words_.say(
        {"schedule-task-at",
         {{"task", std::move(task)}, {"station", station}, {"number", one.first.station + 1}}});
  }

  /// With its steps in short: the letter leads to the rest.
  [[nodiscard]] std::string shown(const tell::WorkName& work) const {
    if (work.steps.empty()) return work.name;
    return words_.say({"schedule-task-steps", {{"name", work.name}, {"steps", work.steps}}});
  }

  const WorkPlan& made_;
  base::Voice words_;
};

std::vector<std::string> key_lines(const WorkPlan& made, const base::Voice& words) {
  std::vector<std::string> lines;
  for (std::size_t i = 0; i < made.names.size(); ++i) {
    const batch::Step& step = made.line.steps[i];
    lines.push_back(tell::step_text(step,
                                    {tell::step_letter(i), made.names[i].with_steps,
                                     words.say({key_of("schedule-station-", step.station, made)})},
                                    words));
  }
  return lines;
}

std::string file_bytes(const Run& run, const WorkPlan& made, const Json& report) {
  const Ending ending = out_ending(run);
  if (ending == Ending::csv) return schedule_csv(made);
  if (ending == Ending::json) return dumped(report);
  const auto breaks = ending == Ending::pdf ? ink::Breaks::pages : ink::Breaks::none;
  return sheet_bytes(run, "schedule", ending, schedule_drawings(run, made, kSheetRoom, breaks));
}

}  // namespace

std::optional<WorkPlan> work_plan(Run& run, const std::vector<ClothPlan>& plans,
                                  const Sewing& sewing) {
  const auto table = work_table(run);
  const batch::Settings& settings = run.settings().batch;
  WorkPlan made;
  const auto cuts = cloth_cuts(plans);
  made.line.steps =
      batch::steps({&run.pouch(), &settings, &cuts, &run.settings().iron, &sewing.seams}, *table,
                   run.diagnostics());
  if (run.diagnostics().has_errors()) return std::nullopt;
  made.line.bundles = batch::bundles(settings.pouches.value, table->bundle, made.line.steps.size());
  made.line.helpers = settings.helpers.value;
  for (const Station station : batch::kStations) {
    made.line.stations[static_cast<std::size_t>(station)] =
        batch::count_of(station, settings, *table);
  }
  made.plan = batch::planned(made.line);
  made.machines_overedge =
      settings.overedge_machines.value == 0 &&
      std::any_of(sewing.seams.begin(), sewing.seams.end(),
                  [](const batch::Seam& seam) { return batch::is_overedge(seam.stitch); });
  made.names = tell::work_names(made.line.steps, run.pouch(), run.words());
  made.pictures = tell::step_numbers(run.pouch());
  return made;
}

void add_what_if(WorkPlan& made) { made.what_if = batch::what_if(made.line, made.plan); }

std::vector<std::string> schedule_summary(const WorkPlan& made, const base::Voice& words) {
  std::vector<std::string> lines = {
      batch_text(made, words),
      words.say({"schedule-finish", {{"time", made.plan.finish}, {"bound", made.plan.bound.time}}}),
      held_text(made, words)};
  if (made.machines_overedge) lines.push_back(words.say({"schedule-machines-overedge"}));
  if (std::string idle = idle_text(made, words); !idle.empty()) lines.push_back(std::move(idle));
  return lines;
}

std::vector<ink::Drawing> schedule_drawings(const Run& run, const WorkPlan& made, ink::Point room,
                                            ink::Breaks breaks) {
  const render::PangoMeasure measure(run.fonts());
  draw::ScheduleToDraw drawn{&made.line, &made.plan, run.say({"schedule-title"}),
                             schedule_summary(made, run.words()), key_lines(made, run.words())};
  return draw::schedule_charts(drawn, run.words(), measure, room, breaks);
}

Json schedule_report(const WorkPlan& made) {
  Json report;
  report["makespan_min"] = made.plan.finish.in_minutes();
  report["bound_min"] = made.plan.bound.time.in_minutes();
  report["helpers"] = made.line.helpers;
  report["bottleneck"] = bottleneck(made.plan.bound);
  report["balance"] = batch::balance_efficiency(made.plan);
  report["steps"] = steps_report(made);
  report["tasks"] = tasks_report(made);
  report["loads"] = Json::array();
  for (std::size_t i = 0; i < made.plan.loads.size(); ++i) {
    report["loads"].push_back({{"helper", i + 1}, {"work_min", made.plan.loads[i].in_minutes()}});
  }
  report["what_if"] = Json::array();
  for (const batch::WhatIf& one : made.what_if) {
    const char* more =
        one.more == Station::hands ? "helper" : word_of(batch::kStationWords, one.more);
    report["what_if"].push_back({{"one_more", more},
                                 {"makespan_min", one.finish.in_minutes()},
                                 {"saves_min", (made.plan.finish - one.finish).in_minutes()}});
  }
  return report;
}

std::string schedule_table(const WorkPlan& made, const base::Voice& words) {
  std::string text = words.say({"schedule-title"}) + "\n";
  for (const std::string& one : schedule_summary(made, words)) text += one + "\n";
  for (const batch::WhatIf& one : made.what_if) {
    text += what_if_text(one, made, words) + "\n";
  }
  text += "\n" + words.say({"schedule-steps"}) + "\n";
  for (const std::string& one : key_lines(made, words)) text += "  " + one + "\n";
  text += words.say({"schedule-pictures"}) + "\n" + HelperText(made, words).text();
  return text + "\n" + words.say({"schedule-not-counted"}) + "\n" +
         words.say({"schedule-minutes"}) + "\n";
}

std::string schedule_csv(const WorkPlan& made) {
  std::string text = "operation,station,helper,start_min,end_min,pieces,bundle,picture\n";
  constexpr int kPlaces = 2;
  for (const Row& row : rows(made)) {
    const batch::Step& step = made.line.steps[row.task->step];
    // Ids are what a construction says: no comma of theirs may begin a new column.
    std::string id = row.operation->id;
    std::replace(id.begin(), id.end(), '"', '\'');
    text += "\"" + id + "\"," + station_name(step, row.task->station) + "," +
            std::to_string(row.task->helper + 1) + "," +
            base::decimal(row.start.in_minutes(), kPlaces) + "," +
            base::decimal(row.end.in_minutes(), kPlaces) + "," + std::to_string(row.pieces) + "," +
            std::to_string(row.task->bundle + 1) + "," +
            (picture(made, *row.operation).is_null() ? "" : picture(made, *row.operation).dump()) +
            "\n";
  }
  return text;
}

Outcome schedule(Run& run) {
  const auto plans = cloth_plans(run.pouch(), run.settings(), run.diagnostics());
  if (run.diagnostics().has_errors()) return run.job_wrong();
  auto made = work_plan(run, plans, sewing_of(run));
  if (!made) return run.job_wrong();
  add_what_if(*made);
  const Json report = schedule_report(*made);
  if (!run.options().out.empty()) {
    OutputFiles files;
    files.add(run.options().out, file_bytes(run, *made, report));
    run.write(files);
  }
  return run.done(report, schedule_table(*made, run.words()));
}

}  // namespace pouchwright::job
