/// Prices as a job states them: a number, or a number and its currency, as "4.50 EUR".
///
///     if (const auto price = read_price(reader, "cone")) prices["cone"] = price->amount;
///     check_currencies(stated, diagnostics);
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "input/reader.h"

namespace pouchwright::input {

struct Price {
  double amount = 0;
  std::string currency;  ///< empty where the price names none
  base::Place place;
};

/// No single thing costs more.
inline constexpr double kMostMoney = 1e6;

/// The price under `key`. Fails: empty after an error where it is no number (with a currency or
/// without), negative, or over kMostMoney.
[[nodiscard]] std::optional<Price> read_price(TableReader& reader, std::string_view key);

/// Reports every currency that is not the first one.
void check_currencies(const std::vector<base::Placed<std::string>>& stated,
                      base::Diagnostics& diagnostics);

}  // namespace pouchwright::input
