/// The work plan of a job: the line of steps, the plan, and its chart.
///
///     if (const auto made = work_plan(run, plans, sewing)) report = schedule_report(*made, words);
///
/// Inside `job` only.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "batch/work/clips.h"
#include "batch/work/plan.h"
#include "draw/sheets/work_plan.h"
#include "job/commands/cloth_plans.h"
#include "job/day.h"
#include "job/run.h"
#include "job/step_facts.h"
#include "tell/work.h"

namespace pouchwright::job {

struct WorkPlan {
  batch::Line line;
  batch::Schedule plan;
  batch::ClipNeed clips;
  batch::Time packing{};              ///< of all pouches, once they are dry
  std::vector<tell::WorkName> names;  ///< of the line's steps
  std::vector<std::string> makes;  ///< of a day: by step, whose it is; empty: all jobs', or one job
  bool makes_up = false;           ///< pieces are made up, which is not counted
  bool machines_overedge = false;  ///< overedging waits for the job's sewing machines
  tell::StepNumbers pictures;      ///< by operation: the step of the steps pages
  std::vector<batch::WhatIf> what_if;  ///< empty until asked for by add_what_if()
};

/// Cuts are those of `plans`; minutes come from the job's own work file, else the program's.
/// Fails: empty after errors; throws base::Failure where the program's own table is at fault.
[[nodiscard]] std::optional<WorkPlan> work_plan(Run& run, const std::vector<ClothPlan>& plans,
                                                const Sewing& sewing);
/// Of all jobs of a day; `plans` are the day's.
[[nodiscard]] std::optional<WorkPlan> work_plan(Run& run, const Day& day,
                                                const std::vector<ClothPlan>& plans);
/// Clips in use at once: by `made`, else by a plan of its own; where none can be made, as many as all
/// pouches have.
[[nodiscard]] batch::ClipNeed clips_needed(Run& run, const std::vector<ClothPlan>& plans,
                                           const Sewing& sewing,
                                           const std::optional<WorkPlan>& made);
/// What one helper or station more would save. Each is a search of its own, so it is done only
/// where somebody is told.
void add_what_if(WorkPlan& made);

[[nodiscard]] std::vector<ink::Drawing> schedule_drawings(const Run& run, const WorkPlan& made,
                                                          ink::Point room, ink::Breaks breaks);

}  // namespace pouchwright::job
