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

Card own_card(const OwnCard& own, const Sizes& sizes, base::Unit units, Length lip,
              const PressMade& press) {
  const bool is_slip = own.kind == CardKind::slip;
  const Length bottom = stem_bottom(sizes, press, is_slip ? kSlipCardPlay : Length());
  const Length stem_top = bottom + own.length.value;
  if (!own.top_bar || press.exposed.empty()) {
    Card card =
        tee(sizes.cut_width, own.width.value, own.width.value, {bottom, stem_top, stem_top});
    card.outline = {card.outline[0], card.outline[1], card.outline[2], card.outline[7]};
    card.is_own = true;
    return card;
  }
  const Length shoulder = is_slip ? lip : std::max(bottom, lip - kArmsOverLip.of(units));
  const Length cover = kShieldCover.of(units) + kArmsOverLip.of(units);
  Card card = tee(sizes.cut_width, own.width.value, sizes.cut_width + 2 * kArmsBeyondEdge.of(units),
                  {bottom, shoulder, std::max(top_of(press.exposed, lip), shoulder + cover)});
  card.stem_length = own.length.value;
  card.is_own = true;
  if (stem_top >= shoulder) return card;
  // The outline goes up to the bar along the centre line and back.
  const Length centre = base::half(sizes.cut_width);
  const Corner left{card.outline[0].x, stem_top};
  const Corner right{card.outline[1].x, stem_top};
  const Corner neck{centre, stem_top};
  const Corner at_bar{centre, shoulder};
  const std::vector<Corner> tee_corners = card.outline;
  card.outline = {tee_corners[0], tee_corners[1], right,          neck,   at_bar, tee_corners[3],
                  tee_corners[4], tee_corners[5], tee_corners[6], at_bar, neck,   left};
  return card;
}

}  // namespace pouchwright::pouch
