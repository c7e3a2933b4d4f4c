#include "draw/folds/picture.h"

#include <cmath>

#include "draw/folds/from_above.h"
#include "draw/views/on_view.h"
#include "unit/draw/fold_support.h"
#include "unit/draw/icons_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

constexpr double kScale = 0.25;

Drawing picture_of(const pouch::Pouch& pouch, std::string_view operation,
                   Wording wording = Wording::words) {
  const EvenMeasure measure;
  const std::size_t stage = stage_of(pouch, operation);
  return fold_picture(pouch, moment(pouch, stage, stage),
                      PictureLook{.scale = kScale, .wording = wording, .angles = kFromAbove},
                      own_icons(), own_words(), measure);
}

std::vector<Box> boxes(const std::vector<const Shape*>& shapes) {
  std::vector<Box> result;
  result.reserve(shapes.size());
  for (const Shape* shape : shapes) result.push_back(bounds(shape->path));
  return result;
}

/// The hand-worked pouch, its sides named where they are sewn.
pouch::Request sewn_sides() { return hand_worked(with_sewn_sides(foldover())); }

double y_of(double height_mm) { return -height_mm * kScale; }

}  // namespace

TEST_CASE("the bands to press are where they were worked out by hand") {
  // A seal 13 wide at either side of 190 + 2 x 7, up to the lip at 150 - 10.
  const pouch::Pouch pouch = derived(hand_worked(foldover()));
  const auto bands = boxes(named_shapes(picture_of(pouch, "press-sides"), "press here"));
  REQUIRE(bands.size() == 2);
  check_same(bands[0], {0, y_of(140), 13 * kScale, 0});
  check_same(bands[1], {191 * kScale, y_of(140), 204 * kScale, 0});
}

TEST_CASE("bands of several contacts that lie on each other are one to press") {
  // Contacts 0-25 twice, in the pleat, and 25-140, so one band from 0 to 140 at each side.
  const pouch::Pouch pouch = derived(hand_worked(gusset()));
  const Drawing picture = picture_of(pouch, "press-sides");
  const auto bands = boxes(named_shapes(picture, "press here"));
  REQUIRE(bands.size() == 2);
  check_same(bands[0], {0, y_of(140), 13 * kScale, 0});
  CHECK(shapes_beginning(picture, "fused: ").size() == 3);
}

TEST_CASE("only pressing shows bands, and only sewing shows seams") {
  const pouch::Pouch pouch = derived(sewn_sides());
  for (const pouch::Stage& stage : pouch.stages) {
    const pouch::Operation& done = pouch.construction().operations[stage.operation];
    INFO(done.id);
    const Drawing picture = picture_of(pouch, done.id);
    CHECK(named_shapes(picture, "press here").empty() == (done.action() != pouch::Action::press));
    CHECK(named_shapes(picture, "sew here").empty() == (done.action() != pouch::Action::sew));
  }
}

TEST_CASE("seams run at the seam allowance over the whole finished height") {
  // Seam allowance 7, cut width 190 + 2 x 7, depth 150.
  const pouch::Pouch pouch = derived(sewn_sides());
  const auto seams = boxes(named_shapes(picture_of(pouch, "sew-sides"), "sew here"));
  REQUIRE(seams.size() == 2);
  check_same(seams[0], {7 * kScale, y_of(150), 7 * kScale, 0});
  check_same(seams[1], {197 * kScale, y_of(150), 197 * kScale, 0});
}

TEST_CASE("film is grey wherever it is seen, and only there") {
  // Once the front is up, its knit looks up; back and flap show film above the lip at 140.
  const pouch::Pouch pouch = derived(sewn_sides());
  const auto seen_over = [&](std::string_view operation, double height) {
    const std::size_t stage = stage_of(pouch, operation);
    const View view =
        view_of(pouch, moment(pouch, stage, stage), {.angles = kFromAbove, .scale = kScale});
    const ViewFace* face = seen_at(view, {102 * kScale, y_of(height)});
    REQUIRE(face != nullptr);
    return std::string(word_of(seen(*face, view.projection))) + ": " + face->name;
  };
  CHECK(seen_over("look", 70) == "knit: front");
  CHECK(seen_over("look", 145) == "film: back");
  CHECK(seen_over("look", 180) == "film: flap");
  // The flap's knit once it is down: 150 - 70 = 80.
  CHECK(seen_over("sew-sides", 100) == "knit: flap");
  CHECK(seen_over("sew-sides", 70) == "knit: front");
  CHECK(fill_of(Skin::film) == Fill::grey);
  CHECK(fill_of(Skin::knit) == Fill::paper);
}

