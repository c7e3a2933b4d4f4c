/// Which form of a text goes with a number: one liner, two liners, as many forms as a language has.
///
///     Plurals arabic;
///     arabic.add("few", "n % 100 = 3..10");
///     arabic.category("105");                                        // "few"
///
/// Rules are written as in CLDR (Unicode Technical Standard #35, part 3, "Language Plural Rules"),
/// which also names the categories.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace pouchwright::base {

/// The form where no rule holds, which every text has.
inline constexpr std::string_view kOtherPlural = "other";

/// A number as its digits are written (UTS #35, "Operands"): `1` and `1.0` may take other forms.
struct PluralOperands {
  double n = 0;            ///< its value without a sign
  long long i = 0;         ///< its whole part
  int v = 0, w = 0;        ///< how many decimals, with zeros at the end and without
  long long f = 0, t = 0;  ///< the decimals as a number, with zeros at the end and without
};
/// Of `12`, `1.50` or `1,50`; empty where the text is no number alone.
[[nodiscard]] std::optional<PluralOperands> plural_operands(std::string_view text);

/// A language's rules.
class Plurals {
 public:
  /// The form `category` goes with the numbers for which `rule` holds; rules are asked in order.
  /// False: the rule cannot be read, and is left out.
  [[nodiscard]] bool add(std::string category, std::string_view rule);
  /// The form that goes with a number as it is written; what is no number has the last.
  [[nodiscard]] std::string_view category(std::string_view number) const;
  /// The forms besides the last, in the order of their rules.
  [[nodiscard]] std::vector<std::string_view> categories() const;

  /// `operand % divisor` is, or is not, in one of the ranges.
  struct Relation {
    char operand = 'n';
    long long divisor = 0;  ///< 0: the operand itself
    bool is_in = true;
    std::vector<std::pair<long long, long long>> ranges;
  };
  /// Alternatives, each of relations that hold together.
  using Condition = std::vector<std::vector<Relation>>;

 private:
  std::vector<std::pair<std::string, Condition>> rules_;
};

}  // namespace pouchwright::base
