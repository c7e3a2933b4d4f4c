/// The program's own data: words, papers, materials, icons, fonts and the constructions by name. Loaded
/// once; a run only borrows it, so that a page in the browser need not read it again for each edit.
///
///     Data data(data_folder());
///     Outcome outcome = run_job(options, data);
#pragma once

#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/voice.h"
#include "batch/supplies.h"
#include "ink/icons.h"
#include "input/job.h"
#include "render/fonts.h"
#include "render/text.h"

namespace pouchwright::job {

/// The words alone, so that whatever is wrong with the rest can be told.
/// Fails: throws base::Failure where they cannot be read.
[[nodiscard]] base::Words load_words(const std::filesystem::path& folder);

/// The names of the folder's words files, sorted: `ar`, `de`, `en`, `en-GB`.
[[nodiscard]] std::vector<std::string> languages_in(const std::filesystem::path& folder);

/// Not shared between threads: fonts are opened when they are first asked for, and Pango's font map
/// belongs to one thread.
class Data {
 public:
  /// Fails: throws base::Failure where papers or materials cannot be read.
  Data(std::filesystem::path folder, base::Words words);
  /// As above, with the folder's own words.
  explicit Data(const std::filesystem::path& folder) : Data(folder, load_words(folder)) {}

  [[nodiscard]] const std::filesystem::path& folder() const { return folder_; }
  [[nodiscard]] const base::Words& words() const { return words(language_); }
  /// Those of one of languages(): a country's over its language's, that over the English ones.
  /// Fails: throws base::Failure where the file cannot be read.
  [[nodiscard]] const base::Words& words(const std::string& language) const;
  [[nodiscard]] const std::vector<std::string>& languages() const;
  /// The file of one of them alone, without what lies under it. Fails: throws base::Failure.
  [[nodiscard]] input::LoadedFile words_file(const std::string& language) const;
  /// Where no job says otherwise, this is spoken from here on: one of languages(). Like what is kept,
  /// it is no part of what the data are.
  void speak(const std::string& language) const { language_ = language; }
  /// What they are then spoken to in.
  [[nodiscard]] const std::string& language() const { return language_; }
  [[nodiscard]] const std::vector<input::PaperSize>& papers() const { return papers_; }
  [[nodiscard]] const std::vector<pouch::Material>& materials() const { return materials_; }
  /// shared/icons.toml. Fails: throws base::Failure.
  [[nodiscard]] const ink::Icons& icons() const;
  /// Names of the files of patterns/ that state operations, sorted; starter jobs lie beside them.
  [[nodiscard]] const std::vector<std::string>& constructions() const;
  /// Names of the others there: jobs to begin with.
  [[nodiscard]] const std::vector<std::string>& sample_jobs() const;

  /// Thread, packages, small things: shared/stitches.toml. Fails: throws base::Failure.
  [[nodiscard]] const batch::SupplyData& supplies() const;

  /// A file of the data folder, as `shared/work.toml`. Fails: throws base::Failure.
  [[nodiscard]] input::LoadedFile file(const std::string& name) const;
  /// The construction called `name`, or nothing.
  [[nodiscard]] std::optional<input::LoadedFile> construction(const std::string& name) const;

  /// A group's file for jobs that name none; it is read when the first job is.
  void use_group(const std::filesystem::path& file);
  /// Its text under its whole path; empty where there is none. Fails: throws base::Failure.
  [[nodiscard]] std::optional<input::LoadedFile> group() const;

  /// Fails: throws base::Failure where a pinned font is not installed.
  [[nodiscard]] const render::Fonts& fonts() const;
  /// Of those fonts; what it has outlined once it keeps, for the next run too. Fails: as fonts().
  [[nodiscard]] const render::TextOutliner& outliner() const;

  /// Own data at fault is the machine's fault, not the job's.
  /// Fails: throws the first error of `faults` as a base::Failure.
  static void refuse(const base::Diagnostics& faults);

 private:
  /// Names of the files of patterns/, sorted.
  struct Patterns {
    std::vector<std::string> constructions, jobs;
  };
  [[nodiscard]] const Patterns& patterns() const;

  std::filesystem::path folder_;
  base::Words english_;
  mutable std::string language_ = "en";
  mutable std::map<std::string, base::Words> other_words_;
  mutable std::optional<std::vector<std::string>> languages_;
  std::vector<input::PaperSize> papers_;
  std::vector<pouch::Material> materials_;
  mutable std::optional<Patterns> patterns_;
  std::filesystem::path group_file_;
  mutable std::optional<input::LoadedFile> group_;
  mutable std::optional<ink::Icons> icons_;
  mutable std::optional<batch::SupplyData> supplies_;
  mutable std::unique_ptr<render::Fonts> fonts_;
  mutable std::unique_ptr<render::TextOutliner> outliner_;
};

}  // namespace pouchwright::job
