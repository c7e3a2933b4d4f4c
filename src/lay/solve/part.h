/// A rectangle of cloth and how it is divided: the tree of cuts that every solver returns.
///
///     Part row = beside({piece(...), piece(...)}, width, length);
///
/// Inside `lay` only; outside, pieces and steps are what counts.
#pragma once

#include <vector>

#include "lay/solve/whole.h"

namespace pouchwright::lay {

struct Part {
  enum class Way {
    waste,
    piece,
    beside,  ///< `parts` side by side across the width, left first, parted by cuts along the cloth
    behind,  ///< `parts` one behind the other along the cloth, parted by cuts across it
    free,    ///< `parts` anywhere inside, at `at`
  };
  struct Corner {
    Whole x = 0, y = 0;
    bool operator==(const Corner&) const = default;
  };

  Way way = Way::waste;
  Whole width = 0, length = 0;
  int kind = -1;            ///< a piece's
  bool turned = false;      ///< a piece's
  bool by_product = false;  ///< a piece's
  std::vector<Part> parts;
  std::vector<Corner> at;  ///< free: one a part

  bool operator==(const Part&) const = default;
};

[[nodiscard]] Part waste_part(Whole width, Whole length);
/// A piece of `kind`, as laid.
[[nodiscard]] Part piece_part(int kind, bool turned, Whole width, Whole length);
/// Parts side by side in `width` x `length`: each is lengthened with waste to `length`, the rest of
/// the width is waste. Requires: they fit.
[[nodiscard]] Part beside(std::vector<Part> parts, Whole width, Whole length);
/// Parts behind each other in `width` x `length`, widened and lengthened likewise.
[[nodiscard]] Part behind(std::vector<Part> parts, Whole width, Whole length);
/// `part` in the near left corner of `width` x `length`. Requires: it fits.
[[nodiscard]] Part within(Part part, Whole width, Whole length);

/// How many pieces there are of every kind (by-products left out); `kinds` long.
[[nodiscard]] std::vector<int> count_pieces(const Part& part, std::size_t kinds);
/// Turns pieces beyond `most` of a kind into waste, the last ones first, and joins wastes that
/// touch.
[[nodiscard]] Part trimmed(Part part, std::vector<int> most);
/// Cuts that a person makes inside the part.
[[nodiscard]] int cuts_inside(const Part& part);

}  // namespace pouchwright::lay
