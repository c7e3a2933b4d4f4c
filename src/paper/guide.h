/// How to print, measure and join, in words, and the map of pages: what the first page shows.
///
///     for (const Note& note : notes_of(setup, edges_to_join(plan), words)) {
///       const ink::Frame block = block_of(note, width, measure);
///     }
///
/// Not for finding out whether a page is needed for it (see furniture.h).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/voice.h"
#include "ink/frame.h"
#include "paper/board.h"
#include "paper/pages.h"
#include "paper/plan.h"

namespace pouchwright::paper {

/// A paragraph of the instructions; it stays together.
struct Note {
  std::string heading;
  std::vector<std::string> paragraphs;
};

/// The edges at which a page may be cut to join it to the next.
struct JoinEdges {
  bool right = false, below = false;
};
[[nodiscard]] JoinEdges edges_to_join(const Plan& plan);

/// What the first page says, in the order of reading: of joining only what `edges` asks for.
[[nodiscard]] std::vector<Note> notes_of(const PageSetup& setup, JoinEdges edges,
                                         const base::Voice& words);

/// The note broken into lines no wider than `width`, from 0, 0 down.
[[nodiscard]] ink::Frame block_of(const Note& note, double width, const ink::TextMeasure& measure);

/// The map: all drawings side by side, as they lie on the pages, with their cells; dropped cells
/// are crossed out. No wider than `width` where the names of the cells allow it.
[[nodiscard]] ink::Frame map_of(const Pages& pages, const Plan& plan, double width,
                                const base::Voice& words, const ink::TextMeasure& measure);

}  // namespace pouchwright::paper
