#include <algorithm>
#include <optional>
#include <utility>

#include "base/text.h"
#include "job/commands/commands.h"
#include "job/report/construction.h"
#include "job/report/print.h"
#include "job/report/reports.h"
#include "job/sheets.h"
#include "render/text.h"

namespace pouchwright::job {

namespace {

/// As a text of TOML, which takes JSON's escapes.
std::string quoted(const std::string& text) {
  return Json(text).dump(-1, ' ', false, Json::error_handler_t::replace);
}

/// A job that says nothing but its construction. --set and --units hold for it.
JobOptions job_of(const std::string& construction, const Run& run) {
  JobOptions options;
  options.command = Command::list;
  options.job_file = construction.ends_with(".toml") ? "list.toml" : construction + ".toml";
  options.job_text = "construction = " + quoted(construction) + "\n";
  options.sets = run.options().sets;
  options.units = run.options().units;
  options.paper = run.options().paper;
  options.form = run.options().form;
  options.naming = run.options().naming;
  return options;
}

/// One of patterns/, not a file of one's own.
bool is_known(const std::string& construction) {
  return construction.find('/') == std::string::npos;
}

/// All of patterns/ by name, or only the one that the options name.
/// Fails: throws UsageFault where none is called so.
std::vector<std::string> listed_names(const Run& run) {
  const std::vector<std::string>& known = run.data().constructions();
  const std::string& asked = run.options().listed_name;
  if (asked.empty()) return known;
  if (!is_known(asked)) return {asked};
  if (std::find(known.begin(), known.end(), asked) != known.end()) return {asked};
  throw UsageFault{{"construction-unknown", {{"text", asked.substr(0, 40)}}},
                   {{"usage-list-construction-hint", {{"names", base::list_text(known)}}}}};
}

/// An SVG has one drawing: the pages one below the other.
std::vector<ink::Drawing> in_one(std::vector<ink::Drawing> pages) {
  ink::Drawing& first = pages.front();
  for (std::size_t i = 1; i < pages.size(); ++i) {
    const ink::Point below{0, first.extent.y1};
    for (ink::Item& item : pages[i].items) first.add(moved(std::move(item), below));
    first.extent.y1 += pages[i].extent.height();
  }
  pages.resize(1);
  return pages;
}

/// The listed constructions' pages as one file.
std::string pages_file(const Run& run, Ending ending, std::vector<ink::Drawing> pages,
                       const SheetPaper& paper) {
  for (ink::Drawing& page : pages) page.title = run.say({"list-constructions"});
  if (ending == Ending::svg) pages = in_one(std::move(pages));
  return sheet_bytes(run, "constructions", ending, pages, paper);
}

Answer list_in_full(const Run& run) {
  const std::string& out = run.options().out;
  std::optional<Ending> ending;
  if (!out.empty()) ending = sheet_ending(run);
  Made made{{}, {}, Made::Told::files};
  Cell::List all;
  std::vector<ink::Drawing> drawn;
  SheetPaper paper;
  const render::FontMeasure measure(run.fonts());
  for (const std::string& name : listed_names(run)) {
    const JobOptions options = job_of(name, run);
    Run inner(options, run.data());
    if (!inner.read_job()) return inner.job_wrong();
    const pouch::Pouch& pouch = inner.pouch();
    all.emplace_back(construction_fields(pouch));
    for (Block& block : construction_blocks(pouch)) {
      made.report.blocks.push_back(std::move(block));
    }
    if (is_known(name)) {
      made.report.begin(Block::Look::points, 2);
      made.report.say({"construction-begin", {{"name", pouch.construction().name}}});
    }
    if (!ending) continue;
    paper = sheet_paper(inner.settings().paper);
    for (auto& page : construction_pages(pouch, paper.room, run.icons(), inner.words(), measure)) {
      drawn.push_back(std::move(page));
    }
  }
  made.report.field("constructions", std::move(all));
  if (ending) made.files.add(out, pages_file(run, *ending, std::move(drawn), paper));
  return made;
}

/// Only constructions have names to choose by and pages to write.
void refuse_what_is_for_constructions(const Run& run) {
  if (!run.options().listed_name.empty()) {
    throw UsageFault{{"usage-list-name", {{"text", run.options().listed_name.substr(0, 40)}}},
                     {{"usage-list-hint"}}};
  }
  if (!run.options().out.empty()) {
    throw UsageFault{{"usage-list-out", {{"text", run.options().out}}}, {{"usage-list-hint"}}};
  }
}

}  // namespace

Answer list(Run& run) {
  const std::string& asked = run.options().listed;
  if (asked == "constructions") return list_in_full(run);
  refuse_what_is_for_constructions(run);
  return Made{list_report(run.data(), asked, run.words())};
}

}  // namespace pouchwright::job
