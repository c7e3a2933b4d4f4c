/// The last pass over a PDF: what Cairo cannot say is added to the pages it drew, with qpdf and in
/// memory. The same bytes and facts give the same file.
///
///     std::string file = finished_pdf(drawn, {.title = "Shield", .page_labels = {"A1", "A2"}});
///
/// Not for what stands on the pages (see pdf.h).
#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace pouchwright::render {

struct Bookmark {
  std::string title;
  std::size_t page = 0;  ///< from 0, in the whole file
  std::vector<Bookmark> below;
};

/// A page's width and height in points.
struct PageSize {
  double width = 0;
  double height = 0;
};

/// All texts may hold any Unicode.
struct PdfFacts {
  std::string title;
  std::string language;                  ///< BCP 47
  std::vector<std::string> page_labels;  ///< one a page, in order
  std::vector<PageSize> page_sizes;      ///< likewise
  std::vector<Bookmark> bookmarks;
  std::vector<std::string> figures;  ///< what each picture shows, in their order (see tags.h)
};

/// `pdf` with its facts, its pages cut to their sizes from the bottom left corner, and with the
/// wish that viewers print it at full size (ISO 32000-1, 12.2). Requires: the pages that bookmarks
/// name exist. Fails: throws base::Failure where qpdf refuses.
[[nodiscard]] std::string finished_pdf(const std::string& pdf, const PdfFacts& facts);

}  // namespace pouchwright::render
