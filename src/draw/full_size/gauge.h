/// The fold gauge at full size: strips to trace on to card, one for each edge that a panel is
/// measured from, with a line wherever something is folded, sewn or fused. Whoever cuts panels with
/// a ruler marks and folds by it and needs no template.
///
///     Drawing drawn = fold_gauge(pouch, words, measure);
///
/// Canvas: the strips side by side, each hanging from its zero edge, which is laid on a raw edge.
#pragma once

#include <string>
#include <vector>

#include "base/voice.h"
#include "draw/with_ink.h"
#include "ink/canvas.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// A line of a strip, so far from its zero edge.
struct GaugeMark {
  enum class Kind { fold, lip, seam, needle, seal };
  Kind kind{};
  base::Length at;
  std::string name;  ///< what is to be done there, without the length
};
/// The zero edge lies on the panel's start, its end, or its side.
struct GaugeStrip {
  std::string edge;              ///< the raw edge that it is laid on, as people call it
  std::vector<GaugeMark> marks;  ///< from the zero edge on; never empty
};
/// Every fold is measured from the nearer end of its panel, so that a strip is at most half as long
/// as the panel. Sides alike on all panels have one strip.
[[nodiscard]] std::vector<GaugeStrip> gauge_strips(const pouch::Pouch& pouch,
                                                   const base::Voice& words);

/// Groups: `cut` the outlines of the strips; `fold`, `notch` (the lip), `seam` and `seal` its lines;
/// `label` all words.
[[nodiscard]] Drawing fold_gauge(const pouch::Pouch& pouch, const base::Voice& words,
                                 const TextMeasure& measure, const Joins& joins = {});

}  // namespace pouchwright::draw
