#include "draw/full_size/cards.h"

#include <cmath>

#include "unit/draw/full_size_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

Drawing drawn_slip_card(const pouch::Request& request) {
  const EvenMeasure measure;
  return cards(derived(request), pouch::NamedCard::Use::slip, batch::IronSole{},
               base::Voice(own_words(), style_of(request)), measure)
      .front();
}

Drawing drawn_shield(const pouch::Request& request, const batch::IronSole& sole = {}) {
  const EvenMeasure measure;
  return cards(derived(request), pouch::NamedCard::Use::shield, sole,
               base::Voice(own_words(), style_of(request)), measure)
      .front();
}

std::vector<Box> named(const Drawing& sheet, Group group, std::string_view begin) {
  std::vector<Box> result;
  for (const Shape* shape : shapes_of(sheet, group)) {
    if (shape->name.starts_with(begin)) result.push_back(bounds(shape->path));
  }
  return result;
}

double distance(const Box& a, const Box& b) {
  const double x = std::max({0.0, b.x0 - a.x1, a.x0 - b.x1});
  const double y = std::max({0.0, b.y0 - a.y1, a.y0 - b.y1});
  return std::hypot(x, y);
}

}  // namespace

TEST_CASE("the slip card's outline is a T, mouth up, as worked by hand") {
  // Stem 178 - 2 x 2 wide and 150 - 10 high, the cut width 204 across the film from 140 up to 220.
  const Drawing sheet = drawn_slip_card(hand_worked(foldover()));
  const auto outlines = shapes_of(sheet, Group::cut);
  REQUIRE(outlines.size() == 1);
  check_outline(outlines.front()->path,
                {{15, 220}, {189, 220}, {189, 80}, {204, 80}, {204, 0}, {0, 0}, {0, 80}, {15, 80}});
}

TEST_CASE("the shield's outline is a T, mouth up, as worked by hand") {
  // Stem 204 - 2 x 13, arms 204 + 2 x 10; the lip, 140, overlapped by 5 and covered 120 beyond.
  const Drawing sheet = drawn_shield(hand_worked(foldover()));
  const auto outlines = shapes_of(sheet, Group::cut);
  REQUIRE(outlines.size() == 1);
  check_outline(
      outlines.front()->path,
      {{13, 260}, {191, 260}, {191, 125}, {214, 125}, {214, 0}, {-10, 0}, {-10, 125}, {13, 125}});
}

TEST_CASE("the folded panel is shown behind the shield") {
  // Cut width 190 + 2 x 7, film exposed up to 220 mm, bands 13 wide from 0 to 140 mm.
  const Drawing sheet = drawn_shield(hand_worked(foldover()));
  const auto edges = named(sheet, Group::seam, "raw edge");
  REQUIRE(edges.size() == 2);
  check_same(edges[0], {0, 40, 0, 260});
  check_same(edges[1], {204, 40, 204, 260});
  const auto folds = named(sheet, Group::seam, "fold");
  REQUIRE(folds.size() == 1);
  check_same(folds[0], {0, 110, 204, 110});
  const auto bands = named(sheet, Group::seal, "fused band");
  REQUIRE(bands.size() == 2);
  check_same(bands[0], {0, 120, 13, 260});
  check_same(bands[1], {191, 120, 204, 260});
}

TEST_CASE("overedged ends shorten the bands behind the cards") {
  // Zones y 5-275 of the panel, whose bottom lies at 140: heights 0-135.
  const pouch::EndFinish overedge{pouch::FinishKind::overedge, {}, mm(5), {}};
  const Drawing sheet = drawn_slip_card(with_ends(hand_worked(foldover()), overedge));
  const auto bands = named(sheet, Group::seal, "fused band");
  REQUIRE(bands.size() == 2);
  check_same(bands[0], {0, 85, 13, 220});
}

