/// Breaks that all take together: so much work, then so long a rest, from the day's beginning on.
///
///     const Breaks breaks{Time::whole_minutes(90), Time::whole_minutes(10)};
///     breaks.after(Time());                // 1:30, when the first one begins
///     breaks.with(Time::whole_minutes(95)) // 1:45: 95 minutes of work, and a break
#pragma once

#include "base/time.h"

namespace pouchwright::batch {

struct Breaks {
  base::Time every{};  ///< of work between two breaks; 0: none
  base::Time lasts{};

  [[nodiscard]] constexpr bool any() const { return every > base::Time() && lasts > base::Time(); }
  [[nodiscard]] constexpr base::Time cycle() const { return every + lasts; }

  /// When the break that is going on at `at` began, else when the next one begins. Requires: any().
  [[nodiscard]] constexpr base::Time after(base::Time at) const {
    return base::Time::ms(at.in_ms() / cycle().in_ms() * cycle().in_ms()) + every;
  }
  /// Requires: any().
  [[nodiscard]] constexpr bool is_on(base::Time at) const { return after(at) <= at; }

  /// So much work, with the breaks that lie between its beginning at 0 and its end.
  [[nodiscard]] constexpr base::Time with(base::Time work) const {
    if (!any() || work <= base::Time()) return work;
    return work + lasts * ((work.in_ms() - 1) / every.in_ms());
  }

  bool operator==(const Breaks&) const = default;
};

}  // namespace pouchwright::batch
