/// What a lay leaves: small pieces that come out of its waste, and how much of the width is to
/// spare.
///
///     const auto strips = in_waste(plan.cloth, Length::whole_mm(30), Length::whole_mm(80), 18);
///     const bool is_tight = spare_across(plan.cloth) < kLittleSpare;
///
/// Not for by-products, which a job asks for and a plan cuts with the pieces: see lay.h.
#pragma once

#include <vector>

#include "lay/lay.h"

namespace pouchwright::lay {

/// Up to `most` pieces of this size that lie wholly in waste, either way round in each waste, from
/// the cloth's cut end on, left-overs worth keeping last. Each waste is cut off before it is divided, so its layers do not count;
/// of stacked cloth, layer 0 alone. None where pieces are cut round a template.
[[nodiscard]] std::vector<Area> in_waste(const Lay& lay, Length width, Length length, int most);

/// The least width that no piece takes, anywhere along the cloth; by-products are left out, since a
/// narrower cloth only loses these. The whole width where there are no pieces.
[[nodiscard]] Length spare_across(const Lay& lay);

/// A plan that leaves less needs the width on the label, and rolls are often narrower: common
/// practice, no source.
inline constexpr Length kLittleSpare = Length::whole_mm(5);

/// How many layers lie under the step's cuts.
[[nodiscard]] int layers_under(const Lay& lay, const Step& step);

}  // namespace pouchwright::lay
