#include "job/sheets.h"

#include <utility>

#include "ink/mirrored.h"
#include "job/documents.h"
#include "job/report/print.h"
#include "render/pdf.h"
#include "render/svg.h"
#include "render/text.h"

namespace pouchwright::job {

namespace {

/// What a sheet's room is at least and at most, mm.
constexpr ink::Point kLeastSheet{130, 180};
constexpr ink::Point kLargestSheet{300, 420};

bool is_read_from_right(const Run& run) {
  return run.words().words().language().direction == base::Language::Direction::from_right;
}

/// It is measured from its left end, with its words in their places on the cloth.
bool is_cut_plan(std::string_view name) { return name == "lay" || name.ends_with("/lay"); }

/// Half of the lower margin, below the drawing.
constexpr double kDraftBelow = 4.5;

ink::Text draft_line(const Run& run, ink::Point at) {
  return {.words = draft_words(run),
          .at = at,
          .size = ink::kSmallestSize,
          .weight = ink::Weight::italic,
          .role = ink::Role::none};
}

/// An SVG of one drawing, which has no margin.
ink::Drawing finished(ink::Drawing drawing, const Run& run) {
  const render::FontMeasure measure(run.fonts());
  if (!draft_words(run).empty()) {
    drawing.add(draft_line(run, {drawing.extent.x0, drawing.extent.y1 + kDraftBelow}));
    drawing.extent.y1 += kDraftBelow + 1.5;
  }
  const bool is_turned = is_read_from_right(run) && !is_cut_plan(drawing.name);
  return is_turned ? ink::mirrored(std::move(drawing), measure) : drawing;
}

}  // namespace

std::string draft_words(const Run& run) {
  const base::Voice words = run.paper_words();
  const auto source = words.undrafted();
  return source ? words.say("language-draft") + " · " + source->say("language-draft") : "";
}

void turn_to_reading(paper::Pages& pages, const Run& run) {
  if (!is_read_from_right(run) || is_cut_plan(pages.name)) return;
  const render::FontMeasure measure(run.fonts());
  for (ink::Drawing& drawing : pages.drawings) {
    drawing = ink::mirrored(std::move(drawing), measure);
  }
  for (paper::Page& page : pages.pages) {
    ink::Drawing around;
    around.extent = {0, 0, pages.width, pages.height};
    around.items = std::move(page.furniture);
    page.furniture = ink::mirrored(std::move(around), measure).items;
  }
}

SheetPaper sheet_paper(const paper::PageSetup& setup) {
  const double left = setup.margins.left.in_mm();
  const double top = setup.margins.top.in_mm();
  const SheetPaper paper{{setup.width.in_mm(), setup.height.in_mm()},
                         {left, top},
                         {setup.width.in_mm() - left - setup.margins.right.in_mm(),
                          setup.height.in_mm() - top - setup.margins.bottom.in_mm()}};
  const bool too_small = paper.room.x < kLeastSheet.x || paper.room.y < kLeastSheet.y;
  const bool too_large = paper.room.x > kLargestSheet.x || paper.room.y > kLargestSheet.y;
  return too_small || too_large ? SheetPaper{} : paper;
}

paper::Pages sheets(const std::string& name, std::vector<ink::Drawing> drawings,
                    const SheetPaper& paper) {
  paper::Pages pages;
  pages.content = paper::Content::sheets;
  pages.name = name;
  pages.title = drawings.front().title;
  pages.width = paper.size.x;
  pages.height = paper.size.y;
  for (ink::Drawing& one : drawings) {
    paper::Page page;
    page.label = std::to_string(pages.pages.size() + 1);
    page.placements.push_back({.drawing = pages.drawings.size(),
                               .window = one.extent,
                               .at = paper.at,
                               .cell = page.label});
    pages.drawings.push_back(std::move(one));
    pages.pages.push_back(std::move(page));
  }
  return pages;
}

Ending out_ending(const Run& run) {
  const std::string ending = std::filesystem::path(run.options().out).extension().string();
  if (ending == ".pdf") return Ending::pdf;
  if (ending == ".svg") return Ending::svg;
  if (ending == ".csv") return Ending::csv;
  if (ending == ".json") return Ending::json;
  throw UsageFault{{"usage-out-ending", {{"text", run.options().out}}},
                   {{"usage-out-ending-hint"}}};
}

Ending sheet_ending(const Run& run) {
  const Ending ending = out_ending(run);
  if (ending == Ending::pdf || ending == Ending::svg) return ending;
  throw UsageFault{{"usage-out-no-sheet", {{"text", run.options().out}}},
                   {{"usage-out-ending-hint"}}};
}

void add_file_of_sheets(const Run& run, Made& made) {
  const std::string& out = run.options().out;
  if (out.empty()) return;
  const Ending ending = out_ending(run);
  if (ending == Ending::csv) {
    made.files.add(out, csv(made.report.table, run.words()));
  } else if (ending == Ending::json) {
    made.files.add(out, json_text(made.report.fields, run.words()));
  } else {
    const auto breaks = ending == Ending::pdf ? ink::Breaks::pages : ink::Breaks::none;
    made.files.add(out, [&run, ending, breaks, sheets = *std::move(made.sheets)] {
      return sheet_bytes(run, sheets.name, ending, sheets.drawn(breaks));
    });
  }
}

std::string sheet_bytes(const Run& run, const std::string& name, Ending ending,
                        const std::vector<ink::Drawing>& drawings, const SheetPaper& paper) {
  if (ending == Ending::svg) {
    const std::string& title = drawings.front().title;
    return render::canvas_svg(finished(drawings.front(), run), {title, title}, run.outliner());
  }
  paper::Pages pages = sheets(name, drawings, paper);
  for (paper::Page& page : pages.pages) {
    if (draft_words(run).empty()) break;
    page.furniture.emplace_back(
        draft_line(run, {paper.at.x, paper.at.y + paper.room.y + kDraftBelow}));
  }
  turn_to_reading(pages, run);
  if (are_shown(run, {&pages, 1})) return {};
  return render::to_pdf(pages, {.title = pages.title}, run.fonts());
}

}  // namespace pouchwright::job
