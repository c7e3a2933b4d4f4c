/// What a job says of cutting: the [lay] table, resolved. Plain values; the solver is in lay.h.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "diag/diagnostic.h"
#include "units/length.h"

namespace pouchwright::lay {

/// Edge-to-edge cuts only (ruler and rotary cutter), or scissors round a template.
enum class Cuts { straight, free };

/// How many layers are cut at once: cloth folded lengthwise in two or four, or stacked.
struct Plies {
  enum class Way { single, folded, stacked };
  Way way = Way::single;
  int count = 1;

  bool operator==(const Plies&) const = default;
};

/// A left-over rectangle in stock. `material` is laminate or outer.
struct Remnant {
  std::string material;
  units::Length width, length;
  diag::Place place;
};

/// A small piece to be cut from what would be wasted.
struct ByProduct {
  std::string name;
  units::Length width, length;
  int count = 1;
  diag::Place place;
};

struct Settings {
  Cuts cuts = Cuts::straight;
  std::optional<diag::Placed<units::Length>> table_length;  ///< absent: as long as it takes
  Plies plies;
  diag::Place plies_place;
  units::Length shop_step = units::Length::whole_mm(100);  ///< the shop cuts lengths in such steps
  std::vector<Remnant> remnants;
  std::vector<ByProduct> by_products;
};

}  // namespace pouchwright::lay
