/// The engine's water line against the model of points: `water_stress 20000 [first seed]` random
/// foldings and as many sizes of the constructions in patterns/. Status 1 if any differs.
#include <charconv>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <iterator>

#include "input/data.h"
#include "support/brute_water.h"
#include "support/random_pouch.h"

using namespace pouchwright;

namespace {

std::uint64_t number_in(const char* text, std::uint64_t otherwise) {
  std::uint64_t number = otherwise;
  std::from_chars(text, text + std::strlen(text), number);
  return number;
}

struct Tally {
  std::uint64_t tried = 0, accepted = 0, holds = 0, below_lip = 0, wrong = 0;

  void add(const char* what, std::uint64_t seed, const test::Compared& one) {
    ++tried;
    accepted += one.accepted ? 1 : 0;
    holds += one.holds ? 1 : 0;
    below_lip += one.below_lip ? 1 : 0;
    if (one.wrong.empty()) return;
    ++wrong;
    std::printf("%s, seed %llu: %s\n", what, static_cast<unsigned long long>(seed),
                one.wrong.c_str());
  }

  void print(const char* what) const {
    std::printf(
        "%s: %llu tried, %llu accepted, %llu hold water, %llu leak below the lip, %llu wrong\n",
        what, static_cast<unsigned long long>(tried), static_cast<unsigned long long>(accepted),
        static_cast<unsigned long long>(holds), static_cast<unsigned long long>(below_lip),
        static_cast<unsigned long long>(wrong));
  }
};

pouch::Construction pattern(const std::string& name) {
  std::ifstream file(std::string(POUCHWRIGHT_SOURCE "/patterns/") + name + ".toml");
  const std::string text{std::istreambuf_iterator<char>(file), {}};
  base::Diagnostics diagnostics;
  return input::read_construction({name + ".toml", text}, name, diagnostics).value().construction;
}

}  // namespace

int main(int count, char** words) {
  const std::uint64_t wanted = count > 1 ? number_in(words[1], 20'000) : 20'000;
  const std::uint64_t first = count > 2 ? number_in(words[2], 1) : 1;
  Tally foldings;
  for (std::uint64_t seed = first; foldings.accepted < wanted; ++seed) {
    foldings.add("folding", seed, test::compare_water(test::random_folding(seed)));
  }
  foldings.print("foldings");
  std::uint64_t wrong = foldings.wrong;
  for (const char* name :
       {"foldover", "gusset", "sleeve", "twopiece", "freeflap", "double", "rolltop"}) {
    const pouch::Construction construction = pattern(name);
    Tally sizes;
    for (std::uint64_t seed = first; seed < first + wanted / 10; ++seed) {
      sizes.add(name, seed, test::compare_water(test::random_sizes(construction, seed)));
    }
    sizes.print(name);
    wrong += sizes.wrong;
  }
  return wrong == 0 ? 0 : 1;
}
