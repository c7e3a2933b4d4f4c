/// Values that mend what the judge finds wrong, as a hand sets them: whole millimetres, 16ths of an
/// inch.
///
///     diagnostics.add({…, .remedy = not_below(size_path(size::kSealWidth), least, request.units)});
#pragma once

#include <string>
#include <string_view>

#include "base/diagnostic.h"
#include "pouch/request.h"

namespace pouchwright::pouch {

/// Where a job states the size.
[[nodiscard]] inline std::string size_path(std::string_view name) {
  return "pouch." + std::string(name);
}

/// The value that decides the seal: its width, or the card that is there.
[[nodiscard]] inline std::string path_of_seal(const Request& request) {
  return request.card ? "card.width" : size_path(size::kSealWidth);
}

/// The next such length that is not below `least`.
[[nodiscard]] base::Remedy not_below(std::string path, Length least, base::Unit unit);
/// The next such length that is not above `most`; none where that is nothing.
[[nodiscard]] std::optional<base::Remedy> not_above(std::string path, Length most, base::Unit unit);

/// The seal that leaves `clear` in the worst case, or, where a card that is there decides the seal,
/// a card so narrow; none where the pouch has no room for it.
[[nodiscard]] std::optional<base::Remedy> seal_remedy(const Request& request, Length reach,
                                                      Length cut_width, Length clear);

/// The panel, or the pouch, made so wide that something is left between the seals.
[[nodiscard]] base::Remedy width_between_seals(const Request& request, Length seal);

}  // namespace pouchwright::pouch
