#include "base/time.h"

#include <cmath>

namespace pouchwright::base {

Time Time::minutes(double count) {
  return Time(std::llround(count * static_cast<double>(kMinute)));
}

}  // namespace pouchwright::base
