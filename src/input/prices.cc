#include "input/prices.h"

#include <algorithm>
#include <cmath>

#include "base/number.h"

namespace pouchwright::input {
namespace {

/// `4.50 EUR` or `4,50 EUR`: a number, a blank, a currency without digits.
std::optional<Price> with_currency(const Node& node) {
  const std::string& text = node.text;
  const std::size_t blank = text.find(' ');
  if (blank == std::string::npos) return std::nullopt;
  const base::DecimalRead read = base::read_decimal(text.substr(0, blank));
  if (!read.value) return std::nullopt;
  Price price{.amount = *read.value, .currency = "", .place = node.place};
  price.currency = text.substr(std::min(text.find_first_not_of(' ', blank), text.size()));
  const bool is_word = price.currency.find_first_of("0123456789 ") == std::string::npos;
  return is_word && !price.currency.empty() ? std::optional(price) : std::nullopt;
}

}  // namespace

std::optional<Price> read_price(TableReader& reader, std::string_view key) {
  const Node* node = reader.find(key);
  auto stated = node && node->kind == Node::Kind::text ? with_currency(*node) : std::nullopt;
  if (!stated) {
    const auto number = reader.number(key, 0, kMostMoney);
    if (!number) return std::nullopt;
    return Price{number->value, "", number->place};
  }
  if (std::isfinite(stated->amount) && stated->amount >= 0 && stated->amount <= kMostMoney) {
    return stated;
  }
  reader.context().diagnostics.error(node->place,
                                     {"out-of-range",
                                      {{"key", base::FieldName{reader.path(key)}},
                                       {"text", clipped(node->text)},
                                       {"least", "0"},
                                       {"most", base::shortened(kMostMoney, 0)}}},
                                     {{"out-of-range-hint"}});
  return std::nullopt;
}

void check_currencies(const std::vector<base::Placed<std::string>>& stated,
                      base::Diagnostics& diagnostics) {
  for (const auto& one : stated) {
    if (one.value == stated.front().value) continue;
    diagnostics.error(
        one.place,
        {"prices-two-currencies",
         {{"currency", clipped(one.value)}, {"first", clipped(stated.front().value)}}},
        {{"prices-two-currencies-hint", {{"first", clipped(stated.front().value)}}}});
  }
}

}  // namespace pouchwright::input
