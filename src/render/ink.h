/// Where ink goes: a drawing's items brought on to a page's paper, and items drawn with Cairo. PDF,
/// PNG and SVG all take their places from here, so they cannot disagree.
///
///     for (const ink::Item& item : window_items(pages, page.placements[0], measure)) ...
///
/// Not for choosing what stands on which page (see paper/pages.h).
#pragma once

#include <vector>

#include "ink/scene.h"
#include "paper/pages.h"
#include "render/fonts.h"
#include "render/tags.h"

// Cairo's own name for its drawing state; its headers stay inside this layer's .cc files.
struct _cairo;  // NOLINT(bugprone-reserved-identifier,readability-identifier-naming)

namespace pouchwright::render {

/// Corners sharper than this many line widths are cut off, in all formats alike.
inline constexpr double kMiterLimit = 10;

/// The placement's window on the paper, turned and scaled.
[[nodiscard]] ink::Box window_on_paper(const paper::Placement& placement, ink::Point scale);

/// What the placement's drawing is clipped to, by the even-odd rule: its window on the paper, then
/// the page's gaps as far as they lie in it.
[[nodiscard]] std::vector<ink::Box> clip_on_paper(const paper::Placement& placement,
                                                  ink::Point scale, const paper::Page& page);

/// `item` at its place on the paper, in mm. Line widths and letters keep their size; only places
/// follow the printer correction.
[[nodiscard]] ink::Item on_paper(const ink::Item& item, const paper::Placement& placement,
                                 ink::Point scale);

/// The items of the placement's drawing that may show in its window, in order, on the paper, but no
/// words that it cuts and another window has whole beyond the join. They may reach out of the window
/// and into gaps, and are to be clipped to `clip_on_paper`.
[[nodiscard]] std::vector<ink::Item> window_items(const paper::Pages& pages,
                                                  const paper::Placement& placement,
                                                  const ink::TextMeasure& measure);

/// Draws one item in black. Requires: one unit of `target` is 1 mm.
void draw_item(_cairo& target, const ink::Item& item, const Fonts& fonts);

/// Draws a whole page, from the paper's top left corner, and marks what stands on it, where there
/// are `tags`. Requires: one unit of `target` is 1 mm.
void draw_page(_cairo& target, const paper::Pages& pages, const paper::Page& page,
               const Fonts& fonts, Tags* tags = nullptr);

}  // namespace pouchwright::render
