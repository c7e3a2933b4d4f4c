#include "job/day.h"

#include <algorithm>
#include <filesystem>
#include <functional>
#include <set>
#include <utility>

#include "base/text.h"
#include "job/documents.h"
#include "tell/names.h"

namespace pouchwright::job {

namespace fs = std::filesystem;

namespace {

JobOptions options_of(const Run& run, const input::LoadedFile& job) {
  JobOptions options = run.options();
  options.job_file = job.name;
  options.job_text = job.text;
  return options;
}

/// Reads one job; nothing where it is not there, or is a day itself.
std::shared_ptr<Run> run_of(Run& run, const input::Make& make, const Run::Change& change) {
  auto job = make.text ? std::optional(input::LoadedFile{make.job.value, *make.text})
                       : run.file_beside(run.options().job_file, make.job.value);
  if (!job) {
    run.diagnostics().error(make.job.place,
                            {"day-job-unknown", {{"text", make.job.value.substr(0, 60)}}},
                            {{"day-job-unknown-hint"}});
    return nullptr;
  }
  if (input::is_day(*job)) {
    run.diagnostics().error(make.job.place, {"day-in-day", {{"text", make.job.value}}},
                            {{"day-in-day-hint"}});
    return nullptr;
  }
  job->name = fs::path(job->name).lexically_normal().string();
  auto made = std::make_shared<Run>(options_of(run, *job), run.data());
  made->is_made_in(run.job_file(), make);
  return made->read_job(change) ? made : (run.take(*made), nullptr);
}

// ---- What they share ----

/// A number that all jobs of a day have in common, and where a job says it.
struct Common {
  const char* path;
  const base::Placed<int> batch::Settings::*value;
};
constexpr Common kCommon[] = {{"batch.helpers", &batch::Settings::helpers},
                              {"batch.machines", &batch::Settings::machines},
                              {"batch.overedge_machines", &batch::Settings::overedge_machines},
                              {"batch.irons", &batch::Settings::irons}};

bool keep_to_the_same(const batch::Settings& a, const batch::Settings& b) {
  const auto alike = [](const batch::HelperStated& one, const batch::HelperStated& other) {
    return one.name == other.name && one.speed == other.speed &&
           std::equal(one.can.begin(), one.can.end(), other.can.begin(), other.can.end(),
                      [](const auto& x, const auto& y) { return x.value == y.value; });
  };
  return a.plan == b.plan && a.changes == b.changes && a.break_every.value == b.break_every.value &&
         a.break_lasts == b.break_lasts &&
         std::equal(a.people.begin(), a.people.end(), b.people.begin(), b.people.end(), alike);
}

void check_common(Run& run, const std::vector<DayMake>& makes) {
  const batch::Settings& first = makes.front().run->settings().batch;
  for (const DayMake& one : makes) {
    const batch::Settings& other = one.run->settings().batch;
    for (const Common& common : kCommon) {
      const base::Placed<int>& here = first.*(common.value);
      const base::Placed<int>& there = other.*(common.value);
      if (here.value == there.value) continue;
      const base::Place& place = there.place.file.empty() ? here.place : there.place;
      run.diagnostics().error(place,
                              {"day-differs",
                               {{"value", base::FieldName{common.path}},
                                {"here", here.value},
                                {"there", there.value},
                                {"first", makes.front().title},
                                {"other", one.title}}},
                              {{"day-differs-hint"}});
    }
    if (!keep_to_the_same(first, other)) {
      run.diagnostics().error(
          {run.job_file().name, 0, 0, 0},
          {"day-differs-people", {{"first", makes.front().title}, {"other", one.title}}},
          {{"day-differs-hint"}});
    }
    if (!other.currency.empty() && !first.currency.empty() && other.currency != first.currency) {
      run.diagnostics().error({run.job_file().name, 0, 0, 0},
                              {"day-differs-currency",
                               {{"first", makes.front().title},
                                {"here", first.currency},
                                {"other", one.title},
                                {"there", other.currency}}},
                              {{"day-differs-currency-hint"}});
    }
  }
}

// ---- Names ----

/// `name`, or with a number behind it where it is taken.
std::string not_taken(std::string name, std::set<std::string>& taken, const char* before,
                      const char* behind) {
  std::string one = name;
  for (int i = 2; !taken.insert(one).second; ++i) {
    one = name + before + std::to_string(i) + behind;
  }
  return one;
}

void name_makes(Day& day, const base::Voice& words) {
  std::set<std::string> titles;
  std::set<std::string> folders;
  for (DayMake& one : day.makes) {
    one.title = not_taken(tell::title_of(one.run->pouch(), words), titles, " (", ")");
    const std::string stem = fs::path(one.run->options().job_file).stem().string();
    one.folder = not_taken(stem, folders, "-", "") + "/";
  }
  for (DayMake& one : day.makes) one.run->is_called({one.title, day.titles()});
}

// ---- The same pouch ----

/// Does the make say nothing of the pouch itself: only how many, what it is called, and of which cloths?
bool is_as_its_job(const input::Make& make) {
  return std::all_of(make.own.entries.begin(), make.own.entries.end(), [](const input::Entry& one) {
    return one.key == "title" || one.key == "batch" || one.key == "materials";
  });
}

bool are_one_cloth(const std::optional<pouch::Material>& a,
                   const std::optional<pouch::Material>& b) {
  if (!a || !b) return !a && !b;
  return a->name == b->name && a->thickness == b->thickness && a->frays == b->frays &&
         a->film == b->film;
}

/// One job in cloths that differ at most in their prints: all that is cut, pressed and sewn is the same.
bool are_one_pouch(const Day& day, std::size_t a, std::size_t b) {
  const input::Make& one = day.file.makes[a];
  const input::Make& other = day.file.makes[b];
  const pouch::Request& asked = day.makes[a].run->pouch().request;
  const pouch::Request& too = day.makes[b].run->pouch().request;
  return one.job.value == other.job.value && one.text == other.text && is_as_its_job(one) &&
         is_as_its_job(other) && are_one_cloth(asked.laminate, too.laminate) &&
         are_one_cloth(asked.outer, too.outer) && are_one_cloth(asked.lining, too.lining);
}

void find_same_pouches(Day& day) {
  for (std::size_t i = 0; i < day.makes.size(); ++i) {
    for (std::size_t k = 0; k < i && !day.makes[i].as; ++k) {
      if (day.makes[k].as || !are_one_pouch(day, k, i)) continue;
      day.makes[i].as = k;
    }
  }
}

/// Whoever has pressed one print's first pouch and filled it need not do so for the other's. Each job is
/// read once more.
bool fill_first_pouches_once(Run& run, Day& day, const Run::Change& change) {
  for (std::size_t i = 0; i < day.makes.size(); ++i) {
    DayMake& one = day.makes[i];
    const bool fills = one.run->settings().batch.first_pouch != batch::FirstPouch::none;
    if (!one.as || !fills) continue;
    input::fill_no_first_pouch(day.file.makes[i]);
    one.run = run_of(run, day.file.makes[i], change);
    if (!one.run) return false;
  }
  return true;
}

}  // namespace

std::vector<std::string> Day::titles() const {
  std::vector<std::string> all;
  for (const DayMake& one : makes) all.push_back(one.title);
  return all;
}

std::unique_ptr<Day> read_day(Run& run, const Run::Change& change) {
  auto file = input::read_day(run.job_file(), run.languages(), run.diagnostics());
  run.read_from(run.job_file());
  if (!file) return nullptr;
  auto day = std::make_unique<Day>();
  day->file = std::move(*file);
  for (const input::Make& make : day->file.makes) {
    if (auto made = run_of(run, make, change)) day->makes.push_back({{}, {}, {}, std::move(made)});
  }
  if (run.diagnostics().has_errors()) return nullptr;
  base::LengthStyle style = day->makes.front().run->style();
  if (!run.options().units && day->file.units) style = base::default_style(*day->file.units);
  run.speak_in(style);
  const auto& of_first = day->makes.front().run->settings().language;
  run.speak(day->file.language ? day->file.language : of_first);
  for (DayMake& one : day->makes) {
    one.run->speak_in(style);
    one.run->speak_as(run);
  }
  find_same_pouches(*day);
  if (!fill_first_pouches_once(run, *day, change)) return nullptr;
  name_makes(*day, run.words());
  check_common(run, day->makes);
  if (run.diagnostics().has_errors()) return nullptr;
  day->title = day->file.title.empty() ? run.say({"day-title"}) : day->file.title;
  for (const DayMake& one : day->makes) run.take(*one.run);
  return day;
}

Answer each_make(Run& run, const Day& day, Answer (*command)(Run&)) {
  Made all;
  Cell::List makes;
  std::vector<std::function<std::vector<ink::Drawing>(ink::Breaks)>> drawn;
  bool is_wrong = false;
  for (const DayMake& one : day.makes) {
    Answer answer = command(*one.run);
    run.take(*one.run);
    auto* made = std::get_if<Made>(&answer);
    is_wrong = is_wrong || made == nullptr || one.run->diagnostics().has_errors();
    if (is_wrong) continue;
    if (made->document) {
      add_document(all.files, *made->document, run.out_folder() / one.folder, one.run);
    }
    all.files.add_all(std::move(made->files));
    if (made->told != Made::Told::nothing) all.told = made->told;
    if (made->sheets) {
      all.sheets = {made->sheets->name, {}};
      drawn.push_back(made->sheets->drawn);
    }
    Cell::Fields fields = {{"make", one.title}};
    if (made->document) fields.push_back({"folder", one.folder});
    for (Field& field : made->report.fields) fields.push_back(std::move(field));
    makes.emplace_back(std::move(fields));
    all.report.begin();
    all.report.heading({"day-make", {{"title", one.title}}});
    for (Block& block : made->report.blocks) all.report.blocks.push_back(std::move(block));
  }
  if (is_wrong) return run.job_wrong();
  all.report.field("makes", std::move(makes));
  if (all.sheets) {
    all.sheets->drawn = [drawn = std::move(drawn)](ink::Breaks breaks) {
      std::vector<ink::Drawing> pages;
      for (const auto& one : drawn) {
        for (ink::Drawing& page : one(breaks)) pages.push_back(std::move(page));
      }
      return pages;
    };
  }
  return all;
}

}  // namespace pouchwright::job
