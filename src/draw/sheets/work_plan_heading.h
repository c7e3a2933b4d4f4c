/// What stands above a work plan's bars: its title, what is said of it, and what letters and tints
/// mean; and what bars and key share.
///
/// Inside `draw` only; callers outside use work_plan.h.
#pragma once

#include <vector>

#include "base/voice.h"
#include "draw/sheets/work_plan.h"
#include "draw/with_ink.h"
#include "ink/labels.h"

namespace pouchwright::draw {

inline constexpr Stroke kBarStroke{LinePattern::continuous, 0.25};
/// How high a station's tint is.
inline constexpr double kPatternHeight = 1.8;
/// Beside the bars and samples, for half a line.
inline constexpr double kRight = 0.5;
inline constexpr double kPlanLine = ink::line_distance(kSmallestSize);

/// Hands: white; table and machines tinted, two machines a line apart; the iron hatched, which takes
/// less toner than black.
void draw_pattern(Frame& strip, batch::Station station, const Box& box);

/// What stands above and below the bars, one below the other. Without people the title, then what is
/// said and the key, side by side where both find room, all above; with them their lines above, and
/// what is said and the key below.
struct AroundBars {
  std::vector<Frame> above, below;
};
[[nodiscard]] AroundBars work_plan_heading(const ScheduleToDraw& drawn, const base::Voice& words,
                                           const TextMeasure& measure, double width);

}  // namespace pouchwright::draw
