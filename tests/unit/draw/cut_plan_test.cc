#include "draw/sheets/cut_plan.h"

#include <cmath>
#include <map>
#include <set>

#include "draw/sheets/cut_plan_rows.h"
#include "lay/spare.h"
#include "unit/draw/full_size_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using test::EvenMeasure;
using test::mm;

namespace {

const base::LengthStyle kStyle = base::default_style(base::Unit::mm);
const EvenMeasure kMeasure;
constexpr Point kRoom{190, 277};

lay::Request panels(int demand, std::int64_t width) {
  lay::Request request;
  request.cloth = {"cloth", mm(width)};
  request.kinds = {{"panel", mm(204), mm(360), demand}};
  return request;
}

/// Panels, straps and tags: small pieces between large ones.
lay::Request mixed() {
  lay::Request request = panels(13, 1100);
  request.kinds.push_back({"strap", mm(30), mm(600), 4});
  request.kinds.push_back({"tag", mm(25), mm(80), 20});
  return request;
}

lay::Request folded() {
  lay::Request request = panels(22, 1500);
  request.plies = {lay::Plies::Way::folded, 4};
  return request;
}

lay::Request many_cut_offs() {
  lay::Request request = panels(60, 1100);
  request.longest = mm(400);
  return request;
}

std::vector<Drawing> drawn(const lay::Request& request, const lay::Plan& plan,
                           Breaks breaks = Breaks::none) {
  LayToDraw one{&plan.cloth, "cloth", {}, {}};
  for (const lay::Kind& kind : request.kinds) one.kinds.push_back(kind.name);
  for (const lay::Kind& kind : request.by_products) one.by_products.push_back(kind.name);
  return lay_pictures({one}, test::own_words(), kMeasure, kRoom, breaks);
}

std::vector<Box> boxes_of(const Drawing& drawing, const std::string& name) {
  std::vector<Box> boxes;
  for (const Item& item : drawing.items) {
    const auto* shape = std::get_if<Shape>(&item);
    if (shape != nullptr && shape->name == name) boxes.push_back(bounds(shape->path));
  }
  return boxes;
}

std::vector<Text> texts_of(const Drawing& drawing) {
  std::vector<Text> texts;
  for (const Item& item : drawing.items) {
    if (const auto* text = std::get_if<Text>(&item)) texts.push_back(*text);
  }
  return texts;
}

std::map<std::string, int> word_counts(const Drawing& drawing) {
  std::map<std::string, int> counts;
  for (const Text& text : texts_of(drawing)) ++counts[text.words];
  return counts;
}

/// How many pairs of words, or of a word and an arrow, lie on each other.
int collisions(const Drawing& drawing) {
  std::vector<Box> words;
  for (const Text& text : texts_of(drawing)) words.push_back(grown(bounds(text, kMeasure), -0.01));
  int found = 0;
  for (std::size_t i = 0; i < words.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) found += overlap(words[i], words[k]) ? 1 : 0;
    for (const Box& arrow : boxes_of(drawing, "direction")) {
      found += overlap(words[i], arrow) ? 1 : 0;
    }
  }
  return found;
}

}  // namespace

TEST_CASE("pieces lie on the picture as on the cloth, to one scale") {
  for (const lay::Request& request : {panels(13, 1100), mixed(), folded()}) {
    const lay::Plan plan = lay::plan(request);
    const Drawing drawing = drawn(request, plan).front();
    const auto cloth = boxes_of(drawing, "cloth");
    REQUIRE(cloth.size() == 1);
    const double scale = cloth[0].width() / plan.cloth.length.in_mm();
    CHECK(cloth[0].height() == doctest::Approx(plan.cloth.width.in_mm() * scale));
    const auto pieces = boxes_of(drawing, "piece");
    REQUIRE(pieces.size() == plan.cloth.pieces.size());
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      const lay::Area& at = plan.cloth.pieces[i].area;
      CHECK(pieces[i].x0 == doctest::Approx(cloth[0].x0 + at.y.in_mm() * scale));
      CHECK(pieces[i].y0 == doctest::Approx(cloth[0].y0 + at.x.in_mm() * scale));
      CHECK(pieces[i].width() == doctest::Approx(at.length.in_mm() * scale));
      CHECK(pieces[i].height() == doctest::Approx(at.width.in_mm() * scale));
    }
  }
}

