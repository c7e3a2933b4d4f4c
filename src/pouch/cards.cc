#include "pouch/cards.h"

#include <algorithm>

namespace pouchwright::pouch {

namespace {

Length top_of(const std::vector<Interval>& exposed, Length lip) {
  return exposed.empty() ? lip : std::max(lip, exposed.back().to);
}

/// A T about the panel's centre line: the stem from the bottom to `shoulder`, the bar above it.
Card tee(Length cut_width, Length stem_width, Length bar_width, Length shoulder, Length top) {
  const Length stem_left = units::half(cut_width - stem_width);
  const Length stem_right = stem_left + stem_width;
  const Length bar_left = -units::half(bar_width - cut_width);
  const Length bar_right = bar_left + bar_width;
  Card card;
  card.stem_width = stem_width;
  card.stem_length = shoulder;
  card.bar_width = bar_width;
  card.top = top;
  card.outline = {{stem_left, Length()}, {stem_right, Length()}, {stem_right, shoulder},
                  {bar_right, shoulder}, {bar_right, top},       {bar_left, top},
                  {bar_left, shoulder},  {stem_left, shoulder}};
  return card;
}

}  // namespace

Card slip_card(const Sizes& sizes, Length lip, const std::vector<Interval>& exposed) {
  return tee(sizes.cut_width, sizes.inside_width - 2 * kSlipCardPlay, sizes.cut_width, lip,
             std::max(top_of(exposed, lip), lip + kSlipCardGrip));
}

Card shield(const Sizes& sizes, Length lip, const std::vector<Interval>& exposed) {
  return tee(sizes.cut_width, sizes.cut_width - 2 * sizes.seal_width,
             sizes.cut_width + 2 * kArmsBeyondEdge, std::max(Length(), lip - kArmsOverLip),
             std::max(top_of(exposed, lip), lip + kHandDistance));
}

}  // namespace pouchwright::pouch
