/// The steps as one goes on to the next: the same views as on paper, with what a step turns, lays in
/// or pulls out part of the way.
///
///     const Folding folding(pouch, {120, 90});
///     Drawing half_way = folding.view(3, 0.5, icons, words, measure);
///
/// Not for paper (see sheets/steps.h).
#pragma once

#include <vector>

#include "base/voice.h"
#include "draw/views/view.h"
#include "draw/with_ink.h"
#include "ink/icons.h"
#include "tell/step_list.h"

namespace pouchwright::draw {

class Folding {
 public:
  /// All views at one scale, the largest at which each moment fits the room. `pouch` must last.
  Folding(const pouch::Pouch& pouch, Point room);

  [[nodiscard]] std::size_t size() const { return steps_.size(); }
  /// Of every view, mm.
  [[nodiscard]] const Box& extent() const { return extent_; }
  /// Does the step turn a part, lay a card in or pull one out? Else every view of it is the same.
  [[nodiscard]] bool moves(std::size_t step) const;
  /// `done` from 0, as it lay before, to 1. A step that moves has its marks (where to press, to sew)
  /// once it is done, any other always. Requires: step < size().
  [[nodiscard]] Drawing view(std::size_t step, double done, const Icons& icons,
                             const base::Voice& words, const TextMeasure& measure) const;

 private:
  [[nodiscard]] View at(std::size_t step, double done, double scale) const;
  [[nodiscard]] Box reach(double scale) const;

  const pouch::Pouch* pouch_;
  std::vector<tell::AssemblyStep> steps_;
  double scale_ = 1;
  Box extent_;
};

}  // namespace pouchwright::draw
