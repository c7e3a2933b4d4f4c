#include "draw/full_size/template.h"

#include <set>

#include "pouch/questions.h"
#include "unit/draw/fold_support.h"
#include "unit/draw/full_size_support.h"
#include "unit/draw/icons_support.h"

using namespace pouchwright;
using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::test;

namespace {

Drawing drawn(const pouch::Request& request) {
  const EvenMeasure measure;
  return cutting_templates(derived(request), Pattern::whole,
                           base::Voice(own_words(), style_of(request)), measure)
      .front();
}

/// The fused bands' outlines, left one first.
std::vector<Box> bands_of(const Drawing& sheet) {
  std::vector<Box> result;
  for (const Shape* shape : shapes_of(sheet, Group::seal)) {
    if (shape->name == "fused band") result.push_back(bounds(shape->path));
  }
  return result;
}

const Shape& only_named(const Drawing& sheet, Group group, std::string_view name) {
  const Shape* found = nullptr;
  for (const Shape* shape : shapes_of(sheet, group)) {
    if (shape->name != name) continue;
    CHECK(found == nullptr);
    found = shape;
  }
  REQUIRE(found != nullptr);
  return *found;
}

}  // namespace

TEST_CASE("the outline of the template is the cut panel, one closed path") {
  // Worked by hand: 190 + 2 x 7 wide, 150 - 10 + 150 + 70 long.
  const Drawing sheet = drawn(hand_worked(foldover()));
  const auto cut = shapes_of(sheet, Group::cut);
  REQUIRE(cut.size() == 1);
  check_outline(cut.front()->path, {{0, 0}, {204, 0}, {204, 360}, {0, 360}});
}

TEST_CASE("the template has one named line for every fold, from raw edge to raw edge") {
  const Drawing sheet = drawn(hand_worked(foldover()));
  const auto folds = shapes_of(sheet, Group::fold);
  REQUIRE(folds.size() == 2);
  CHECK(folds[0]->name == "fold: front / back");
  CHECK(folds[1]->name == "fold: back / flap");
  // From the start, which lies at the lower edge, at 140 and at 290 of 360.
  check_same(bounds(folds[0]->path), {0, 220, 204, 220});
  check_same(bounds(folds[1]->path), {0, 70, 204, 70});
  const std::string words = all_words(sheet);
  CHECK(words.find("fold: front / back") != std::string::npos);
  CHECK(words.find("fold: back / flap") != std::string::npos);
}

TEST_CASE("the template lies as the pictures of the steps show the panel") {
  // Whoever marks the folds has both before them: what is lower on one is lower on the other. From
  // straight above a view is a plan.
  constexpr double kScale = 0.2;
  const EvenMeasure measure;
  for (const NamedRequest& one : all_requests()) {
    INFO(one.name);
    const pouch::Pouch pouch = derived(one.request);
    const Drawing sheet = cutting_templates(pouch, Pattern::whole, own_words(), measure).front();
    const Drawing step = fold_picture(pouch, pouch::cut_panel(pouch),
                                      PictureLook{.scale = kScale, .angles = kFromAbove},
                                      own_icons(), own_words(), measure);
    const Box panel = bounds(shapes_of(sheet, Group::cut).front()->path);
    double lower_end = 0;
    for (const Shape* shape : shapes_of(step, Group::cut)) {
      lower_end = std::max(lower_end, bounds(shape->path).y1);
    }
    std::vector<double> marked;  // above the lower end, in mm of cloth
    for (const Shape* notch : named_shapes(step, "notch")) {
      marked.push_back((lower_end - bounds(notch->path).y0) / kScale);
    }
    std::vector<double> printed;
    for (const Shape* notch : shapes_of(sheet, Group::notch)) {
      if (notch->name.starts_with("notch")) {
        printed.push_back(panel.y1 - bounds(notch->path).y0);
      }
    }
    std::sort(marked.begin(), marked.end());
    std::sort(printed.begin(), printed.end());
    REQUIRE(marked.size() == printed.size());
    REQUIRE(!marked.empty());
    for (std::size_t i = 0; i < marked.size(); ++i) {
      CHECK(marked[i] == doctest::Approx(printed[i]).epsilon(0.01));
    }
  }
}