TEST_CASE("the finished picture shows what was sewn") {
  const EvenMeasure measure;
  const Drawing picture = finished_picture(derived(sewn_sides()), {90, 60}, own_words(), measure);
  CHECK(named_shapes(picture, "seam").size() == 2);
  CHECK(shapes_beginning(picture, "fused: ").empty());
}

TEST_CASE("a fold shows where it lay before, and an arrow to where it lands") {
  const pouch::Pouch pouch = derived(hand_worked(foldover()));
  const Drawing picture = picture_of(pouch, "fold-front");
  const auto before = boxes(named_shapes(picture, "before: plan"));
  REQUIRE(before.size() == 1);
  check_same(before[0], {0, 0, 204 * kScale, y_of(-140)});
  CHECK(named_shapes(picture, "arrow").size() == 1);
  CHECK(named_shapes(picture_of(pouch, "test"), "before: plan").empty());
}

TEST_CASE("a section stands beside the view where it tells more: pressing, and folds in many") {
  const pouch::Pouch pouch = derived(hand_worked(gusset()));
  CHECK(shapes_beginning(picture_of(pouch, "press-sides"), "film: ").size() > 1);
  // The front comes to lie over back, pleat and slip card.
  CHECK(shapes_beginning(picture_of(pouch, "fold-front"), "film: ").size() > 1);
  CHECK(named_shapes(picture_of(pouch, "fold-front"), "before: front").size() == 1);
  CHECK(shapes_beginning(picture_of(pouch, "fold-bottom"), "film: ").empty());
  CHECK(shapes_beginning(picture_of(pouch, "card-out"), "film: ").empty());
}

TEST_CASE("a hem at a very small scale still has an arrow that can be drawn") {
  const pouch::EndFinish turned{pouch::FinishKind::turned, mm(10), mm(18), {}};
  const pouch::Pouch pouch = derived(with_ends(hand_worked(foldover()), turned));
  const EvenMeasure measure;
  for (std::size_t stage = 0; stage < pouch.stages.size(); ++stage) {
    const Drawing picture =
        fold_picture(pouch, moment(pouch, stage, stage), PictureLook{.scale = 0.01}, own_icons(),
                     own_words(), measure);
    for (const Item& item : picture.items) {
      const Box box = bounds(item, measure);
      CHECK(box.x0 <= box.x1);
      CHECK(box.y0 <= box.y1);
    }
  }
}

TEST_CASE("the lip under the flap shows through as a hidden end") {
  const pouch::Pouch pouch = derived(hand_worked(foldover()));
  const auto hidden = boxes(named_shapes(picture_of(pouch, "sew-sides"), "hidden end: front"));
  REQUIRE(hidden.size() == 1);
  CHECK(hidden[0].y0 == doctest::Approx(y_of(140)));
  CHECK(named_shapes(picture_of(pouch, "look"), "hidden end: front").empty());
}

TEST_CASE("a shaped flap keeps its corners as it turns") {
  // Back 150 and flap 70 high, so the flap ends 220 above the bottom and, turned
  // down, 80 above it. Corners of 20.
  pouch::Request request = hand_worked(foldover());
  request.flap_shape = pouch::FlapShape::rounded;
  request.flap_corner.value = mm(20);
  const pouch::Pouch pouch = derived(request);
  // From above a corner is so many short edges of its quarter circle; all lie on it.
  const Drawing flat = picture_of(pouch, "look");
  const auto flap = named_shapes(flat, "seen film: flap");
  REQUIRE(flap.size() == 1);
  CHECK(flap[0]->path.size() > 10);
  CHECK(bounds(flap[0]->path).y0 == doctest::Approx(y_of(220)));
  int on_corner = 0;
  for (const Step& step : flap[0]->path) {
    if (step.verb == Verb::close || step.to.y > y_of(200) - 1e-9) continue;
    const double x = step.to.x < 51 / 2.0 ? 20 * kScale : 184 * kScale;
    CHECK(std::hypot(step.to.x - x, step.to.y - y_of(200)) == doctest::Approx(20 * kScale));
    ++on_corner;
  }
  CHECK(on_corner > 8);

  const Drawing down = picture_of(pouch, "fold-flap");
  const auto before = named_shapes(down, "before: plan");
  REQUIRE(before.size() == 1);
  CHECK(before[0]->path.size() > 10);

  request.flap_shape = pouch::FlapShape::straight;
  const pouch::Pouch plain = derived(request);
  CHECK(named_shapes(picture_of(plain, "look"), "seen film: flap").front()->path.size() == 5);
}

