#include "pouch/pouch.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "pouch/questions.h"
#include "support/requests.h"

using namespace pouchwright;
using namespace pouchwright::pouch;
using namespace pouchwright::test;

namespace {

Pouch derived(const Request& request) {
  base::Diagnostics diagnostics;
  auto pouch = derive(request, diagnostics);
  REQUIRE(pouch);
  return *pouch;
}

std::vector<std::string> keys(const base::Diagnostics& diagnostics) {
  std::vector<std::string> result;
  for (const auto& diagnostic : diagnostics.sorted()) result.push_back(diagnostic.message.key);
  return result;
}

std::vector<std::string> faults(const Request& request) {
  base::Diagnostics diagnostics;
  (void)derive(request, diagnostics);
  return keys(diagnostics);
}

bool contains(const std::vector<std::string>& all, std::string_view one) {
  return std::find(all.begin(), all.end(), one) != all.end();
}

}  // namespace

// Worked by hand: cut 190 + 2 x 7 wide; front 150 - 10, back 150, flap 70 long. Fused from lip to
// lip, 2 x 140, 13 wide: 13 - 7 are clear, at worst the tolerances' 5 less, and 204 - 2 x 13 are
// inside. Film is bare from the lip up to 150 + 70. The slip card has a play of 2 at each side and
// covers that film; the shield's arms reach 10 beyond either edge, up to 120 beyond the lip.
TEST_CASE("the hand-worked fold-over pouch") {
  const Pouch pouch = derived(hand_worked(foldover()));
  CHECK(pouch.sizes.cut_width == mm(204));
  CHECK(pouch.sizes.cut_length == mm(360));
  CHECK(pouch.sizes.main_panel().spans == std::vector<Span>{{"front", mm(0), mm(140)},
                                                            {"back", mm(140), mm(290)},
                                                            {"flap", mm(290), mm(360)}});
  CHECK(folds_of(pouch.sizes.main_panel()) == std::vector<FoldLine>{{mm(140), 0}, {mm(290), 1}});
  REQUIRE(pouch.contacts.size() == 1);
  constexpr SpanId kFront{0, 0};
  constexpr SpanId kBack{0, 1};
  CHECK(pouch.contacts[0] == Contact{5, kBack, kFront, {mm(0), mm(140)}});
  CHECK(pouch.operation(5).id == "press-sides");
  CHECK(pouch.seal_zones ==
        std::vector<SealZone>{{{mm(0), mm(13)}, {mm(0), mm(280)}, kBack, kFront},
                              {{mm(191), mm(204)}, {mm(0), mm(280)}, kBack, kFront}});
  CHECK(pouch.clear_seal == mm(6));
  CHECK(pouch.clear_seal_worst == mm(1));
  CHECK(pouch.sizes.inside_width == mm(178));
  CHECK(pouch.water_line() == mm(140));
  CHECK(pouch.first_pocket().because.key == "water-ends-at-lip");
  CHECK(pouch.exposed_film == std::vector<Interval>{{mm(140), mm(220)}});
  const Card& shield = first_card(pouch.cards, NamedCard::Use::shield);
  const Card& slip_card = first_card(pouch.cards, NamedCard::Use::slip);
  CHECK(shield.stem_width == mm(178));
  CHECK(shield.bar_width == mm(224));
  CHECK(slip_card.stem_width == mm(174));
  CHECK(slip_card.stem_length == mm(140));
  CHECK(slip_card.bar_width == mm(204));
  CHECK(pouch.sizes.overall_width == mm(204));
  CHECK(pouch.sizes.overall_height == mm(150));
  CHECK(shield.outline.front() == Corner{mm(13), mm(0)});
  CHECK(shield.top == mm(260));
}

TEST_CASE("with both ends overedged the zones and the water line give way to the needles") {
  Request request = hand_worked(foldover());
  request.start_finish = {FinishKind::overedge, Length(), mm(5), {}};
  request.end_finish = request.start_finish;
  base::Diagnostics diagnostics;
  const auto pouch = derive(request, diagnostics);
  REQUIRE(pouch);
  REQUIRE(pouch->seal_zones.size() == 2);
  CHECK(pouch->seal_zones[0].y == Interval{mm(5), mm(275)});
  CHECK(pouch->water_line() == mm(135));
  CHECK(pouch->first_pocket().because.key == "water-ends-at-start-finish");
  CHECK(keys(diagnostics) == std::vector<std::string>{"finish-lowers-start"});
}

