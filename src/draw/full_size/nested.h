/// Several sizes of a pouch on one sheet at full size: their flat panels laid over each other, lip
/// on lip and centre line on centre line, so that one print serves them all and shows how they
/// grow.
///
///     Drawing sheet = nested_template({{1, &small}, {3, &large}}, words, measure);
///
/// Canvas: x across from the common centre line, y along the panels from their starts. What is
/// fused and sewn is on each size's own cutting template (template.h), not here.
#pragma once

#include <vector>

#include "base/voice.h"
#include "draw/with_ink.h"
#include "ink/canvas.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// A size and the liners that it is for.
struct NestedSize {
  int liners = 0;
  const pouch::Pouch* pouch = nullptr;
};

/// So many sizes can be told apart by the pattern and width of their lines.
inline constexpr std::size_t kMostNested = 10;

/// Groups: `cut` are the outlines' edges, `fold` the folds, `grain` the centre line, `label` all
/// words, leaders and samples. Sizes with one panel share their lines, and edges that lie on each
/// other are drawn once; every line says whose it is. Words stand beside their line where there is
/// room, else to the right at the end of a leader.
/// Requires: 1 to kMostNested sizes of one construction.
[[nodiscard]] Drawing nested_template(const std::vector<NestedSize>& sizes,
                                      const base::Voice& words, const TextMeasure& measure,
                                      const Joins& joins = {});

/// "1 liner"; "2 and 3 liners"
[[nodiscard]] std::string liners_named(const std::vector<int>& counts, const base::Voice& words);

}  // namespace pouchwright::draw
