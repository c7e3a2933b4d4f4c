#include <cstdio>
#include <cstdlib>
#include "lay/lay.h"
#include "lay/solve/solvers.h"
#include "support/lay_cases.h"
using namespace pouchwright;
int main(int, char** w) {
  auto r = test::seeded_day(std::strtoull(w[1], nullptr, 10));
  std::printf("width %.3f\n", r.cloth.width.in_mm());
  for (auto& k : r.kinds) std::printf("%s %.3f x %.3f  * %d turn %d\n", k.name.c_str(), k.width.in_mm(), k.length.in_mm(), k.demand, int(k.turn));
  auto p = lay::plan(r);
  std::printf("length %.1f bound %.1f\n", p.cloth.length.in_mm(), p.cloth.bound.in_mm());
  for (auto& c : p.cloth.cut_offs) std::printf("[%d] %.1f ", c.pattern, c.length.in_mm());
  std::printf("\n");
  for (auto& s : p.cloth.steps) std::printf("%d cutoff %d at %.1f lines %zu count %d kind %d off %.1f x %.1f\n", int(s.cut), s.cut_off, s.at.in_mm(), s.lines.size(), s.count, s.kind, s.off.width.in_mm(), s.off.length.in_mm());
}
