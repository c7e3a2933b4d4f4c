/// What is to be said to a person, before it is words: a key of the words table and the values for
/// its holes, as they are. The Voice (voice.h) prints them in its unit, where they are shown.
///
///     const Message wrong{"flap-over-depth", {{"flap", exact(flap)}, {"depth", exact(depth)}}};
///     const Message note{"liners", {{"count", count}, {"names", names}, {"level", at_most(level)}}};
#pragma once

#include <concepts>
#include <cstdint>
#include <memory>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "base/length.h"
#include "base/time.h"

namespace pouchwright::base {

/// A length and how it is said.
struct Measure {
  enum class Rounding {
    nearest,   ///< as a ruler is read
    at_most,   ///< never more than it is: what must not be passed
    at_least,  ///< never less than it is: what is lacking
    exact,     ///< not rounded: where two nearly equal lengths must differ
    mark,      ///< on the ruler's nearest step, and no word that it was rounded: what a hand marks
    asked,     ///< exact, and never less than it is: a size to ask for, which a ruler must have
  };
  enum class Units { one, both };

  Length length;
  Rounding rounding = Rounding::nearest;
  Units units = Units::one;

  bool operator==(const Measure&) const = default;
};

[[nodiscard]] inline Measure at_most(Length length) { return {length, Measure::Rounding::at_most}; }
[[nodiscard]] inline Measure at_least(Length length) {
  return {length, Measure::Rounding::at_least};
}
[[nodiscard]] inline Measure exact(Length length) { return {length, Measure::Rounding::exact}; }
[[nodiscard]] inline Measure mark(Length length) { return {length, Measure::Rounding::mark}; }
[[nodiscard]] inline Measure asked(Length length) { return {length, Measure::Rounding::asked}; }
/// In the voice's unit, and then in the other.
[[nodiscard]] inline Measure in_both(Length length) {
  return {length, Measure::Rounding::nearest, Measure::Units::both};
}
[[nodiscard]] inline Measure in_both(Measure measure) {
  measure.units = Measure::Units::both;
  return measure;
}

/// A length that is said beside one which it must not read like: at most, or exact where rounding
/// would make the two alike.
struct Distinct {
  Length length;
  Length other;

  bool operator==(const Distinct&) const = default;
};

/// By how much two lengths differ, as the two are said when they are Distinct.
struct Difference {
  Length more;
  Length less;

  bool operator==(const Difference&) const = default;
};

/// A number that is no count.
struct Number {
  enum class Digits { fixed, shortest, significant };

  double value = 0;
  int places = 0;  ///< decimals; of `significant`: figures
  Digits digits = Digits::fixed;

  bool operator==(const Number&) const = default;
};

/// As decimal(), shortest() and significant() of number.h print it.
[[nodiscard]] inline Number fixed(double value, int places) {
  return {value, places, Number::Digits::fixed};
}
[[nodiscard]] inline Number shortened(double value, int places) {
  return {value, places, Number::Digits::shortest};
}
[[nodiscard]] inline Number figures(double value, int count) {
  return {value, count, Number::Digits::significant};
}

/// What a job says at `path`, as a name: `pouch.width` to whoever edits the file, "the width" to
/// whoever fills a field. With a point at its end it is a table: `[panel]`, "the cut panel".
struct FieldName {
  std::string path;

  bool operator==(const FieldName&) const = default;
};

struct Message;

template <class T>
concept Counted = std::integral<T> && !std::same_as<T, bool> && !std::same_as<T, char>;

/// What fills a hole: a count, a length, a number, a name, other values, another message.
/// A name is a person's or a file's own text, said as it stands.
class Value {
 public:
  using List = std::vector<Value>;
  using Nested = std::shared_ptr<const Message>;
  using Held = std::variant<std::string, std::int64_t, Measure, Distinct, Difference, Number, Time,
                            FieldName, List, Nested>;

  // Not explicit: a hole takes whatever it is given.
  // NOLINTBEGIN(google-explicit-constructor)
  Value(const char* name) : held_(std::string(name)) {}
  Value(std::string name) : held_(std::move(name)) {}
  template <Counted T>
  Value(T count) : held_(static_cast<std::int64_t>(count)) {}
  Value(Length length) : held_(Measure{length}) {}
  Value(Measure measure) : held_(measure) {}
  Value(Distinct length) : held_(length) {}
  Value(Difference difference) : held_(difference) {}
  Value(Number number) : held_(number) {}
  /// Said in hours and minutes, to the nearest minute.
  Value(Time time) : held_(time) {}
  Value(FieldName field) : held_(std::move(field)) {}
  /// Said one after the other, with commas between.
  Value(List values) : held_(std::move(values)) {}
  Value(const std::vector<std::string>& names) : held_(List(names.begin(), names.end())) {}
  Value(Message message);
  // NOLINTEND(google-explicit-constructor)

  [[nodiscard]] const Held& held() const { return held_; }

  friend bool operator==(const Value& a, const Value& b);

 private:
  Held held_;
};

/// A key of the words table and the values for its holes.
struct Message {
  using Values = std::vector<std::pair<std::string, Value>>;

  std::string key;
  Values values;

  Message() = default;
  // Not explicit: a message without holes is just its key.
  Message(const char* key_) : key(key_) {}             // NOLINT(google-explicit-constructor)
  Message(std::string key_) : key(std::move(key_)) {}  // NOLINT(google-explicit-constructor)
  Message(std::string key_, Values values_) : key(std::move(key_)), values(std::move(values_)) {}

  bool operator==(const Message&) const = default;
};

}  // namespace pouchwright::base
