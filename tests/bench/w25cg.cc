#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <set>
#include <algorithm>
#include "lay/lay.h"
#include "lay/solve/solvers.h"
#include "lay/solve/columns.h"
#include "lay/solve/table.h"
#include "lay/solve/cover.h"
#include "lay/solve/slices.h"
#include "support/lay_cases.h"
using namespace pouchwright;
using namespace pouchwright::lay;
static std::vector<Whole> sides(const RollQuestion& q, Whole longest, bool along) {
  std::vector<Whole> f;
  for (auto& p : poses(q.shapes, q.width, longest)) f.push_back(along ? p.length : p.width);
  return f;
}
int main(int c, char** w) {
  int mode = c > 2 ? atoi(w[2]) : 3; int AC=c>3?atoi(w[3]):160, AL=c>4?atoi(w[4]):300, HO=c>5?atoi(w[5]):8;
  auto r = test::seeded_day(std::strtoull(w[1], nullptr, 10));
  RollQuestion q; q.width = r.cloth.width.in_nm();
  for (auto& k : r.kinds) { Shape s; s.width = k.width.in_nm(); s.length = k.length.in_nm(); s.demand = k.demand; s.upright = k.turn != Turn::across; s.turned = k.turn != Turn::along; q.shapes.push_back(s); }
  Work work(100000000000);
  auto sb = slices_bound(q, work);
  std::printf("slices work %lld bound %.1f\n", 100000000000LL - work.left(), double(sb.length) / 1e6);
  std::vector<Fixed> d; Whole unit = 1;
  for (auto& s : q.shapes) { d.push_back(Fixed::whole(s.demand)); unit = std::max({unit, s.width, s.length}); }
  Cover cover(d); std::set<std::vector<int>> seen;
  auto ps = poses(q.shapes, q.width, kNever);
  Whole longest = 0;
  for (size_t k = 0; k < q.shapes.size(); ++k) {
    Cover::Column best; 
    Whole shortest = kNever;
    for (auto& p : ps) if (size_t(p.kind) == k) { Cover::Column col{std::vector<Fixed>(d.size()), Fixed::fraction(p.length, unit)}; col.covers[k] = Fixed::whole(q.width / p.width); if (best.covers.empty() || col.covers[k] / col.cost > best.covers[k] / best.cost) best = col; shortest = std::min(shortest, p.length); }
    cover.add(best); longest = std::max(longest, shortest);
  }
  for (int round = 0; round < 60; ++round) {
    cover.solve(work);
    auto pr = cover.prices();
    for (size_t k = 0; k < d.size(); ++k) q.shapes[k].value = std::max<Whole>(1, Whole(pr[k].raw() >> 2));
    int added = 0; double bestr = 0;
    auto before = work.left(); auto t0 = clock();
    auto scan = [&](auto& t, auto val, auto cnt) {
      auto& ys = t.along();
      std::vector<std::pair<double, size_t>> cand;
      for (size_t j = 1; j < ys.size(); ++j) { double rc = double(val(j)) / double(Whole{1} << 38) - double(ys[j]) / double(unit); if (rc > 1e-6) cand.push_back({rc / double(ys[j]), j}); }
      std::sort(cand.rbegin(), cand.rend());
      int n = 0;
      for (auto& [rc, j] : cand) { if (n >= 10) break; auto cn = cnt(j); bestr = std::max(bestr, rc * double(unit));
        bool over = false; for (size_t k = 0; k < cn.size(); ++k) { if (cn[k] > q.shapes[k].demand) over = true; }
        if (over) { for (size_t k = 0; k < cn.size(); ++k) cn[k] = std::min(cn[k], q.shapes[k].demand); }
        auto key = cn; if (!seen.insert(key).second) continue;
        Cover::Column col{{}, Fixed::fraction(ys[j], unit)}; for (int x : cn) col.covers.push_back(Fixed::whole(x)); cover.add(col); ++n; ++added; }
    };
    if (mode & 1) for (int reach : {2, 4}) { Table t(some_sums_of(sides(q, reach * longest, false), q.width, 160), some_sums_of(sides(q, reach * longest, true), reach * longest, 90), q.shapes, mode & 4 ? Limits::ignored : Limits::kept, work);
      size_t i = t.across().size() - 1; scan(t, [&](size_t j) { return t.value(i, j); }, [&](size_t j) { return t.counts(i, j); }); }
    auto t1 = clock();
    if (mode & 2) { Columns t(some_sums_of(sides(q, HO * longest, false), q.width, AC), some_sums_of(sides(q, HO * longest, true), HO * longest, AL), q.shapes, work);
      scan(t, [&](size_t j) { return t.value(j); }, [&](size_t j) { return count_pieces(t.part(j), d.size()); }); }
    auto t2 = clock();
    std::printf("round %d lp %.1f  best %.4f added %d work %lld  %.0f + %.0f ms\n", round, double(cover.cost().raw()) / double(Whole{1} << 40) * double(unit) / 1e6, bestr, added, before - work.left(), double(t1 - t0) / 1000, double(t2 - t1) / 1000);
    if (!added) break;
  }
  auto am = cover.amounts();
  for (size_t i = 0; i < am.size(); ++i) if (am[i] > Fixed()) { std::printf("%.3f x len %.1f:", double(am[i].raw()) / double(Whole{1} << 40), double(cover.column(i).cost.raw()) / double(Whole{1} << 40) * double(unit) / 1e6); for (auto x : cover.column(i).covers) std::printf(" %d", int(x.floor())); std::printf("\n"); }
}
