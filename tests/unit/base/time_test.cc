#include "base/time.h"

#include <doctest/doctest.h>

using pouchwright::base::Time;

TEST_CASE("times are whole milliseconds, and sums of them are exact") {
  CHECK(Time::minutes(0.29) == Time::ms(17'400));
  CHECK(Time::minutes(1.0 / 3) == Time::ms(20'000));
  CHECK(Time::whole_minutes(2) == Time::seconds(120));
  CHECK(3 * Time::minutes(0.1) == Time::minutes(0.3));
  CHECK(Time::seconds(90).in_minutes() == 1.5);
  CHECK(Time::seconds(2) - Time::ms(500) == Time::ms(1'500));
  CHECK(Time::longest() > Time::whole_minutes(1'000'000));
}

TEST_CASE("time shared out is never less than its share") {
  CHECK(Time::ms(12).shared_out(5) == Time::ms(3));
  CHECK(Time::ms(10).shared_out(5) == Time::ms(2));
  CHECK(Time().shared_out(7) == Time());
}
