/// Many seeded plans through the verifier: `lay_stress 20000 [first seed [days]]`; with `days`, small
/// days of several makes. Status 1 if any fails.
#include <charconv>
#include <cstdio>
#include <cstring>

#include "support/lay_cases.h"
#include "support/lay_verifier.h"

using namespace pouchwright;

namespace {

std::uint64_t number_in(const char* text, std::uint64_t otherwise) {
  std::uint64_t number = otherwise;
  std::from_chars(text, text + std::strlen(text), number);
  return number;
}

}  // namespace

int main(int count, char** words) {
  const std::uint64_t cases = count > 1 ? number_in(words[1], 20'000) : 20'000;
  const std::uint64_t first = count > 2 ? number_in(words[2], 1) : 1;
  const bool days = count > 3 && std::strcmp(words[3], "days") == 0;
  int failed = 0;
  int optimal = 0;
  for (std::uint64_t seed = first; seed < first + cases; ++seed) {
    const lay::Request request = days ? test::seeded_small_day(seed) : test::seeded_request(seed);
    const lay::Plan plan = lay::plan(request);
    optimal += plan.cloth.optimal ? 1 : 0;
    const auto wrong = test::wrong_with(request, plan);
    if (wrong.empty()) continue;
    ++failed;
    std::printf("seed %llu: %s\n", static_cast<unsigned long long>(seed), wrong.front().c_str());
  }
  std::printf("%llu plans, %d proved optimal, %d wrong\n", static_cast<unsigned long long>(cases),
              optimal, failed);
  return failed == 0 ? 0 : 1;
}
