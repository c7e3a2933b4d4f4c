#include "job/commands/job_code.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "input/node.h"
#include "job/job_text/carried.h"
#include "job/job_text/edited.h"
#include "render/code.h"
#include "render/text.h"
#include "tell/names.h"

namespace pouchwright::job {
namespace {

using draw::JobCode;
using Codes = std::vector<ink::CodeSquare>;

/// Version 1 of ISO/IEC 18004 has 21 modules a side, each further one 4 more.
int version_with(int modules) {
  constexpr int kOfNone = 17;
  constexpr int kStep = 4;
  return std::min(render::kLargestVersion, (modules - kOfNone) / kStep);
}

/// Empty where `letters` need more codes than a job may take.
Codes codes_of(const std::string& letters, int version) {
  for (int count = 1; count <= kMostCodes; ++count) {
    Codes made;
    const auto parts = count == 1 ? std::vector{letters} : in_parts(letters, count);
    for (const std::string& part : parts) {
      auto code = render::code_of(part, version);
      if (!code) break;
      made.push_back(std::move(*code));
    }
    if (made.size() == parts.size()) return made;
  }
  return {};
}

/// As the job would say what an option says: as TOML, or as a text where it is none.
std::string as_toml(const input::Override& set) {
  base::Diagnostics ignored;
  const auto read = input::parsed({set.shown, set.text()}, ignored);
  return read && read->entries.size() == 1 ? set.value : toml_text(set.value);
}

/// Empty where the text has no place for one of the values.
std::optional<std::string> with_settings(const Run& run) {
  std::optional<std::string> text = run.job_text();
  for (const input::Override& set : run.overrides()) {
    if (text) text = edited(*text, set.path, as_toml(set));
  }
  return text;
}

// NOLINTNEXTLINE(misc-no-recursion): nesting was limited before parsing
void collect_files(const input::Node& node, std::vector<std::string>& files) {
  for (const auto& [key, value] : node.entries) {
    const bool may_name = key == "construction" || key == "laminate" || key == "outer" ||
                          key == "lining" || key == "work" || key == "group";
    const bool is_path =
        value.kind == input::Node::Kind::text && value.text.find('/') != std::string::npos;
    if (may_name && is_path) files.push_back(value.text);
    collect_files(value, files);
  }
}

/// The files that the job names by their paths, and its group's: without their folders, as papers
/// call them.
std::vector<std::string> files_named_in(const std::string& text,
                                        const std::vector<input::GroupValue>& of_group) {
  base::Diagnostics ignored;
  std::vector<std::string> files;
  if (const auto root = input::parsed({"", text}, ignored)) collect_files(*root, files);
  if (!of_group.empty()) files.push_back(of_group.front().place.file);
  for (std::string& one : files) one.erase(0, one.rfind('/') + 1);
  std::sort(files.begin(), files.end());
  files.erase(std::unique(files.begin(), files.end()), files.end());
  return files;
}

}  // namespace

JobCode job_in_codes(const std::string& text, const std::string& page, int most_modules) {
  const int version = version_with(most_modules);
  JobCode made{.title = {}, .page = page};
  if (version < 1) return made;
  const std::string whole = page.empty() ? text : linked_job(page, text);
  if (auto code = render::code_of(whole, version)) {
    made.holds = page.empty() ? JobCode::Holds::text : JobCode::Holds::link;
    made.codes.push_back(std::move(*code));
    return made;
  }
  made.holds = JobCode::Holds::packed;
  made.codes = codes_of(packed_job(text), version);
  return made;
}

std::vector<ink::Drawing> job_code_sheets(const Run& run, ink::Point room) {
  const auto text = with_settings(run);
  const std::string carried = text.value_or(run.job_text());
  JobCode sheet = job_in_codes(carried, run.settings().group.page.value, draw::most_modules(room));
  const base::Voice words = run.paper_words();
  sheet.title = tell::title_of(run.pouch(), words);
  sheet.files = files_named_in(carried, run.settings().of_group);
  sheet.lacks_settings = !text;
  return draw::job_code(sheet, words, render::FontMeasure(run.fonts()), room);
}

}  // namespace pouchwright::job
