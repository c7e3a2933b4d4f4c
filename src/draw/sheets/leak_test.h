/// The leak test: how much water, how long, where to look, boxes to tick for every pouch that is
/// tested, what a sample can miss, and what to do with a pouch that leaks.
///
///     LeakSheet sheet{.pouch = &pouch, .pouches = 40, .helpers = 4, .plan = plan};
///     auto pages = leak_sheet(sheet, icons, words, measure, room);
///
/// Promises nothing: a pouch is designed to hold water, and was tested to hold it for so long.
#pragma once

#include <optional>
#include <vector>

#include "base/voice.h"
#include "batch/sampling.h"
#include "draw/with_ink.h"
#include "ink/icons.h"
#include "pouch/pouch.h"
#include "pouch/questions.h"

namespace pouchwright::draw {

struct LeakSheet {
  const pouch::Pouch* pouch = nullptr;
  int pouches = 1;
  int helpers = 1;
  int bundle = 1;                             ///< pouches that move on together, numbered in order
  std::optional<batch::SamplingPlan> plan;    ///< absent: batch::usual_testing
  double test_minutes = pouch::kTestMinutes;  ///< that the water stays in at the least
};

/// How many boxes there are to tick.
[[nodiscard]] int pouches_to_test(const LeakSheet& sheet);

/// Pages of `room`, with pictures of filling, reading and waiting and a dip strip at full size. How
/// much water is tell::fill_read's. Where the water line leaves none, one page that says so and has
/// no boxes.
[[nodiscard]] std::vector<Drawing> leak_sheet(const LeakSheet& sheet, const Icons& icons,
                                              const base::Voice& words, const TextMeasure& measure,
                                              Point room);

}  // namespace pouchwright::draw