TEST_CASE("a card is cut into its rectangles") {
  // Stem 178 - 2 x 2 wide and 150 - 10 high, the crossbar as wide as the panel above it.
  const pouch::Pouch pouch = derived(hand_worked(foldover()));
  const auto parts = parts_of(first_card(pouch.cards, pouch::NamedCard::Use::slip));
  REQUIRE(parts.size() == 2);
  CHECK(parts[0].x == pouch::Interval{mm(15), mm(189)});
  CHECK(parts[0].heights == pouch::Interval{mm(0), mm(140)});
  CHECK(parts[1].x == pouch::Interval{mm(0), mm(204)});
}

TEST_CASE("notches are marked at every fold, on both raw edges") {
  const pouch::Pouch pouch = derived(hand_worked(gusset()));
  const EvenMeasure measure;
  const Drawing picture =
      fold_picture(pouch, cut_panel(pouch), PictureLook{.scale = kScale, .angles = kFromAbove},
                   own_icons(), own_words(), measure);
  CHECK(named_shapes(picture, "notch").size() == 8);
}

TEST_CASE("a panel that was cut lies flat and film side up, whatever was done to it later") {
  const pouch::EndFinish turned{pouch::FinishKind::turned, mm(10), mm(18), {}};
  const pouch::Pouch pouch = derived(with_ends(hand_worked(foldover()), turned));
  const pouch::FoldMoment cut = cut_panel(pouch);
  for (const pouch::Layer& layer : cut.folded.layers()) {
    CHECK(layer.film_up);
    CHECK(layer.rising);
  }
  // Height 0 is the bottom line, between front and back.
  CHECK(cut.folded.layer({0, 1}).heights.to == mm(0));
}

TEST_CASE("pictures fit their room, and their words can be read") {
  const EvenMeasure measure;
  for (const NamedRequest& one : all_requests()) {
    INFO(one.name);
    const pouch::Pouch pouch = derived(one.request);
    for (const double width : {60.0, 90.0}) {
      const Drawing picture = finished_picture(pouch, {width, 70}, own_words(), measure);
      CHECK(picture.extent.width() <= width + 1e-6);
      CHECK(picture.extent.height() <= 70 + 1e-6);
      check_legible(picture);
    }
    for (std::size_t stage = 0; stage < pouch.stages.size(); ++stage) {
      INFO(pouch.construction().operations[pouch.stages[stage].operation].id);
      Drawing picture = fold_picture(pouch, moment(pouch, stage, stage), Point{90, 80}, own_icons(),
                                     stretched_words(), measure);
      check_legible(picture);
    }
  }
}

TEST_CASE("hands hold what is folded, laid in and pulled out, and lie on no word and no hand") {
  const EvenMeasure measure;
  for (const pouch::Construction& construction : {foldover(), gusset()}) {
    const pouch::Pouch pouch = derived(hand_worked(construction));
    for (std::size_t stage = 0; stage < pouch.stages.size(); ++stage) {
      const pouch::Operation& done = pouch.operation(pouch.stages[stage].operation);
      INFO(done.id);
      const Drawing picture =
          fold_picture(pouch, moment(pouch, stage, stage), PictureLook{.scale = kScale},
                       own_icons(), own_words(), measure);
      const auto hands = boxes(named_shapes(picture, "hand"));
      const bool holds = done.action() == pouch::Action::lay_card ||
                         done.action() == pouch::Action::take_card ||
                         done.action() == pouch::Action::fold;
      CHECK(hands.empty() != holds);
      CHECK(hands.size() <= 2);
      for (const Box& hand : hands) {
        for (const Item& item : picture.items) {
          if (!std::holds_alternative<Text>(item)) continue;
          CHECK_FALSE(overlap(bounds(item, measure), hand));
        }
      }
      if (hands.size() == 2) CHECK_FALSE(overlap(hands[0], hands[1]));
    }
  }
}
