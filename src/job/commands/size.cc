#include <variant>

#include "base/text.h"
#include "draw/sheets/content.h"
#include "input/reader.h"
#include "job/commands/commands.h"
#include "job/documents.h"
#include "job/job_text/sides.h"
#include "job/report/content.h"
#include "job/report/table.h"
#include "job/sheets.h"
#include "pouch/judge/content.h"
#include "render/text.h"

namespace pouchwright::job {

namespace {

/// "[NAME =] WIDTH x LENGTH x THICKNESS"; a unit after the last holds for all.
struct OtherLiner {
  std::string name;
  pouch::Liners liners;
};

OtherLiner other_liner(const Run& run, const std::string& text) {
  const UsageFault fault{{"usage-option", {{"option", "--other-liner"}, {"text", text}}},
                         {{"usage-option-hint--other-liner"}}};
  const std::size_t equals = text.find('=');
  const bool named = equals != std::string::npos;
  const std::string lengths = named ? text.substr(equals + 1) : text;
  const auto sides = three_sides(lengths, base::Unit::mm);
  if (!sides) throw fault;
  OtherLiner other;
  // Ease and overlap are the pouch's, not the liner's.
  if (run.pouch().request.liners) other.liners = *run.pouch().request.liners;
  other.liners.count.reset();
  other.liners.columns.reset();
  other.liners.width.value = sides->width;
  other.liners.length.value = sides->length;
  other.liners.thickness.value = sides->thickness;
  other.name = base::trimmed(named ? text.substr(0, equals) : lengths);
  return other;
}

void add_other_liners(const Run& run, Json& report, std::string& text) {
  if (run.options().other_liners.empty()) return;
  report["other_liners"] = Json::array();
  TextTable table(run.words());
  table.heading("size-other-liners");
  for (const std::string& option : run.options().other_liners) {
    const OtherLiner other = other_liner(run, option);
    const pouch::Capacity capacity = pouch::capacity_for(run.pouch(), other.liners);
    report["other_liners"].push_back({{"name", other.name},
                                      {"width_mm", other.liners.width.value.in_mm()},
                                      {"length_mm", other.liners.length.value.in_mm()},
                                      {"thickness_mm", other.liners.thickness.value.in_mm()},
                                      {"capacity", capacity_report(capacity)}});
    const std::string limits = shown_limits(capacity, run.words());
    table.row(other.name,
              run.say({limits.empty() ? "size-other-liner" : "size-other-liner-limited",
                       {{"capacity", shown(capacity, run.words())}, {"limits", limits}}}));
  }
  text += "\n" + table.text();
}

void add_remnant(const Run& run, Json& report, std::string& text) {
  if (!run.options().remnant) return;
  const pouch::CutPanel& panel = *run.pouch().request.panel;
  report["remnant"] = {{"width_mm", panel.width.value.in_mm()},
                       {"length_mm", panel.length.value.in_mm()}};
  text = run.say({"size-from-remnant",
                  {{"width", base::in_both(panel.width.value)},
                   {"length", base::in_both(panel.length.value)}}}) +
         "\n\n" + text;
}

/// The picture of the content, or the report. False after an error where there is nothing to draw.
bool write_out(Run& run, const Json& report) {
  const Ending ending = out_ending(run);
  if (ending == Ending::csv) {
    throw UsageFault{{"usage-size-ending", {{"text", run.options().out}}},
                     {{"usage-out-ending-hint"}}};
  }
  OutputFiles files;
  if (ending == Ending::json) {
    files.add(run.options().out, dumped(report));
  } else {
    const render::PangoMeasure measure(run.fonts());
    constexpr double kHighest = 180;
    const auto pictures =
        draw::content_picture(run.pouch(), run.words(), measure, {kSheetRoom.x, kHighest});
    if (pictures.empty()) {
      run.diagnostics().error(run.pouch().request.place, {"size-no-picture"},
                              {{"size-no-picture-hint"}});
      return false;
    }
    files.add(run.options().out, sheet_bytes(run, "content", ending, pictures));
  }
  run.write(files);
  return true;
}

}  // namespace

pouch::CutPanel remnant_of(const Run& run) {
  const std::string& text = *run.options().remnant;
  const auto sides = input::length_pair_of(text, base::Unit::mm);
  if (!sides || sides->across <= base::Length() || sides->down <= base::Length()) {
    throw UsageFault{{"usage-option", {{"option", "--remnant"}, {"text", text}}},
                     {{"usage-option-hint--remnant"}}};
  }
  const base::Place place{"--remnant " + text, 0, 0, 0};
  return {{sides->across, place}, {sides->down, place}, place};
}

Outcome check(Run& run) {
  // A check draws as well: paper that leaves no room is a fault of the job.
  (void)template_pages(run);
  if (run.diagnostics().has_errors()) return run.job_wrong();
  const std::size_t count = run.diagnostics().sorted(base::Severity::warning).size();
  const char* key = count == 0 ? "check-fine" : count == 1 ? "check-one-warning" : "check-warnings";
  const std::string text = run.say({key, {{"job", run.options().job_file}, {"count", count}}});
  Json report = size_report(run.pouch(), details_of(run.pouch(), run.style()), run.words());
  report["ruler_mm"] = run.style().ruler.in_mm();
  return run.done(std::move(report), run.options().talk == Talk::quiet ? "" : text + "\n");
}

Outcome size(Run& run) {
  const SizeDetails details = details_of(run.pouch(), run.style());
  Json report = size_report(run.pouch(), details, run.words());
  std::string text = size_table(run.pouch(), details, run.words());
  add_other_liners(run, report, text);
  add_remnant(run, report, text);
  if (!run.options().out.empty() && !write_out(run, report)) return run.job_wrong();
  return run.done(std::move(report), text + run.written());
}

}  // namespace pouchwright::job
