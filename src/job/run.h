/// What every command of one run shares: the options, the job as read, what was found wrong, and
/// the ways to tell it. A command is a free function in a file of its own (see commands.h).
///
///     Answer size(Run& run) { return Made{size_report(run.pouch(), run.words())}; }
///
/// Inside `job` only.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "base/diagnostic.h"
#include "ink/flow.h"
#include "ink/scene.h"
#include "input/job.h"
#include "job/data.h"
#include "job/job.h"
#include "job/report/report.h"
#include "paper/pages.h"
#include "pouch/pouch.h"

namespace pouchwright::job {

/// The command line is at fault: exit 2. Thrown by commands, caught in run_job.
struct UsageFault {
  base::Message message;
  std::vector<base::Message> hints;
};

/// What a command comes to: what it found out, and the files that it makes.
struct Made {
  /// What is said of the files: nothing, where they are, or besides how to print them.
  enum class Told { nothing, files, prints };

  /// The sheets that show what the report tells: pages, or one drawing.
  struct Sheets {
    std::string name;
    std::function<std::vector<ink::Drawing>(ink::Breaks)> drawn;
  };

  /// Documents that become one PDF, and a picture of each one's first page where the options ask.
  struct Bound {
    std::filesystem::path file;
    std::string title;
    std::vector<paper::Pages> documents;
  };

  Report report;
  OutputFiles files{};
  Told told = Told::nothing;
  /// The file of --out is, by its ending, the report's rows, its fields, or these.
  std::optional<Sheets> sheets{};
  /// Pages at full size: a PDF, and an SVG of each drawing and each page, in the folder of --out.
  std::optional<paper::Pages> document{};
  std::optional<Bound> bound{};
};
/// An outcome where there is nothing to make: the job is wrong, or another run has told.
using Answer = std::variant<Made, Outcome>;

class Run {
 public:
  /// `data` must outlive the run.
  Run(JobOptions options, const Data& data);

  [[nodiscard]] const JobOptions& options() const { return options_; }
  [[nodiscard]] const Data& data() const { return data_; }
  [[nodiscard]] const ink::Icons& icons() const { return data_.icons(); }
  /// Speaks in the unit of --units or of the job, once that is read.
  [[nodiscard]] base::Voice words() const { return {*words_, style_, options_.field_names}; }
  /// The same for what is drawn: fractions as a printer sets them.
  [[nodiscard]] base::Voice paper_words() const;
  [[nodiscard]] const render::Fonts& fonts() const { return data_.fonts(); }
  [[nodiscard]] const render::TextOutliner& outliner() const { return data_.outliner(); }
  [[nodiscard]] base::Diagnostics& diagnostics() { return diagnostics_; }
  [[nodiscard]] std::string say(const base::Message& message) const { return words().say(message); }

  /// In this language from here on, unless the options name one. Empty: as before. Fails: throws
  /// UsageFault where no words are in what the options name.
  void speak(const std::optional<std::string>& language);
  /// Whose words a file may ask for.
  [[nodiscard]] input::Languages languages() const {
    return [this]() -> const std::vector<std::string>& { return data_.languages(); };
  }
  /// In another run's language.
  void speak_as(const Run& other) { words_ = other.words_; }

