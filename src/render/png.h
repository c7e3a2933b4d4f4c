/// Pictures on a white ground, for a preview and for tests that look.
///
///     std::string file = page_png(pages, 0, 96, fonts);
///
/// Not for printing.
#pragma once

#include <cstddef>
#include <string>

#include "ink/scene.h"
#include "paper/pages.h"
#include "render/fonts.h"

namespace pouchwright::render {

/// Page `page`, from 0, as printed. Requires: `page` exists, `dots_per_inch` > 0.
/// Fails: throws base::Failure where the picture is too large (over 32,767 dots) for memory.
[[nodiscard]] std::string page_png(const paper::Pages& pages, std::size_t page,
                                   double dots_per_inch, const Fonts& fonts);

/// The drawing's whole extent. Requires and fails as `page_png`.
[[nodiscard]] std::string canvas_png(const ink::Drawing& drawing, double dots_per_inch,
                                     const Fonts& fonts);

}  // namespace pouchwright::render
