/// What the steps of a work plan are called: its letters stand for operations of the construction,
/// and for what the work table adds to them (cutting, clipping apart).
///
///     for (const WorkName& one : work_names(line.steps, pouch, words)) print(one.with_steps);
///
/// Not for who does them and when (see draw/sheets/work_plan.h).
#pragma once

#include <string>
#include <vector>

#include "base/voice.h"
#include "batch/work/plan.h"
#include "batch/work/steps.h"
#include "pouch/pouch.h"
#include "tell/operations.h"

namespace pouchwright::tell {

struct WorkName {
  std::string name;        ///< `fold the flap over, sew both sides`
  std::string with_steps;  ///< the same, and after each the step of the steps pages that shows it
  std::string steps;       ///< `steps 8-9`; empty where no picture shows it, as for cutting
  std::string make{};      ///< of a day: whose it is; empty where it is all jobs', or of one job
  std::string mark{};      ///< the same, as the chart has it
};

/// One of the construction's own, not what the work table has following it.
[[nodiscard]] bool is_the_operation(const batch::StepOperation& operation,
                                    const pouch::Pouch& pouch);

/// One for each of `steps`. A kind of work that only the job's own table knows keeps its name.
[[nodiscard]] std::vector<WorkName> work_names(const std::vector<batch::Step>& steps,
                                               const pouch::Pouch& pouch, const base::Voice& words);

/// `K`, `L`, … `Z`, `2K`, …: what a step is called on the chart. No O, which reads as a nought.
[[nodiscard]] std::string step_letter(std::size_t step);

/// The same of a line's step: like steps of several jobs have one letter.
[[nodiscard]] std::string step_letter(const batch::Line& line, std::size_t step);
/// `A`, `B`, …: whose bundles a bar of a day's chart is about.
[[nodiscard]] std::string make_mark(std::size_t make);

/// What a step of the key is called, and where it is done, in words.
struct StepCalled {
  std::string letter, name, station;
};

/// A line of the key: letter, name, station, minutes a pouch.
[[nodiscard]] std::string step_text(const batch::Step& step, const StepCalled& called,
                                    const base::Voice& words);

/// The name that the job has for somebody, else `helper 2`.
[[nodiscard]] std::string helper_called(const batch::Line& line, std::size_t helper,
                                        const base::Voice& words);

/// `cut, mark and pair`
[[nodiscard]] std::string list_with_and(std::vector<std::string> parts, const base::Voice& words);

/// What somebody does, to be said in one breath: each kind of work once, in a word where `words` have
/// one (`work-brief-KIND`).
struct PostWork {
  std::string first;  ///< what is done once, before; empty where there is nothing, or nothing else
  std::string work;   ///< `cut, mark and pair`
};
[[nodiscard]] PostWork post_work(const std::vector<std::size_t>& steps, const batch::Line& line,
                                 const std::vector<WorkName>& names, const base::Voice& words);

/// What one person does for a stretch of the day.
struct PostSaid {
  batch::Kept kept;
  std::string who;
  std::string first;  ///< what she does once, before; empty where there is nothing, or nothing else
  std::string work;   ///< `cut, mark and pair`
  std::string bundles;   ///< `bundles 1 to 20`; empty where it is done once
  std::string others;    ///< who does some of the same
  std::string from, to;  ///< on the clock
};
/// One for each of the plan's stretches.
[[nodiscard]] std::vector<PostSaid> posts_said(const batch::Line& line, const batch::Schedule& plan,
                                               const std::vector<WorkName>& names,
                                               const base::Voice& words);
/// `First warm the iron. Then fuse and look inside: bundles 1 to 20, with helper 3`
[[nodiscard]] std::string post_line(const PostSaid& post, const base::Voice& words);

/// `0:05`, hours and minutes from the beginning, rounded down to the minute.
[[nodiscard]] std::string clock_time(batch::Time time, const base::Voice& words);

}  // namespace pouchwright::tell
