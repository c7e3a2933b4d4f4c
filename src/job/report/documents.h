/// The documents of a report: where each drawing lies on which page of which file.
///
/// Inside `job` only.
#pragma once

#include <cstddef>
#include <string>

#include "job/report/report.h"
#include "paper/pages.h"

namespace pouchwright::job {

/// The PDF that holds the pages, and what it holds before them.
struct PagesFile {
  enum class Svg { each_page, none };

  std::string pdf;
  std::size_t pages_before = 0;
  Svg svg = Svg::each_page;
  /// Where the files lie below the folder of --out: empty, or with a slash at its end.
  std::string folder{};
};

/// One entry a drawing of `pages`. SVG pages are named STEM-CELL.svg (see page_file_name).
[[nodiscard]] Cell::List document_cells(const paper::Pages& pages, const PagesFile& file);

/// `template-A1.svg`
[[nodiscard]] std::string page_file_name(const paper::Pages& pages, std::size_t page);

}  // namespace pouchwright::job