  /// What a command changes of the job before the pouch is derived; may report faults.
  using Change = std::function<void(pouch::Request&, base::Diagnostics&)>;
  /// Reads the job and folds the pouch. False after errors: the command ends with job_wrong().
  /// Fails: throws UsageFault, base::Failure.
  [[nodiscard]] bool read_job(const Change& change = {});
  /// Requires: read_job() returned true.
  [[nodiscard]] const input::JobSettings& settings() const { return *settings_; }
  [[nodiscard]] const pouch::Pouch& pouch() const { return *pouch_; }
  /// The file of the options, read once. Fails: throws base::Failure.
  [[nodiscard]] const input::LoadedFile& job_file() const;
  /// The job is one of a day's, whose file says more of it. Both must outlive the run.
  void is_made_in(const input::LoadedFile& day, const input::Make& make);
  /// What the day calls this job, and all of them.
  struct CalledInDay {
    std::string title;
    std::vector<std::string> all;
  };
  void is_called(CalledInDay called) { called_ = std::move(called); }
  /// Absent: the job is not made in a day.
  [[nodiscard]] const std::optional<CalledInDay>& called() const { return called_; }
  /// Faults may be about this file.
  void read_from(const input::LoadedFile& file) { sources_[file.name] = file.text; }
  /// What another run has found, where it is not known yet, and what it has read.
  void take(const Run& other);
  /// A file that another names by a path from its folder; empty where there is none.
  [[nodiscard]] std::optional<input::LoadedFile> file_beside(const std::string& file,
                                                             const std::string& path) const;

  /// The text that the job was read from.
  [[nodiscard]] const std::string& job_text() const { return sources_.at(options_.job_file); }

  /// The text of another file that was read. Absent: it was not.
  [[nodiscard]] std::optional<std::string> source_of(const std::string& file) const;

  /// What the options say in place of the job. Fails: throws UsageFault.
  [[nodiscard]] std::vector<input::Override> overrides() const;

  /// How lengths print. Before a job is read and without --units: in millimetres.
  [[nodiscard]] base::LengthStyle style() const { return style_; }
  /// For a command that reads no job of its own.
  void speak_in(base::LengthStyle style) { style_ = style; }
  /// The unit of --units, if given.
  [[nodiscard]] std::optional<base::Unit> printed_units() const;
  /// A length of the command line; bare numbers are millimetres.
  /// Fails: throws UsageFault naming `option`.
  [[nodiscard]] base::Length length_of(const std::string& option, const std::string& text) const;
  /// --paper, else A4. Fails: throws UsageFault.
  [[nodiscard]] input::PaperSize paper() const;

  /// To be called between parts that take long. Fails: throws Stopped where the options say so.
  void go_on() const;

  /// The folder of --out. Fails: throws base::Failure where it is a file.
  [[nodiscard]] std::filesystem::path out_folder() const;

  /// `[{place: {file, line, column} | null, message, hint, path | null, missing, leaks,
  /// remedy: {path, value, words} | null}]` of one severity; files without folders.
  [[nodiscard]] Cell::List told(base::Severity severity) const;

  /// Writes the files, or keeps them for the outcome, and prints the report.
  /// Fails: throws base::Failure; UsageFault where a file would replace the job.
  [[nodiscard]] Outcome done(Made made);
  /// Requires: diagnostics() holds an error.
  [[nodiscard]] Outcome job_wrong() const;
  [[nodiscard]] Outcome usage_wrong(const UsageFault& fault) const;

 private:
  [[nodiscard]] input::Library library();
  [[nodiscard]] std::optional<input::LoadedFile> named_file(const std::string& name);
  void tell_unusable_construction();
  [[nodiscard]] std::string shown(const base::Diagnostics& diagnostics,
                                  base::Severity severity) const;
  [[nodiscard]] std::vector<base::Diagnostic> in_telling_order() const;
  [[nodiscard]] std::vector<MadeFile> write(const OutputFiles& files) const;
  [[nodiscard]] std::string text_of(const Made& made) const;
  void add_diagnostics(Cell::Fields& fields) const;

  JobOptions options_;
  const Data& data_;
  const base::Words* words_;  ///< of `data_`
  base::LengthStyle style_;
  base::Sources sources_;
  base::Diagnostics diagnostics_;
  mutable std::optional<input::LoadedFile> job_file_;
  const input::Make* make_ = nullptr;
  std::optional<CalledInDay> called_;
  std::optional<input::JobSettings> settings_;
  std::optional<pouch::Pouch> pouch_;
};

}  // namespace pouchwright::job
