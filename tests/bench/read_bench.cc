/// How long a file of one line takes to read, beside the same values a line each: `read_bench`. A
/// ratio far above 1 means that places within a line are counted from its start again and again.
#include <algorithm>
#include <chrono>
#include <cstdio>

#include "input/node.h"

using namespace pouchwright;

namespace {

double best_ms(const std::string& text) {
  double best = 1e9;
  for (int run = 0; run < 5; ++run) {
    const auto start = std::chrono::steady_clock::now();
    base::Diagnostics diagnostics;
    if (!input::parsed({"job.toml", text}, diagnostics)) return 0;
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
    best = std::min(best, took.count());
  }
  return best;
}

void compare(const char* what, int count, const char* between) {
  const auto list = [&](const char* end) {
    std::string text = "a = [\"½\",";
    for (int i = 0; i < count; ++i) text += std::string(" 12.7,") + end;
    return text + "]\n";
  };
  const double one = best_ms(list(between));
  const double many = best_ms(list("\n"));
  std::printf("%-20s one line %8.1f ms, many %8.1f ms, ratio %.2f\n", what, one, many, one / many);
}

}  // namespace

int main() {
  compare("4,000 numbers", 4'000, " ");
  compare("32,000 numbers", 32'000, " ");
  return 0;
}
