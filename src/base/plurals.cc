#include "base/plurals.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace pouchwright::base {

namespace {

/// Reads a rule from its front to its end.
class RuleReader {
 public:
  explicit RuleReader(std::string_view rule) : rest_(rule.substr(0, rule.find('@'))) {}

  /// condition = and_condition ("or" and_condition)*
  std::optional<Plurals::Condition> condition() {
    Plurals::Condition read;
    do {
      auto& together = read.emplace_back();
      do {
        const auto one = relation();
        if (!one) return std::nullopt;
        together.push_back(*one);
      } while (take("and"));
    } while (take("or"));
    skip_blanks();
    return rest_.empty() ? std::optional(read) : std::nullopt;
  }

 private:
  void skip_blanks() { rest_.remove_prefix(std::min(rest_.find_first_not_of(' '), rest_.size())); }

  bool take(std::string_view sign) {
    skip_blanks();
    if (!rest_.starts_with(sign)) return false;
    rest_.remove_prefix(sign.size());
    return true;
  }

  std::optional<long long> number() {
    skip_blanks();
    long long value = 0;
    const auto read = std::from_chars(rest_.data(), rest_.data() + rest_.size(), value);
    if (read.ec != std::errc() || value < 0) return std::nullopt;
    rest_.remove_prefix(static_cast<std::size_t>(read.ptr - rest_.data()));
    return value;
  }

  /// relation = operand ("%" number)? ("=" | "!=") range ("," range)*
  std::optional<Plurals::Relation> relation() {
    constexpr std::string_view kOperands = "nivwftce";
    skip_blanks();
    if (rest_.empty() || kOperands.find(rest_.front()) == kOperands.npos) return std::nullopt;
    Plurals::Relation read{.operand = rest_.front(), .divisor = 0, .is_in = true, .ranges = {}};
    rest_.remove_prefix(1);
    if (take("%")) {
      const auto divisor = number();
      if (divisor.value_or(0) <= 0) return std::nullopt;
      read.divisor = *divisor;
    }
    read.is_in = !take("!");
    if (!take("=")) return std::nullopt;
    do {
      const auto from = number();
      if (!from) return std::nullopt;
      const auto to = take("..") ? number() : from;
      if (!to) return std::nullopt;
      read.ranges.emplace_back(*from, *to);
    } while (take(","));
    return read;
  }

  std::string_view rest_;
};

double value_of(const PluralOperands& number, char operand) {
  switch (operand) {
    case 'n':
      return number.n;
    case 'i':
      return static_cast<double>(number.i);
    case 'v':
      return number.v;
    case 'w':
      return number.w;
    case 'f':
      return static_cast<double>(number.f);
    case 't':
      return static_cast<double>(number.t);
    default:
      return 0;  // c, e: no number is written with an exponent here
  }
}

bool holds(const Plurals::Relation& relation, const PluralOperands& number) {
  double value = value_of(number, relation.operand);
  if (relation.divisor > 0) value = std::fmod(value, static_cast<double>(relation.divisor));
  const bool is_whole = value == std::floor(value);
  const bool is_in =
      is_whole && std::any_of(relation.ranges.begin(), relation.ranges.end(), [&](const auto& one) {
        return value >= static_cast<double>(one.first) && value <= static_cast<double>(one.second);
      });
  return is_in == relation.is_in;
}

bool holds(const Plurals::Condition& condition, const PluralOperands& number) {
  return std::any_of(condition.begin(), condition.end(), [&](const auto& together) {
    return std::all_of(together.begin(), together.end(),
                       [&](const auto& one) { return holds(one, number); });
  });
}

/// More digits than any count has: they would not fit into a whole number.
constexpr std::size_t kMostDigits = 15;

long long whole(std::string_view digits) {
  long long value = 0;
  for (const char digit : digits) value = value * 10 + (digit - '0');
  return value;
}

}  // namespace

std::optional<PluralOperands> plural_operands(std::string_view text) {
  const std::size_t mark = std::min(text.find_first_of(".,"), text.size());
  const std::string_view before = text.substr(0, mark);
  const std::string_view after = text.substr(std::min(mark + 1, text.size()));
  const auto are_digits = [](std::string_view digits) {
    return digits.size() <= kMostDigits && digits.find_first_not_of("0123456789") == digits.npos;
  };
  if (before.empty() || !are_digits(before) || !are_digits(after)) return std::nullopt;
  if (after.empty() && mark < text.size()) return std::nullopt;
  const std::string_view counted = after.substr(0, after.find_last_not_of('0') + 1);
  PluralOperands read{.n = 0,
                      .i = whole(before),
                      .v = static_cast<int>(after.size()),
                      .w = static_cast<int>(counted.size()),
                      .f = whole(after),
                      .t = whole(counted)};
  read.n = static_cast<double>(read.i) +
           static_cast<double>(read.t) / std::pow(10.0, static_cast<double>(read.w));
  return read;
}

bool Plurals::add(std::string category, std::string_view rule) {
  auto condition = RuleReader(rule).condition();
  if (!condition) return false;
  rules_.emplace_back(std::move(category), *std::move(condition));
  return true;
}

std::string_view Plurals::category(std::string_view number) const {
  const auto operands = plural_operands(number);
  if (!operands) return kOtherPlural;
  for (const auto& [category, condition] : rules_) {
    if (holds(condition, *operands)) return category;
  }
  return kOtherPlural;
}

std::vector<std::string_view> Plurals::categories() const {
  std::vector<std::string_view> all;
  for (const auto& [category, condition] : rules_) all.emplace_back(category);
  return all;
}

}  // namespace pouchwright::base
