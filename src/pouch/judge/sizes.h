/// From the sizes asked for to the panel to cut: sums of spans, rounding to the ruler, and the
/// finished sizes worked back from what is cut.
///
/// Callers outside `pouch` use unfolded_sizes(), or derive() in pouch.h for the whole pouch.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "pouch/pouch.h"

namespace pouchwright::pouch {

/// What spans gain by the turn of cloth; those left out gain nothing.
using Turns = std::map<SpanRef, Length>;

using Values = std::map<std::string, Length, std::less<>>;

/// The value of `form`; parts of a nanometre are rounded up, term by term. Missing sizes count 0.
[[nodiscard]] Length value_of(const LinearForm& form, const Values& values);

/// Sizes that the job, the construction or the liners state, by name.
[[nodiscard]] Values stated_values(const Request& request);

/// The place to blame for `size_name`: where it was read, else the whole job.
[[nodiscard]] const Place& place_of(const Request& request, std::string_view size_name);

/// The panels and all sizes. Depth and flap are what the finished pouch measures: `turns` is in the
/// cut spans only.
/// Fails: empty after an error where no panel comes out (nothing left for a span, over 100 m).
[[nodiscard]] std::optional<Sizes> sizes_of(const Request& request, const Values& values,
                                            const Turns& turns, base::Diagnostics& diagnostics);

/// The sizes before anything is folded: derive()'s, where no turn of cloth is added.
/// Fails: empty where sizes alone are at fault (errors are in `diagnostics`).
[[nodiscard]] std::optional<Sizes> unfolded_sizes(const Request& request,
                                                  base::Diagnostics& diagnostics);

/// `values` as the cut panel has them: what rounding to the ruler added belongs to the width, and
/// to the flap or the depth where it went to the span of that size. For what is placed by these
/// sizes, as the half of a closure that the flap has to meet.
[[nodiscard]] Values finished_values(const Request& request, Values values, const Turns& turns,
                                     const Sizes& sizes);

/// With [panel]: `values` completed by the width, the flap (a fifth of the length unless stated)
/// and the depth that the cut panel yields, all on marks; what is over goes to the flap, and a lip
/// drop that nobody stated goes up to the next mark. A panel with folds keeps them instead, and
/// the sizes follow from them. Fails: empty after an error where it yields no pouch.
[[nodiscard]] std::optional<Values> values_from_panel(const Request& request, Values values,
                                                      base::Diagnostics& diagnostics);

/// A cut panel is folded at such marks, whatever ruler its lengths are printed to.
inline constexpr PerUnit kMark{Length::whole_mm(5), Length::inches(1, 4)};
/// The flap of a cut panel is at least this much longer than the lip drop.
inline constexpr Length kFlapBeyondLipDrop = Length::whole_mm(30);

}  // namespace pouchwright::pouch
