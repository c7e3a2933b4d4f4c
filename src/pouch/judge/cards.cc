#include "pouch/judge/cards.h"

#include <algorithm>

namespace pouchwright::pouch {

namespace {

Length top_of(const std::vector<Interval>& exposed, Length lip) {
  return exposed.empty() ? lip : std::max(lip, exposed.back().to);
}

/// How far a T reaches up the panel.
struct Reach {
  Length bottom, shoulder, top;
};

/// A T about the panel's centre line: the stem from the bottom to the shoulder, the bar above it.
Card tee(Length cut_width, Length stem_width, Length bar_width, const Reach& reach) {
  const Length stem_left = base::half(cut_width - stem_width);
  const Length stem_right = stem_left + stem_width;
  const Length bar_left = -base::half(bar_width - cut_width);
  const Length bar_right = bar_left + bar_width;
  Card card;
  card.stem_width = stem_width;
  card.stem_length = reach.shoulder - reach.bottom;
  card.shoulder = reach.shoulder;
  card.bar_width = bar_width;
  card.top = reach.top;
  card.outline = {{stem_left, reach.bottom},    {stem_right, reach.bottom},
                  {stem_right, reach.shoulder}, {bar_right, reach.shoulder},
                  {bar_right, reach.top},       {bar_left, reach.top},
                  {bar_left, reach.shoulder},   {stem_left, reach.shoulder}};
  return card;
}

/// Where the stem begins: at the bottom fold, or above the seal zone of a bottom that is pressed.
Length stem_bottom(const Sizes& sizes, const PressMade& press, Length play) {
  return press.bottom ? sizes.seal_width - sizes.seam_allowance + play : Length();
}

}  // namespace

Card slip_card(const Sizes& sizes, Length lip, const PressMade& press) {
  return tee(sizes.cut_width, sizes.inside_width - 2 * kSlipCardPlay, sizes.cut_width,
             {stem_bottom(sizes, press, kSlipCardPlay), lip,
              std::max(top_of(press.exposed, lip), lip + kSlipCardGrip)});
}

Card shield(const Sizes& sizes, base::Unit units, Length lip, const PressMade& press) {
  const Length bottom = stem_bottom(sizes, press, Length());
  return tee(sizes.cut_width, sizes.cut_width - 2 * sizes.seal_width,
             sizes.cut_width + 2 * kArmsBeyondEdge.of(units),
             {bottom, std::max(bottom, lip - kArmsOverLip.of(units)),
              std::max(top_of(press.exposed, lip), lip + kShieldCover.of(units))});
}

}  // namespace pouchwright::pouch