TEST_CASE("the cloth's width and running measures are written beside the picture") {
  lay::Request request = panels(10, 1100);
  request.kinds.front().turn = lay::Turn::along;
  request.longest = mm(400);
  const lay::Plan plan = lay::plan(request);
  const auto counts = word_counts(drawn(request, plan).front());
  CHECK(counts.count("1100 mm") == 1);
  REQUIRE(plan.cloth.cut_offs.size() > 1);
  // Along the cloth from its squared end, across it from its edge: as one lays a long ruler.
  CHECK(counts.count("0 mm") == 1);
  for (const lay::CutOff& off : plan.cloth.cut_offs) {
    INFO(base::ruler_text(off.from + off.length, kStyle.unit));
    CHECK(counts.count(base::ruler_text(off.from + off.length, kStyle.unit)) == 1);
  }
  std::set<base::Length> across;
  for (const lay::Placed& piece : plan.cloth.pieces) {
    if (piece.area.y == base::Length()) across.insert(piece.area.x + piece.area.width);
  }
  REQUIRE(across.size() > 2);
  for (const base::Length edge : across) {
    INFO(base::ruler_text(edge, kStyle.unit));
    CHECK(counts.count(base::ruler_text(edge, kStyle.unit)) == 1);
  }
}

TEST_CASE("lengths cut off that are too narrow for a figure each share one") {
  lay::Request request;
  request.cloth = {"cloth", mm(1500)};
  request.kinds = {{"strip", mm(1400), mm(50), 30, lay::Turn::along}};
  request.longest = mm(50);
  const Drawing drawing = drawn(request, lay::plan(request)).front();
  CHECK(word_counts(drawing).count("30 x 50 mm: 1500 mm") == 1);
  CHECK(collisions(drawing) == 0);
}

TEST_CASE("what is left is white, and named where it is worth keeping") {
  // By hand: 7 panels of 204 across 1500 mm, so 8 take two lengths of 360 and leave 6 x 204 and the
  // edge, 72 mm, of the second: 1296 mm. What is kept is a common reading, no source.
  lay::Request request = panels(8, 1500);
  request.kinds.front().turn = lay::Turn::along;
  request.longest = mm(400);
  const lay::Plan plan = lay::plan(request);
  REQUIRE_FALSE(plan.cloth.kept.empty());
  const Drawing drawing = drawn(request, plan).front();
  const auto dots = boxes_of(drawing, "dots");
  const auto pieces = boxes_of(drawing, "piece");
  REQUIRE(dots.size() == 8);
  for (std::size_t i = 0; i < dots.size(); ++i) {
    CHECK(dots[i].x0 >= pieces[i].x0);
    CHECK(dots[i].x1 <= pieces[i].x1);
    CHECK(dots[i].y0 >= pieces[i].y0);
    CHECK(dots[i].y1 <= pieces[i].y1);
  }
  std::string all;
  for (const Text& text : texts_of(drawing)) all += text.words + " ";
  CHECK(all.find("left: 1296 mm x 360 mm") != std::string::npos);
  for (const Text& text : texts_of(drawing)) {
    if (text.words.find("left: ") != 0) continue;
    for (const Box& piece : pieces) CHECK_FALSE(overlap(bounds(text, kMeasure), piece));
  }
}

TEST_CASE("a small picture tints the pieces and leaves white what is left") {
  // Five panels of 204 fill 1020 mm; 80 mm are left of 1100, in the first picture at least.
  const auto tinted = [](std::int64_t width) {
    lay::Request request = panels(10, width);
    request.kinds.front().turn = lay::Turn::along;
    const Drawing drawing = drawn(request, lay::plan(request)).front();
    const Box first = boxes_of(drawing, "part").front();
    double sum = 0;
    for (const Box& piece : boxes_of(drawing, "piece of part")) {
      if (overlap(piece, grown(first, -0.01))) sum += piece.width() * piece.height();
    }
    return sum / (first.width() * first.height());
  };
  CHECK(tinted(1020) == doctest::Approx(1));
  CHECK(tinted(1100) == doctest::Approx(1020.0 / 1100));
}