TEST_CASE("the fused bands are those worked by hand") {
  // A seal 13 wide along both sides of 190 + 2 x 7; up to the lip twice, 2 x 140.
  const auto bands = bands_of(drawn(hand_worked(foldover())));
  REQUIRE(bands.size() == 2);
  check_same(bands[0], {0, 80, 13, 360});
  check_same(bands[1], {191, 80, 204, 360});
}

TEST_CASE("a pleat's stretches of band are drawn as one") {
  // Front 140, pleat 2 x 25, and the back up to the lip, 140.
  const auto bands = bands_of(drawn(hand_worked(gusset())));
  REQUIRE(bands.size() == 2);
  // Above them the back's last 10 and the flap's 70.
  check_same(bands[0], {0, 80, 13, 410});
}

TEST_CASE("overedged ends have a needle line, and the bands begin there") {
  // Both bands of 0-280 give way to a needle reach of 5 at either end; nothing is trimmed.
  const pouch::EndFinish overedge{pouch::FinishKind::overedge, {}, mm(5), {}};
  const Drawing sheet = drawn(with_ends(hand_worked(foldover()), overedge));
  check_same(bounds(only_named(sheet, Group::seam, "needle line: start").path), {0, 355, 204, 355});
  check_same(bounds(only_named(sheet, Group::seam, "needle line: end").path), {0, 5, 204, 5});
  check_same(bands_of(sheet).front(), {0, 85, 13, 355});
}

TEST_CASE("ends that are not finished have no needle line") {
  const Drawing sheet = drawn(hand_worked(foldover()));
  for (const Shape* shape : shapes_of(sheet, Group::seam)) {
    CHECK(shape->name == "seam line");
  }
}

TEST_CASE("both seam lines lie at the seam allowance") {
  const Drawing sheet = drawn(hand_worked(foldover()));
  const auto seams = shapes_of(sheet, Group::seam);
  REQUIRE(seams.size() == 2);
  check_same(bounds(seams[0]->path), {7, 0, 7, 360});
  check_same(bounds(seams[1]->path), {197, 0, 197, 360});
}

TEST_CASE("a notch is never longer than half the seam allowance, nor than 3 mm") {
  // A snip into the clear seal leaks: common practice, no source.
  CHECK(pouch::notch_length(mm(7)) == mm(3));
  CHECK(pouch::notch_length(mm(6)) == mm(3));
  CHECK(pouch::notch_length(mm(4)) == mm(2));
  CHECK(pouch::notch_length(Length::nm(5)) == Length::nm(2));
}

TEST_CASE("every fold has a notch inwards from both raw edges") {
  for (const NamedRequest& one : all_requests()) {
    INFO(one.name);
    const pouch::Pouch pouch = derived(one.request);
    const EvenMeasure measure;
    const Drawing sheet = cutting_templates(pouch, Pattern::whole, own_words(), measure).front();
    const double width = pouch.sizes.cut_width.in_mm();
    const double length = pouch.sizes.cut_length.in_mm();
    const double longest = pouch.sizes.seam_allowance.in_mm() / 2;
    const auto notches = shapes_of(sheet, Group::notch);
    const auto folds = folds_of(pouch.sizes.main_panel());
    REQUIRE(notches.size() == 2 * folds.size());
    for (std::size_t i = 0; i < notches.size(); ++i) {
      const Box box = bounds(notches[i]->path);
      CHECK(box.y0 == doctest::Approx(length - folds[i / 2].at.in_mm()));
      CHECK(box.height() == 0);
      CHECK(box.width() > 1);
      CHECK(box.width() <= longest + 1e-9);
      CHECK((i % 2 == 0 ? box.x0 : width - box.x1) == doctest::Approx(0));
    }
  }
}

