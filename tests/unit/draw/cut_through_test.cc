#include "draw/folds/cut_through.h"

#include "unit/draw/fold_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

constexpr double kScale = 0.2;

Drawing section_of(const pouch::Folded& folded, bool outer) {
  const SectionLook look{.origin = {100, 0}, .scale = kScale, .outer = outer, .table = true};
  Drawing drawing;
  draw_section(drawing, folded, stacked(folded, {}), look);
  return drawing;
}

/// The straight line of a span, as the scene has it.
Box line_of(const Drawing& drawing, const std::string& name) {
  const auto shapes = named_shapes(drawing, name);
  REQUIRE(shapes.size() == 1);
  return bounds(shapes.front()->path);
}

/// A side view says what the layers say: heights, order from bottom to top, and which way film
/// looks. Read from the scene alone; left is up.
void check_section(const pouch::Folded& folded, bool outer) {
  const Drawing drawing = section_of(folded, outer);
  const auto& layers = folded.layers();
  for (std::size_t i = 0; i < layers.size(); ++i) {
    const std::string& name = folded.name(layers[i].id);
    INFO(name);
    const Box film = line_of(drawing, "film: " + name);
    const Box knit = line_of(drawing, "knit: " + name);
    CHECK(film.y1 == doctest::Approx(-layers[i].heights.from.in_mm() * kScale));
    CHECK(film.y0 == doctest::Approx(-layers[i].heights.to.in_mm() * kScale));
    CHECK((film.x0 < knit.x0) == layers[i].film_up);
    if (outer) CHECK((line_of(drawing, "outer: " + name).x0 > knit.x0) == layers[i].film_up);
    for (std::size_t k = i + 1; k < layers.size(); ++k) {
      if (!shared(layers[i].heights, layers[k].heights)) continue;
      INFO(folded.name(layers[k].id));
      CHECK(line_of(drawing, "knit: " + folded.name(layers[k].id)).x1 < knit.x0 - 2 * kTrack);
    }
  }
}

/// Each fold's lines begin and end where the lines of its two spans do.
void check_joints(const pouch::Folded& folded) {
  const Drawing drawing = section_of(folded, true);
  const auto& spans = folded.panels().front().spans;
  for (std::size_t i = 0; i + 1 < spans.size(); ++i) {
    for (const std::string kind : {"film: ", "knit: ", "outer: "}) {
      INFO(kind, spans[i].name, " / ", spans[i + 1].name);
      const Box a = line_of(drawing, kind + spans[i].name);
      const Box b = line_of(drawing, kind + spans[i + 1].name);
      const auto joints = named_shapes(drawing, kind + spans[i].name + " / " + spans[i + 1].name);
      if (!is_folded(folded, {0, i})) {
        CHECK(joints.empty());
        CHECK(a.x0 == doctest::Approx(b.x0));
        continue;
      }
      REQUIRE(joints.size() == 1);
      const Point begin = joints.front()->path.front().to;
      const Point end = joints.front()->path.back().to;
      CHECK(begin.x == doctest::Approx(a.x0));
      CHECK(end.x == doctest::Approx(b.x0));
      CHECK(begin.y == doctest::Approx(end.y));
      const bool at_low_end = begin.y == doctest::Approx(a.y1);
      CHECK((at_low_end || begin.y == doctest::Approx(a.y0)));
    }
  }
}

}  // namespace

TEST_CASE("at every stage the side view shows the layers in their order, film on its side") {
  for (const pouch::Construction& construction : {foldover(), gusset()}) {
    const pouch::Pouch pouch = derived(hand_worked(construction));
    for (const pouch::Stage& stage : pouch.stages) {
      INFO(construction.name, ", ", construction.operations[stage.operation].id);
      check_section(stage.folded, false);
      check_section(stage.folded, true);
      check_joints(stage.folded);
    }
  }
}

TEST_CASE("the gusset's stack is the one worked by hand") {
  // From below back, gusset-back, gusset-front, front.
  const pouch::Pouch pouch = derived(hand_worked(gusset()));
  const Stack stack = stacked(pouch.stages[stage_of(pouch, "press-sides")].folded, {});
  CHECK(stack.levels == 4);
  for (const StackedLayer& layer : stack.layers) {
    INFO(layer.name);
    const std::map<std::string, std::size_t> by_hand{
        {"flap", 0}, {"back", 0}, {"gusset-back", 1}, {"gusset-front", 2}, {"front", 3}};
    CHECK(layer.level == by_hand.at(layer.name));
  }
}

TEST_CASE("a turned hem lies under its span") {
  const pouch::EndFinish turned{pouch::FinishKind::turned, mm(10), mm(18), {}};
  const pouch::Pouch pouch = derived(with_ends(hand_worked(foldover()), turned));
  for (const pouch::Stage& stage : pouch.stages) {
    check_section(stage.folded, true);
    check_joints(stage.folded);
  }
  const Stack stack = stacked(pouch.stages[stage_of(pouch, "finish-end")].folded, {});
  CHECK(stack.levels == 2);
  CHECK(stack.layers.front().level == 0);
}

TEST_CASE("a laminate with film on both faces has two heavy lines, and folds join them rightly") {
  pouch::Request request = hand_worked(foldover());
  request.laminate.film = pouch::FilmFaces::both;
  const pouch::Pouch pouch = derived(request);
  const auto& folded = pouch.stages[stage_of(pouch, "fold-front")].folded;
  const Drawing drawing = section_of(folded, false);
  CHECK(named_shapes(drawing, "film: front").size() == 2);
  const auto joints = named_shapes(drawing, "film: front / back");
  REQUIRE(joints.size() == 2);
  // Around the same middle: one half circle lies within the other.
  const Box a = bounds(joints[0]->path);
  const Box b = bounds(joints[1]->path);
  CHECK(a.x0 + a.x1 == doctest::Approx(b.x0 + b.x1));
  CHECK(std::abs(a.width() - b.width()) == doctest::Approx(4 * kTrack));
}

TEST_CASE("a card lies between the layers under it and those over it") {
  const pouch::Pouch pouch = derived(hand_worked(foldover()));
  const auto& folded = pouch.stages[stage_of(pouch, "fold-front")].folded;
  // Back and flap lie below, the front above.
  const Stack stack = stacked(folded, {{"card", {mm(0), mm(220)}, 2}});
  const auto level = [&](const std::string& name) {
    for (const StackedLayer& layer : stack.layers) {
      if (layer.name == name) return layer.level;
    }
    return std::size_t{99};
  };
  CHECK(level("back") == 0);
  CHECK(level("flap") == 0);
  CHECK(level("card") == 1);
  CHECK(level("front") == 2);
}
