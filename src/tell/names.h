/// What a pouch and its parts are called on paper, in the terminal and on the page.
#pragma once

#include <string>
#include <vector>

#include "base/voice.h"
#include "pouch/pouch.h"

namespace pouchwright::tell {

/// The job's title, or a plain word for a job without one.
[[nodiscard]] std::string title_of(const pouch::Pouch& pouch, const base::Voice& words);

/// What a span is called on paper: a construction's own names are shown with blanks for hyphens.
[[nodiscard]] std::string span_name(const std::string& name, const base::Voice& words);

/// What the span is called whose end a finish works on.
[[nodiscard]] std::string end_name(const pouch::Pouch& pouch, const pouch::does::Finish& finish,
                                   const base::Voice& words);

/// An area as cloth is thought of: square metres, or square yards in inches.
[[nodiscard]] base::Message area_said(double square_mm, int places, base::Unit unit);

/// What raw edges are called, one by one; left and right together are the sides.
[[nodiscard]] base::Value::List edge_names(const std::vector<pouch::Edge>& edges);

/// What a panel, a piece or an attachment is called on paper; likewise.
[[nodiscard]] std::string part_name(const std::string& name, const base::Voice& words);

/// The key of what kind of thing is fixed: `construction-kind-snap`.
[[nodiscard]] std::string kind_key(pouch::AttachmentKind kind);

/// What lies in or on the pouch while it is pressed: the slip card, the shield or both.
[[nodiscard]] base::Message cards_of(const pouch::Pouch& pouch);

/// What a compartment is called on paper; likewise.
[[nodiscard]] std::string pocket_name(const pouch::Pouch& pouch, std::size_t compartment,
                                      const base::Voice& words);

/// The pockets that are to hold water, where the pouch has others besides; else nothing.
[[nodiscard]] std::string wet_pockets(const pouch::Pouch& pouch, const base::Voice& words);

// What the program's own constructions say of themselves, in the language; of others, as their file
// has it.
[[nodiscard]] std::string construction_title(const std::string& name, const std::string& title,
                                             const base::Voice& words);
[[nodiscard]] std::string construction_about(const std::string& name, const std::string& about,
                                             const base::Voice& words);

}  // namespace pouchwright::tell
