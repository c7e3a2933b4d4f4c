#include "job/commands/schedule.h"

#include <algorithm>
#include <utility>

#include "batch/thread.h"
#include "batch/work/joined.h"
#include "batch/work/skills.h"
#include "job/commands/commands.h"
#include "job/report/reports.h"
#include "job/sheets.h"
#include "job/step_facts.h"
#include "render/text.h"

namespace pouchwright::job {

using batch::Station;
using batch::Time;

namespace {

int lines_of(const ClothPlan& cloth) {
  int lines = cloth.plan.cloth.cuts_made;
  for (const lay::Lay& remnant : cloth.plan.remnants) lines += remnant.cuts_made;
  return lines;
}

/// Of each cloth the part of its cuts that is for this job's pieces, so that all jobs' make up the
/// whole.
std::vector<batch::ClothCuts> cloth_cuts(const std::vector<ClothPlan>& plans, const Run& run) {
  std::vector<batch::ClothCuts> cuts;
  for (const ClothPlan& cloth : plans) {
    std::int64_t all = 0;
    std::int64_t before = 0;
    std::int64_t own = 0;
    for (const ClothShare& share : cloth.shares) {
      const bool is_own = share.pouch == &run.pouch();
      if (is_own) before = all;
      for (std::size_t k = share.first; k < share.first + share.kinds; ++k) {
        all += cloth.request.kinds[k].demand;
        if (is_own) own += cloth.request.kinds[k].demand;
      }
    }
    if (own == 0) continue;
    const std::int64_t lines = lines_of(cloth);
    const auto part = lines * (before + own) / all - lines * before / all;
    cuts.push_back({role_in(cloth, run.pouch()), static_cast<int>(part)});
  }
  return cuts;
}

std::vector<batch::Step> steps_of(const Run& run, const std::vector<ClothPlan>& plans,
                                  const Sewing& sewing, const batch::WorkTable& table,
                                  base::Diagnostics& diagnostics) {
  const auto cuts = cloth_cuts(plans, run);
  const input::JobSettings& settings = run.settings();
  return batch::steps({&run.pouch(), &settings.batch, &cuts, &settings.iron, &sewing.seams}, table,
                      diagnostics);
}

/// All but the steps, the bundles and the names.
void set_up(WorkPlan& made, const batch::Settings& settings, const batch::WorkTable& table) {
  made.line.helpers = settings.helpers.value;
  made.line.firsts_by_iron = settings.first_pouch == batch::FirstPouch::each_presser;
  for (const Station station : batch::kStations) {
    made.line.stations[static_cast<std::size_t>(station)] =
        batch::count_of(station, settings, table);
  }
  const bool many = settings.helpers.value >= batch::kStationsFrom;
  const auto plan = settings.plan.value_or(many ? batch::PlanBy::stations : batch::PlanBy::any);
  made.line.keep = plan == batch::PlanBy::stations ? batch::Keep::posts : batch::Keep::nothing;
  made.line.changes = settings.changes;
}

/// What each step is called by whoever sees no file; empty where operations go by their names in it.
std::vector<std::string> called_in(const WorkPlan& made, const Run& run) {
  std::vector<std::string> called;
  if (run.words().field_names() == base::FieldNames::keys) return called;
  for (const tell::WorkName& one : made.names) called.push_back(one.name);
  return called;
}

/// Who is there, when all rest, and the plan. Requires: steps, their names and bundles are there.
/// Fails: false after errors.
bool plan_line(WorkPlan& made, const Run& run, const batch::WorkTable& table,
               base::Diagnostics& diagnostics) {
  const batch::Settings& settings = run.settings().batch;
  set_up(made, settings, table);
  made.line.people =
      batch::people_of(settings, made.line.steps, table, diagnostics, called_in(made, run));
  if (diagnostics.has_errors()) return false;
  batch::take_breaks(settings, made.line, diagnostics);
  if (diagnostics.has_errors()) return false;
  made.plan = batch::planned(made.line);
  made.clips = batch::clips_in_use(made.line, made.plan, table);
  return true;
}

bool are_made_up(const pouch::Pouch& pouch) {
  const auto& parts = pouch.sizes.parts;
  return std::any_of(parts.begin(), parts.end(), [&](const pouch::CutPart& part) {
    return part.piece && !pouch.construction().pieces[*part.piece].how.empty();
  });
}

bool is_one_overedged(const Sewing& sewing) {
  return std::any_of(sewing.seams.begin(), sewing.seams.end(),
                     [](const batch::Seam& seam) { return batch::is_overedge(seam.stitch); });
}

/// Fails: empty after errors.
std::optional<WorkPlan> planned_work(const Run& run, const std::vector<ClothPlan>& plans,
                                     const Sewing& sewing, base::Diagnostics& diagnostics) {
  const auto table = work_table(run);
  const batch::Settings& settings = run.settings().batch;
  WorkPlan made;
  made.line.steps = steps_of(run, plans, sewing, *table, diagnostics);
  if (diagnostics.has_errors()) return std::nullopt;
  made.line.bundles = batch::bundles(settings.pouches.value, table->bundle, made.line.steps.size());
  made.names = tell::work_names(made.line.steps, run.pouch(), run.words());
  if (!plan_line(made, run, *table, diagnostics)) return std::nullopt;
  made.packing = batch::packing_time(settings, *table);
  made.machines_overedge = settings.overedge_machines.value == 0 && is_one_overedged(sewing);
  made.makes_up = are_made_up(run.pouch());
  made.pictures = tell::step_numbers(run.pouch());
  return made;
}

// ---- Of a day ----

/// What a step that is done once makes ready, where that serves other jobs: a machine, a warm iron, a
/// cloth that several are cut from, its trial, the cards of `pouch`.
std::string served_by(const batch::Step& step, const std::vector<ClothPlan>& plans, const Run& run,
                      std::size_t pouch) {
  if (!step.once || step.operations.empty()) return "";
  const batch::StepOperation& operation = step.operations.front();
  if (operation.kind == batch::kTracing) return operation.kind + " " + std::to_string(pouch);
  const bool is_trial = operation.kind == batch::kTrying;
  if (operation.kind != batch::kOpening && !is_trial) return operation.kind;
  const std::string role = is_trial ? "laminate" : operation.cloth;
  for (std::size_t i = 0; i < plans.size(); ++i) {
    for (const ClothShare& share : plans[i].shares) {
      if (share.pouch == &run.pouch() && role_in(plans[i], run.pouch()) == role) {
        return operation.kind + " " + std::to_string(i);
      }
    }
  }
  return "";
}

std::optional<batch::OwnLine> own_line(const Run& run, const std::vector<ClothPlan>& plans,
                                       std::size_t pouch, base::Diagnostics& diagnostics) {
  const auto table = work_table(run);
  batch::OwnLine own;
  own.steps = steps_of(run, plans, sewing_of(run), *table, diagnostics);
  if (diagnostics.has_errors()) return std::nullopt;
  own.bundles = batch::bundles(run.settings().batch.pouches.value, table->bundle, own.steps.size());
  for (const batch::Step& step : own.steps)
    own.serves.push_back(served_by(step, plans, run, pouch));
  return own;
}

std::optional<WorkPlan> planned_day(const Day& day, const std::vector<ClothPlan>& plans,
                                    base::Diagnostics& diagnostics) {
  const Run& first = *day.makes.front().run;
  const batch::Settings& settings = first.settings().batch;
  std::vector<batch::OwnLine> lines;
  WorkPlan made;
  for (std::size_t job = 0; job < day.makes.size(); ++job) {
    const DayMake& make = day.makes[job];
    auto own = own_line(*make.run, plans, day.pouch_of(job), diagnostics);
    if (!own) return std::nullopt;
    lines.push_back(std::move(*own));
    made.packing += batch::packing_time(make.run->settings().batch, *work_table(*make.run));
    made.makes_up = made.makes_up || are_made_up(make.run->pouch());
    made.machines_overedge = made.machines_overedge || (settings.overedge_machines.value == 0 &&
                                                        is_one_overedged(sewing_of(*make.run)));
  }
  batch::JoinedLines joined = batch::joined(lines);
  made.line.steps = std::move(joined.steps);
  made.line.bundles = std::move(joined.bundles);
  std::vector<std::vector<tell::WorkName>> names;
  for (std::size_t job = 0; job < lines.size(); ++job) {
    const Run& run = *day.makes[job].run;
    names.push_back(tell::work_names(lines[job].steps, run.pouch(), run.words()));
  }
  for (std::size_t i = 0; i < made.line.steps.size(); ++i) {
    const std::size_t job = joined.job_of[i];
    const std::size_t own = joined.step_of[i];
    made.names.push_back(names[job][own]);
    const batch::Step& step = lines[job].steps[own];
    const bool is_card = step.operations.front().kind == batch::kTracing;
    const bool is_shared = !lines[job].serves[own].empty() && !is_card;
    made.makes.push_back(is_shared ? std::string() : day.makes[job].title);
    made.names.back().make = made.makes.back();
    if (!is_shared) made.names.back().mark = tell::make_mark(job);
  }
  if (!plan_line(made, first, *work_table(first), diagnostics)) return std::nullopt;
  made.pictures = tell::step_numbers(first.pouch());
  return made;
}

}  // namespace

std::optional<WorkPlan> work_plan(Run& run, const std::vector<ClothPlan>& plans,
                                  const Sewing& sewing) {
  return planned_work(run, plans, sewing, run.diagnostics());
}

std::optional<WorkPlan> work_plan(Run& run, const Day& day, const std::vector<ClothPlan>& plans) {
  return planned_day(day, plans, run.diagnostics());
}

batch::ClipNeed clips_needed(Run& run, const std::vector<ClothPlan>& plans, const Sewing& sewing,
                             const std::optional<WorkPlan>& made) {
  if (made) return made->clips;
  base::Diagnostics untold;
  if (const auto own = planned_work(run, plans, sewing, untold)) return own->clips;
  base::Diagnostics again;
  const auto table = work_table(run);
  return batch::clips_of_all(steps_of(run, plans, sewing, *table, again),
                             run.settings().batch.pouches.value, *table);
}

void add_what_if(WorkPlan& made) { made.what_if = batch::what_if(made.line, made.plan); }

namespace {

std::vector<std::string> marks_of(const WorkPlan& made) {
  std::vector<std::string> marks;
  for (const tell::WorkName& name : made.names) marks.push_back(name.mark);
  return marks;
}

std::vector<draw::PersonLine> person_lines(const WorkPlan& made, const base::Voice& words) {
  std::vector<draw::PersonLine> lines;
  if (made.line.keep != batch::Keep::posts) return lines;
  for (const tell::PostSaid& post : tell::posts_said(made.line, made.plan, made.names, words)) {
    lines.push_back({post.who, post.from, post.to, tell::post_line(post, words)});
  }
  return lines;
}

}  // namespace

std::vector<ink::Drawing> schedule_drawings(const Run& run, const WorkPlan& made, ink::Point room,
                                            ink::Breaks breaks) {
  const render::FontMeasure measure(run.fonts());
  const base::Voice words = run.paper_words();
  std::vector<std::string> summary;
  for (const base::Message& one : schedule_summary(made)) summary.push_back(words.say(one));
  const draw::ScheduleToDraw drawn{&made.line,
                                   &made.plan,
                                   run.say({"schedule-title"}),
                                   std::move(summary),
                                   key_lines(made, words),
                                   marks_of(made),
                                   made.makes_up,
                                   person_lines(made, words)};
  return draw::schedule_charts(drawn, run.paper_words(), measure, room, breaks);
}

namespace {

Answer charted(const Run& run, WorkPlan work) {
  add_what_if(work);
  Made made{schedule_report(work, run.words())};
  made.sheets = {"schedule", [&run, work = std::move(work)](ink::Breaks breaks) {
                   return schedule_drawings(run, work, kSheetRoom, breaks);
                 }};
  return made;
}

}  // namespace

Answer schedule_of_day(Run& run, const Day& day) {
  const auto plans = cloth_plans(run, day);
  if (run.diagnostics().has_errors()) return run.job_wrong();
  auto work = work_plan(run, day, plans);
  return work ? charted(run, *std::move(work)) : run.job_wrong();
}

Answer schedule(Run& run) {
  const auto plans = cloth_plans(run);
  if (run.diagnostics().has_errors()) return run.job_wrong();
  auto work = work_plan(run, plans, sewing_of(run));
  return work ? charted(run, *std::move(work)) : run.job_wrong();
}

}  // namespace pouchwright::job
