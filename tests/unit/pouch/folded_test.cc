#include "pouch/fold/folded.h"

#include <doctest/doctest.h>

#include "support/requests.h"

using namespace pouchwright;
using namespace pouchwright::pouch;
using test::mm;

namespace {

FlatPanel strip(const std::vector<std::int64_t>& lengths) {
  FlatPanel panel;
  panel.name = "panel";
  Length y;
  for (std::size_t i = 0; i < lengths.size(); ++i) {
    const std::string name(1, static_cast<char>('a' + i));
    panel.spans.push_back({name, y, y + mm(lengths[i])});
    y += mm(lengths[i]);
  }
  return panel;
}

/// The names from bottom to top over one height, a capital where the film looks up.
std::string stack_at(const Folded& folded, std::int64_t height) {
  std::string names;
  for (const Layer& layer : folded.layers_over({mm(height), mm(height) + Length::nm(1)})) {
    char name = folded.name(layer.id).front();
    if (layer.film_up) name = static_cast<char>(name - 'a' + 'A');
    names.push_back(name);
  }
  return names;
}

}  // namespace

TEST_CASE("a fold turns one side over the other, reversed and the other face up") {
  Folded folded({strip({140, 150, 70})}, FilmFaces::one, mm(140));
  CHECK_FALSE(folded.fold({0, 0}, {0, 0}, Landing::on_top));
  CHECK(stack_at(folded, 10) == "Ba");
  CHECK(stack_at(folded, 145) == "B");
  CHECK(folded.layer({0, 0}).heights == Interval{mm(0), mm(140)});
  CHECK_FALSE(folded.fold({0, 1}, {0, 2}, Landing::on_top));
  CHECK(stack_at(folded, 100) == "Bac");
  CHECK(stack_at(folded, 145) == "Bc");
}

TEST_CASE("a fold underneath lands below") {
  Folded folded({strip({140, 150, 70})}, FilmFaces::one, mm(140));
  CHECK_FALSE(folded.fold({0, 1}, {0, 2}, Landing::underneath));
  CHECK(stack_at(folded, 100) == "cB");
}

TEST_CASE("three folds make a pleat: back, gusset-back, gusset-front, front") {
  Folded folded({strip({140, 25, 25, 150, 70})}, FilmFaces::one, mm(190));
  CHECK_FALSE(folded.fold({0, 2}, {0, 2}, Landing::on_top));
  CHECK_FALSE(folded.fold({0, 1}, {0, 1}, Landing::on_top));
  CHECK_FALSE(folded.fold({0, 0}, {0, 0}, Landing::on_top));
  CHECK(stack_at(folded, 10) == "DcBa");
  CHECK(stack_at(folded, 30) == "Da");
  const auto contacts = folded.film_contacts();
  REQUIRE(contacts.size() == 3);
  CHECK(contacts[0] == Meeting{{0, 3}, {0, 2}, {mm(0), mm(25)}});
  CHECK(contacts[1] == Meeting{{0, 1}, {0, 0}, {mm(0), mm(25)}});
  CHECK(contacts[2] == Meeting{{0, 3}, {0, 0}, {mm(25), mm(140)}});
}

TEST_CASE("a layer that lies over what turns is in the way") {
  // The flap is turned over the front first; then the front cannot swing up from underneath it.
  Folded folded({strip({100, 100, 150})}, FilmFaces::one, mm(100));
  CHECK_FALSE(folded.fold({0, 1}, {0, 2}, Landing::on_top));
  CHECK(stack_at(folded, -20) == "Ac");
  const auto trouble = folded.fold({0, 0}, {0, 0}, Landing::on_top);
  REQUIRE(trouble);
  CHECK(trouble->kind == FoldTrouble::Kind::in_the_way);
  CHECK(trouble->span == SpanId{0, 0});
  CHECK(trouble->other == SpanId{0, 2});
  CHECK(stack_at(folded, -20) == "Ac");
  CHECK_FALSE(folded.fold({0, 0}, {0, 0}, Landing::underneath));
}

TEST_CASE("what is joined moves together or not at all") {
  Folded folded({strip({100, 100, 50})}, FilmFaces::one, mm(100));
  CHECK_FALSE(folded.fold({0, 0}, {0, 0}, Landing::on_top));
  folded.join({0, 0}, {0, 1});
  const auto trouble = folded.fold({0, 0}, {0, 0}, Landing::on_top);
  REQUIRE(trouble);
  CHECK(trouble->kind == FoldTrouble::Kind::joined);
}

TEST_CASE("heights map to the flat panel and back") {
  Folded folded({strip({140, 150, 70})}, FilmFaces::one, mm(140));
  CHECK_FALSE(folded.fold({0, 0}, {0, 0}, Landing::on_top));
  CHECK(folded.height_of({0, 0}, mm(0)) == mm(140));
  CHECK(folded.height_of({0, 0}, mm(140)) == mm(0));
  CHECK(folded.height_of({0, 1}, mm(200)) == mm(60));
  CHECK(folded.on_panel({0, 0}, {mm(0), mm(10)}) == Interval{mm(130), mm(140)});
  CHECK(folded.on_panel({0, 1}, {mm(0), mm(10)}) == Interval{mm(140), mm(150)});
}

TEST_CASE("laminate with film on both faces meets film everywhere") {
  Folded folded({strip({100, 100, 80})}, FilmFaces::both, mm(100));
  CHECK_FALSE(folded.fold({0, 0}, {0, 0}, Landing::on_top));
  CHECK_FALSE(folded.fold({0, 1}, {0, 2}, Landing::on_top));
  CHECK(folded.film_contacts().size() == 2);
  CHECK(folded.film_below() == std::vector<Interval>{{mm(0), mm(100)}});
}

TEST_CASE("intervals: shared, without, joined") {
  CHECK(shared({mm(0), mm(5)}, {mm(5), mm(9)}) == std::nullopt);
  CHECK(shared({mm(0), mm(6)}, {mm(5), mm(9)}) == Interval{mm(5), mm(6)});
  CHECK(without({mm(0), mm(10)}, {{mm(8), mm(20)}, {mm(2), mm(3)}}) ==
        std::vector<Interval>{{mm(0), mm(2)}, {mm(3), mm(8)}});
  CHECK(joined({{mm(5), mm(6)}, {mm(0), mm(5)}}) == std::vector<Interval>{{mm(0), mm(6)}});
}