TEST_CASE("the template has a direction arrow, a centre line and words") {
  for (const NamedRequest& one : all_requests()) {
    INFO(one.name);
    const Drawing sheet = drawn(one.request);
    CHECK(only_named(sheet, Group::grain, "direction of the length").path.size() == 2);
    const Box centre = bounds(only_named(sheet, Group::grain, "centre line").path);
    const Box panel = bounds(shapes_of(sheet, Group::cut).front()->path);
    CHECK(centre.x0 == doctest::Approx(panel.x1 / 2));
    CHECK(centre.width() == 0);
    CHECK(texts_of(sheet).size() > 15);
  }
}

TEST_CASE("all words on the template can be read") {
  for (const NamedRequest& one : all_requests()) {
    INFO(one.name);
    check_legible(drawn(one.request));
  }
}

TEST_CASE("the sheet is white around all of its ink") {
  const EvenMeasure measure;
  for (const NamedRequest& one : all_requests()) {
    INFO(one.name);
    const Drawing sheet = drawn(one.request);
    for (const Item& item : sheet.items) {
      CHECK(lies_in(grown(bounds(item, measure), 3.9), sheet.extent));
    }
  }
}

TEST_CASE("words stand inside a panel that has room, beside one that has not") {
  // 204 mm and half of a 1 mm tick beyond it on either side, 4 mm of white.
  CHECK(drawn(hand_worked(foldover())).extent.width() <= 213 + 1e-9);
  const Drawing tiny = drawn(sized(mm(60), mm(80), mm(35)));
  CHECK(tiny.extent.width() > 130);
  CHECK(tiny.extent.width() < 190);  // still one page of A4 (ISO 216: 210 mm) with 10 mm margins
}

TEST_CASE("the label gives the cut size in the units of its job alone") {
  // A person reads one ruler; both units stand side by side on the overview.
  const std::string metric = all_words(drawn(hand_worked(foldover())));
  CHECK(metric.find("204 mm") != std::string::npos);
  CHECK(metric.find("360 mm") != std::string::npos);
  CHECK(metric.find(" in)") == std::string::npos);
  const std::string inches = all_words(drawn(in_inches()));
  CHECK(inches.find("8 in") != std::string::npos);
  CHECK(inches.find("203 mm") == std::string::npos);
}

TEST_CASE("the template warns of the laser") {
  for (const NamedRequest& one : all_requests()) {
    INFO(one.name);
    CHECK(all_words(drawn(one.request)).find("Never cut laminate by laser") != std::string::npos);
  }
}

TEST_CASE("fuse here stands in every band that has room") {
  // Below the lines' names stands the legend, which begins with the same words.
  const auto says = [](const Drawing& sheet) {
    const auto texts = texts_of(sheet);
    return std::any_of(texts.begin(), texts.end(), [](const Text* text) {
      return text->words == own_text("drawing-fuse-here");
    });
  };
  CHECK(says(drawn(hand_worked(foldover()))));
  // A band of 7 1/2 mm: too narrow for words beside the seam line.
  pouch::Request narrow = hand_worked(foldover());
  narrow.sizes["seam_allowance"].value = mm(5);
  narrow.sizes["needle_reach"].value = mm(5);
  narrow.sizes["seal_width"].value = Length::nm(7'500'000);
  CHECK_FALSE(says(drawn(narrow)));
}

