#include <doctest/doctest.h>

#include <fstream>
#include <map>
#include <string>

#include "lay/solve/solvers.h"
#include "support/lay_cases.h"

using namespace pouchwright;
using lay::RollQuestion;
using lay::Shape;
using lay::Whole;
using lay::Work;

namespace {

lay::RollAnswer solved(const RollQuestion& question) {
  Work work(lay::Whole{250'000'000});
  return lay::several_kinds(question, work);
}

/// Whether all of `left` come from w x l, over every whole-number cut and every way to share.
class EveryCut {
 public:
  explicit EveryCut(std::vector<Shape> shapes) : shapes_(std::move(shapes)) {}
  bool all_fit(Whole w, Whole l, const std::vector<int>& left) {
    int pieces = 0;
    Whole area = 0;
    std::size_t last = 0;
    for (std::size_t k = 0; k < left.size(); ++k) {
      pieces += left[k];
      area += left[k] * shapes_[k].width * shapes_[k].length;
      if (left[k] > 0) last = k;
    }
    if (pieces == 0) return true;
    if (area > w * l) return false;
    const Shape& s = shapes_[last];
    const bool fits =
        (s.upright && s.width <= w && s.length <= l) || (s.turned && s.length <= w && s.width <= l);
    if (pieces == 1) return fits;
    const auto key = std::pair{std::pair{w, l}, left};
    const auto known = known_.find(key);
    if (known != known_.end()) return known->second;
    return known_[key] = cut(w, l, left);
  }

 private:
  bool cut(Whole w, Whole l, const std::vector<int>& left) {
    std::vector<int> first(left.size(), 0);
    for (;;) {
      std::size_t k = 0;
      while (k < left.size() && first[k] == left[k]) first[k++] = 0;
      if (k == left.size()) return false;
      ++first[k];
      std::vector<int> second = left;
      for (std::size_t i = 0; i < left.size(); ++i) second[i] -= first[i];
      for (Whole x = 1; x < w; ++x) {
        if (all_fit(x, l, first) && all_fit(w - x, l, second)) return true;
      }
      for (Whole y = 1; y < l; ++y) {
        if (all_fit(w, y, first) && all_fit(w, l - y, second)) return true;
      }
    }
  }

  std::vector<Shape> shapes_;
  std::map<std::pair<std::pair<Whole, Whole>, std::vector<int>>, bool> known_;
};

}  // namespace

TEST_CASE("three published strip instances are solved to the published least length") {
  // M. Hifi, Computers & Operations Research 25, 1998: SCP1, SCP3, SCP21. Along the roll, across,
  // demand; straight cuts, no turning.
  struct Instance {
    Whole least, width;
    std::vector<std::tuple<Whole, Whole, int>> pieces;
  };
  const Instance instances[] = {{13, 5, {{3, 1, 4}, {2, 2, 2}, {3, 4, 2}, {2, 3, 1}, {5, 3, 1}}},
                                {14, 6, {{3, 1, 4}, {2, 3, 2}, {1, 2, 4}, {7, 2, 2}, {8, 1, 3}}},
                                {145,
                                 30,
                                 {{10, 10, 2},
                                  {15, 15, 2},
                                  {25, 10, 2},
                                  {30, 10, 2},
                                  {55, 20, 1},
                                  {45, 15, 1},
                                  {25, 20, 1}}}};
  for (const Instance& one : instances) {
    RollQuestion question{one.width, lay::kNever, {}};
    for (const auto& [along, across, demand] : one.pieces) {
      question.shapes.push_back({across, along, demand, true, false, 0});
    }
    const auto answer = solved(question);
    CHECK(answer.length == one.least);
    CHECK(answer.optimal);
  }
}

TEST_CASE("all odd published strip instances are solved to the published least length") {
  // The same source; an exact program reproduced these values.
  const std::map<int, Whole> least{{1, 13},   {3, 14},  {5, 20},  {7, 14},  {9, 68},
                                   {11, 48},  {13, 50}, {15, 34}, {17, 39}, {19, 26},
                                   {21, 145}, {23, 35}, {25, 36}};
  for (const auto& instance : least) {
    const int number = instance.first;
    const Whole length = instance.second;
    std::ifstream in(std::string(POUCHWRIGHT_LAY_DATA) + "/scp" + std::to_string(number) + ".txt");
    if (!in) continue;
    RollQuestion question;
    std::size_t kinds = 0;
    Whole published = 0;
    in >> published >> question.width >> kinds;
    question.shapes.resize(kinds);
    for (Shape& shape : question.shapes) {
      in >> shape.length >> shape.width >> shape.demand;
      shape.turned = false;
    }
    INFO("SCP" << number);
    CHECK(published == length);
    const auto answer = solved(question);
    CHECK(answer.length == length);
    CHECK(answer.optimal);
  }
}

TEST_CASE("small questions agree with every cut tried") {
  test::Chance chance(3);
  for (int i = 0; i < 60; ++i) {
    RollQuestion question;
    question.width = chance.from_to(5, 8);
    std::vector<int> demands;
    for (int k = 0; k < 3; ++k) {
      Shape shape{chance.from_to(1, 5),
                  chance.from_to(1, 5),
                  static_cast<int>(chance.from_to(1, 2)),
                  true,
                  !chance.once_in(3),
                  0};
      demands.push_back(shape.demand);
      question.shapes.push_back(shape);
    }
    const auto answer = solved(question);
    CHECK(answer.optimal);
    EveryCut every(question.shapes);
    CHECK(every.all_fit(question.width, answer.length, demands));
    CHECK_FALSE(every.all_fit(question.width, answer.length - 1, demands));
  }
}

TEST_CASE("the bound knows how few pieces lie side by side") {
  // Of widths 4 only two lie side by side in 10, so each takes half: 46 / 2. Areas alone give 19.
  RollQuestion question{10, lay::kNever, {}};
  for (const Whole length : {10, 11, 12, 13}) {
    question.shapes.push_back({4, length, 1, true, false, 0});
  }
  CHECK(lay::length_bound(question) == 23);
  const auto answer = solved(question);
  CHECK(answer.length == 23);
  CHECK(answer.optimal);
}

TEST_CASE("with a table the lengths cut off are short and sum to the least") {
  // Two 6 x 4 and two 3 x 5 on 9: without a table 6 + 3 across in 4 and 5 -> 10 in two lengths
  // of 5.
  RollQuestion question{9, 5, {{6, 4, 2, true, false, 0}, {3, 5, 2, true, false, 0}}};
  const auto answer = solved(question);
  CHECK(answer.length == 10);
  CHECK(answer.optimal);
  REQUIRE(answer.cut_offs.size() == 2);
  for (const lay::Part& part : answer.cut_offs) CHECK(part.length <= 5);
}

TEST_CASE("some hundred pieces of twelve kinds get a good plan with a bound") {
  RollQuestion question{1'480, lay::kNever, {}};
  const std::vector<std::tuple<Whole, Whole, int>> pieces{
      {204, 360, 30}, {180, 300, 30}, {50, 400, 30}, {90, 90, 50},  {61, 72, 100},  {33, 44, 100},
      {210, 297, 10}, {148, 210, 20}, {500, 700, 3}, {350, 450, 4}, {123, 234, 10}, {77, 177, 17}};
  for (const auto& [width, length, demand] : pieces) {
    question.shapes.push_back({width, length, demand, true, true, 0});
  }
  const auto answer = solved(question);
  CHECK(answer.bound <= answer.length);
  CHECK(answer.length * 100 <= answer.bound * 103);
}
