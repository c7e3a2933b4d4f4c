#include <algorithm>
#include <numeric>
#include <utility>

#include "base/length.h"
#include "batch/work/held_up.h"
#include "batch/work/skills.h"
#include "batch/work/stretches.h"
#include "job/commands/schedule.h"
#include "job/report/reports.h"

namespace pouchwright::job {

using base::Message;
using batch::Station;
using batch::Time;
using Fields = Cell::Fields;

namespace {

/// Machines that have to sew all stitches are not called sewing machines.
std::string key_of(const char* prefix, Station station, const WorkPlan& made) {
  const bool is_any = station == Station::machine && made.machines_overedge;
  return is_any ? prefix + std::string("any") : key_of(prefix, batch::kStationWords, station);
}

int count_of(const WorkPlan& made, Station station) {
  return made.line.stations[static_cast<std::size_t>(station)];
}

// ---- For machines ----

/// `iron 2`; hands have no number.
std::string station_name(const batch::Step& step, int station) {
  const std::string name = word_of(batch::kStationWords, step.station);
  return step.station == Station::hands ? name : name + " " + std::to_string(station + 1);
}

const char* bottleneck(const batch::Bound& bound) {
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

/// One operation of a task, in its share of the task's time. A step is worked piece by piece, so
/// the shares say how long, and the task from when to when.
struct Share {
  const batch::StepOperation* operation = nullptr;
  const batch::Task* task = nullptr;
  Time start{};
  Time end{};
  int pieces = 0;
};

/// By start, then helper.
std::vector<Share> shares(const WorkPlan& made) {
  std::vector<Share> all;
  for (const batch::Task& task : made.plan.tasks) {
    const batch::Step& step = made.line.steps[task.step];
    const int pieces = step.pieces_of(task.bundle, made.line.bundles[task.bundle]);
    Time at = task.start;
    // Who is slower takes longer for each; what comes of rounding goes to the last. Whatever she
    // lays ready before counts for the first.
    const Time work = task.end - task.start - task.set_up;
    const Time table = step.takes(pieces);
    for (const auto& operation : step.operations) {
      const Time planned = operation.each * pieces + operation.per_bundle;
      Time end = at + planned;
      if (work != table) {
        const double part = table == Time() ? 0 : planned.in_minutes() / table.in_minutes();
        end = std::min(task.end, at + Time::minutes(work.in_minutes() * part));
      }
      if (&operation == &step.operations.front()) end += task.set_up;
      if (&operation == &step.operations.back()) end = task.end;
      all.push_back({&operation, &task, at, end, pieces});
      at = end;
    }
  }
  std::stable_sort(all.begin(), all.end(), [](const Share& a, const Share& b) {
    return std::pair(a.start, a.task->helper) < std::pair(b.start, b.task->helper);
  });
  return all;
}

/// Nothing for what no picture shows, as cutting.
Cell picture(const WorkPlan& made, const batch::StepOperation& operation) {
  if (!operation.about) return {};
  const auto found = made.pictures.find(*operation.about);
  return found == made.pictures.end() ? Cell() : Cell(found->second);
}

/// Of a day: whose it is; null where it is done once for all jobs.
void add_make(Fields& fields, const WorkPlan& made, std::size_t step) {
  if (made.makes.empty()) return;
  const std::string& make = made.makes[step];
  fields.push_back({"make", make.empty() ? Cell() : Cell(make)});
}

Fields task_fields(const WorkPlan& made, const Share& share) {
  const batch::Step& step = made.line.steps[share.task->step];
  Fields fields = {{"operation", share.operation->id},
                   {"station", station_name(step, share.task->station)},
                   {"helper", share.task->helper + 1},
                   {"start_min", share.start},
                   {"end_min", share.end},
                   {"pieces", share.pieces},
                   {"bundle", step.number_of(share.task->bundle)},
                   {"step", tell::step_letter(made.line, share.task->step)},
                   {"picture", picture(made, *share.operation)}};
  add_make(fields, made, share.task->step);
  return fields;
}

/// What a helper can do who is given these steps alone.
Cell can_cell(const std::vector<std::size_t>& steps, const WorkPlan& made) {
  return cells(batch::words_for(steps, made.line.steps));
}

Fields kept_fields(const WorkPlan& made, const tell::PostSaid& post, const base::Voice& words) {
  const batch::Kept& kept = post.kept;
  Cell::List operations;
  for (const std::size_t step : kept.steps) {
    for (const auto& one : made.line.steps[step].operations) operations.emplace_back(one.id);
  }
  return {{"helper", kept.helper + 1},
          {"operations", std::move(operations)},
          {"from_min", kept.from},
          {"to_min", kept.to},
          {"gaps", kept.has_gaps},
          {"water_and_iron", kept.wet_and_hot},
          {"from", post.from},
          {"to", post.to},
          {"work", post.work},
          {"said", tell::post_line(post, words)},
          {"can", can_cell(kept.steps, made)}};
}

/// Of each helper what the job tells; `can` and `work` are null where it is everything.
Cell::List people_cells(const WorkPlan& made, const base::Voice& words) {
  Cell::List all;
  for (std::size_t i = 0; i < static_cast<std::size_t>(made.line.helpers); ++i) {
    const bool is_told = i < made.line.people.size();
    const batch::Person person = is_told ? made.line.people[i] : batch::Person();
    std::vector<std::size_t> steps;
    for (std::size_t step = 0; step < person.can.size(); ++step) {
      if (person.can[step] && !made.line.steps[step].once) steps.push_back(step);
    }
    const bool is_limited = !steps.empty();
    const tell::PostWork work = tell::post_work(steps, made.line, made.names, words);
    all.emplace_back(Fields{{"helper", i + 1},
                            {"who", tell::helper_called(made.line, i, words)},
                            {"name", person.name},
                            {"speed", person.speed},
                            {"can", is_limited ? can_cell(steps, made) : Cell()},
                            {"work", is_limited ? Cell(work.work) : Cell()}});
  }
  return all;
}

Fields held_fields(const WorkPlan& made) {
  const batch::HeldUp held = batch::held_up(made.line, made.plan);
  const std::string kind =
      held.station == Station::hands ? "helper" : word_of(batch::kStationWords, held.station);
  return {{"by", kind + " " + std::to_string(held.number + 1)},
          {"works_min", held.works},
          {"ready_min", held.lays_ready},
          {"before_min", held.before},
          {"between_min", held.between},
          {"breaks_min", held.breaks},
          {"after_min", held.after}};
}

Fields operation_fields(const WorkPlan& made, const batch::StepOperation& operation) {
  return {{"operation", operation.id},
          {"kind", operation.kind},
          {"piece_min", operation.each},
          {"bundle_min", operation.per_bundle},
          {"picture", picture(made, operation)}};
}

Cell::List step_cells(const WorkPlan& made) {
  Cell::List all;
  for (std::size_t i = 0; i < made.line.steps.size(); ++i) {
    const batch::Step& step = made.line.steps[i];
    const auto operation = [&](const auto& one) { return operation_fields(made, one); };
    const auto letter = [&](std::size_t one) { return tell::step_letter(made.line, one); };
    Fields fields = {{"step", tell::step_letter(made.line, i)},
                     {"operations", cells(step.operations, operation)},
                     {"station", word_of(batch::kStationWords, step.station)},
                     {"waits_min", step.waits},
                     {"once", step.once},
                     {"needs", cells(step.needs, letter)}};
    add_make(fields, made, i);
    all.emplace_back(std::move(fields));
  }
  return all;
}

/// From when to when all rest, as long as work is left.
std::vector<std::pair<Time, Time>> breaks_of(const WorkPlan& made) {
  const batch::Breaks& breaks = made.line.breaks;
  std::vector<std::pair<Time, Time>> all;
  if (!breaks.any()) return all;
  for (Time from = breaks.every; from < made.plan.finish; from += breaks.cycle()) {
    all.emplace_back(from, from + breaks.lasts);
  }
  return all;
}

void add_fields(Report& report, const WorkPlan& made, const base::Voice& words) {
  report.table.columns = {{"operation", Table::Quotes::always},
                          {"station"},
                          {"helper"},
                          {"start_min"},
                          {"end_min"},
                          {"pieces"},
                          {"bundle"},
                          {"picture"}};
  if (!made.makes.empty()) report.table.columns.push_back({"make", Table::Quotes::always});
  for (const Share& share : shares(made)) report.table.rows.push_back(task_fields(made, share));
  Cell::List loads;
  for (std::size_t i = 0; i < made.plan.loads.size(); ++i) {
    loads.emplace_back(Fields{{"helper", i + 1}, {"work_min", made.plan.loads[i]}});
  }
  const auto what_if = [&](const batch::WhatIf& one) {
    const bool is_helper = one.more == Station::hands;
    return Fields{{"one_more", is_helper ? "helper" : word_of(batch::kStationWords, one.more)},
                  {"makespan_min", one.finish},
                  {"saves_min", made.plan.finish - one.finish}};
  };
  report.field("makespan_min", made.plan.finish);
  report.field("bound_min", made.plan.bound.time);
  report.field("gap_fraction", made.plan.gap());
  report.field("helpers", made.line.helpers);
  report.field("bottleneck", bottleneck(made.plan.bound));
  report.field("fullest", held_fields(made));
  report.field("balance", batch::balance_efficiency(made.plan));
  report.field("changes", made.plan.changes);
  report.field("breaks", cells(breaks_of(made), [](const auto& one) {
                 return Fields{{"from_min", one.first}, {"to_min", one.second}};
               }));
  report.field("afterwards_min", made.packing);
  const auto kept = [&](const tell::PostSaid& one) { return kept_fields(made, one, words); };
  const auto plan =
      made.line.keep == batch::Keep::posts ? batch::PlanBy::stations : batch::PlanBy::any;
  report.field("plan", word_of(batch::kPlanWords, plan));
  report.field("stations", cells(tell::posts_said(made.line, made.plan, made.names, words), kept));
  report.field("people", people_cells(made, words));
  report.field("steps", step_cells(made));
  report.field("tasks", cells(report.table.rows));
  report.field("loads", std::move(loads));
  report.field("what_if", cells(made.what_if, what_if));
}

// ---- For people ----

Message batch_said(const WorkPlan& made) {
  const auto& bundles = made.line.bundles;
  int pouches = 0;
  for (const int pieces : bundles) pouches += pieces;
  const bool even = bundles.back() == bundles.front();
  return {even ? "schedule-batch" : "schedule-batch-last",
          {{"pouches", pouches},
           {"helpers", made.line.helpers},
           {"size", bundles.front()},
           {"last", bundles.back()}}};
}

Message held_said(const WorkPlan& made) {
  const batch::Bound& bound = made.plan.bound;
  const base::Number percent = base::fixed(100 * batch::balance_efficiency(made.plan), 0);
  switch (bound.because) {
    case batch::Bound::Because::helpers:
      return {"schedule-held-helpers", {{"percent", percent}}};
    case batch::Bound::Because::chain:
      return {"schedule-held-chain", {{"percent", percent}}};
    case batch::Bound::Because::station:
      break;
  }
  return {"schedule-held-station",
          {{"station", Message(key_of("schedule-station-", bound.station, made))},
           {"count", count_of(made, bound.station)},
           {"percent", percent}}};
}

/// How much shorter a plan in which nobody keeps to anything could be.
std::optional<Message> gap_said(const WorkPlan& made) {
  if (made.line.keep != batch::Keep::posts) return std::nullopt;
  const int changes = made.plan.changes;
  const char* key = changes == 0   ? "schedule-posts-kept"
                    : changes == 1 ? "schedule-posts-change"
                                   : "schedule-posts-changes";
  return Message{key, {{"percent", base::fixed(100 * made.plan.gap(), 0)}, {"changes", changes}}};
}

std::optional<Message> breaks_said(const WorkPlan& made) {
  const auto breaks = breaks_of(made);
  if (breaks.empty()) return std::nullopt;
  return Message{breaks.size() == 1 ? "schedule-break" : "schedule-breaks",
                 {{"count", breaks.size()},
                  {"time", made.line.breaks.lasts},
                  {"every", made.line.breaks.every}}};
}

base::Value called(const WorkPlan& made, int helper) {
  const auto index = static_cast<std::size_t>(helper);
  if (index < made.line.people.size() && !made.line.people[index].name.empty()) {
    return made.line.people[index].name;
  }
  return Message{"schedule-helper", {{"number", helper + 1}}};
}

/// Who has what no station should hold together, where it could not be helped.
std::vector<Message> relaxed_said(const WorkPlan& made) {
  std::vector<Message> lines;
  if (made.line.keep != batch::Keep::posts) return lines;
  const auto say = [&](const char* key, bool batch::Kept::*is_so) {
    base::Value::List who;
    int last = -1;
    for (const batch::Kept& kept : made.plan.kept) {
      if (!(kept.*is_so) || std::exchange(last, kept.helper) == kept.helper) continue;
      who.push_back(called(made, kept.helper));
    }
    if (!who.empty()) lines.push_back({key, {{"who", std::move(who)}}});
  };
  say("schedule-gaps", &batch::Kept::has_gaps);
  say("schedule-water-iron", &batch::Kept::wet_and_hot);
  return lines;
}

base::Value called(const WorkPlan& made, const batch::HeldUp& held) {
  if (held.station == Station::hands) return called(made, static_cast<int>(held.number));
  const Message place(key_of("schedule-station-", held.station, made));
  if (count_of(made, held.station) < 2) return place;
  return Message{"schedule-why-place", {{"station", place}, {"number", held.number + 1}}};
}

/// Where the time of a plan goes that is well above what none is below.
std::optional<Message> why_said(const WorkPlan& made) {
  if (made.plan.gap() <= batch::kGapToTell) return std::nullopt;
  const batch::HeldUp held = batch::held_up(made.line, made.plan);
  constexpr Time kWorthSaying = base::Time::seconds(30);
  base::Value::List parts;
  const auto say = [&](const char* key, Time time) {
    if (time >= kWorthSaying) parts.emplace_back(Message{key, {{"time", time}}});
  };
  say("schedule-why-before", held.before);
  say("schedule-why-ready", held.lays_ready);
  say("schedule-why-between", held.between);
  say("schedule-why-breaks", held.breaks);
  say("schedule-why-after", held.after);
  if (parts.empty()) return std::nullopt;
  return Message{"schedule-why",
                 {{"who", called(made, held)}, {"works", held.works}, {"parts", std::move(parts)}}};
}

/// Who stands there without work at first.
std::vector<Message> waiting_said(const WorkPlan& made) {
  std::vector<Message> lines;
  if (made.line.keep != batch::Keep::posts) return lines;
  constexpr Time kWorthSaying = base::Time::whole_minutes(5);
  int last = -1;
  for (const batch::Kept& kept : made.plan.kept) {
    if (std::exchange(last, kept.helper) == kept.helper || kept.from < kWorthSaying) continue;
    lines.push_back({"schedule-starts", {{"who", called(made, kept.helper)}, {"time", kept.from}}});
  }
  return lines;
}

/// What the first pouches take of the day, and that whoever presses later makes one as well.
std::optional<Message> first_pouch_said(const WorkPlan& made) {
  for (const batch::Step& step : made.line.steps) {
    if (!step.firsts || step.once) continue;
    return Message{*step.firsts == 1 ? "schedule-first" : "schedule-firsts",
                   {{"bundles", *step.firsts}, {"waits", step.waits}}};
  }
  return std::nullopt;
}

Message what_if_said(const batch::WhatIf& one, const WorkPlan& made) {
  const Message more = key_of("schedule-more-", one.more, made);
  const Time saved = made.plan.finish - one.finish;
  constexpr Time kWorthSaying = base::Time::seconds(30);
  if (saved < kWorthSaying) return {"schedule-saves-nothing", {{"more", more}}};
  return {"schedule-saves", {{"more", more}, {"time", one.finish}, {"saved", saved}}};
}

/// With its steps in short: the letter leads to the rest.
Message name_said(const tell::WorkName& work) {
  return {"schedule-task-steps", {{"name", work.name}, {"steps", work.steps}}};
}

/// And whose it is, where several jobs are made.
base::Value made_for(const tell::WorkName& work) {
  base::Value name = work.steps.empty() ? base::Value(work.name) : name_said(work);
  if (work.make.empty()) return name;
  return Message{"lay-piece-of", {{"piece", std::move(name)}, {"make", work.make}}};
}

Message stretch_said(const batch::Stretch& one, const WorkPlan& made, const base::Voice& words) {
  const batch::Step& step = made.line.steps[one.first.step];
  const tell::WorkName& work = made.names[one.first.step];
  const bool single = one.first.bundle == one.last_bundle;
  Message task = {single ? "schedule-task-one" : "schedule-task",
                  {{"from", tell::clock_time(one.first.start, words)},
                   {"to", tell::clock_time(one.end, words)},
                   {"letter", tell::step_letter(made.line, one.first.step)},
                   {"name", made_for(work)},
                   {"first", step.number_of(one.first.bundle)},
                   {"last", step.number_of(one.last_bundle)}}};
  // Which of several only matters where there are several.
  if (step.station == Station::hands || count_of(made, step.station) < 2) return task;
  return {"schedule-task-at",
          {{"task", std::move(task)},
           {"station", Message(key_of("schedule-station-", step.station, made))},
           {"number", one.first.station + 1}}};
}

/// A line a person, for each stretch of the same work; who begins later is told when.
void add_posts(Report& report, const WorkPlan& made, const base::Voice& words) {
  if (made.line.keep != batch::Keep::posts) return;
  report.heading("schedule-posts");
  for (const tell::PostSaid& post : tell::posts_said(made.line, made.plan, made.names, words)) {
    report.item({words.say({"schedule-post",
                            {{"who", post.who},
                             {"from", post.from},
                             {"to", post.to},
                             {"work", tell::post_line(post, words)}}})});
  }
}

void add_helpers(Report& report, const WorkPlan& made, const base::Voice& words) {
  const auto own = batch::stretches(made.plan);
  for (std::size_t i = 0; i < own.size(); ++i) {
    if (own[i].empty()) continue;
    report.heading(
        {"schedule-helper-works",
         {{"helper", tell::helper_called(made.line, i, words)}, {"time", made.plan.loads[i]}}});
    for (const batch::Stretch& one : own[i]) report.say(stretch_said(one, made, words));
  }
}

/// `A: Three liners; B: one liner`; nothing for one job.
std::optional<Message> marks_said(const WorkPlan& made) {
  std::vector<std::string> all;
  for (const tell::WorkName& name : made.names) {
    if (name.mark.empty()) continue;
    const std::string one = name.mark + ": " + name.make;
    if (std::find(all.begin(), all.end(), one) == all.end()) all.push_back(one);
  }
  if (all.empty()) return std::nullopt;
  return Message{"schedule-marks", {{"makes", base::list_text(all, "; ")}}};
}

}  // namespace

std::vector<Message> schedule_summary(const WorkPlan& made) {
  std::vector<Message> lines = {
      batch_said(made),
      {"schedule-finish", {{"time", made.plan.finish}, {"bound", made.plan.bound.time}}},
      held_said(made)};
  if (const auto marks = marks_said(made)) lines.push_back(*marks);
  if (const auto gap = gap_said(made)) lines.push_back(*gap);
  for (const Message& one : relaxed_said(made)) lines.push_back(one);
  if (const auto why = why_said(made)) lines.push_back(*why);
  if (const auto rest = breaks_said(made)) lines.push_back(*rest);
  for (const Message& one : waiting_said(made)) lines.push_back(one);
  if (made.machines_overedge) lines.emplace_back("schedule-machines-overedge");
  if (const auto first = first_pouch_said(made)) lines.push_back(*first);
  const auto idle = std::count(made.plan.loads.begin(), made.plan.loads.end(), Time());
  if (idle > 0) {
    const char* key = idle == 1 ? "schedule-one-helper-idle" : "schedule-helper-idle";
    lines.push_back({key, {{"count", idle}}});
  }
  return lines;
}

namespace {

/// Work that only one job of a day has says whose it is.
std::string called_in_key(const WorkPlan& made, std::size_t step, const base::Voice& words) {
  const tell::WorkName& work = made.names[step];
  if (work.make.empty() || made.line.steps[step].like) return work.with_steps;
  return words.say({"lay-piece-of", {{"piece", work.with_steps}, {"make", work.make}}});
}

/// Of like steps one that takes what they take on the average of all their pouches.
batch::Step average(const WorkPlan& made, std::size_t first) {
  batch::Step one = made.line.steps[first];
  if (!one.like || one.operations.empty()) return one;
  batch::Time sum{};
  int pieces = 0;
  for (const batch::Step& step : made.line.steps) {
    if (step.like != one.like) continue;
    const int own =
        std::accumulate(made.line.bundles.begin() + static_cast<std::ptrdiff_t>(step.from),
                        made.line.bundles.begin() +
                            static_cast<std::ptrdiff_t>(step.last_of(made.line.bundles.size()) + 1),
                        0);
    for (const batch::StepOperation& operation : step.operations) sum += operation.each * own;
    pieces += own;
  }
  for (batch::StepOperation& operation : one.operations) operation.each = {};
  one.operations.front().each = sum.shared_out(pieces);
  return one;
}

}  // namespace

std::vector<std::string> key_lines(const WorkPlan& made, const base::Voice& words) {
  std::vector<std::string> lines;
  for (std::size_t i = 0; i < made.names.size(); ++i) {
    if (made.line.steps[i].like.value_or(i) != i) continue;
    const batch::Step step = average(made, i);
    lines.push_back(tell::step_text(step,
                                    {tell::step_letter(made.line, i), called_in_key(made, i, words),
                                     words.say({key_of("schedule-station-", step.station, made)})},
                                    words));
  }
  return lines;
}

Report schedule_report(const WorkPlan& made, const base::Voice& words) {
  Report report;
  add_fields(report, made, words);
  report.heading("schedule-title");
  for (Message& one : schedule_summary(made)) report.say(std::move(one));
  for (const batch::WhatIf& one : made.what_if) report.say(what_if_said(one, made));
  report.heading(made.makes.empty() ? "schedule-steps" : "schedule-steps-day");
  for (const std::string& one : key_lines(made, words)) report.item({one});
  report.say("schedule-pictures");
  add_posts(report, made, words);
  add_helpers(report, made, words);
  report.begin();
  report.say(made.makes_up ? "schedule-not-counted-pieces" : "schedule-not-counted");
  if (made.packing > Time()) report.say({"schedule-packing", {{"time", made.packing}}});
  report.say("schedule-minutes");
  return report;
}

}  // namespace pouchwright::job
