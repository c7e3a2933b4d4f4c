/// Stretches of time, exact: how long work takes, never when the clock strikes.
///
///     const Time bundle = 5 * Time::minutes(0.29);
///     bundle.in_minutes();
#pragma once

#include <compare>
#include <cstdint>
#include <limits>

namespace pouchwright::base {

/// A time in whole milliseconds, signed. Sums and multiples are exact.
class Time {
 public:
  constexpr Time() = default;

  static constexpr Time ms(std::int64_t count) { return Time(count); }
  static constexpr Time seconds(std::int64_t count) { return Time(count * kSecond); }
  static constexpr Time whole_minutes(std::int64_t count) { return Time(count * kMinute); }
  /// The nearest millisecond. Requires: finite, and not above 1e12.
  static Time minutes(double count);
  /// Longer than any other.
  static constexpr Time longest() { return Time(std::numeric_limits<std::int64_t>::max()); }

  [[nodiscard]] constexpr std::int64_t in_ms() const { return ms_; }
  [[nodiscard]] constexpr double in_minutes() const {
    return static_cast<double>(ms_) / static_cast<double>(kMinute);
  }

  constexpr auto operator<=>(const Time&) const = default;

  constexpr Time& operator+=(Time other) {
    ms_ += other.ms_;
    return *this;
  }
  friend constexpr Time operator+(Time a, Time b) { return a += b; }
  friend constexpr Time operator-(Time a, Time b) { return Time(a.ms_ - b.ms_); }
  friend constexpr Time operator*(std::int64_t k, Time a) { return Time(k * a.ms_); }
  friend constexpr Time operator*(Time a, std::int64_t k) { return Time(k * a.ms_); }
  /// Shared out among `count`, rounded up: no share is too small.
  [[nodiscard]] constexpr Time shared_out(std::int64_t count) const {
    return Time((ms_ + count - 1) / count);
  }

 private:
  static constexpr std::int64_t kSecond = 1'000;
  static constexpr std::int64_t kMinute = 60'000;

  constexpr explicit Time(std::int64_t ms) : ms_(ms) {}
  std::int64_t ms_ = 0;
};

}  // namespace pouchwright::base