TEST_CASE("no two kinds of line look alike") {
  // ISO 128-2: lines are told apart by type and width. The legend's samples are the lines.
  const pouch::EndFinish overedge{pouch::FinishKind::overedge, {}, mm(5), {}};
  const Drawing sheet = drawn(with_ends(hand_worked(foldover()), overedge));
  std::set<std::pair<LinePattern, double>> kinds;
  std::size_t samples = 0;
  for (const Shape* shape : shapes_of(sheet, Group::label)) {
    if (shape->name != "sample" || !shape->stroke) continue;
    kinds.insert({shape->stroke->pattern, shape->stroke->width});
    ++samples;
  }
  CHECK(samples == 8);  // seven rows; that of the band has a hatch and its limit
  CHECK(kinds.size() == samples);
}

TEST_CASE("the legend shows the lines as they are drawn") {
  const Drawing sheet = drawn(hand_worked(foldover()));
  std::set<std::pair<LinePattern, double>> shown;
  for (const Shape* shape : shapes_of(sheet, Group::label)) {
    if (shape->stroke) shown.insert({shape->stroke->pattern, shape->stroke->width});
  }
  for (const Group group : {Group::cut, Group::fold, Group::seam, Group::seal, Group::notch}) {
    for (const Shape* shape : shapes_of(sheet, group)) {
      REQUIRE(shape->stroke.has_value());
      CHECK(shown.count({shape->stroke->pattern, shape->stroke->width}) == 1);
    }
  }
}

TEST_CASE("the same pouch gives the same template") {
  const Drawing a = drawn(hand_worked(gusset()));
  const Drawing b = drawn(hand_worked(gusset()));
  CHECK(all_words(a) == all_words(b));
  CHECK(a.extent == b.extent);
  CHECK(a.items.size() == b.items.size());
}

TEST_CASE(
    "half a pattern is the right half, its fourth edge on the fold of the cloth and never cut") {
  const EvenMeasure measure;
  const pouch::Pouch pouch = derived(hand_worked(foldover()));
  const Drawing sheet = cutting_templates(pouch, Pattern::half, own_words(), measure).front();
  const auto cut = shapes_of(sheet, Group::cut);
  REQUIRE(cut.size() == 1);
  check_same(bounds(cut.front()->path), {0, 0, 102, 360});
  for (const Step& step : cut.front()->path) CHECK(step.verb != Verb::close);
  check_same(bounds(only_named(sheet, Group::fold, "fold of the cloth").path), {0, 0, 0, 360});
  const auto bands = bands_of(sheet);
  REQUIRE(bands.size() == 1);
  check_same(bands.front(), {89, 80, 102, 360});
  for (const Shape* shape : shapes_of(sheet, Group::notch)) CHECK(shape->name == "notch: right");
  CHECK(all_words(sheet).find(own_text("drawing-lay-on-fold")) != std::string::npos);
}

namespace {

std::vector<Box> seams_of(const Drawing& sheet) {
  std::vector<Box> seams;
  for (const Shape* shape : shapes_of(sheet, Group::seam)) {
    if (shape->name == "seam line") seams.push_back(bounds(shape->path));
  }
  return seams;
}

std::vector<Drawing> all_drawn(const pouch::Request& request, Pattern pattern = Pattern::whole) {
  const EvenMeasure measure;
  return cutting_templates(derived(request), pattern, base::Voice(own_words(), style_of(request)),
                           measure);
}

}  // namespace