TEST_CASE(
    "each kind and direction of pieces looks another way, and the commonest takes least ink") {
  const lay::Request request = mixed();
  const lay::Plan plan = lay::plan(request);
  const auto looks = cut_plan::looks_of(plan.cloth);
  std::set<cut_plan::Look> shown;
  for (const auto& [alike, look] : looks) shown.insert(look);
  CHECK(shown.size() == std::min<std::size_t>(looks.size(), 4));
  const auto panel = std::find_if(looks.begin(), looks.end(), [](const auto& one) {
    return one.second == cut_plan::Look::dotted;
  });
  REQUIRE(panel != looks.end());
  CHECK(panel->first.kind == 0);
}

TEST_CASE("pieces are numbered as they are cut, and what the plan gives is said large") {
  lay::Request request = panels(10, 1100);
  request.kinds.front().turn = lay::Turn::along;
  request.longest = mm(400);
  const lay::Plan plan = lay::plan(request);
  LayToDraw one{&plan.cloth, "cloth", {"panel"}, {}};
  one.yields = {"You get 10"};
  const Drawing drawing =
      lay_pictures({one}, test::own_words(), kMeasure, kRoom, Breaks::none).front();
  const auto pieces = boxes_of(drawing, "piece");
  REQUIRE(pieces.size() == 10);
  // Five across a length: the second length goes on with 6.
  std::map<int, Box> numbered;
  for (const Text& text : texts_of(drawing)) {
    if (text.words == "You get 10") CHECK(text.size == doctest::Approx(14 * 25.4 / 72));
    if (text.weight == Weight::bold) continue;
    for (const Box& piece : pieces) {
      const bool lies_in = overlap(grown(bounds(text, kMeasure), -0.01), piece);
      if (lies_in) numbered[std::stoi(text.words)] = piece;
    }
  }
  REQUIRE(numbered.size() == 10);
  for (int i = 2; i <= 10; ++i) {
    const bool is_further =
        i == 6 ? numbered[i].x0 > numbered[i - 1].x0 + 1 : numbered[i].y0 > numbered[i - 1].y0 + 1;
    CHECK(is_further);
  }
}

TEST_CASE("selvedges lie beside the cloth, the crooked end before it, trial strips in its waste") {
  lay::Request request = panels(10, 1100);
  request.kinds.front().turn = lay::Turn::along;
  const lay::Plan plan = lay::plan(request);
  LayToDraw one{&plan.cloth, "cloth", {"panel"}, {}};
  one.selvedge = mm(10);
  one.end = LayToDraw::End::crooked;
  one.trial = lay::in_waste(plan.cloth, mm(30), mm(80), 6);
  const Drawing drawing =
      lay_pictures({one}, test::own_words(), kMeasure, kRoom, Breaks::none).front();
  const Box cloth = boxes_of(drawing, "cloth").front();
  const auto selvedges = boxes_of(drawing, "selvedge");
  REQUIRE(selvedges.size() == 2);
  CHECK(selvedges[0].y1 == doctest::Approx(cloth.y0));
  CHECK(selvedges[1].y0 == doctest::Approx(cloth.y1));
  const auto end = boxes_of(drawing, "crooked end");
  REQUIRE(end.size() == 1);
  CHECK(end[0].x1 == doctest::Approx(cloth.x0));
  CHECK(end[0].x0 > 0);
  const auto strips = boxes_of(drawing, "trial strip");
  REQUIRE(strips.size() == 6);
  CHECK(boxes_of(drawing, "trial dot").size() == 6);
  for (const Box& strip : strips) {
    for (const Box& piece : boxes_of(drawing, "piece")) {
      CHECK_FALSE(overlap(grown(strip, -0.01), piece));
    }
  }
  CHECK(collisions(drawing) == 0);
}