TEST_CASE("a knife takes of the overall width, and leaves seal and seam where they are") {
  Request request = hand_worked(foldover());
  request.knife.value = mm(2);
  base::Diagnostics diagnostics;
  const auto pouch = derive(request, diagnostics);
  REQUIRE(pouch);
  // Worked by hand: 204 cut, 2 trimmed off at either side.
  CHECK(pouch->sizes.overall_width == mm(200));
  CHECK(pouch->sizes.finished_width == mm(190));
  CHECK(pouch->sizes.inside_width == mm(178));
  CHECK(pouch->clear_seal == mm(6));
}

TEST_CASE("where an outer frays, what its finish costs is a note") {
  Request request = hand_worked(foldover());
  request.start_finish = {FinishKind::overedge, Length(), mm(5), {}};
  request.end_finish = request.start_finish;
  request.outer = Material{.name = "outer", .kind = MaterialKind::outer};
  request.outer->width = mm(1100);
  const auto told = [&](base::Severity severity) {
    base::Diagnostics diagnostics;
    REQUIRE(derive(request, diagnostics));
    std::vector<std::string> all;
    for (const auto& one : diagnostics.sorted(severity)) {
      all.push_back(one.message.key + ": " + one.hints.front().key);
    }
    return all;
  };
  // No warning advises what another one warns of: a cloth that frays is not left unfinished.
  CHECK(told(base::Severity::warning) ==
        std::vector<std::string>{"finish-lowers-start: finish-lowers-hint"});
  request.outer->frays = true;
  CHECK(told(base::Severity::warning).empty());
  CHECK(told(base::Severity::note) ==
        std::vector<std::string>{"finish-lowers-start: finish-lowers-deeper"});
}

TEST_CASE("a first pouch is filled where only the seal holds the water") {
  Request request = hand_worked(foldover());
  auto& operations = request.construction.operations;
  const auto put_after = [&](const char* id) {
    Request changed = request;
    auto& all = changed.construction.operations;
    const auto at = std::find_if(all.begin(), all.end(), [&](auto& one) { return one.id == id; });
    all.insert(at + 1, {"fill", {}, does::FillFirst{}});
    base::Diagnostics diagnostics;
    const auto pouch = derive(changed, diagnostics);
    const auto found = keys(diagnostics);
    return found.empty() ? (pouch ? "sound" : "nothing") : found.front();
  };
  REQUIRE(operations.size() == 12);
  CHECK(put_after("finish-end") == "fill-before-press");
  CHECK(put_after("card-in") == "fill-over-card");
  CHECK(put_after("fold-front") == "fill-over-card");
  CHECK(put_after("press-sides") == "fill-over-card");
  CHECK(put_after("card-out") == "sound");
  CHECK(put_after("look") == "sound");
  CHECK(put_after("fold-flap") == "fill-mouth-covered");
  CHECK(put_after("sew-sides") == "fill-after-sewing");
  // Skipped where nobody fills one, it is at no wrong moment.
  request.fills_first = false;
  CHECK(put_after("sew-sides") == "sound");
}

TEST_CASE("pressed after the flap is turned, the back above the lip touches the flap") {
  Request request = hand_worked(foldover());
  request.cards = CardUse::on_top;
  auto& operations = request.construction.operations;
  std::swap(operations[5], operations[8]);   // press-sides <-> fold-flap
  operations.erase(operations.begin() + 7);  // nobody can look inside any more
  base::Diagnostics diagnostics;
  const auto pouch = derive(request, diagnostics);
  REQUIRE(pouch);
  REQUIRE(pouch->contacts.size() == 2);
  CHECK(pouch->contacts[1] == Contact{7, {0, 1}, {0, 2}, {mm(140), mm(150)}});
  CHECK(contains(keys(diagnostics), "side-bands-fused"));
  CHECK_FALSE(diagnostics.has_errors());
  CHECK(pouch->water_line() == mm(140));
}

