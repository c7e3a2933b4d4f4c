#include <algorithm>
#include <charconv>
#include <functional>
#include <optional>
#include <string_view>
#include <utility>

#include "base/text.h"
#include "job/commands/commands.h"
#include "job/commands/packet_sections.h"
#include "job/documents.h"
#include "job/report/documents.h"
#include "tell/names.h"

namespace pouchwright::job {

namespace {

constexpr const char* kFile = "packet.pdf";
// ---- What is asked for ----

std::vector<std::string> names_in(const std::string& option, const std::string& text) {
  const std::vector<std::string_view> known = section_names();
  std::vector<std::string> names;
  std::size_t from = 0;
  while (from <= text.size()) {
    const std::size_t comma = std::min(text.find(',', from), text.size());
    std::string name(base::trimmed(text.substr(from, comma - from)));
    if (std::find(known.begin(), known.end(), name) == known.end()) {
      throw UsageFault{{"usage-section", {{"option", option}, {"text", name.substr(0, 40)}}},
                       {{"usage-section-hint", {{"names", base::list_text(known)}}}}};
    }
    names.push_back(std::move(name));
    from = comma + 1;
  }
  return names;
}

bool holds(const std::vector<std::string>& names, std::string_view name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

std::vector<std::string> asked_sections(const JobOptions& options) {
  const std::vector<std::string_view> known = section_names();
  std::vector<std::string> asked(known.begin(), known.end());
  const auto keep = [&](const std::function<bool(const std::string&)>& kept) {
    asked.erase(std::remove_if(asked.begin(), asked.end(),
                               [&](const std::string& name) { return !kept(name); }),
                asked.end());
  };
  if (options.only) {
    const auto names = names_in("--only", *options.only);
    keep([&](const std::string& name) { return holds(names, name); });
  }
  if (options.without) {
    const auto names = names_in("--without", *options.without);
    keep([&](const std::string& name) { return !holds(names, name); });
  }
  if (asked.empty()) throw UsageFault{{"usage-no-section"}, {{"usage-no-section-hint"}}};
  return asked;
}

/// As many as --copies says; nothing where it is not given.
std::optional<int> copies(const Run& run) {
  const auto& text = run.options().copies;
  if (!text) return std::nullopt;
  int number = 0;
  const auto [end, fault] = std::from_chars(text->data(), text->data() + text->size(), number);
  const bool whole = fault == std::errc() && end == text->data() + text->size();
  if (whole && number >= 1 && number <= batch::kMostPouches) return number;
  throw UsageFault{{"usage-option", {{"option", "--copies"}, {"text", text->substr(0, 40)}}},
                   {{"usage-copies-hint", {{"most", batch::kMostPouches}}}}};
}

std::string out_file(const Run& run) {
  const std::string& out = run.options().out;
  if (out.empty()) return kFile;
  if (std::filesystem::path(out).extension() == ".pdf") return out;
  throw UsageFault{{"usage-out-no-pdf", {{"text", out}}}, {{"usage-out-no-pdf-hint"}}};
}

// ---- What is made ----

/// No page has an SVG file of its own.
Report report_of(const std::vector<Section>& sections, const std::string& pdf) {
  Cell::List told;
  Cell::List documents;
  std::size_t before = 0;
  for (const Section& section : sections) {
    Cell::Fields fields = {{"name", section.name},
                           {"title", section.pages.title},
                           {"first_page", before + 1},
                           {"pages", section.pages.pages.size()},
                           {"prints", section.prints}};
    if (!section.make.empty()) fields.push_back({"make", section.make});
    told.emplace_back(std::move(fields));
    if (section.full_size) {
      for (Cell& one : document_cells(section.pages, {pdf, before, PagesFile::Svg::none})) {
        documents.push_back(std::move(one));
      }
    }
    before += section.pages.pages.size();
  }
  Report report;
  report.field("sections", std::move(told));
  report.field("documents", std::move(documents));
  return report;
}

}  // namespace

namespace {

Answer bound(const Run& run, std::vector<Section> sections, const std::string& file,
             const std::string& title) {
  number_pages(sections, run);
  Made made{
      report_of(sections, std::filesystem::path(file).filename().string()), {}, Made::Told::prints};
  made.bound = {file, run.say({"packet-title", {{"title", title}}}), {}};
  for (Section& section : sections) made.bound->documents.push_back(std::move(section.pages));
  return made;
}

}  // namespace

Answer packet(Run& run) {
  const std::string file = out_file(run);
  std::vector<Section> sections = packet_sections(run, asked_sections(run.options()), copies(run));
  if (sections.empty()) return run.job_wrong();
  return bound(run, std::move(sections), file, tell::title_of(run.pouch(), run.words()));
}

Answer packet_of_day(Run& run, const Day& day) {
  const std::string file = out_file(run);
  std::vector<Section> sections =
      day_sections(run, day, asked_sections(run.options()), copies(run));
  for (const DayMake& make : day.makes) run.take(*make.run);
  if (sections.empty()) return run.job_wrong();
  return bound(*day.makes.front().run, std::move(sections), file, day.title);
}

}  // namespace pouchwright::job
