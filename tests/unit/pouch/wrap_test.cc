// The laws of wrap.h against a route of their own: the cloth round a box is as long as the box's
// outline, and a convex outline is the mean of its shadows: perimeter = integral of the width over
// half a turn (Cauchy's formula, integral geometry). No sum of sides is used here.
#include "pouch/judge/wrap.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <utility>
#include <vector>

#include "pouch/judge/content.h"
#include "support/requests.h"

using namespace pouchwright;
using namespace pouchwright::pouch;
using namespace pouchwright::test;

namespace {

using Points = std::vector<std::pair<double, double>>;

/// The length of a string pulled tight round all points.
double tight_string(const Points& points) {
  constexpr int kSteps = 4000;
  double sum = 0;
  for (int k = 0; k < kSteps; ++k) {
    const double angle = std::numbers::pi * (k + 0.5) / kSteps;
    double low = 1e300;
    double high = -1e300;
    for (const auto& [x, y] : points) {
      const double shadow = x * std::cos(angle) + y * std::sin(angle);
      low = std::min(low, shadow);
      high = std::max(high, shadow);
    }
    sum += high - low;
  }
  return sum * std::numbers::pi / kSteps;
}

double tight_box(double a, double b) { return tight_string({{0, 0}, {a, 0}, {a, b}, {0, b}}); }

/// Up one face from the end of a floor: the tight string less its straight way back.
double tight_climb(double floor, double length, double height) {
  const double beside = std::max(0.0, (height - floor) / 2);
  return tight_string({{beside, 0}, {0, 0}, {0, length}}) - std::hypot(beside, length);
}

/// Tolerance of the numbers above, mm.
constexpr double kClose = 0.02;

/// As they are given: what is turned is held in content_test.
Liners liners_of(std::int64_t width, std::int64_t length, std::int64_t thickness) {
  Liners made;
  made.turn = LinerTurn::as_given;
  made.width.value = mm(width);
  made.length.value = mm(length);
  made.thickness.value = mm(thickness);
  return made;
}

Request open_request(Construction construction, const Liners& liners, int count) {
  Request request = hand_worked(std::move(construction));
  for (const char* open : {"width", "depth", "flap", "gusset"}) request.sizes.erase(open);
  request.liners = liners;
  request.liners->count = base::Placed<int>{count, {}};
  request.laminate.width = mm(20'000);
  return request;
}

Construction with_free_flap() {
  Construction made = foldover();
  made.flap_law = FlapLaw::free;
  return made;
}

Construction sleeve() {
  Construction made = foldover();
  made.flap_law = FlapLaw::none;
  made.flap_span.reset();
  auto& spans = made.panels.front().spans;
  spans.pop_back();
  made.spare = made.depth_span;
  std::erase_if(made.operations, [](const Operation& one) { return one.id == "fold-flap"; });
  std::erase_if(made.sizes, [](const SizeRule& rule) { return rule.name == "flap"; });
  return made;
}

/// Both ends of the tube are rolled up together, after pressing.
Construction roll_top() {
  Construction made = sleeve();
  made.name = "roll-top";
  made.flap_law = FlapLaw::rolled;
  made.sizes.push_back({.name = "roll"});
  made.panels.front().spans = {span("roll-front", {{"roll", 1, 1}}),
                               span("front", {{"depth", 1, 1}}), span("back", {{"depth", 1, 1}}),
                               span("roll-back", {{"roll", 1, 1}})};
  made.bottom_a = {0, 1};
  made.bottom_b = made.depth_span = made.spare = {0, 2};
  made.compartments = {{"pocket", {{0, 0}, {0, 1}, {0, 2}, {0, 3}}}};
  work_of<does::Fold>(made, "fold-front") = {made.bottom_a, made.bottom_b, made.bottom_a};
  return made;
}

std::int64_t between(std::mt19937& random, std::int64_t least, std::int64_t most) {
  return least + static_cast<std::int64_t>(random() % static_cast<unsigned>(most - least + 1));
}

}  // namespace

TEST_CASE("the tight string gives the outline of a square and of a triangle") {
  CHECK(tight_box(100, 100) == doctest::Approx(400).epsilon(1e-5));
  // 3-4-5, Pythagoras.
  CHECK(tight_string({{0, 0}, {30, 0}, {0, 40}}) == doctest::Approx(120).epsilon(1e-5));
}

/// Their names, of a pouch's first panel.
std::vector<std::string> names(const Construction& made, const std::vector<SpanRef>& spans) {
  std::vector<std::string> all;
  for (const SpanRef span : spans) all.push_back(made.span(span).name);
  return all;
}

TEST_CASE("front, floor and back are told apart by the folds before pressing") {
  using Names = std::vector<std::string>;
  const Construction flat = foldover();
  const WrappedSpans plain = wrapped_spans(flat);
  CHECK(names(flat, plain.front) == Names{"front"});
  CHECK(plain.floor.empty());
  CHECK(names(flat, plain.back) == Names{"back"});
  const Construction deep = gusset();
  const WrappedSpans pleat = wrapped_spans(deep);
  CHECK(names(deep, pleat.front) == Names{"front"});
  CHECK(names(deep, pleat.floor) == Names{"gusset-front", "gusset-back"});
  CHECK(names(deep, pleat.back) == Names{"back"});
  const Construction top = roll_top();
  const WrappedSpans rolled = wrapped_spans(top);
  CHECK(names(top, rolled.rolled) == Names{"roll-front"});
  CHECK(names(top, rolled.front) == Names{"front"});
  CHECK(names(top, rolled.back) == Names{"back"});
}

TEST_CASE("two panels sewn together are a front and a back") {
  Construction made = sleeve();
  PanelRule other;
  other.name = "other";
  other.spans = {made.panels.front().spans.back()};
  made.panels.front().spans.pop_back();
  made.panels.push_back(other);
  made.bottom_b = made.depth_span = {1, 0};
  made.compartments[0].film = {{0, 0}, {1, 0}};
  std::erase_if(made.operations, [](const Operation& one) { return one.action() == Action::fold; });
  const WrappedSpans spans = wrapped_spans(made);
  CHECK(names(made, spans.front) == std::vector<std::string>{"front"});
  CHECK(names(made, spans.back) == std::vector<std::string>{"back"});
  CHECK(spans.front_is_sealed);
  CHECK(spans.back_is_sealed);
  CHECK_FALSE(wrapped_spans(gusset()).back_is_sealed);
  // A seal of 13 mm across the bottom holds nothing.
  Sizes sizes;
  sizes.seal_width = mm(13);
  sizes.needle_reach = mm(8);
  sizes.panels.resize(2);
  sizes.panels[0].spans = {{"front", mm(0), mm(160)}};
  sizes.panels[1].spans = {{"back", mm(0), mm(170)}};
  const WrapLengths lengths = wrap_lengths(made, sizes);
  CHECK(lengths.front == mm(147));
  CHECK(lengths.back == mm(157));
  CHECK(lengths.lip_below == mm(10));
}

TEST_CASE("a flap covers the lip however far below the flap fold the construction has it") {
  Construction low = foldover();
  low.panels.front().spans[0].length.terms[1].numerator = -3;
  Request request = open_request(low, liners_of(80, 120, 9), 2);
  base::Diagnostics diagnostics;
  const auto pouch = derive(request, diagnostics);
  REQUIRE(pouch);
  // Three lip drops of 10 mm, and the overlap of 30 mm.
  CHECK(pouch->sizes.flap == mm(60));
  CHECK(pouch->capacity->liners >= 2);
}

TEST_CASE("only a size of the floor alone is the floor's") {
  CHECK(floor_size(gusset()) == "gusset");
  CHECK_FALSE(floor_size(foldover()));
  CHECK_FALSE(floor_size(roll_top()));
}

TEST_CASE("the cloth of a sized pouch is as long as a string round its content, ease included") {
  std::mt19937 random(20'240'607);
  for (int round = 0; round < 150; ++round) {
    const Liners liners =
        liners_of(between(random, 40, 150), between(random, 60, 200), between(random, 3, 25));
    const int count = static_cast<int>(between(random, 1, 12));
    CAPTURE(round);
    for (const Construction& construction :
         {foldover(), gusset(), with_free_flap(), sleeve(), roll_top()}) {
      Request request = open_request(construction, liners, count);
      request.sizes["roll"] = {mm(90), {}};
      base::Diagnostics diagnostics;
      const auto pouch = derive(request, diagnostics);
      CAPTURE(construction.name);
      REQUIRE(pouch);
      const Capacity& capacity = *pouch->capacity;
      REQUIRE(capacity.liners >= count);
      const WrapLengths cloth = wrap_lengths(construction, pouch->sizes);
      for (const Alternative& way : alternatives(request)) {
        if (!way.chosen) continue;
        const ContentBox box = content_box(liners, count, way.columns);
        const double l = box.length.in_mm();
        const double h = box.height.in_mm();
        const double ease = liners.ease.value.in_mm();
        CHECK(2 * cloth.inside.in_mm() + kClose >= tight_box(box.width.in_mm(), h) + 2 * ease);
        CHECK(cloth.front.in_mm() + kClose >= tight_climb(cloth.floor.in_mm(), l, h) + ease);
        const double all_round = tight_box(l, h);
        // What a floor covers of the outline, no cloth beside it has to.
        const double floor = std::min(cloth.floor.in_mm(), h);
        if (construction.flap_law == FlapLaw::caught || construction.flap_law == FlapLaw::rolled) {
          CHECK(2 * cloth.back.in_mm() + kClose >= all_round - floor + 2 * ease);
        }
        if (construction.flap_law == FlapLaw::free) {
          const double sheet = (cloth.front + cloth.back + cloth.flap).in_mm();
          CHECK(sheet + kClose >= all_round + liners.overlap.value.in_mm());
        }
        // Rounded to the ruler and no further: a step less in width would not go round it.
        const double less = 2 * (cloth.inside - pouch->request.cut_step).in_mm();
        CHECK(less < tight_box(box.width.in_mm(), h) + 2 * ease + kClose);
      }
    }
  }
}

TEST_CASE("the capacity is what the thickest box that the strings allow holds") {
  std::mt19937 random(77);
  for (int round = 0; round < 60; ++round) {
    Request request = hand_worked(foldover());
    request.sizes["width"].value = mm(between(random, 100, 400));
    request.sizes["depth"].value = mm(between(random, 130, 320));
    request.sizes["flap"].value = mm(60);
    request.laminate.width = mm(20'000);
    request.liners =
        liners_of(between(random, 40, 120), between(random, 60, 160), between(random, 4, 15));
    base::Diagnostics diagnostics;
    const auto pouch = derive(request, diagnostics);
    REQUIRE(pouch);
    const WrapLengths cloth = wrap_lengths(request.construction, pouch->sizes);
    const Liners& liners = *request.liners;
    const double ease = liners.ease.value.in_mm();
    const double l = liners.length.value.in_mm();
    const auto holds = [&](int columns, double height) {
      return tight_box(columns * liners.width.value.in_mm(), height) + 2 * ease <=
                 2 * cloth.inside.in_mm() + kClose &&
             tight_box(l, height) + 2 * ease <= 2 * cloth.back.in_mm() + kClose &&
             tight_climb(0, l, height) + ease <= cloth.front.in_mm() + kClose;
    };
    int most = 0;
    for (int columns = 1; columns <= 12; ++columns) {
      int layers = 0;
      while (holds(columns, (layers + 1) * liners.thickness.value.in_mm())) ++layers;
      most = std::max(most, columns * layers);
    }
    CAPTURE(round);
    CHECK(pouch->capacity->liners == most);
  }
}

TEST_CASE("a gusset opens as deep as the content is thick, and takes it from front and back") {
  // Three liners of 9 mm in one column: 27 mm, of which each half of the pleat takes 14.
  Request request = open_request(gusset(), liners_of(80, 120, 9), 3);
  request.liners->columns = base::Placed<int>{1, {}};
  base::Diagnostics diagnostics;
  const auto pouch = derive(request, diagnostics);
  REQUIRE(pouch);
  const WrapLengths cloth = wrap_lengths(request.construction, pouch->sizes);
  CHECK(cloth.floor == mm(28));
  // Up the back: 120 + 27 / 2 + 10 at the pinched mouth; up the front nothing but 120 + 10, which
  // the lip drop of 10 raises to 140.
  CHECK(cloth.back == mm(144));
  CHECK(cloth.front == mm(134));
  // Without a pleat front and back take all of it: 120 + 27 + 10.
  Request plain = open_request(foldover(), liners_of(80, 120, 9), 3);
  plain.liners->columns = base::Placed<int>{1, {}};
  CHECK(derive(plain, diagnostics)->sizes.depth == mm(157));
}

TEST_CASE("a shallow gusset takes what it can of the thickness, a deep one no more than all") {
  for (const auto& [gusset_mm, depth_mm] : {std::pair(10, 152), {27, 144}, {50, 144}}) {
    Request request = open_request(gusset(), liners_of(80, 120, 9), 3);
    request.liners->columns = base::Placed<int>{1, {}};
    request.sizes["gusset"] = {mm(gusset_mm), {}};
    base::Diagnostics diagnostics;
    const auto pouch = derive(request, diagnostics);
    REQUIRE(pouch);
    INFO("gusset " << pouch->sizes.main_panel().spans[1].to.in_mm());
    CHECK(pouch->sizes.depth == mm(depth_mm));  // 120 + 10 + (27 - g + 27) / 2, rounded up
  }
}

TEST_CASE("a roll-top's tube stands as high as a pinched mouth needs, its roll beyond that") {
  Request request = open_request(roll_top(), liners_of(80, 120, 9), 3);
  request.liners->columns = base::Placed<int>{1, {}};
  request.sizes["roll"] = {mm(75), {}};
  base::Diagnostics diagnostics;
  auto pouch = derive(request, diagnostics);
  REQUIRE(pouch);
  CHECK(pouch->sizes.depth == mm(157));
  CHECK(pouch->sizes.cut_length == 2 * mm(157 + 75));
  // A roll shorter than the overlap closes nothing.
  request.sizes["roll"] = {mm(20), {}};
  pouch = derive(request, diagnostics);
  REQUIRE(pouch);
  CHECK(pouch->capacity->liners == 0);
  CHECK(pouch->capacity->limited_by == std::vector<CapacityLimit>{CapacityLimit::flap});
}
