/// The cut plan as a picture to scale: the cloth unrolled to the right, pieces tinted by kind, numbered
/// in the order of cutting and with their directions, cuts numbered in circles, and a small picture
/// of what each cut divides. What is white is left over, in all of them, and nothing else.
///
///     std::vector<Drawing> pages = lay_pictures(plan_pictures, words, measure, room);
///
/// Not at full size: these pages carry no check square.
#pragma once

#include <string>
#include <vector>

#include "base/length.h"
#include "base/voice.h"
#include "draw/with_ink.h"
#include "ink/flow.h"
#include "lay/lay.h"

namespace pouchwright::draw {

/// One lay and the names that stand on it.
struct LayToDraw {
  const lay::Lay* lay = nullptr;
  std::string title;
  std::vector<std::string> kinds;  ///< by Placed::kind
  std::vector<std::string> by_products;
  std::vector<std::string> yields{};  ///< what the plan gives, said largest
  std::vector<std::string> facts{};   ///< sentences below that
  std::vector<std::string> gives{};   ///< by step: what there is then
  std::vector<lay::Area> trial{};     ///< strips for the iron trial, in the waste
  base::Length selvedge{};            ///< of each side
  /// A shop's cut is never straight: it is squared first.
  enum class End { square, crooked };
  End end = End::square;
};

/// `room` is a page's width and height in mm. Lengths cut off stay whole: a long roll is broken
/// into rows between them.
[[nodiscard]] std::vector<Drawing> lay_pictures(const std::vector<LayToDraw>& lays,
                                                const base::Voice& words,
                                                const TextMeasure& measure, Point room,
                                                Breaks breaks);
/// The same as pages: each lay begins one, but where two drawn smaller share it.
[[nodiscard]] std::vector<Drawing> lay_pages(const std::vector<LayToDraw>& lays,
                                             const base::Voice& words, const TextMeasure& measure,
                                             Point room);

}  // namespace pouchwright::draw