TEST_CASE("both cards have marks for lip and centre, where they are seen beside what lies there") {
  const Drawing slip = drawn_slip_card(hand_worked(foldover()));
  const Drawing over = drawn_shield(hand_worked(foldover()));
  check_same(named(slip, Group::notch, "lip: left").at(0), {15, 80, 20, 80});
  check_same(named(slip, Group::notch, "lip: right").at(0), {184, 80, 189, 80});
  check_same(named(slip, Group::notch, "centre: top").at(0), {102, 0, 102, 5});
  check_same(named(over, Group::notch, "centre: bottom").at(0), {102, 255, 102, 260});
  // The shield hides the lip, 140, and all above it: a notch in either end of its bar ends at the
  // lip's corner, on the raw edges 0 and 204, and so it bares no film.
  check_same(named(over, Group::notch, "lip: left").at(0), {-10, 117, 0, 123});
  check_same(named(over, Group::notch, "lip: right").at(0), {204, 117, 214, 123});
  // The raw edges come out below the bar: its ticks end on its lower edge.
  const auto raw = named(over, Group::notch, "raw edge");
  REQUIRE(raw.size() == 2);
  check_same(raw[0], {0, 120, 0, 125});
  check_same(raw[1], {204, 120, 204, 125});
  CHECK(named(over, Group::notch, "fold").empty());
  CHECK_FALSE(named(slip, Group::notch, "fold").empty());
}

TEST_CASE("a hem at the flap's end is no flap fold") {
  const pouch::EndFinish turned{pouch::FinishKind::turned, mm(10), mm(18), {}};
  const Drawing sheet = drawn_shield(with_ends(hand_worked(foldover()), turned));
  CHECK(named(sheet, Group::seam, "fold").size() == 1);
}

// The distance is our reading: public guidance on irons gives none. ISO 13857 keeps fingers 120 mm
// from a danger behind an opening of 12 to 20 mm (table 4, from memory).
TEST_CASE("a hand keeps 120 mm from all places of the sole, or the shield asks for a stick") {
  int held = 0;
  for (const NamedRequest& one : all_requests()) {
    INFO(one.name);
    const Drawing sheet = drawn_shield(one.request);
    const auto fields = named(sheet, Group::label, "hold here");
    held += static_cast<int>(fields.size());
    const std::string words = all_words(sheet);
    CHECK(words.find("wooden stick or a weight") != std::string::npos);
    CHECK((words.find("No place on this card is safe") == std::string::npos) == !fields.empty());
    CHECK((words.find("fingers stay") != std::string::npos) == !fields.empty());
    const double right = derived(one.request).sizes.cut_width.in_mm();
    const Box outline = bounds(shapes_of(sheet, Group::cut).front()->path);
    for (const Box& field : fields) {
      CHECK(lies_in(field, outline));
      for (const Box& band : named(sheet, Group::seal, "fused band")) {
        // Assumed: 120 x 240 mm. It stands on the raw edge or beyond it, below the top bar, which
        // overlaps the band by 5 mm.
        const double top = band.y0 + 5;
        const bool is_left = band.x0 < right / 2;
        const Box sole = is_left ? Box{band.x1 - 120, top, 120, top + 240}
                                 : Box{right - 120, top, band.x0 + 120, top + 240};
        CHECK(distance(field, sole) >= 120 - 1e-6);
        CHECK((is_left ? field.x0 >= 120 : field.x1 <= right - 120));  // steam blows ahead of it
      }
    }
  }
  CHECK(held > 0);
}

TEST_CASE("a slip card lies inside: its sheet speaks of no hand and no field") {
  for (const NamedRequest& one : all_requests()) {
    INFO(one.name);
    const Drawing sheet = drawn_slip_card(one.request);
    CHECK(named(sheet, Group::label, "hold here").empty());
    CHECK(named(sheet, Group::label, "iron's sole").empty());
    for (const char* part : {"hold here", "fingers stay", "this card is safe"}) {
      CHECK(all_words(sheet).find(part) == std::string::npos);
    }
  }
}

