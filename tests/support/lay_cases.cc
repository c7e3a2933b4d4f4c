#include "support/lay_cases.h"

#include <algorithm>

namespace pouchwright::test {

using base::Length;
using base::Turn;

std::int64_t Chance::from_to(std::int64_t least, std::int64_t most) {
  // SplitMix64.
  state_ += 0x9E3779B97F4A7C15U;
  std::uint64_t mixed = state_;
  mixed = (mixed ^ (mixed >> 30U)) * 0xBF58476D1CE4E5B9U;
  mixed = (mixed ^ (mixed >> 27U)) * 0x94D049BB133111EBU;
  mixed ^= mixed >> 31U;
  return least + static_cast<std::int64_t>(mixed % static_cast<std::uint64_t>(most - least + 1));
}

namespace {

/// A step that all sizes of a request are multiples of.
Length grid(Chance& chance) {
  switch (chance.from_to(0, 3)) {
    case 0:
      return Length::whole_mm(1);
    case 1:
      return Length::whole_mm(10);
    case 2:
      return Length::inches(1, 8);
    default:
      return Length::nm(chance.from_to(100'003, 2'000'003));
  }
}

Length size(Chance& chance, Length step, std::int64_t least_mm, std::int64_t most_mm) {
  const Length raw = Length::whole_mm(chance.from_to(least_mm, most_mm));
  return std::max<std::int64_t>(raw.in_nm() / step.in_nm(), 1) * step;
}

lay::Kind kind(Chance& chance, Length step, int most_demand) {
  lay::Kind made;
  made.name = "piece";
  made.width = size(chance, step, 30, 400);
  made.length = chance.once_in(6) ? made.width : size(chance, step, 30, 500);
  made.demand = static_cast<int>(chance.from_to(1, most_demand));
  made.turn = static_cast<lay::Turn>(chance.from_to(0, 2));
  if (chance.once_in(8)) made.value = chance.from_to(1, 100'000);
  return made;
}

lay::Plies plies(Chance& chance) {
  switch (chance.from_to(0, 5)) {
    case 0:
      return {lay::Plies::Way::folded, 2};
    case 1:
      return {lay::Plies::Way::folded, 4};
    case 2:
      return {lay::Plies::Way::stacked, static_cast<int>(chance.from_to(2, 8))};
    default:
      return {};
  }
}

}  // namespace

lay::Request seeded_request(std::uint64_t seed) {
  Chance chance(seed);
  const Length step = grid(chance);
  lay::Request request;
  request.cloth = {"cloth", size(chance, step, 500, 1600)};
  const std::int64_t kinds = chance.once_in(2) ? 1 : chance.from_to(2, 6);
  for (std::int64_t k = 0; k < kinds; ++k) {
    request.kinds.push_back(kind(chance, step, kinds == 1 ? 60 : 12));
  }
  request.cuts = chance.once_in(5) ? lay::Cuts::free : lay::Cuts::straight;
  request.plies = plies(chance);
  if (chance.once_in(3)) request.longest = Length::whole_mm(chance.from_to(500, 1500));
  if (chance.once_in(4))
    request.remnants.push_back({"rest", size(chance, step, 60, 900), size(chance, step, 60, 900)});
  if (chance.once_in(4)) request.by_products.push_back(kind(chance, step, 30));
  request.work = 250'000;
  // Kinds that do not fit are left out; without any the next seed serves.
  for (const lay::Fault& fault : lay::faults(request)) {
    if (fault.what == lay::Fault::What::too_large ||
        fault.what == lay::Fault::What::too_long_for_table ||
        fault.what == lay::Fault::What::too_wide_folded) {
      request.kinds[static_cast<std::size_t>(fault.index)].demand = 0;
    }
  }
  request.kinds.erase(std::remove_if(request.kinds.begin(), request.kinds.end(),
                                     [](const lay::Kind& made) { return made.demand == 0; }),
                      request.kinds.end());
  return request.kinds.empty() ? seeded_request(seed + 1'000'003) : request;
}

namespace {

/// One make's pieces.
void add_make(Chance& chance, Length step, Turn turn, std::vector<lay::Kind>& kinds) {
  const int pouches = static_cast<int>(chance.from_to(10, 60));
  kinds.push_back({"panel", size(chance, step, 150, 350), size(chance, step, 250, 700), pouches,
                   turn, std::nullopt});
  if (chance.once_in(3)) {
    kinds.push_back({"strap", size(chance, step, 30, 80), size(chance, step, 150, 600),
                     chance.once_in(2) ? std::min(2 * pouches, 60) : pouches, turn, std::nullopt});
  } else if (chance.once_in(3)) {
    kinds.push_back({"second panel", size(chance, step, 100, 300), size(chance, step, 100, 300),
                     pouches, turn, std::nullopt});
  }
}

int pieces_of(const std::vector<lay::Kind>& kinds) {
  int pieces = 0;
  for (const lay::Kind& made : kinds) pieces += made.demand;
  return pieces;
}

}  // namespace

lay::Request seeded_day(std::uint64_t seed) {
  Chance chance(seed ^ 0xDA7U);
  const Length steps[] = {Length::whole_mm(1), Length::whole_mm(5), Length::inches(1, 8)};
  const Length step = steps[chance.from_to(0, 2)];
  lay::Request request;
  request.cloth = {"cloth", size(chance, step, 900, 1500)};
  const bool all_along = chance.once_in(4);
  const std::int64_t makes = chance.from_to(2, 5);
  for (std::int64_t make = 0; make < makes || pieces_of(request.kinds) < 100; ++make) {
    add_make(chance, step, all_along || chance.once_in(5) ? Turn::along : Turn::either,
             request.kinds);
  }
  return request;
}

lay::Request seeded_small_day(std::uint64_t seed) {
  lay::Request request = seeded_day(seed);
  Chance chance(seed ^ 0x5111A11U);
  for (lay::Kind& made : request.kinds) made.demand = static_cast<int>(chance.from_to(1, 8));
  if (chance.once_in(4))
    request.plies = {lay::Plies::Way::stacked, static_cast<int>(chance.from_to(2, 4))};
  if (chance.once_in(4)) request.longest = Length::whole_mm(chance.from_to(750, 2000));
  request.work = 2'000'000;
  return request;
}

}  // namespace pouchwright::test
