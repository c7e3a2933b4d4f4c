#include "job/commands/shown.h"

#include <memory>
#include <string>
#include <utility>

#include "base/named.h"
#include "draw/views/folding.h"
#include "draw/views/places.h"
#include "job/documents.h"
#include "job/report/print.h"
#include "job/sheets.h"
#include "render/svg.h"
#include "render/text.h"

namespace pouchwright::job {

namespace {

/// Of the pouch on the screen and of a step that moves: mm, across and down.
constexpr ink::Point kPouchRoom{120, 96};
constexpr ink::Point kFoldingRoom{120, 90};

using What = draw::PlacedPart::What;
constexpr base::Named<What> kPartWords[] = {{What::front, "front"},     {What::seal, "seal"},
                                            {What::seam, "seam"},       {What::flap, "flap"},
                                            {What::opening, "opening"}, {What::liners, "liners"},
                                            {What::water, "water"}};

/// A hundredth of a millimetre is less than a screen shows.
Cell rounded(double mm) { return base::fixed(mm, 2); }
Cell point_cell(ink::Point at) { return Cell::List{rounded(at.x), rounded(at.y)}; }

Cell outline_cell(const std::vector<ink::Point>& outline) {
  return cells(outline, [](ink::Point at) { return point_cell(at); });
}

Cell::Fields places(const draw::PlacedPouch& placed, const base::Voice& words) {
  const ink::Box& extent = placed.drawing.extent;
  return {{"width", rounded(extent.width())},
          {"height", rounded(extent.height())},
          {"sizes", cells(placed.sizes,
                          [&](const draw::PlacedSize& one) {
                            return Cell::Fields{{"name", one.name},
                                                {"from", point_cell(one.from)},
                                                {"to", point_cell(one.to)},
                                                {"out", point_cell(one.out)},
                                                {"mm", one.size},
                                                {"mm_for_each", one.mm_for_each},
                                                {"words", words.text(one.size)}};
                          })},
          {"parts", cells(placed.parts, [](const draw::PlacedPart& one) {
             return Cell::Fields{{"name", word_of(kPartWords, one.what)},
                                 {"outlines", cells(one.outlines, outline_cell)}};
           })}};
}

/// As it is drawn, in every language: the page knows where on it what is.
std::string picture_svg(const Run& run, const ink::Drawing& drawing) {
  return render::canvas_svg(drawing, {drawing.title, drawing.title}, run.outliner());
}

}  // namespace

std::string folding_file(std::size_t step, int percent) {
  return std::to_string(step) + "-" + std::to_string(percent) + ".svg";
}

void add_pouch(Made& made, const Run& run, const ink::Drawing& panel) {
  const render::FontMeasure measure(run.fonts());
  const draw::PlacedPouch placed =
      draw::placed_pouch(run.pouch(), kPouchRoom, run.words(), measure);
  made.files.add(kPouchPicture, picture_svg(run, placed.drawing));
  made.files.add(kPouchPlaces, json_text(places(placed, run.words()), run.words()));
  made.files.add(kPanelPicture, [&run, panel] { return drawing_svg(run, panel); });
}

void add_folding(Made& made, const Run& run) {
  const auto folding = std::make_shared<const draw::Folding>(run.pouch(), kFoldingRoom);
  const ink::Box& extent = folding->extent();
  made.report.field("extent", Cell::Fields{{"width", rounded(extent.width())},
                                           {"height", rounded(extent.height())}});
  Cell::List moves;
  constexpr int kWhole = 100;
  for (std::size_t step = 0; step < folding->size(); ++step) {
    moves.emplace_back(folding->moves(step));
    for (int percent = 0; percent <= kWhole; ++percent) {
      made.files.add(folding_file(step + 1, percent), [&run, folding, step, percent] {
        const render::FontMeasure measure(run.fonts());
        const double done = static_cast<double>(percent) / kWhole;
        return picture_svg(run, folding->view(step, done, run.icons(), run.words(), measure));
      });
    }
  }
  made.report.field("moves", std::move(moves));
}

}  // namespace pouchwright::job