TEST_CASE("every cut has its number in a circle, on the picture and beside its small picture") {
  for (const lay::Request& request : {panels(13, 1100), mixed(), folded(), many_cut_offs()}) {
    const lay::Plan plan = lay::plan(request);
    const Drawing drawing = drawn(request, plan).front();
    for (const char* name : {"cut number", "number of cut"}) {
      const auto circles = boxes_of(drawing, name);
      std::set<std::string> numbers;
      for (const Text& text : texts_of(drawing)) {
        if (text.weight != Weight::bold) continue;
        const Box box = bounds(text, kMeasure);
        const auto holds = [&](const Box& circle) {
          return box.x0 >= circle.x0 && box.x1 <= circle.x1 && box.y0 >= circle.y0 &&
                 box.y1 <= circle.y1;
        };
        if (std::any_of(circles.begin(), circles.end(), holds)) numbers.insert(text.words);
      }
      CHECK(circles.size() == plan.cloth.steps.size());
      for (std::size_t i = 1; i <= plan.cloth.steps.size(); ++i) {
        INFO("cut " << i << " of " << plan.cloth.steps.size());
        CHECK(numbers.count(std::to_string(i)) == 1);
      }
    }
  }
}

TEST_CASE("two short plans share a page, and long ones begin one each") {
  const lay::Request request = panels(10, 1100);
  const lay::Plan plan = lay::plan(request);
  const LayToDraw one{&plan.cloth, "cloth", {"panel"}, {}};
  CHECK(lay_pages({one, one}, test::own_words(), kMeasure, kRoom).size() == 1);
  const lay::Request large = panels(100, 1500);
  const lay::Plan long_plan = lay::plan(large);
  const LayToDraw other{&long_plan.cloth, "cloth", {"panel"}, {}};
  const auto pages = lay_pages({other, other}, test::own_words(), kMeasure, kRoom);
  CHECK(pages.size() > 1);
}

TEST_CASE("a long roll is broken into rows between the lengths cut off") {
  const lay::Request request = panels(100, 1500);
  const lay::Plan plan = lay::plan(request);
  const Drawing drawing = drawn(request, plan).front();
  const auto rows = boxes_of(drawing, "cloth");
  REQUIRE(rows.size() > 1);
  const double scale = rows[0].height() / 1500;
  double drawn_length = 0;
  std::set<long> ends;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    CHECK(rows[i].x1 <= kRoom.x + 1e-6);
    CHECK(rows[i].height() == doctest::Approx(rows[0].height()));
    if (i > 0) CHECK(rows[i].y0 > rows[i - 1].y1);
    drawn_length += rows[i].width() / scale;
    ends.insert(std::lround(drawn_length));
  }
  CHECK(drawn_length == doctest::Approx(plan.cloth.length.in_mm()));
  for (const lay::CutOff& off : plan.cloth.cut_offs) {
    ends.erase(std::lround((off.from + off.length).in_mm()));
  }
  CHECK(ends.empty());
  CHECK(boxes_of(drawing, "piece").size() == 100);
}

TEST_CASE("no words lie on other words or on an arrow, and none leave the room") {
  for (const lay::Request& request :
       {panels(1, 1100), panels(40, 1100), mixed(), folded(), many_cut_offs()}) {
    const lay::Plan plan = lay::plan(request);
    const Drawing drawing = drawn(request, plan).front();
    INFO(plan.cloth.pieces.size() << " pieces");
    CHECK(collisions(drawing) == 0);
    for (const Text& text : texts_of(drawing)) {
      CHECK(text.size >= kSmallestSize - 1e-9);
      const Box box = bounds(text, kMeasure);
      INFO(text.words);
      CHECK(box.x0 >= -1e-6);
      CHECK(box.x1 <= kRoom.x + 1e-6);
    }
  }
}

TEST_CASE("pages are no larger than the room, and hold every row and cut") {
  const lay::Request request = panels(400, 1500);
  const lay::Plan plan = lay::plan(request);
  const auto pages = drawn(request, plan, Breaks::pages);
  REQUIRE(pages.size() > 1);
  std::size_t pieces = 0;
  for (const Drawing& page : pages) {
    CHECK(page.extent == Box{0, 0, kRoom.x, kRoom.y});
    pieces += boxes_of(page, "piece").size();
    for (const Item& item : page.items) CHECK(bounds(item, kMeasure).y1 <= kRoom.y);
  }
  CHECK(pieces == 400);
}
