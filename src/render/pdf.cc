#include "render/pdf.h"

#include <cairo-pdf.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include "base/diagnostic.h"
#include "render/finish.h"
#include "render/ink.h"

namespace pouchwright::render {
namespace {

constexpr double kPointsPerMm = 72 / 25.4;

struct SurfaceDropper {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};
struct TargetDropper {
  void operator()(cairo_t* target) const { cairo_destroy(target); }
};

cairo_status_t append(void* closure, const unsigned char* data, unsigned int size) {
  // Bytes are bytes: Cairo hands out unsigned char, std::string holds char.
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), size);
  return CAIRO_STATUS_SUCCESS;
}

void check(cairo_status_t status) {
  if (status == CAIRO_STATUS_SUCCESS) return;
  throw base::Failure({}, {"pdf-not-drawn", {{"reason", cairo_status_to_string(status)}}});
}

PageSize size_of(const paper::Pages& pages) {
  return {pages.width * kPointsPerMm, pages.height * kPointsPerMm};
}

/// The pages alone, as Cairo writes them, on sheets of whole points, and what their pictures show.
struct Drawn {
  std::string bytes;
  std::vector<std::string> figures;
};
Drawn drawn(std::span<const paper::Pages> documents, const Fonts& fonts) {
  std::string bytes;
  const std::unique_ptr<cairo_surface_t, SurfaceDropper> surface(
      cairo_pdf_surface_create_for_stream(append, &bytes, 0, 0));
  // Without this the file holds the time it was made and no two runs are alike.
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, "");
  const std::unique_ptr<cairo_t, TargetDropper> target(cairo_create(surface.get()));
  Tags tags(*target);
  for (const paper::Pages& pages : documents) {
    // Cairo clips to whole points and would leave out up to one along the right and lower edges.
    // The page's bottom left corner is the sheet's, where `finished_pdf` cuts.
    const PageSize size = size_of(pages);
    const double height = std::ceil(size.height);
    cairo_pdf_surface_set_size(surface.get(), std::ceil(size.width), height);
    cairo_identity_matrix(target.get());
    cairo_translate(target.get(), 0, height - size.height);
    cairo_scale(target.get(), kPointsPerMm, kPointsPerMm);
    for (const paper::Page& page : pages.pages) {
      draw_page(*target, pages, page, fonts, &tags);
      cairo_show_page(target.get());
    }
  }
  check(cairo_status(target.get()));
  cairo_surface_finish(surface.get());
  check(cairo_surface_status(surface.get()));
  return {std::move(bytes), tags.figures()};
}

std::optional<std::size_t> first_page_with(const paper::Pages& pages, std::size_t drawing) {
  const auto shows = [drawing](const paper::Page& page) {
    return std::any_of(page.placements.begin(), page.placements.end(),
                       [drawing](const auto& placement) { return placement.drawing == drawing; });
  };
  const auto found = std::find_if(pages.pages.begin(), pages.pages.end(), shows);
  if (found == pages.pages.end()) return std::nullopt;
  return static_cast<std::size_t>(found - pages.pages.begin());
}

/// One bookmark a drawing, or for several pages of one title; `before` pages of the file come
/// first.
std::vector<Bookmark> bookmarks_of(const paper::Pages& pages, std::size_t before) {
  std::vector<Bookmark> bookmarks;
  for (std::size_t k = 0; k < pages.drawings.size(); ++k) {
    const auto page = first_page_with(pages, k);
    const bool goes_on = k > 0 && pages.drawings[k].title == pages.drawings[k - 1].title;
    if (page && !goes_on) bookmarks.push_back({pages.drawings[k].title, before + *page, {}});
  }
  return bookmarks;
}

std::vector<Bookmark> bookmarks_of(std::span<const paper::Pages> documents) {
  if (documents.size() == 1) return bookmarks_of(documents.front(), 0);
  std::vector<Bookmark> bookmarks;
  std::size_t before = 0;
  for (const paper::Pages& pages : documents) {
    if (pages.pages.empty()) continue;
    Bookmark bookmark{pages.title, before, bookmarks_of(pages, before)};
    if (bookmark.below.size() < 2) bookmark.below.clear();
    bookmarks.push_back(std::move(bookmark));
    before += pages.pages.size();
  }
  return bookmarks;
}

std::vector<std::string> labels_of(std::span<const paper::Pages> documents) {
  std::vector<std::string> labels;
  for (const paper::Pages& pages : documents) {
    for (const paper::Page& page : pages.pages) labels.push_back(page.label);
  }
  return labels;
}

std::vector<PageSize> sizes_of(std::span<const paper::Pages> documents) {
  std::vector<PageSize> sizes;
  for (const paper::Pages& pages : documents) {
    sizes.insert(sizes.end(), pages.pages.size(), size_of(pages));
  }
  return sizes;
}

}  // namespace

std::string to_pdf(const paper::Pages& pages, const PdfInfo& info, const Fonts& fonts) {
  return to_pdf(std::span(&pages, 1), info, fonts);
}

std::string to_pdf(std::span<const paper::Pages> documents, const PdfInfo& info,
                   const Fonts& fonts) {
  Drawn pages = drawn(documents, fonts);
  return finished_pdf(pages.bytes, {.title = info.title,
                                    .language = info.language,
                                    .page_labels = labels_of(documents),
                                    .page_sizes = sizes_of(documents),
                                    .bookmarks = bookmarks_of(documents),
                                    .figures = std::move(pages.figures)});
}

}  // namespace pouchwright::render