TEST_CASE("the sole is drawn at size on the shield, its point at the top bar") {
  const Drawing sheet = drawn_shield(hand_worked(foldover()));
  const auto soles = named(sheet, Group::label, "iron's sole");
  REQUIRE(soles.size() == 1);
  // From raw edge 0 its sides are 0 and 120; the centre strip shows it from 13 on, from the bar's
  // lower edge, 125, to the bottom fold, 260: 135 of its 240 mm.
  CHECK(soles[0].x0 == doctest::Approx(13));
  CHECK(soles[0].x1 == doctest::Approx(119.8).epsilon(0.005));
  CHECK(soles[0].y0 == doctest::Approx(125));
  CHECK(soles[0].y1 == doctest::Approx(260));
  // Beside the card the paper shows the rest of it, from the raw edge on.
  const auto beside = named(sheet, Group::label, "beside the card: the sole");
  REQUIRE(beside.size() == 1);
  CHECK(beside[0].x0 < 1);
  CHECK(beside[0].x1 == doctest::Approx(13));
  const Drawing narrow = drawn_shield(hand_worked(foldover()), {mm(80), mm(150)});
  CHECK(named(narrow, Group::label, "iron's sole").at(0).x1 == doctest::Approx(80));
  CHECK(all_words(narrow).find("80 mm x 150 mm") != std::string::npos);
}

TEST_CASE("a wide shield has a field between the places of the sole, a narrow one has none") {
  // Cut 404 wide: soles reach 120 in from both sides. 16 mm either side of the centre line, 202,
  // are 66 from them, so the field ends 100.3 above the bar's lower edge (Pythagoras).
  const Drawing wide = drawn_shield(sized(mm(390), mm(150), mm(70)));
  const auto field = named(wide, Group::label, "hold here");
  REQUIRE(field.size() == 1);
  CHECK(field[0].y1 <= 125 - 100.2);
  // 204 wide: the places of left and right overlap, and so does the steam ahead of them.
  CHECK(named(drawn_shield(hand_worked(foldover())), Group::label, "hold here").empty());
}

TEST_CASE("what is to be traced is told: edges' names, this side up, the sole, hold here") {
  const std::string slip = all_words(drawn_slip_card(hand_worked(foldover())));
  const std::string narrow = all_words(drawn_shield(hand_worked(foldover())));
  const std::string wide = all_words(drawn_shield(sized(mm(390), mm(150), mm(70))));
  for (const std::string& words : {slip, narrow, wide}) {
    CHECK(words.find("“this side up”") != std::string::npos);
    CHECK(words.find("the names of the edges") != std::string::npos);
    CHECK((words.find("iron’s outline") != std::string::npos) == (words != slip));
    CHECK((words.find("“hold here”") != std::string::npos) == (words == wide));
  }
}

TEST_CASE("both cards tell the same length to fuse") {
  // By hand: the slip card's top bar begins at the lip, 140; the shield's overlaps it by 5.
  pouch::Request request = hand_worked(foldover());
  const auto tells = [](const Drawing& sheet, const char* height) {
    return all_words(sheet).find("bar (" + std::string(height) + " mm)") != std::string::npos;
  };
  CHECK(tells(drawn_slip_card(request), "140"));
  for (const pouch::CardUse use : {pouch::CardUse::both, pouch::CardUse::on_top}) {
    request.cards = use;
    CHECK(tells(drawn_shield(request), "135"));
  }
  request.cards = pouch::CardUse::both;
  CHECK(tells(drawn_slip_card(request), "135"));
}

TEST_CASE("the field is the largest that keeps its distance") {
  // One band from y = 100 down, its inner edge 90 left of the centre line, and one at the right.
  const std::vector<Box> bands = {{0, 100, 10, 300}, {190, 100, 200, 300}};
  std::vector<KeptClear> clear = {{bands[0], 120}, {bands[1], 120}};
  const auto field = hold_field({0, 0, 200, 100}, 100, clear, {20, 10});
  REQUIRE(field.has_value());
  CHECK(field->x0 + field->x1 == doctest::Approx(200));
  for (const Box& band : bands) CHECK(distance(*field, band) >= 120 - 1e-9);
  CHECK(distance(*field, bands[0]) == doctest::Approx(120));
  CHECK_FALSE(hold_field({0, 60, 200, 100}, 100, clear, {20, 10}).has_value());
  CHECK(hold_field({0, 0, 200, 100}, 100, {}, {20, 10}).has_value());
  // Steam, that may be as near as it likes, but not be held in.
  clear.push_back({{0, -1000, 95, 100}, 0});
  CHECK_FALSE(hold_field({0, 0, 200, 100}, 100, clear, {20, 10}).has_value());
}

