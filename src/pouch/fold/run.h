/// Runs a construction's operations one after the other on the folded panels, and keeps what each
/// leaves behind: the layers, what touches film to film under the iron, what is fused, pierced and
/// sewn.
///
/// Inside `pouch` only; callers outside use derive() in pouch.h.
#pragma once

#include <optional>
#include <set>
#include <string>
#include <vector>

#include "pouch/judge/sizes.h"
#include "pouch/pouch.h"

namespace pouchwright::pouch {

/// Part of a film contact that the iron fuses, less what an end finish has stitched and what is
/// caught between. A part along the sides is fused between two distances from the raw side edge; a
/// part along the bottom all across.
struct Fused {
  SpanId lower, upper;
  bool left = true;
  bool right = true;
  bool bottom = false;
  bool lower_film_side = true;  ///< met with its film side, not with film on its other face
  bool upper_film_side = true;  ///< likewise
  Interval from_edge;           ///< distances from the raw edge (for the bottom: from the raw end)
  Interval lower_y, upper_y;    ///< on the flat panels
};

/// A stretch of the flat panel that the needles of an end finish have pierced.
struct Stitched {
  Edge end = Edge::start;
  SpanId span;
  Interval y;
};

/// A stretch of film that an attachment's needle or punch has pierced.
struct Hole {
  std::size_t attachment = 0;
  SpanId span;
  Interval y;
};

/// Something that lies between two films at the sides, so that they cannot fuse there.
struct Caught {
  std::size_t attachment = 0;
  SpanId a, b;
  Interval y;  ///< on the panel of `a`
  bool left = true;
  bool right = true;
};

/// One fold as it was made.
struct FoldMade {
  SpanId span_before;
  std::vector<SpanId> bent;  ///< the spans before all lines bent with it, its own among them
  Length thickness;          ///< T: of all the layers bent together
  Length enclosed;           ///< G: of what lies between their legs at the line
  std::size_t operation = 0;
  Length height;  ///< of the line, when it was folded
  bool after_press = false;
};

/// One pressing, as the cards have to know it.
struct PressMade {
  std::size_t operation = 0;
  std::vector<Interval> exposed;    ///< folded heights where film looks at the iron, either side
  std::vector<Length> lip_heights;  ///< of each compartment
  bool bottom = false;              ///< also pressed along the bottom
};

struct Run {
  std::vector<Stage> stages;
  std::vector<Contact> contacts;
  std::vector<Fused> fused;
  std::vector<Stitched> stitched;
  std::vector<Hole> holes;
  std::vector<Caught> caught;
  std::vector<Fixed> fixed;
  std::vector<FoldMade> folds;
  std::set<SpanId> rolled;  ///< turned after they were fused
  std::vector<Interval> exposed;
  std::vector<Interval> exposed_below;
  std::vector<SeamLayers> seam_layers;
  std::vector<TestPoint> test_points;
  std::vector<PressMade> presses;
  std::set<std::size_t> carded;     ///< compartments that a slip card was laid into
  std::vector<Length> lip_heights;  ///< of each compartment, at the last pressing, else at the end

  [[nodiscard]] const Folded& finished() const { return stages.back().folded; }
};

/// True where `operation` is part of this job: a finish only where the job has one, a card only
/// where it lies inside, a pairing only with an outer, an attachment only where the job wants it
/// and fixes it so.
[[nodiscard]] bool takes_part(const Operation& operation, const Request& request);

/// Fails: empty after errors at the operation's place in the construction file (out of order,
/// buried ends, folds in one another's way, nothing to fuse, a mouth that would be closed).
[[nodiscard]] std::optional<Run> run(const Request& request, const Sizes& sizes,
                                     const Values& values, base::Diagnostics& diagnostics);

/// The film of a compartment as spans that lie, from its lip on.
[[nodiscard]] std::vector<SpanId> film_path(const Compartment& compartment, const Folded& folded);

/// What each of the layers that are bent together, `thickness` thick in all, around a stack
/// `enclosed` needs in cloth beyond its two legs measured to the outside of the fold:
/// (pi/2 - 1) G + (pi/2 - 2) T, the mean of the layers, on which lines that are fused stay.
[[nodiscard]] Length turn_of_cloth(Length thickness, Length enclosed);

}  // namespace pouchwright::pouch
