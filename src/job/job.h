/// One run of a command: options in, files and text out. The command line and the desk both fill
/// JobOptions and call run_job; nothing else reads or writes a file.
///
///     Data data(data_folder());
///     Outcome outcome = run_job({.command = Command::size, .job_file = "pouch.toml"}, data);
///     std::cout << outcome.out; std::cerr << outcome.err; return outcome.status;
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/voice.h"
#include "job/commands/new.h"
#include "job/commands/quick_lay.h"
#include "job/data.h"
#include "job/files.h"

namespace pouchwright::job {

/// The construction that is offered first to those who have not chosen one yet.
inline constexpr const char* kUsualConstruction = "foldover";

/// Where lengths are in inches and paper is Letter.
inline constexpr const char* kCountryOfInches = "US";

enum class Command {
  check,
  size,
  range,
  cutting_template,
  mask,
  savings,
  lay,
  supplies,
  schedule,
  steps,
  record,
  packet,
  new_job,
  list,
  words
};

/// What a page on a screen is shown beside a command's results, or in their place.
enum class Shown {
  results,
  pouch,    ///< `check`: kPouchPicture, kPouchPlaces and kPanelPicture
  folding,  ///< `steps`: each as a movement, its files by folding_file()
  pages     ///< what would be a PDF's bytes comes as PagePictures
};
/// The finished pouch without words; where on it what is, as JSON; and the main panel flat.
inline constexpr const char* kPouchPicture = "pouch.svg";
inline constexpr const char* kPouchPlaces = "pouch.json";
inline constexpr const char* kPanelPicture = "template.svg";
/// `3-40.svg`: the third step, so many percent of its movement done.
[[nodiscard]] std::string folding_file(std::size_t step, int percent);

/// Pages as small pictures.
struct PagePictures {
  struct Page {
    double width_mm = 0, height_mm = 0;
    std::string png;  ///< empty where it is not wanted
  };
  std::vector<std::size_t> wanted;  ///< from 0
  std::vector<Page> pages;
};

/// How much is said beside the results.
enum class Talk { normal, quiet };
/// What standard output holds; `said`: the report as JSON, and in it the lines for people.
enum class Form { text, json, said };
/// What a whole-canvas SVG holds: everything, or only what a cutting machine cuts and folds.
enum class Lines { all, cut_and_fold };
/// Where files go: to the disk, or only into the outcome.
enum class Writing { disk, kept };
/// What a job may name: files by path as well, or only what the program knows by name.
enum class Naming { paths, names_only };
/// Are pictures written beside the documents?
enum class Previews { none, png };

/// The options of one run, as texts that are read together with the job.
struct JobOptions {
  Command command = Command::check;
  std::string job_file;
  std::optional<std::string> job_text;         ///< the job itself; `job_file` then only names it
  std::vector<std::string> sets;               ///< "path=value", in order
  std::optional<std::string> liners;           ///< replaces liners.count; `range`: "1,2,3,5"
  std::vector<std::string> other_liners;       ///< `size`: "[NAME =] 80 x 120 x 9 mm"
  std::optional<std::string> remnant;          ///< "60 x 45 cm": the pouch that it yields
  std::optional<std::string> units;            ///< printing only
  std::optional<std::string> language;         ///< what words are taken; replaces the job's
  std::optional<std::string> paper;            ///< replaces paper.size
  std::optional<std::string> printed_square;   ///< replaces paper.printed_square
  std::optional<std::string> packet_template;  ///< replaces packet.template
  std::optional<std::string> tolerance;        ///< `savings`: how much a size may change; 10 mm
  std::optional<std::string> day;              ///< `range`: a day's file of its sizes
  std::optional<int> apply;               ///< `savings`: write the job with this change, from 1
  std::vector<std::string> records;       ///< `record`: files of what a group wrote down
  std::vector<std::string> record_texts;  ///< the same as texts
  bool applies_record = false;            ///< `record`: write the job with what was found
  bool record_form = false;               ///< `record`: only the line that a record begins with
  Answers answers;                        ///< `new`: what need not be asked
  std::string country;            ///< `new`: in whose units and paper it suggests; empty: unknown
  Ask ask;                        ///< `new`: empty where nobody can be asked
  std::vector<std::string> have;  ///< `lay`: cloth that is there, "laminate = 60 in x 10 yd"
  QuickLay quick;                 ///< `lay` without a job: a cloth and pieces
  Lines lines = Lines::all;
  Previews previews = Previews::none;
  bool finished = false;                     ///< `steps`: one picture, of the finished pouch
  bool wordless = false;                     ///< `steps`: pictures and numbers only
  std::optional<std::string> only;           ///< `packet`: "steps,checks": no others
  std::optional<std::string> without;        ///< `packet`: all but these
  std::optional<std::string> copies;         ///< `packet`: how many going-home cards
  std::optional<std::string> words_missing;  ///< `words`: what a language does not say yet
  std::optional<std::string> words_review;   ///< `words`: all of a language beside the English
  std::optional<std::string> words_checked;  ///< `words`: a file held against the English one
  std::string listed;                        ///< `list`: "constructions", …; empty: all in short
  std::string listed_name;                   ///< `list constructions`: only this one
  bool test_page = false;                    ///< `template`: only a page to measure a printer by
  bool explain = false;                      ///< `check`: where each value comes from
  Shown shown = Shown::results;
  std::shared_ptr<PagePictures> page_pictures;  ///< with Shown::pages: where they go
  std::string out;                              ///< folder; empty: the working folder
  Writing writing = Writing::disk;
  /// Which of the files are made. Empty: all.
  std::function<bool(const std::filesystem::path&)> wants;
  Naming naming = Naming::paths;
  Form form = Form::text;
  /// What values of the job are called by: the desk's fields are no keys of a file.
  base::FieldNames field_names = base::FieldNames::keys;
  Talk talk = Talk::normal;
  /// Asked between the parts of a run: where it says no, the run ends with Status::stopped. Empty:
  /// to the end.
  std::function<bool()> goes_on;
};

/// Thrown inside a run that is not to go on.
struct Stopped {};

/// Exit codes of the program; `stopped` only where JobOptions::goes_on ended a run.
enum class Status {
  done = 0,
  job_wrong = 1,
  usage_wrong = 2,
  machine_refused = 3,
  our_bug = 70,
  stopped = 75
};

struct Outcome {
  Status status = Status::done;
  std::string out;              ///< for standard output
  std::string err;              ///< for standard error
  std::vector<MadeFile> files;  ///< with Writing::kept: what the disk would have got
};

/// Runs one command. Never throws for a job or machine at fault: the outcome tells.
[[nodiscard]] Outcome run_job(const JobOptions& options, const Data& data);

/// A machine's fault as an outcome, for those that catch it outside run_job.
[[nodiscard]] Outcome refused(const base::Words& words, const std::exception& failure);

}  // namespace pouchwright::job
