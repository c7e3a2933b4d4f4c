#include "units/time.h"

#include <cmath>

namespace pouchwright::units {

Time Time::minutes(double count) {
  return Time(std::llround(count * static_cast<double>(kMinute)));
}

}  // namespace pouchwright::units
