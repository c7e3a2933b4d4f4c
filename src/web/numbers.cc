// The functions of an angle and of two sides, as the C library of the installed program has them: right to the last
// digit in all but the rarest cases. The browser's edition has another, whose last digit is often off by one: enough
// to turn a picture's rounding, or the order of two parts that lie together. Here each is worked out with twice the
// digits, and then rounded. They take the place of the library's own when the program is linked.
#include <cmath>

// What is defined here must not be put in the place of what defines it (see -fno-builtin in file.cmake).
static_assert(sizeof(long double) == 16);

extern "C" {

double sin(double angle) { return static_cast<double>(sinl(angle)); }
double cos(double angle) { return static_cast<double>(cosl(angle)); }
double tan(double angle) { return static_cast<double>(tanl(angle)); }

double hypot(double x, double y) {
  if (std::isinf(x) || std::isinf(y)) return HUGE_VAL;
  const long double a = x;
  const long double b = y;
  return static_cast<double>(sqrtl(a * a + b * b));
}
}
