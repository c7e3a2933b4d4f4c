/// Runs a construction's operations one after the other on the folded panel, and keeps what each
/// leaves behind: the layers, what touches film to film under the iron, what is fused and sewn.
///
/// Inside `pouch` only; callers outside use derive() in pouch.h.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pouch/pouch.h"

namespace pouchwright::pouch {

/// Part of a film contact that the iron fuses along both sides, less what an end finish has
/// stitched.
struct Fused {
  SpanId lower, upper;
  bool left = true;           ///< along the left side
  bool right = true;          ///< along the right side
  Interval lower_y, upper_y;  ///< on the flat panel
};

/// A stretch of the flat panel that the needles of an end finish have pierced.
struct Stitched {
  Edge end = Edge::start;
  SpanId span;
  Interval y;
};

/// One fold as it was made, for the turn of cloth.
struct FoldMade {
  SpanId span_before;
  Length thickness;  ///< T: of the layers bent together
  Length enclosed;   ///< G: of what lies between the two legs at the line
};

struct Run {
  std::vector<Stage> stages;
  std::vector<Contact> contacts;
  std::vector<Fused> fused;
  std::vector<Stitched> stitched;
  std::vector<FoldMade> folds;
  std::vector<Interval> exposed;
  std::vector<Interval> exposed_below;
  std::vector<SeamLayers> seam_layers;
  Length lip_height;  ///< at the (last) pressing; where nothing is pressed, at the end

  [[nodiscard]] const Folded& finished() const { return stages.back().folded; }
};

/// True where `operation` is part of this job: a finish only where the job has one, a card only
/// where it lies inside, a pairing only with an outer.
[[nodiscard]] bool takes_part(const Operation& operation, const Request& request);

/// Fails: empty after errors at the operation's place in the construction file (out of order,
/// buried ends, folds in one another's way, nothing to fuse, a mouth that would be closed).
[[nodiscard]] std::optional<Run> run(const Request& request, const Sizes& sizes,
                                     diag::Diagnostics& diagnostics);

/// The thickness of one layer of panel: the laminate, and the outer where there is one.
[[nodiscard]] Length panel_thickness(const Request& request);

/// What a fold of layers `thickness` thick around a stack `enclosed` needs in cloth beyond its two
/// legs measured to the outside of the fold: (pi/2 - 1) G + (pi/2 - 2) T.
[[nodiscard]] Length turn_of_cloth(Length thickness, Length enclosed);

}  // namespace pouchwright::pouch
