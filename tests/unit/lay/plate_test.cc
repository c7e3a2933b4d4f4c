#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <map>
#include <string>

#include "lay/solve/solvers.h"
#include "support/lay_cases.h"

using namespace pouchwright;
using lay::Shape;
using lay::Whole;
using lay::Work;

namespace {

lay::PlateAnswer solved(Whole width, Whole length, const std::vector<Shape>& shapes) {
  Work work(lay::Whole{250'000'000});
  return lay::most_valuable(width, length, shapes, work);
}

/// The best value over every whole-number cut and every way to share the demands.
class EveryCut {
 public:
  explicit EveryCut(std::vector<Shape> shapes) : shapes_(std::move(shapes)) {}
  Whole best(Whole w, Whole l, const std::vector<int>& left) {
    const auto key = std::pair{std::pair{w, l}, left};
    const auto known = known_.find(key);
    if (known != known_.end()) return known->second;
    Whole value = 0;
    for (std::size_t k = 0; k < shapes_.size(); ++k) {
      const Shape& s = shapes_[k];
      const bool fits = (s.upright && s.width <= w && s.length <= l) ||
                        (s.turned && s.length <= w && s.width <= l);
      if (left[k] > 0 && fits) value = std::max(value, s.value);
    }
    std::vector<int> first(left.size(), 0);
    for (;;) {
      std::vector<int> second = left;
      for (std::size_t k = 0; k < left.size(); ++k) second[k] -= first[k];
      for (Whole x = 1; x < w; ++x)
        value = std::max(value, best(x, l, first) + best(w - x, l, second));
      for (Whole y = 1; y < l; ++y)
        value = std::max(value, best(w, y, first) + best(w, l - y, second));
      std::size_t k = 0;
      while (k < left.size() && first[k] == left[k]) first[k++] = 0;
      if (k == left.size()) break;
      ++first[k];
    }
    return known_[key] = value;
  }

 private:
  std::vector<Shape> shapes_;
  std::map<std::pair<std::pair<Whole, Whole>, std::vector<int>>, Whole> known_;
};

std::ifstream data_file(const std::string& name) {
  return std::ifstream(std::string(POUCHWRIGHT_LAY_DATA) + "/" + name);
}

}  // namespace

TEST_CASE("the first Christofides-Whitlock problem has the value 244") {
  // N. Christofides, C. Whitlock, Operations Research 25, 1977, test problem 1 (OR-Library cgcut1):
  // plate 15 x 10; length, width, at most so many, value. No turning.
  std::vector<Shape> shapes;
  for (const auto& [l, w, most, value] :
       std::vector<std::tuple<Whole, Whole, int, Whole>>{{8, 4, 2, 66},
                                                         {3, 7, 1, 35},
                                                         {8, 2, 3, 24},
                                                         {3, 4, 5, 17},
                                                         {3, 3, 2, 11},
                                                         {3, 2, 2, 8},
                                                         {2, 1, 1, 2}}) {
    shapes.push_back({w, l, most, true, false, value});
  }
  const auto answer = solved(10, 15, shapes);
  CHECK(answer.value == 244);
  CHECK(answer.optimal);
  const auto counts = lay::count_pieces(answer.part, shapes.size());
  for (std::size_t k = 0; k < counts.size(); ++k) CHECK(counts[k] <= shapes[k].demand);
}

TEST_CASE("the other Christofides-Whitlock problems have the published values") {
  const std::map<std::string, Whole> values{{"cgcut1", 244}, {"cgcut2", 2892}, {"cgcut3", 1860}};
  for (const auto& problem : values) {
    const std::string& name = problem.first;
    const Whole value = problem.second;
    std::ifstream in = data_file(name + ".txt");
    if (!in) continue;
    std::size_t kinds = 0;
    Whole length = 0;
    Whole width = 0;
    in >> kinds >> length >> width;
    std::vector<Shape> shapes(kinds);
    for (Shape& shape : shapes) {
      in >> shape.length >> shape.width >> shape.demand >> shape.value;
      shape.turned = false;
    }
    INFO(name);
    CHECK(solved(width, length, shapes).value == value);
  }
}

TEST_CASE("the unlimited Beasley problems have the published values, turned or not") {
  // J. E. Beasley, J. Oper. Res. Soc. 36, 1985, problems 1 to 6, value = area; with turning as on
  // the companion page of G. Cintra and others, Eur. J. Oper. Res. 191, 2008.
  const Whole straight[] = {56460, 60536, 61036, 61698, 246000, 238998};
  const Whole turned[] = {58136, 60611, 61626, 62265, 246000, 240951};
  for (int i = 0; i < 6; ++i) {
    std::ifstream in = data_file("gcut" + std::to_string(i + 1) + ".txt");
    if (!in) continue;
    std::size_t kinds = 0;
    Whole length = 0;
    Whole width = 0;
    in >> kinds >> length >> width;
    std::vector<Shape> shapes(kinds);
    for (Shape& shape : shapes) {
      in >> shape.length >> shape.width >> shape.value;
      shape.demand = 1000;
      shape.turned = false;
    }
    INFO("gcut" << i + 1);
    CHECK(solved(width, length, shapes).value == straight[i]);
    for (Shape& shape : shapes) shape.turned = true;
    const auto answer = solved(width, length, shapes);
    CHECK(answer.value == turned[i]);
    CHECK(answer.optimal);
  }
}

TEST_CASE("small plates agree with every cut tried") {
  test::Chance chance(5);
  for (int i = 0; i < 60; ++i) {
    std::vector<Shape> shapes;
    std::vector<int> demands;
    for (int k = 0; k < 3; ++k) {
      Shape shape{
          chance.from_to(1, 5), chance.from_to(1, 5), static_cast<int>(chance.from_to(1, 2)), true,
          !chance.once_in(3),   chance.from_to(1, 30)};
      demands.push_back(shape.demand);
      shapes.push_back(shape);
    }
    const Whole width = chance.from_to(4, 8);
    const Whole length = chance.from_to(4, 8);
    const auto answer = solved(width, length, shapes);
    CHECK(answer.optimal);
    CHECK(answer.value == EveryCut(shapes).best(width, length, demands));
  }
}

TEST_CASE("a plate that no piece fits is waste, and a search that stops states its bound") {
  CHECK(solved(3, 3, {{4, 1, 1, true, true, 5}}).value == 0);
  std::vector<Shape> shapes;
  for (Whole k = 0; k < 12; ++k) {
    shapes.push_back({11 + 3 * k, 17 + 5 * k, 2, true, true, (11 + 3 * k) * (17 + 5 * k)});
  }
  Work little(20'000);
  const auto stopped = lay::most_valuable(161, 143, shapes, little);
  CHECK(stopped.bound >= stopped.value);
}
