#include "job/commands/schedule.h"

#include <algorithm>
#include <utility>

#include "batch/thread.h"
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

std::vector<batch::ClothCuts> cloth_cuts(const std::vector<ClothPlan>& plans) {
  std::vector<batch::ClothCuts> cuts;
  for (const ClothPlan& cloth : plans) {
    int lines = cloth.plan.cloth.cuts_made;
    for (const lay::Lay& remnant : cloth.plan.remnants) lines += remnant.cuts_made;
    cuts.push_back({cloth.material, lines});
  }
  return cuts;
}

std::vector<batch::Step> steps_of(const Run& run, const std::vector<ClothPlan>& plans,
                                  const Sewing& sewing, const batch::WorkTable& table,
                                  base::Diagnostics& diagnostics) {
  const auto cuts = cloth_cuts(plans);
  const input::JobSettings& settings = run.settings();
  return batch::steps({&run.pouch(), &settings.batch, &cuts, &settings.iron, &sewing.seams}, table,
                      diagnostics);
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
  made.line.helpers = settings.helpers.value;
  made.line.firsts_by_iron = settings.first_pouch == batch::FirstPouch::each_presser;
  for (const Station station : batch::kStations) {
    made.line.stations[static_cast<std::size_t>(station)] =
        batch::count_of(station, settings, *table);
  }
  const bool many = settings.helpers.value >= batch::kStationsFrom;
  const auto plan = settings.plan.value_or(many ? batch::PlanBy::stations : batch::PlanBy::any);
  made.line.keep = plan == batch::PlanBy::stations ? batch::Keep::posts : batch::Keep::nothing;
  made.line.changes = settings.changes;
  made.line.people = batch::people_of(settings, made.line.steps, *table, diagnostics);
  if (diagnostics.has_errors()) return std::nullopt;
  batch::take_breaks(settings, made.line, diagnostics);
  if (diagnostics.has_errors()) return std::nullopt;
  made.plan = batch::planned(made.line);
  made.packing = batch::packing_time(settings, *table);
  made.clips = batch::clips_in_use(made.line, made.plan, *table);
  made.machines_overedge =
      settings.overedge_machines.value == 0 &&
      std::any_of(sewing.seams.begin(), sewing.seams.end(),
                  [](const batch::Seam& seam) { return batch::is_overedge(seam.stitch); });
  const auto& parts = run.pouch().sizes.parts;
  made.makes_up = std::any_of(parts.begin(), parts.end(), [&](const pouch::CutPart& part) {
    return part.piece && !run.pouch().construction().pieces[*part.piece].how.empty();
  });
  made.names = tell::work_names(made.line.steps, run.pouch(), run.words());
  made.pictures = tell::step_numbers(run.pouch());
  return made;
}

}  // namespace

std::optional<WorkPlan> work_plan(Run& run, const std::vector<ClothPlan>& plans,
                                  const Sewing& sewing) {
  return planned_work(run, plans, sewing, run.diagnostics());
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
                                   made.makes_up,
                                   person_lines(made, words)};
  return draw::schedule_charts(drawn, run.paper_words(), measure, room, breaks);
}

Answer schedule(Run& run) {
  const auto plans = cloth_plans(run);
  if (run.diagnostics().has_errors()) return run.job_wrong();
  auto work = work_plan(run, plans, sewing_of(run));
  if (!work) return run.job_wrong();
  add_what_if(*work);
  Made made{schedule_report(*work, run.words())};
  made.sheets = {"schedule", [&run, work = *std::move(work)](ink::Breaks breaks) {
                   return schedule_drawings(run, work, kSheetRoom, breaks);
                 }};
  return made;
}

}  // namespace pouchwright::job
