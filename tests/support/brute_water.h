/// A second, slow way to the water line, to hold the engine against: every panel is a column of
/// points a millimetre apart, every fold moves them one by one, every pressing looks at each pair
/// of neighbours. It shares nothing with the engine but the request and the flat spans.
///
///     auto pockets = test::brute_water(request, sizes);
///     CHECK(test::compare_water(request).wrong == "");  // both ways
///
/// Not for sizes with parts of a millimetre, nor for jobs that add the turn of cloth.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "pouch/pouch.h"

namespace pouchwright::test {

/// How one compartment holds, in millimetres.
struct BrutePocket {
  std::string name;
  std::int64_t lip = 0;
  std::int64_t water = 0;
};

/// Fails: empty where a size is no whole millimetre or a step cannot be modelled.
[[nodiscard]] std::optional<std::vector<BrutePocket>> brute_water(const pouch::Request& request,
                                                                  const pouch::Sizes& sizes);

/// What comparing one request has shown.
struct Compared {
  bool accepted = false;   ///< derive() made a pouch, and the model could follow
  bool below_lip = false;  ///< something leaks above the bottom and below the lip
  bool holds = false;      ///< the water line is above the bottom
  std::string wrong;       ///< how the two differ; empty: they agree
};
[[nodiscard]] Compared compare_water(const pouch::Request& request);

}  // namespace pouchwright::test
