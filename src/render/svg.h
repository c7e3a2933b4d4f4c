/// Drawings and pages to SVG, by a small writer of our own: true millimetres, one group for each
/// kind of line under a stable id, text as outlines, no transforms. The same input gives the same
/// bytes.
///
///     std::string file = canvas_svg(slip_card, info, outliner);
///
/// What a reader may rely on: the groups of ink::kGroups, in that order, all of them, are the
/// root's children; a closed cut line is one path with one subpath; one user unit is 1 mm.
#pragma once

#include <cstddef>
#include <string>

#include "ink/scene.h"
#include "paper/pages.h"
#include "render/text.h"

namespace pouchwright::render {

struct SvgInfo {
  std::string title;  ///< the file's <title>; any Unicode
  std::string note;   ///< its <desc>: what the file is for and what it must not be used for
};

/// The whole drawing in its own coordinates: the viewBox is its extent, width and height are that
/// in mm.
[[nodiscard]] std::string canvas_svg(const ink::Drawing& drawing, const SvgInfo& info,
                                     const TextOutliner& outliner);

/// Page `page`, from 0, as printed: paper millimetres from its top left corner, correction applied.
/// In each group the drawings' parts are inner groups clipped to their windows less the page's
/// gaps; furniture is not.
/// Requires: `page` exists.
[[nodiscard]] std::string page_svg(const paper::Pages& pages, std::size_t page, const SvgInfo& info,
                                   const ink::TextMeasure& measure, const TextOutliner& outliner);

}  // namespace pouchwright::render
