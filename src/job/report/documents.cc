#include "job/report/documents.h"

namespace pouchwright::job {

using Fields = Cell::Fields;

namespace {

/// A place on paper to the nanometre: what floating point adds beyond is no measure.
base::Length rounded(double millimetres) { return base::Length::mm(millimetres); }

Fields corner(double x, double y) { return {{"x_mm", rounded(x)}, {"y_mm", rounded(y)}}; }

Fields window_fields(const ink::Box& window) {
  Fields fields = corner(window.x0, window.y0);
  fields.push_back({"width_mm", rounded(window.width())});
  fields.push_back({"height_mm", rounded(window.height())});
  return fields;
}

/// A page, and where on it a drawing is placed; null where none is.
Fields page_fields(const paper::Pages& pages, std::size_t page, const paper::Placement* placement,
                   const PagesFile& file) {
  const paper::Page& sheet = pages.pages[page];
  const bool has_svg = file.svg == PagesFile::Svg::each_page;
  Fields square = corner(sheet.check_square.x0, sheet.check_square.y0);
  square.push_back({"side_mm", paper::kCheckSquare});
  return {{"page", file.pages_before + page + 1},
          {"svg", has_svg ? Cell(file.folder + page_file_name(pages, page)) : Cell()},
          {"cell", placement ? placement->cell : sheet.label},
          {"column", placement ? placement->column : 0},
          {"row", placement ? placement->row : 0},
          {"turn_deg", placement ? placement->turn_deg : 0},
          {"window", placement ? Cell(window_fields(placement->window)) : Cell()},
          {"at",
           placement ? corner(placement->at.x, placement->at.y) : Fields{{"x_mm", 0}, {"y_mm", 0}}},
          {"check_square", square}};
}

/// The pages that show one drawing; pages that show none belong to the first.
Cell::List page_cells(const paper::Pages& pages, std::size_t drawing, const PagesFile& file) {
  Cell::List all;
  for (std::size_t page = 0; page < pages.pages.size(); ++page) {
    const paper::Page& sheet = pages.pages[page];
    for (const paper::Placement& placement : sheet.placements) {
      if (placement.drawing == drawing) {
        all.emplace_back(page_fields(pages, page, &placement, file));
      }
    }
    if (sheet.placements.empty() && drawing == 0) {
      all.emplace_back(page_fields(pages, page, nullptr, file));
    }
  }
  return all;
}

/// `drawn` is null where the pages show no drawing.
Fields document(const paper::Pages& pages, std::size_t drawing, const ink::Drawing* drawn,
                const PagesFile& file) {
  const bool has_svg = drawn != nullptr && file.svg == PagesFile::Svg::each_page;
  Cell canvas;
  if (drawn != nullptr) {
    canvas = Fields{{"width_mm", rounded(drawn->extent.width())},
                    {"height_mm", rounded(drawn->extent.height())}};
  }
  return {{"name", drawn ? drawn->name : pages.name},
          {"title", drawn ? drawn->title : pages.title},
          {"pdf", file.folder + file.pdf},
          {"svg", has_svg ? Cell(file.folder + drawn->name + ".svg") : Cell()},
          {"canvas", canvas},
          {"scale", Fields{{"x", pages.scale.x}, {"y", pages.scale.y}}},
          {"plain_grid_pages", pages.plain_grid_pages},
          {"pages", page_cells(pages, drawing, file)}};
}

}  // namespace

std::string page_file_name(const paper::Pages& pages, std::size_t page) {
  return pages.name + "-" + pages.pages[page].label + ".svg";
}

Cell::List document_cells(const paper::Pages& pages, const PagesFile& file) {
  if (pages.drawings.empty()) return {document(pages, 0, nullptr, file)};
  Cell::List all;
  for (std::size_t i = 0; i < pages.drawings.size(); ++i) {
    all.emplace_back(document(pages, i, &pages.drawings[i], file));
  }
  return all;
}

}  // namespace pouchwright::job
