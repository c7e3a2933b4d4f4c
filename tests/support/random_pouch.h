/// Random constructions and sizes, to hold one model of folding against another.
///
///     pouch::Request request = test::random_folding(seed);
///     CHECK(test::compare_water(request).wrong == "");
///
/// The same seed gives the same request everywhere. All sizes are whole millimetres. Many requests
/// are refused by derive(): they cannot be folded.
#pragma once

#include <cstdint>

#include "pouch/request.h"

namespace pouchwright::test {

/// A random panel of two to six spans, in three of ten with a second, perhaps narrower, panel that
/// meets it at the bottom, and in three of ten with a lining on some span; outers that stay
/// behind; folded, finished, pressed and sewn at random.
[[nodiscard]] pouch::Request random_folding(std::uint64_t seed);

/// `construction` in random sizes, even ones where its own sizes are concerned; some with narrower
/// further panels, with outers that stay behind, with a lining laid in.
[[nodiscard]] pouch::Request random_sizes(const pouch::Construction& construction,
                                          std::uint64_t seed);

}  // namespace pouchwright::test
