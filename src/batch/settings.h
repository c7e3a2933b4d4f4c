/// What a job says of the batch: how many pouches, who makes them, what the trial with the iron
/// showed, what things cost. Plain values.
#pragma once

#include <map>
#include <optional>
#include <string>

#include "diag/diagnostic.h"

namespace pouchwright::batch {

struct Settings {
  diag::Placed<int> pouches{1, {}};
  diag::Placed<int> helpers{1, {}};
  diag::Placed<int> machines{1, {}};
  diag::Placed<int> overedge_machines{0, {}};  ///< none: ends are overedged on the others
  diag::Placed<int> irons{1, {}};
  std::optional<diag::Placed<double>> aql;  ///< acceptance quality limit, per cent (ISO 2859-1)
  std::string currency;
};

/// What the trial on scraps showed. Dots as on an iron's dial (ISO 3758): one, two or three.
struct IronTrial {
  int dots = 2;
  bool steam = false;
  double seconds = 0;
  diag::Place place;
};

/// Prices by the name of the thing, all in one currency.
using Prices = std::map<std::string, diag::Placed<double>, std::less<>>;

}  // namespace pouchwright::batch