TEST_CASE("all words on both cards can be read") {
  for (const NamedRequest& one : all_requests()) {
    INFO(one.name);
    check_legible(drawn_slip_card(one.request));
    check_legible(drawn_shield(one.request));
  }
}

TEST_CASE("both cards say how hot irons and printed faces are dealt with") {
  for (const NamedRequest& one : all_requests()) {
    INFO(one.name);
    for (const Drawing& sheet : {drawn_slip_card(one.request), drawn_shield(one.request)}) {
      const std::string words = all_words(sheet);
      for (const char* key :
           {"drawing-caution-hot", "drawing-caution-printed", "drawing-caution-bare-film",
            "drawing-caution-try", "drawing-caution-fumes", "drawing-this-side-up"}) {
        CHECK(words.find(own_text(key)) != std::string::npos);
      }
    }
  }
}

TEST_CASE("each outline is one card, and says for which of several pockets it is") {
  // Two compartments that share one lip height, as a second pressing of the same layers gives them.
  pouch::Pouch pouch = derived(hand_worked(foldover()));
  const auto is_slip = [](const pouch::NamedCard& one) {
    return one.use == pouch::NamedCard::Use::slip;
  };
  pouch::NamedCard second = *std::find_if(pouch.cards.begin(), pouch.cards.end(), is_slip);
  pouch.request.construction.compartments.push_back({"back pocket", {}});
  second.compartment = 1;
  pouch.cards.push_back(second);
  const EvenMeasure measure;
  auto sheets = cards(pouch, pouch::NamedCard::Use::slip, {}, own_words(), measure);
  REQUIRE(sheets.size() == 1);
  CHECK(all_words(sheets[0]).find("For the pocket.") != std::string::npos);
  CHECK(all_words(sheets[0]).find("For the back pocket.") != std::string::npos);

  pouch.cards.back().card.outline[0].x += mm(5);
  sheets = cards(pouch, pouch::NamedCard::Use::slip, {}, own_words(), measure);
  REQUIRE(sheets.size() == 2);
  CHECK(sheets[0].name == "slip-card");
  CHECK(sheets[1].name == "slip-card-2");
  CHECK(all_words(sheets[0]).find("back pocket") == std::string::npos);
}

TEST_CASE("a shield says for which of several pressings it is, and which step shows it") {
  pouch::Pouch pouch = derived(hand_worked(foldover()));
  const auto is_shield = [](const pouch::NamedCard& one) {
    return one.use == pouch::NamedCard::Use::shield;
  };
  pouch::NamedCard second = *std::find_if(pouch.cards.begin(), pouch.cards.end(), is_shield);
  second.operation = index_of(pouch.construction(), "tails");  // any other that has words
  pouch.cards.push_back(second);
  const EvenMeasure measure;
  const auto sheets = cards(pouch, pouch::NamedCard::Use::shield, {}, own_words(), measure);
  REQUIRE(sheets.size() == 1);
  CHECK(all_words(sheets[0]).find("To fuse both sides (step 4).") != std::string::npos);
  CHECK(all_words(sheets[0]).find("To secure the tails (step 7).") != std::string::npos);
}

