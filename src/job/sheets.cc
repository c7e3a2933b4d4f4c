#include "job/sheets.h"

#include <utility>

#include "render/pdf.h"
#include "render/svg.h"
#include "render/text.h"

namespace pouchwright::job {

paper::Pages sheets(const std::string& name, std::vector<drawing::Drawing> drawings) {
  paper::Pages pages;
  pages.name = name;
  pages.title = drawings.front().title;
  pages.width = 210;  // A4, ISO 216
  pages.height = 297;
  for (drawing::Drawing& one : drawings) {
    paper::Page page;
    page.label = std::to_string(pages.pages.size() + 1);
    page.placements.push_back({.drawing = pages.drawings.size(),
                               .window = one.extent,
                               .at = {10, 10},
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

std::string sheet_bytes(const Run& run, const std::string& name, Ending ending,
                        const std::vector<drawing::Drawing>& drawings) {
  if (ending == Ending::svg) {
    const render::TextOutliner outliner(run.fonts());
    const std::string& title = drawings.front().title;
    return render::canvas_svg(drawings.front(), {title, title}, outliner);
  }
  const paper::Pages pages = sheets(name, drawings);
  return render::to_pdf(pages, {.title = pages.title}, run.fonts());
}

}  // namespace pouchwright::job
