#include "job/data.h"

#include <algorithm>
#include <utility>

#include "base/diagnostic.h"
#include "draw/sheets/scenes.h"
#include "input/icons.h"
#include "input/reader.h"
#include "input/stitches.h"
#include "job/files.h"

namespace pouchwright::job {

namespace fs = std::filesystem;

namespace {

bool states_operations(const std::string& text) {
  return text.find("[[operation]]") != std::string::npos;
}

input::LoadedFile file_in(const fs::path& folder, const std::string& name) {
  return {name, read_whole(folder / name, name, input::kMostBytes, "data-missing-hint")};
}

}  // namespace

namespace {

constexpr const char* kEnglish = "en";

/// What the words of every language call alike: no language.
constexpr const char* kGlossary = "glossary";

input::LoadedFile words_file_in(const fs::path& folder, const std::string& language) {
  const std::string name = "shared/words/" + language + ".toml";
  return {name, read_whole(folder / name, name, input::kMostWordsBytes, "data-missing-hint")};
}

base::Words words_in(const fs::path& folder, const std::string& language) {
  base::Diagnostics faults;
  base::Words words = input::read_words(words_file_in(folder, language), faults);
  Data::refuse(faults);
  return words;
}

}  // namespace

base::Words load_words(const fs::path& folder) { return words_in(folder, kEnglish); }

std::vector<std::string> languages_in(const fs::path& folder) {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder / "shared/words")) {
    const std::string name = entry.path().stem().string();
    if (entry.path().extension() == ".toml" && name != kGlossary) names.push_back(name);
  }
  std::sort(names.begin(), names.end());
  return names;
}

Data::Data(fs::path folder, base::Words words)
    : folder_(std::move(folder)), english_(std::move(words)) {
  base::Diagnostics faults;
  papers_ = input::read_papers(file("shared/papers.toml"), faults);
  materials_ = input::read_materials(file("shared/materials.toml"), faults);
  refuse(faults);
}

const std::vector<std::string>& Data::languages() const {
  if (!languages_) languages_ = languages_in(folder_);
  return *languages_;
}

// NOLINTNEXTLINE(misc-no-recursion): a country's name is longer than its language's
const base::Words& Data::words(const std::string& language) const {
  if (language == kEnglish) return english_;
  const auto known = other_words_.find(language);
  if (known != other_words_.end()) return known->second;
  const std::size_t country = language.rfind('-');
  const base::Words& under =
      country == language.npos ? english_ : words(language.substr(0, country));
  return other_words_.emplace(language, words_in(folder_, language).over(under)).first->second;
}

input::LoadedFile Data::words_file(const std::string& language) const {
  return words_file_in(folder_, language);
}

input::LoadedFile Data::file(const std::string& name) const { return file_in(folder_, name); }

const Data::Patterns& Data::patterns() const {
  if (patterns_) return *patterns_;
  patterns_.emplace();
  for (const auto& entry : fs::directory_iterator(folder_ / "patterns")) {
    if (entry.path().extension() != ".toml") continue;
    const std::string shown = entry.path().filename().string();
    const bool is_construction =
        states_operations(read_whole(entry.path(), shown, input::kMostBytes));
    auto& names = is_construction ? patterns_->constructions : patterns_->jobs;
    names.push_back(entry.path().stem().string());
  }
  std::sort(patterns_->constructions.begin(), patterns_->constructions.end());
  std::sort(patterns_->jobs.begin(), patterns_->jobs.end());
  return *patterns_;
}

const std::vector<std::string>& Data::constructions() const { return patterns().constructions; }

const std::vector<std::string>& Data::sample_jobs() const { return patterns().jobs; }

std::optional<input::LoadedFile> Data::construction(const std::string& name) const {
  if (name.find('/') != std::string::npos) return std::nullopt;
  const std::string shown = "patterns/" + name + ".toml";
  auto text = read_if_there(folder_ / shown, shown, input::kMostBytes);
  if (!text || !states_operations(*text)) return std::nullopt;
  return input::LoadedFile{shown, std::move(*text)};
}

const ink::Icons& Data::icons() const {
  if (!icons_) {
    base::Diagnostics faults;
    icons_ = input::read_icons(file("shared/icons.toml"), draw::icon_names(), faults);
    refuse(faults);
  }
  return *icons_;
}

const batch::SupplyData& Data::supplies() const {
  if (!supplies_) {
    base::Diagnostics faults;
    supplies_ = input::read_stitches(file("shared/stitches.toml"), papers_, faults);
    refuse(faults);
  }
  return *supplies_;
}

void Data::use_group(const fs::path& file) { group_file_ = fs::absolute(file).lexically_normal(); }

std::optional<input::LoadedFile> Data::group() const {
  if (group_file_.empty()) return std::nullopt;
  if (!group_) {
    const std::string name = group_file_.string();
    group_ = {name, read_whole(group_file_, name, input::kMostBytes, "group-file-hint")};
  }
  return group_;
}

const render::Fonts& Data::fonts() const {
  if (!fonts_) fonts_ = std::make_unique<render::Fonts>(folder_ / "fonts");
  return *fonts_;
}

const render::TextOutliner& Data::outliner() const {
  if (!outliner_) outliner_ = std::make_unique<render::TextOutliner>(fonts());
  return *outliner_;
}

void Data::refuse(const base::Diagnostics& faults) {
  if (faults.has_errors()) {
    throw base::Failure(faults.sorted(base::Severity::error).front());
  }
}

}  // namespace pouchwright::job
