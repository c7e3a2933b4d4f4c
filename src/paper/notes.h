/// Words that come on a page after all else: where a document is bound in with others, say, and the
/// margin has no room for the page's number.
///
///     Notes notes(pages, printable, measure);
///     notes.add(0, "page 3 of 9", {200, 290});
///
/// They stand where they cross least of the drawing, and never on other furniture. Not for what a
/// page needs to be cut and joined (see furniture.h).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ink/scene.h"
#include "paper/board.h"
#include "paper/ink.h"
#include "paper/pages.h"

namespace pouchwright::paper {

/// Between marks or trim lines and other furniture, mm.
inline constexpr double kMarkApart = 0.5;

/// What of a line that leaves the window is ink of the page: all of it, which may lose a free
/// place, or, of lines along an axis, only what is drawn.
enum class Beyond { counted, cut };

/// A settled board with the ink of the page's windows. `inks` are of the document's drawings.
[[nodiscard]] Board board_of(const Page& page, const std::vector<Ink>& inks, ink::Point scale,
                             const ink::Box& printable, const ink::TextMeasure& measure,
                             Beyond beyond);

class Notes {
 public:
  /// `pages` must outlive it. `printable` is on each page's paper.
  Notes(Pages& pages, const ink::Box& printable, const ink::TextMeasure& measure);

  /// Writes `words` on the page with that index, in several lines if need be, as near to `near` as
  /// the drawing's lines allow. Where furniture leaves no room at all they stand over it, broken as
  /// often as they can be: a page's number is never left out.
  void add(std::size_t page, const std::string& words, ink::Point near);

 private:
  [[nodiscard]] Board& board_for(std::size_t page);

  Pages* pages_;
  ink::Box printable_;
  const ink::TextMeasure* measure_;
  std::vector<Ink> inks_;
  std::vector<std::optional<Board>> boards_;
};

}  // namespace pouchwright::paper
