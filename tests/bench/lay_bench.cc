/// How long cut plans take: `lay_bench [folder of the published instances]`. One line a question,
/// with the best of a few runs and, where an aim was set, the ratio to it; at the end four
/// questions that CBC answers too, as models in whole numbers, with the ratio of the times (aim:
/// 1,000).
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <fstream>
#include <string>

#include "lay/lay.h"
#include "lay/solve/solvers.h"
#include "support/integer_model.h"

using namespace pouchwright;
using base::Length;
using lay::Shape;
using lay::Whole;

namespace {

template <class Run>
double best_ms(int runs, Run run) {
  double best = 1e9;
  for (int i = 0; i < runs; ++i) {
    const auto start = std::chrono::steady_clock::now();
    run();
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
    best = std::min(best, took.count());
  }
  return best;
}

void panels(int demand, int width_mm, double aim_ms) {
  lay::Request request;
  request.cloth = {"cloth", Length::whole_mm(width_mm)};
  request.kinds = {{"panel", Length::whole_mm(204), Length::whole_mm(360), demand}};
  lay::Plan plan;
  const double took = best_ms(5, [&] { plan = lay::plan(request); });
  std::printf("%5d panels on %d mm: %8.3f ms, aim %g ms, ratio %.4f; %.0f mm, %s\n", demand,
              width_mm, took, aim_ms, took / aim_ms, plan.cloth.length.in_mm(),
              plan.cloth.optimal ? "optimal" : "with a gap");
}

constexpr int kSixKinds[6][3] = {{204, 360, 3}, {204, 300, 3}, {150, 250, 4},
                                 {50, 80, 4},   {25, 200, 4},  {30, 90, 2}};

/// `each` pieces of every kind, or (0) twenty in all.
void six_kinds(int each) {
  lay::Request request;
  request.cloth = {"cloth", Length::whole_mm(1100)};
  for (const auto& size : kSixKinds) {
    request.kinds.push_back(
        {"kind", Length::whole_mm(size[0]), Length::whole_mm(size[1]), each > 0 ? each : size[2]});
  }
  lay::Plan plan;
  const double took = best_ms(3, [&] { plan = lay::plan(request); });
  std::printf("six kinds, %s: %8.3f ms; %.0f mm, bound %.0f mm\n",
              each > 0 ? "twenty pieces of each" : "twenty pieces in all", took,
              plan.cloth.length.in_mm(), plan.cloth.bound.in_mm());
}

void published_counts() {
  const Whole instances[][4] = {
      {22, 16, 5, 3}, {46, 34, 11, 6}, {53, 51, 9, 7},  {76, 73, 13, 10},       {49, 28, 8, 3},
      {43, 26, 7, 3}, {63, 44, 8, 5},  {67, 37, 11, 3}, {74, 49, 11, 4},        {32, 22, 5, 4},
      {40, 26, 7, 4}, {53, 26, 7, 4},  {81, 39, 9, 7},  {1000, 1000, 205, 159}, {14, 10, 3, 2},
      {87, 47, 7, 6}, {40, 25, 7, 3},  {56, 52, 12, 5}, {42, 39, 9, 4},         {300, 200, 21, 19}};
  for (const auto& one : instances) {
    const Shape shape{one[2], one[3], 1, true, true, 0};
    int straight = 0;
    int free = 0;
    const double straight_ms = best_ms(3, [&] {
      lay::Work work(1'000'000'000);
      straight = lay::most_straight(one[1], one[0], shape, work);
    });
    const double free_ms = best_ms(1, [&] {
      lay::Work work(1'000'000'000);
      free = lay::count_pieces(lay::five_block(one[1], one[0], shape, work), 1).front();
    });
    std::printf("%4d x %4d, %3d x %3d: straight %3d in %7.3f ms, free %3d in %8.3f ms\n",
                static_cast<int>(one[0]), static_cast<int>(one[1]), static_cast<int>(one[2]),
                static_cast<int>(one[3]), straight, straight_ms, free, free_ms);
  }
}

void published_strips(const std::string& folder) {
  for (int number = 1; number <= 25; number += 2) {
    std::ifstream in(folder + "/scp" + std::to_string(number) + ".txt");
    if (!in) continue;
    lay::RollQuestion question;
    Whole least = 0;
    std::size_t kinds = 0;
    in >> least >> question.width >> kinds;
    question.shapes.resize(kinds);
    for (Shape& shape : question.shapes) {
      in >> shape.length >> shape.width >> shape.demand;
      shape.turned = false;
    }
    lay::RollAnswer answer;
    const double took = best_ms(3, [&] {
      lay::Work work(lay::kWork);
      answer = lay::several_kinds(question, work);
    });
    std::printf("SCP%d: %d (published %d) in %.3f ms, %s\n", number,
                static_cast<int>(answer.length), static_cast<int>(least), took,
                answer.optimal ? "optimal" : "with a gap");
  }
}

/// Ours against the general way, on the same question.
void against_cbc(const char* question, double ours_ms, Whole ours, const test::Model& model) {
  constexpr int kSeconds = 60;
  const test::Solved theirs = test::solved_by_cbc(model, kSeconds);
  const double theirs_ms = theirs.seconds * 1000;
  const std::string answer =
      theirs.closed ? std::to_string(*theirs.least)
                    : "not solved; between " + std::to_string(theirs.bound) + " and " +
                          (theirs.least ? std::to_string(*theirs.least) : std::string("anything"));
  std::printf("%s: %lld in %.4f ms; cbc: %s in %.0f ms with %zu variables; ratio %s%.0f\n",
              question, static_cast<long long>(ours), ours_ms, answer.c_str(), theirs_ms,
              model.variables(), theirs.closed ? "" : "above ", theirs_ms / ours_ms);
}

void strip_against_cbc(const char* name, const lay::RollQuestion& question) {
  lay::RollAnswer answer;
  const double took = best_ms(3, [&] {
    lay::Work work(lay::kWork);
    answer = question.shapes.size() == 1 ? lay::one_kind_straight(question, work)
                                         : lay::several_kinds(question, work);
  });
  // The length that we found spares cbc all longer ones.
  against_cbc(name, took, answer.length, test::strip_model(question, answer.length));
}

void models_of_cbc() {
  if (!test::cbc_is_installed()) {
    std::printf("cbc is not installed (Debian package coinor-cbc): no comparison\n");
    return;
  }
  const Shape tile{9, 7, 50, true, true, 1};
  int count = 0;
  const double took = best_ms(3, [&] {
    lay::Work work(lay::kWork);
    count = lay::most_straight(51, 53, tile, work);
  });
  against_cbc("most 9 x 7 from 53 x 51, straight (cost: minus the count)", took, -count,
              test::plate_model(51, 53, {tile}));
  strip_against_cbc("40 panels on 1500 mm", {1500, lay::kNever, {{204, 360, 40, true, true, 0}}});
  strip_against_cbc("40 panels on 1100 mm", {1100, lay::kNever, {{204, 360, 40, true, true, 0}}});
  // M. Hifi 1998, SCP3: across, along the roll, demand.
  strip_against_cbc("SCP3", {6,
                             lay::kNever,
                             {{1, 3, 4, true, false, 0},
                              {3, 2, 2, true, false, 0},
                              {2, 1, 4, true, false, 0},
                              {2, 7, 2, true, false, 0},
                              {1, 8, 3, true, false, 0}}});
}

}  // namespace

int main(int count, char** words) {
  panels(40, 1100, 5);
  panels(40, 1500, 5);
  panels(1000, 1100, 50);
  panels(1000, 1500, 50);
  six_kinds(0);
  six_kinds(20);
  published_counts();
  published_strips(count > 1 ? words[1] : POUCHWRIGHT_LAY_DATA);
  models_of_cbc();
  return 0;
}
