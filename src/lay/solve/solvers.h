/// The question that every solver answers, in plain whole numbers, and what an answer looks like.
///
/// Inside `lay` only; callers outside use plan() in lay.h.
#pragma once

#include <vector>

#include "lay/solve/part.h"
#include "lay/solve/whole.h"

namespace pouchwright::lay {

/// A kind of piece with the directions it may lie in: `upright` with its length along the cloth,
/// `turned` with its length across.
struct Shape {
  Whole width = 0, length = 0;
  int demand = 0;
  bool upright = true;
  bool turned = true;
  Whole value = 0;
  Wide share = 0;  ///< as an area: what of the cloth a piece is reckoned to take; 0: its own area

  [[nodiscard]] Wide area() const { return Wide{width} * length; }
  [[nodiscard]] Wide takes() const { return share > 0 ? share : area(); }
};

/// A piece as it may lie.
struct Pose {
  int kind = 0;
  bool turned = false;
  Whole width = 0, length = 0;
};
/// Every pose that fits `width` x `length`, kind by kind, upright first; squares only once.
[[nodiscard]] std::vector<Pose> poses(const std::vector<Shape>& shapes, Whole width, Whole length);

/// What a plan is for: its length alone, or to be cut, so that of equally short plans the one with
/// few cuts is wanted. The length is the same; an answer for the length alone may lack cut-offs.
enum class Aim { few_cuts, length };

/// Cloth of `width`; every length cut off is at most `longest` (kNever: no limit).
struct RollQuestion {
  Whole width = 0;
  Whole longest = kNever;
  std::vector<Shape> shapes;
  Aim aim = Aim::few_cuts;
};

/// `cut_offs` are as wide as the cloth and lie behind each other; their lengths sum to `length`.
/// All demands are met exactly, pieces in excess are left out.
struct RollAnswer {
  std::vector<Part> cut_offs;
  Whole length = 0;
  Whole bound = 0;
  bool optimal = false;
  bool work_ended = false;
};

/// The least length for one kind, straight cuts. Exact within the work limit; where that does not
/// do for few cuts, as much work again goes into the length alone. Past that, the best of simple
/// rows with the area and Barnes bound. Requires: one shape, which fits, of a demand above 0.
[[nodiscard]] RollAnswer one_kind_straight(const RollQuestion& question, Work& work);

/// The most pieces of one kind from width x length by straight cuts.
[[nodiscard]] int most_straight(Whole width, Whole length, const Shape& shape, Work& work);

/// The least length for one kind, cut round a template: recursive five-block layouts behind each
/// other, never longer than the straight plan.
[[nodiscard]] RollAnswer one_kind_free(const RollQuestion& question, Work& work);

/// A layout of as many pieces as the recursive five-block scheme finds in width x length (E. G.
/// Birgin, R. D. Lobato, R. Morabito 2010). `width` and `length` of the part are the sheet's.
[[nodiscard]] Part five_block(Whole width, Whole length, const Shape& shape, Work& work);

/// Several kinds, straight cuts. Requires: at least one shape, each fits.
[[nodiscard]] RollAnswer several_kinds(const RollQuestion& question, Work& work);

/// Length below which no plan can be, by areas, by pieces too wide to lie side by side, and by the
/// lengths that sums of sides can make.
[[nodiscard]] Whole length_bound(const RollQuestion& question);

/// The next length, from `length` up, that sums of sides can make, or at least their divisor.
[[nodiscard]] Whole reachable_length(const RollQuestion& question, Whole length);

/// The most valuable set of pieces from one plate, each kind at most `demand` times, straight cuts.
struct PlateAnswer {
  Part part;  ///< as large as the plate
  Whole value = 0;
  Whole bound = 0;  ///< no set is worth more
  bool optimal = false;
};
[[nodiscard]] PlateAnswer most_valuable(Whole width, Whole length, const std::vector<Shape>& shapes,
                                        Work& work);

}  // namespace pouchwright::lay