TEST_CASE("a bottom that is fused is shown below the card, between the bands of the sides") {
  const pouch::Request request = hand_worked(in_two_panels());
  const Drawing sheet = drawn_slip_card(request);
  // By hand: the open flap's film reaches 150 + 70 above the seam line, and so does the card; the
  // band lies from 7 below that line to 6 above it: y 214-227. The card ends 2 above the band.
  const auto bands = named(sheet, Group::seal, "fused band");
  CHECK(std::count(bands.begin(), bands.end(), Box{13, 214, 191, 227}) == 1);
  CHECK(bounds(shapes_of(sheet, Group::cut).front()->path).y1 == doctest::Approx(212));
  CHECK(all_words(sheet).find("and the bottom below it") != std::string::npos);
  check_legible(sheet);
}

TEST_CASE("the slip card asks for the shield where the job has both") {
  pouch::Request request = hand_worked(foldover());
  request.cards = pouch::CardUse::both;
  CHECK(all_words(drawn_slip_card(request)).find("Lay the shield on.") != std::string::npos);
  request.cards = pouch::CardUse::inside;
  CHECK(all_words(drawn_slip_card(request)).find("Lay the shield on.") == std::string::npos);
}

TEST_CASE("a pouch that is never pressed has no cards") {
  auto request = hand_worked(foldover());
  std::erase_if(request.construction.operations, [](const pouch::Operation& one) {
    return one.action() == pouch::Action::press || one.action() == pouch::Action::lay_card ||
           one.action() == pouch::Action::take_card;
  });
  const pouch::Pouch pouch = derived(request);
  const EvenMeasure measure;
  CHECK(cards(pouch, pouch::NamedCard::Use::slip, {}, own_words(), measure).empty());
  CHECK(cards(pouch, pouch::NamedCard::Use::shield, {}, own_words(), measure).empty());
}

TEST_CASE("beside a card that somebody has only the top bar is drawn") {
  pouch::Request request = hand_worked(foldover());
  request.cards = pouch::CardUse::on_top;
  request.card = pouch::OwnCard{pouch::CardKind::shield, {mm(178), {}}, {mm(140), {}}, true, {}};
  // The panel, 204, and 10 mm at each side; 5 mm below the opening edge and 120 above it.
  const Drawing bar = drawn_shield(request);
  CHECK(bar.name == "top-bar");
  const auto outlines = shapes_of(bar, Group::cut);
  REQUIRE(outlines.size() == 1);
  check_outline(outlines.front()->path, {{-10, 0}, {214, 0}, {214, 125}, {-10, 125}});
  const auto lips = named(bar, Group::notch, "lip");
  REQUIRE(lips.size() == 2);
  check_same(lips[0], {-10, 117, 0, 123});
  check_same(lips[1], {204, 117, 214, 123});
  CHECK(named(bar, Group::notch, "raw edge").size() == 2);
  // With nothing to lay on the film there is nothing to draw.
  request.card->top_bar = false;
  const EvenMeasure measure;
  CHECK(cards(derived(request), pouch::CardKind::shield, batch::IronSole{},
              base::Voice(own_words(), style_of(request)), measure)
            .empty());
}

TEST_CASE("pockets that take one bar have it drawn once, others a file each") {
  pouch::Request request = hand_worked(foldover());
  request.card = pouch::OwnCard{pouch::CardKind::slip, {mm(170), {}}, {mm(150), {}}, true, {}};
  pouch::Pouch pouch = derived(request);
  const auto names = [&] {
    const EvenMeasure measure;
    std::vector<std::string> all;
    for (const Drawing& one : cards(pouch, pouch::CardKind::slip, batch::IronSole{},
                                    base::Voice(own_words(), style_of(request)), measure)) {
      all.push_back(one.name);
    }
    return all;
  };
  const auto slip =
      *std::find_if(pouch.cards.begin(), pouch.cards.end(),
                    [](const pouch::NamedCard& one) { return one.use == pouch::CardKind::slip; });
  pouch.cards.push_back(slip);
  pouch.cards.back().card.outline.front().x += mm(1);  // another card, the same bar
  CHECK(names() == std::vector<std::string>{"top-bar"});
  pouch.cards.back().card.top += mm(10);
  CHECK(names() == std::vector<std::string>{"top-bar", "top-bar-2"});
}
