/// Pages to a PDF file: every page at its true size, viewers asked not to scale it, text as text,
/// page labels and bookmarks. The same pages give the same bytes.
///
///     std::string file = to_pdf(pages, {.title = "Slip card and shield"}, fonts);
///
/// PDF's points and upward y exist only in pdf.cc.
#pragma once

#include <span>
#include <string>

#include "paper/pages.h"
#include "render/fonts.h"

namespace pouchwright::render {

struct PdfInfo {
  std::string title;            ///< as a viewer shows it; any Unicode
  std::string language = "en";  ///< BCP 47, of the words on the pages
};

/// The whole file: its pages with their own size and label, a bookmark for each drawing at the
/// first page that shows it. Requires: at least one page.
/// Fails: throws base::Failure where Cairo or qpdf refuses.
[[nodiscard]] std::string to_pdf(const paper::Pages& pages, const PdfInfo& info,
                                 const Fonts& fonts);

/// Several documents in one file, in order: one bookmark each at its first page, those of its
/// drawings below it where it has several. Requires: at least one page in all.
[[nodiscard]] std::string to_pdf(std::span<const paper::Pages> documents, const PdfInfo& info,
                                 const Fonts& fonts);

}  // namespace pouchwright::render