TEST_CASE("the hand-worked gusset pouch, from data alone") {
  const Pouch pouch = derived(hand_worked(gusset()));
  REQUIRE(pouch.contacts.size() == 3);
  const auto contact = [&](const char* lower, const char* upper, Interval heights) {
    const auto id = [&](const char* name) {
      return cut_span(pouch.sizes.panels, span_of(pouch.construction(), name));
    };
    return Contact{index_of(pouch.construction(), "press-sides"), id(lower), id(upper), heights};
  };
  CHECK(pouch.contacts[0] == contact("back", "gusset-back", {mm(0), mm(25)}));
  CHECK(pouch.contacts[1] == contact("gusset-front", "front", {mm(0), mm(25)}));
  CHECK(pouch.contacts[2] == contact("back", "front", {mm(25), mm(140)}));
  CHECK(pouch.sizes.cut_length == mm(410));
  CHECK(pouch.water_line() == mm(140));
  CHECK(pouch.seal_zones.size() == 8);
}

TEST_CASE(
    "the sides are sealed at the edges and never in the middle (common practice, no source)") {
  for (const auto& construction : {foldover(), gusset()}) {
    const Pouch pouch = derived(hand_worked(construction));
    for (const SealZone& zone : pouch.seal_zones) {
      const bool at_left = zone.x.from == Length();
      const bool at_right = zone.x.to == pouch.sizes.cut_width;
      CHECK((at_left || at_right));
      CHECK(zone.x.size() == pouch.sizes.seal_width);
    }
    for (const Contact& contact : pouch.contacts) CHECK(pouch.name(contact.lower) != "flap");
  }
}

TEST_CASE(
    "a cut panel of 8 1/2 x 15 in with 1/4 in allowances finishes 8 in wide (common practice, no "
    "source)") {
  Request request = hand_worked(foldover());
  for (const char* derived_size : {"width", "depth", "flap"}) request.sizes.erase(derived_size);
  request.units = base::Unit::inch;
  request.cut_step = base::kRulerInch;
  request.sizes["lip_drop"].value = Length::inches(1, 2);
  request.sizes["seam_allowance"].value = Length::inches(1, 4);
  request.sizes["needle_reach"].value = Length::inches(1, 4);
  request.sizes["seal_width"].value = Length::inches(5, 8);
  request.panel = CutPanel{{Length::inches(17, 2), {}}, {Length::inches(15), {}}, {}, {}};
  const Pouch pouch = derived(request);
  CHECK(pouch.sizes.finished_width == Length::inches(8));
  CHECK(pouch.sizes.flap == Length::inches(3));  // a fifth of the length
  CHECK(pouch.sizes.depth == Length::inches(25, 4));
  CHECK(2 * pouch.sizes.depth - pouch.sizes.lip_drop + pouch.sizes.flap == Length::inches(15));
  CHECK(pouch.sizes.cut_length == Length::inches(15));
  // Whatever the lengths are printed to, the folds stay: 5 3/4 and 12 in.
  for (const Length ruler : {Length::inches(1, 16), Length::inches(1, 4), mm(1)}) {
    request.cut_step = ruler;
    CHECK(folds_of(derived(request).sizes.main_panel()) ==
          std::vector<FoldLine>{{Length::inches(23, 4), 0}, {Length::inches(12), 1}});
  }
}

TEST_CASE(
    "a cut panel in millimetres is folded at marks of 5 mm, a lip drop between them goes up") {
  Request request = hand_worked(foldover());
  for (const char* derived_size : {"width", "depth", "flap"}) request.sizes.erase(derived_size);
  request.sizes["lip_drop"].value = mm(12);
  request.panel = CutPanel{{mm(210), {}}, {mm(383), {}}, {}, {}};
  // A fifth of 383 is 76.6, so 75; lip drop 15; (383 - 75 + 15) / 2 = 161.5, so 160. Front 145,
  // back 160, the flap has the 78 that are left.
  const Pouch pouch = derived(request);
  CHECK(folds_of(pouch.sizes.main_panel()) == std::vector<FoldLine>{{mm(145), 0}, {mm(305), 1}});
  CHECK(pouch.sizes.flap == mm(78));
  CHECK(pouch.sizes.lip_drop == mm(15));
  // One that the job states holds.
  request.sizes["lip_drop"].stated.emplace();
  CHECK(derived(request).sizes.lip_drop == mm(12));
}