TEST_CASE("each panel has a template of its own, with its own bands and its bottom seam") {
  // By hand: back 150 + 7, flap 70; front 150 - 10 + 7. The front's start is the lip, its end lies
  // at the bottom; the bottom band is 13 wide between the side bands, its seam line 7 from the end.
  const auto sheets = all_drawn(two_pieces());
  REQUIRE(sheets.size() == 2);
  CHECK(sheets[0].name == "template");
  CHECK(sheets[1].name == "template-front-panel");
  check_outline(shapes_of(sheets[0], Group::cut).front()->path,
                {{0, 0}, {204, 0}, {204, 227}, {0, 227}});
  check_outline(shapes_of(sheets[1], Group::cut).front()->path,
                {{0, 0}, {204, 0}, {204, 147}, {0, 147}});
  const auto back = bands_of(sheets[0]);
  REQUIRE(back.size() == 3);
  CHECK(std::count(back.begin(), back.end(), Box{13, 214, 191, 227}) == 1);
  CHECK(std::count(back.begin(), back.end(), Box{0, 80, 13, 227}) == 1);
  const auto front = bands_of(sheets[1]);
  REQUIRE(front.size() == 3);
  CHECK(std::count(front.begin(), front.end(), Box{13, 0, 191, 13}) == 1);
  CHECK(std::count(front.begin(), front.end(), Box{0, 0, 13, 147}) == 1);
  CHECK(seams_of(sheets[1]) ==
        std::vector<Box>{{7, 0, 7, 147}, {197, 0, 197, 147}, {0, 7, 204, 7}});
  CHECK(shapes_of(sheets[1], Group::fold).empty());
  for (const Drawing& sheet : sheets) check_legible(sheet);
}

TEST_CASE("a piece has a template without seams, whole where panels are halved") {
  pouch::Request request = hand_worked(foldover());
  request.construction.pieces = {{"tag loop",
                                  {{{"seam_allowance", 4, 1}}},
                                  {{{"depth", 1, 1}}},
                                  2,
                                  pouch::ClothKind::laminate,
                                  {}}};
  const auto sheets = all_drawn(request, Pattern::half);
  REQUIRE(sheets.size() == 2);
  CHECK(sheets[1].name == "template-tag-loop");
  check_outline(shapes_of(sheets[1], Group::cut).front()->path,
                {{0, 0}, {28, 0}, {28, 150}, {0, 150}});  // 4 x 7
  CHECK(shapes_of(sheets[1], Group::seam).empty());
  CHECK(shapes_of(sheets[1], Group::seal).empty());
  check_legible(sheets[1]);
}

TEST_CASE("the flap's corners are cut as the job says, and no line stands out of them") {
  pouch::Request request = hand_worked(foldover());
  request.flap_shape = pouch::FlapShape::angled;
  request.flap_corner = {mm(20), {}};
  const Drawing angled = drawn(request);
  check_outline(shapes_of(angled, Group::cut).front()->path,
                {{0, 20}, {20, 0}, {184, 0}, {204, 20}, {204, 360}, {0, 360}});
  // 7 from the side, a corner of 20 at 45 degrees ends 13 before the end.
  check_same(seams_of(angled).front(), {7, 13, 7, 360});
  request.flap_shape = pouch::FlapShape::rounded;
  const Path round = shapes_of(drawn(request), Group::cut).front()->path;
  CHECK(std::count_if(round.begin(), round.end(),
                      [](const Step& step) { return step.verb == Verb::curve; }) == 2);
  check_same(bounds(round), {0, 0, 204, 360});
}

TEST_CASE("an attachment is a cross where it sits, with its distances in words") {
  pouch::Request request = hand_worked(foldover());
  pouch::Attachment snap;
  snap.name = "snap on the flap";
  snap.kind = pouch::AttachmentKind::snap;
  snap.span = *request.construction.flap_span;
  snap.from = pouch::Edge::end;
  snap.distance = {{{"lip_drop", 2, 1}}};
  request.construction.attachments = {snap};
  request.construction.operations.push_back(
      operation("snap-film", does::Attach{0, pouch::Through::film}));
  request.closure_through = pouch::Through::film;
  const Drawing sheet = drawn(request);
  // 20 below the flap's end, in the middle of 204; the cross reaches 4 to every side.
  check_same(bounds(only_named(sheet, Group::notch, "attachment: snap on the flap").path),
             {98, 16, 106, 24});
  const std::string words = all_words(sheet);
  CHECK(words.find("snap on the flap") != std::string::npos);
  CHECK(words.find(own_text("drawing-attachment-film")) != std::string::npos);
  check_legible(sheet);
}
