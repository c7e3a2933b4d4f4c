/// Lower bounds on the length of a lay of one or several kinds.
#include <algorithm>
#include <numeric>

#include "lay/solve/solvers.h"

namespace pouchwright::lay {

namespace {

constexpr Whole kMostParts = 24;

/// How much of the width w a piece takes for certain: as a fraction of `width`, over `width`. With
/// `cut` at most half of the width: narrower pieces count nothing, those that leave less than `cut`
/// count as the whole width, all others as they are. Any set that fits side by side still sums to
/// at most the whole width (a dual feasible function, after S. Fekete and J. Schepers 2001, from
/// memory): a piece that leaves less than `cut` has no neighbour that counts.
Whole counted(Whole w, Whole cut, Whole width) {
  if (w < cut) return 0;
  return width - w < cut ? width : w;
}

/// The same after rounding: with parts + 1 of the width for the unit, a width that is no whole
/// number of units counts only its whole units, each as 1 / parts of the width (G. S. Lueker 1983,
/// after Fekete and Schepers, from memory): so few of those can lie side by side. Over `parts`
/// times `width`; 0 parts: not rounded, over `width`.
Wide counted_rounded(Whole w, Whole cut, Whole parts, Whole width) {
  const Whole counts = counted(w, cut, width);
  if (parts == 0) return counts;
  const Wide units = Wide{counts} * (parts + 1);
  return units % width == 0 ? Wide{counts} * parts : units / width * width;
}

/// A kind's pieces and how they may lie.
struct Kind {
  int demand = 0;
  std::vector<Pose> poses;
};

std::vector<Kind> kinds_of(const RollQuestion& question) {
  std::vector<Kind> kinds;
  for (const Shape& shape : question.shapes) {
    kinds.push_back({shape.demand, poses({shape}, question.width, question.longest)});
  }
  return kinds;
}

Wide counted_area(const std::vector<Kind>& kinds, Whole cut, Whole parts, Whole width) {
  Wide area = 0;
  for (const Kind& kind : kinds) {
    Wide least = -1;
    for (const Pose& pose : kind.poses) {
      const Wide here = counted_rounded(pose.width, cut, parts, width) * pose.length;
      if (least < 0 || here < least) least = here;
    }
    area += std::max<Wide>(least, 0) * kind.demand;
  }
  return area;
}

std::vector<Whole> sides_of(const RollQuestion& question, bool along) {
  std::vector<Whole> sides;
  for (const Pose& pose : poses(question.shapes, question.width, question.longest)) {
    sides.push_back(along ? pose.length : pose.width);
  }
  return sides;
}

}  // namespace

Whole reachable_length(const RollQuestion& question, Whole length) {
  const std::vector<Whole> sides = sides_of(question, true);
  Whole common = 0;
  for (const Whole side : sides) common = std::gcd(common, side);
  length = divided_up(length, common) * common;
  const Whole longest = *std::max_element(sides.begin(), sides.end());
  const auto sums = sums_of(sides, length + longest, 2000);
  if (!sums) return length;
  return *std::lower_bound(sums->begin(), sums->end(), length);
}

namespace {

/// A single piece needs its own length, whichever way it lies.
Whole longest_piece(const RollQuestion& question) {
  Whole longest = 0;
  for (const Shape& shape : question.shapes) {
    Whole shortest = kNever;
    for (const Pose& pose : poses({shape}, question.width, question.longest)) {
      shortest = std::min(shortest, pose.length);
    }
    longest = std::max(longest, shortest);
  }
  return longest;
}

/// Barnes's bound for one kind: the least length at which it allows the demand.
Whole by_barnes(const RollQuestion& question, Whole from) {
  const Shape& shape = question.shapes.front();
  if (!shape.upright || !shape.turned) return from;
  for (int i = 0; i < 64; ++i) {
    if (most_pieces(question.width, from, shape.width, shape.length, true) >= shape.demand) break;
    from = reachable_length(question, from + 1);
  }
  return from;
}

}  // namespace

Whole length_bound(const RollQuestion& question) {
  std::vector<Whole> cuts = sides_of(question, false);
  for (const Whole side : sides_of(question, false)) cuts.push_back(question.width - side + 1);
  cuts.push_back(0);
  Whole bound = longest_piece(question);
  // Pieces across that only stand alone or in whole sums waste the rest of the width for certain.
  const auto widths = sums_of(sides_of(question, false), question.width, 2000);
  const Whole width = widths ? widths->back() : question.width;
  const std::vector<Kind> kinds = kinds_of(question);
  for (const Whole cut : cuts) {
    if (2 * cut > width) continue;
    for (Whole parts = 0; parts <= kMostParts; ++parts) {
      const Wide scale = Wide{width} * std::max<Whole>(parts, 1);
      bound = std::max(bound, divided_up(counted_area(kinds, cut, parts, width), scale));
    }
  }
  bound = reachable_length(question, bound);
  return question.shapes.size() == 1 ? by_barnes(question, bound) : bound;
}

}  // namespace pouchwright::lay