TEST_CASE("rounding up to the ruler goes to the flap and the finished width") {
  Request request = hand_worked(foldover());
  request.sizes["width"].value = Length::nm(190'200'000);
  request.sizes["depth"].value = Length::nm(150'300'000);
  const Pouch pouch = derived(request);
  CHECK(pouch.sizes.cut_width == mm(205));
  CHECK(pouch.sizes.finished_width == mm(191));
  CHECK(pouch.sizes.cut_length == mm(361));
  CHECK(pouch.sizes.depth == Length::nm(150'300'000));
  CHECK(pouch.sizes.flap == Length::nm(70'400'000));
}

TEST_CASE(
    "a woven outer wants finished ends, laminate alone may be left (common practice, no source)") {
  Request request = hand_worked(foldover());
  CHECK(faults(request).empty());
  request.outer = Material{.name = "cotton",
                           .kind = MaterialKind::outer,
                           .width = mm(1100),
                           .thickness = Length::nm(250'000),
                           .frays = true};
  CHECK(faults(request) == std::vector<std::string>{"outer-frays-start", "outer-frays-end"});
  request.outer->frays = false;
  CHECK(faults(request).empty());
}

TEST_CASE("sizes that cannot be are told with both numbers") {
  const auto with = [](const char* name, Length length) {
    Request request = hand_worked(foldover());
    request.sizes[name].value = length;
    return faults(request);
  };
  CHECK(contains(with("seal_width", mm(7)), "seal-not-above-reach"));
  CHECK(contains(with("seal_width", mm(101)), "seal-zones-meet"));
  CHECK(contains(with("lip_drop", mm(150)), "lip-drop-over-depth"));
  CHECK(contains(with("flap", mm(151)), "flap-over-depth"));
  CHECK(contains(with("flap", mm(10)), "flap-misses-lip"));
  CHECK(contains(with("needle_reach", mm(8)), "clear-seal-too-small"));
  CHECK(contains(with("needle_reach", mm(6)), "reach-inside-seam"));
  CHECK(contains(with("width", mm(99'999)), "panel-too-long"));
  CHECK(contains(with("width", mm(1600)), "panel-wider-than-cloth") == false);  // turned, it fits
  Request stiff = hand_worked(foldover());
  stiff.sizes["width"].value = mm(1600);
  stiff.laminate.turn = Turn::along;
  CHECK(contains(faults(stiff), "panel-wider-than-cloth"));
}

TEST_CASE("a worst case under the minimum puts the water line at 0 and says why") {
  Request request = hand_worked(foldover());
  request.sizes["needle_reach"].value = mm(8);
  const Pouch pouch = derived(request);
  CHECK(pouch.clear_seal_worst == mm(0));
  CHECK(pouch.water_line() == mm(0));
  CHECK(pouch.first_pocket().because.key == "water-ends-at-clear-seal");
}

TEST_CASE("an operation out of order is a fault that names what is wrong") {
  const auto with = [](auto change) {
    Request request = hand_worked(foldover());
    request.start_finish = {FinishKind::overedge, Length(), mm(5), {}};
    request.end_finish = request.start_finish;
    request.outer = Material{.name = "cotton", .kind = MaterialKind::outer, .width = mm(1100)};
    change(request.construction.operations);
    return faults(request);
  };
  using Operations = std::vector<Operation>;
  CHECK(contains(with([](Operations& o) { std::swap(o[1], o[4]); }), "finish-buried"));
  CHECK(contains(with([](Operations& o) { std::swap(o[4], o[5]); }), "press-without-contact"));
  CHECK(contains(with([](Operations& o) { std::rotate(o.begin(), o.begin() + 1, o.begin() + 5); }),
                 "pair-after-fold"));
  CHECK(contains(with([](Operations& o) { std::swap(o[7], o[8]); }), "look-mouth-covered"));
  CHECK(contains(
      with([](Operations& o) { std::rotate(o.begin() + 6, o.begin() + 8, o.begin() + 9); }),
      "card-mouth-covered"));
  CHECK(contains(with([](Operations& o) { o.erase(o.begin() + 3); }), "press-without-card"));
  CHECK(contains(with([](Operations& o) { o.erase(o.begin() + 6); }), "sew-over-card"));
  CHECK(contains(with([](Operations& o) { o.erase(o.begin() + 9); }), "before-sewing"));
  CHECK(contains(
      with([](Operations& o) { std::get<does::Press>(o[5].work).edges.push_back(Edge::start); }),
      "press-closes-mouth"));
}

TEST_CASE(
    "a hem is a span of its own, turned to the cloth side, and its needles lower the water line") {
  Request request = hand_worked(foldover());
  request.start_finish = {FinishKind::turned, mm(10), mm(18), {}};
  const Pouch pouch = derived(request);
  CHECK(pouch.sizes.cut_length == mm(370));
  CHECK(pouch.sizes.main_panel().spans.front() == Span{"start-hem", mm(0), mm(10)});
  CHECK(pouch.lip_height == mm(140));
  CHECK(pouch.water_line() == mm(132));
}

TEST_CASE("seams count every layer of laminate and outer") {
  Request request = hand_worked(foldover());
  Pouch pouch = derived(request);
  REQUIRE(pouch.layers_at_seams.size() == 3);
  CHECK(pouch.layers_at_seams[0].layers == 2);
  CHECK(pouch.layers_at_seams[1].layers == 3);
  CHECK(pouch.layers_at_seams[1].heights == Interval{mm(80), mm(140)});
  CHECK(pouch.layers_at_seams[2].layers == 2);
}

TEST_CASE("the turn of cloth is added where it is asked for") {
  Request request = hand_worked(foldover());
  const Pouch flat = derived(request);
  // (pi/2 - 2) * 0.35 mm for each of two flat folds, by the formula of a half circle.
  CHECK(flat.turn_of_cloth.in_mm() == doctest::Approx(2 * -0.4292037 * 0.35).epsilon(1e-6));
  CHECK_FALSE(flat.turn_of_cloth_added);
  request.turn_of_cloth = true;
  const Pouch added = derived(request);
  CHECK(added.turn_of_cloth_added);
  CHECK(added.sizes.main_panel().spans[0].to < mm(140));
  CHECK(added.sizes.cut_length == mm(360));
  // It goes into the fold: what is finished measures what was asked for, and the spare has the
  // rest.
  CHECK(added.sizes.depth == mm(150));
  CHECK(added.sizes.flap.in_mm() == doctest::Approx(70 + 2 * 0.4292037 * 0.35).epsilon(1e-6));
}

// By hand, from the formula of a half circle of mean radius (G + T)/2 that reaches G/2 + T beyond
// its legs: (pi/2 - 1) G + (pi/2 - 2) T. With the lip at the flap fold, the flap goes round the
// front: T = G = 0.35 mm there, G = 0 at the bottom.
TEST_CASE("a fold around what reaches into it needs more cloth than one around nothing") {
  Request request = hand_worked(foldover());
  request.sizes["lip_drop"] = {Length(), {}};
  const double bottom = -0.4292037 * 0.35;
  const double flap = 0.5707963 * 0.35 - 0.4292037 * 0.35;
  CHECK(derived(request).turn_of_cloth.in_mm() == doctest::Approx(bottom + flap).epsilon(1e-4));
  // An outer of 0.25 mm makes each of them 0.6 mm thick.
  request.outer = request.laminate;
  request.outer->thickness = Length::nm(250'000);
  CHECK(derived(request).turn_of_cloth.in_mm() ==
        doctest::Approx((bottom + flap) / 0.35 * 0.6).epsilon(1e-4));
}

TEST_CASE("a seam ends with what it joins: a flap that hangs free is no part of it") {
  Request request = hand_worked(foldover());
  auto& operations = request.construction.operations;
  std::swap(operations[8], operations[9]);  // fold-flap <-> sew-sides
  const Pouch pouch = derived(request);
  // Front and back up to the lip, and the back alone up to the flap fold.
  REQUIRE(pouch.layers_at_seams.size() == 2);
  CHECK(pouch.layers_at_seams[0].heights == Interval{mm(0), mm(140)});
  CHECK(pouch.layers_at_seams[0].layers == 2);
  CHECK(pouch.layers_at_seams[1].heights == Interval{mm(140), mm(150)});
  CHECK(pouch.layers_at_seams[1].layers == 1);
}

TEST_CASE("sewing before anything lies on anything is an error") {
  Request request = hand_worked(foldover());
  request.construction.operations = {operation("sew-sides", does::Sew{})};
  CHECK(contains(faults(request), "sew-joins-nothing"));
}

// By hand: the panel is 190 + 2 * 7 = 204 mm wide.
TEST_CASE("what lies left, right or at both sides lies as far from the raw edge as it says") {
  const auto places = [](Across across) {
    Request request = hand_worked(foldover());
    Attachment label;
    label.name = "label";
    label.kind = AttachmentKind::label;
    label.span = *request.construction.flap_span;
    label.across = across;
    if (across != Across::middle) label.from_side.terms = {{"lip_drop", 3, 1}};  // 30 mm
    request.construction.attachments = {label};
    auto& operations = request.construction.operations;
    operations.insert(operations.begin(), operation("label-on", does::Attach{}));
    return derived(request).fixed.at(0).x;
  };
  CHECK(places(Across::middle) == std::vector<Length>{mm(102)});
  CHECK(places(Across::left) == std::vector<Length>{mm(30)});
  CHECK(places(Across::right) == std::vector<Length>{mm(174)});
  CHECK(places(Across::sides) == std::vector<Length>{mm(30), mm(174)});
}

// "Paper bag problem", open form of its encyclopedia article, marked "very rough" there.
TEST_CASE("the open bag's volume") {
  CHECK(open_bag_ml(mm(200), mm(200)) == doctest::Approx(1984).epsilon(0.001));
  CHECK(open_bag_ml(mm(150), mm(200)) == doctest::Approx(1193).epsilon(0.001));
  CHECK(open_bag_ml(mm(100), mm(150)) == doctest::Approx(406.5).epsilon(0.001));
  // A long bag tends to a tube of circumference 2w: volume w² h / pi (geometry).
  CHECK(open_bag_ml(mm(100), mm(50'000)) ==
        doctest::Approx(10.0 * 10 * 5000 / 3.14159265).epsilon(0.001));
  CHECK(open_bag_ml(mm(1000), mm(1)) == 0);
}

// 998.2 kg/m³ (handbook tables) and 9.80665 m/s² (3rd CGPM, 1901): 15 cm is 1468.4 Pa.
TEST_CASE("the pressure under 15 cm of water") {
  CHECK(water_pressure_pa(mm(150)) == doctest::Approx(1468.4).epsilon(0.0001));
}

TEST_CASE("a side that is not pressed is not sealed, and water runs out there") {
  for (const std::vector<Edge>& edges : {std::vector<Edge>{Edge::left}, std::vector<Edge>{}}) {
    Request request = hand_worked(foldover());
    work_of<does::Press>(request.construction, "press-sides").edges = edges;
    base::Diagnostics diagnostics;
    const auto pouch = derive(request, diagnostics);
    REQUIRE(pouch);
    CHECK(pouch->seal_zones.size() == edges.size());
    CHECK(pouch->water_line() == Length());
    CHECK(pouch->first_pocket().because.key == "water-ends-unfused");
    CHECK(contains(keys(diagnostics), "no-watertight-path"));
  }
}

// Found by the model of points in brute_water.h. An end that is free while the rest is folded and
// pressed may be finished after it; its needles pierce the film all across.
TEST_CASE("an end that is finished after the pressing lowers the water line to its needles") {
  Request request = hand_worked(foldover());
  auto& spans = request.construction.panels[0].spans;
  spans.pop_back();
  request.construction.spare = {0, 1};
  request.construction.flap_span.reset();
  request.construction.compartments[0].film = {{0, 1}, {0, 0}};
  request.construction.operations = {fold("fold-front", {0, 0}, {0, 1}, {0, 0}),
                                     press("press-sides"), finish("finish-end", Edge::end)};
  request.cards = CardUse::on_top;
  request.end_finish = {FinishKind::overedge, mm(0), mm(14), {}};
  const Pouch pouch = derived(request);
  CHECK(pouch.lip_height == mm(150));
  CHECK(pouch.water_line() == mm(136));  // 150 - 14; the front fuses up to 140
  CHECK(pouch.first_pocket().because.key == "water-ends-at-end-finish");
}

// Likewise. Back and front meet film side to film side; the pleat's halves meet with the film on
// their other face, and what is wet of them is fused to nothing where the pleat is all there is.
TEST_CASE("outsides of a fold that are fused to each other hold no water in") {
  Request request = hand_worked(gusset());
  request.construction.compartments[0].film = {{0, 1}, {0, 2}};
  request.laminate.film = FilmFaces::both;
  const Pouch both = derived(request);
  CHECK(both.contacts.size() == 4);
  CHECK(both.water_line() == mm(25));  // water between the halves, on the other face
  request.construction.compartments[0].film = {{0, 0}, {0, 1}, {0, 2}};
  CHECK(derived(request).water_line() == mm(0));  // gusset-back's wet face is fused to the back
}

// Likewise.
TEST_CASE("a lip below the bottom holds nothing, not less than nothing") {
  Request request = hand_worked(foldover());
  request.construction.bottom_a = {0, 1};
  request.construction.bottom_b = {0, 2};
  const Pouch pouch = derived(request);
  CHECK(pouch.lip_height == mm(-10));
  CHECK(pouch.water_line() == mm(0));
}

TEST_CASE("less than 3 mm of clear seal in the worst case is told, with the width that leaves it") {
  // Common practice, no source: volunteers cut and place to about 3 mm. By hand: 7 of needles,
  // 1 + 2 + 2 of tolerance and 3 that stay make 15.
  Request request = hand_worked(foldover());
  CHECK(seal_for_many_hands(derived(request)) == mm(15));
  // It is advice and no fault, and changes nothing else.
  CHECK(faults(request).empty());
  CHECK(derived(request).water_line() == mm(140));
  request.sizes["seal_width"].value = mm(15);
  CHECK_FALSE(seal_for_many_hands(derived(request)));
  request.sizes["seal_width"].value = mm(11);
  CHECK(seal_for_many_hands(derived(request)) == mm(15));
  // In inches 1/8 in: 1/4 + 5/32 + 1/8 = 17/32.
  request.units = base::Unit::inch;
  request.tolerance = usual_tolerances(base::Unit::inch);
  request.sizes["needle_reach"].value = request.sizes["seam_allowance"].value =
      Length::inches(1, 4);
  request.sizes["seal_width"].value = Length::inches(17, 32);
  CHECK_FALSE(seal_for_many_hands(derived(request)));
  request.sizes["seal_width"].value = Length::inches(1, 2);
  CHECK(seal_for_many_hands(derived(request)) == Length::inches(17, 32));
}

TEST_CASE("a shield of a job in inches has arms of whole eighths") {
  Request request = hand_worked(foldover());
  const Card metric = first_card(derived(request).cards, NamedCard::Use::shield);
  request.units = base::Unit::inch;
  const Card inches = first_card(derived(request).cards, NamedCard::Use::shield);
  CHECK(metric.bar_width == mm(204 + 20));
  CHECK(metric.shoulder == mm(135));
  CHECK(metric.top == mm(140 + 120));
  CHECK(inches.bar_width == mm(204) + Length::inches(3, 4));
  CHECK(inches.shoulder == mm(140) - Length::inches(1, 4));
  CHECK(inches.top == mm(140) + Length::inches(5));
}
