#include "pouch/judge/content.h"

#include <doctest/doctest.h>

#include <random>

#include "pouch/judge/remnant.h"
#include "support/requests.h"

using namespace pouchwright;
using namespace pouchwright::pouch;
using namespace pouchwright::test;

namespace {

/// As they are given, unless a test turns them.
Liners liners(int count) {
  Liners made;
  made.turn = LinerTurn::as_given;
  made.count = base::Placed<int>{count, {}};
  made.width.value = mm(80);
  made.length.value = mm(120);
  made.thickness.value = mm(9);
  return made;
}

}  // namespace

TEST_CASE("three liners in one column make a box 80 x 120 x 27 mm") {
  const ContentBox box = content_box(liners(3), 3, 1);
  CHECK(box.width == mm(80));
  CHECK(box.length == mm(120));
  CHECK(box.height == mm(27));
  CHECK(content_box(liners(3), 3, 2).height == mm(18));
}

TEST_CASE("the capacity names every limit that the next liner would break") {
  Request request = hand_worked(foldover());
  request.liners = liners(1);
  base::Diagnostics diagnostics;
  const auto pouch = derive(request, diagnostics);
  REQUIRE(pouch);
  REQUIRE(pouch->capacity);
  // depth 150 >= 120 + h + 10 holds h = 18, so two layers; across 178 >= 160 + 18 + 10 does not
  // take two columns, one column does: two liners, and the third fails on the depth alone, since
  // front 140 < 120 + 13.5 + 10 = 143.5 fails as well.
  CHECK(pouch->capacity->liners == 2);
  CHECK(pouch->capacity->columns == 1);
  CHECK(pouch->capacity->limited_by ==
        std::vector<CapacityLimit>{CapacityLimit::front, CapacityLimit::depth});
}

TEST_CASE("a pouch sized for liners carries them, for every count") {
  for (int count = 1; count <= 40; ++count) {
    for (const auto& construction : {foldover(), gusset()}) {
      Request request = hand_worked(construction);
      for (const char* open : {"width", "depth", "flap"}) request.sizes.erase(open);
      request.liners = liners(count);
      base::Diagnostics diagnostics;
      const auto pouch = derive(request, diagnostics);
      REQUIRE(pouch);
      CHECK(pouch->capacity->liners >= count);
      CHECK(pouch->sizes.flap >= mm(40));
    }
  }
}

TEST_CASE("derived sizes end on the ruler") {
  // One liner of 9 mm: 120 + 4.5 + 10 up the front is no whole millimetre.
  Request request = hand_worked(foldover());
  for (const char* open : {"width", "depth", "flap"}) request.sizes.erase(open);
  request.liners = liners(1);
  for (const Length step : {mm(1), mm(5), Length::inches(1, 8)}) {
    request.cut_step = step;
    base::Diagnostics diagnostics;
    const Values values = *values_from_liners(request, stated_values(request), diagnostics);
    for (const char* name : {"width", "depth", "flap"}) {
      CAPTURE(name);
      CHECK(values.at(name).in_nm() % step.in_nm() == 0);
    }
  }
}

TEST_CASE("the columns that need the least cloth are taken, the others shown") {
  Request request = hand_worked(foldover());
  for (const char* open : {"width", "depth", "flap"}) request.sizes.erase(open);
  request.liners = liners(6);
  const auto ways = alternatives(request);
  // Six in 1, 2, 3 and 6 columns: 6, 3, 2 and 1 high; 4 and 5 columns are 2 high as 3 are.
  REQUIRE(ways.size() == 4);
  CHECK(ways[2].columns == 3);
  CHECK(ways[2].layers == 2);
  int chosen = 0;
  for (const Alternative& way : ways) {
    CHECK(way.holds);
    chosen += way.chosen ? 1 : 0;
    for (const Alternative& other : ways) {
      if (!way.chosen) continue;
      CHECK(way.cut_width.in_mm() * way.cut_length.in_mm() <=
            other.cut_width.in_mm() * other.cut_length.in_mm());
    }
  }
  CHECK(chosen == 1);
  // By hand, three columns: inside 240 + 18 + 10, cut 268 + 26; depth 120 + 18 + 10 = 148, front
  // 138 < 120 + 9 + 10, so 149; flap a third of that, 49.67, rounded up.
  CHECK(ways[2].cut_width == mm(294));
  CHECK(ways[2].depth == mm(149));
  CHECK(ways[2].cut_length == mm(139 + 149 + 50));
}

TEST_CASE("more liners never need less cloth") {
  for (const auto& construction : {foldover(), gusset()}) {
    double before = 0;
    for (int count = 1; count <= 60; ++count) {
      Request request = hand_worked(construction);
      for (const char* open : {"width", "depth", "flap", "gusset"}) request.sizes.erase(open);
      request.laminate.width = mm(20'000);
      request.liners = liners(count);
      base::Diagnostics diagnostics;
      const auto pouch = derive(request, diagnostics);
      REQUIRE(pouch);
      const double area = pouch->sizes.cut_width.in_mm() * pouch->sizes.cut_length.in_mm();
      CAPTURE(count);
      CHECK(area >= before);
      before = area;
    }
  }
}

TEST_CASE("a size that the job states is kept, and the columns follow it") {
  Request request = hand_worked(foldover());
  for (const char* open : {"depth", "flap"}) request.sizes.erase(open);
  request.liners = liners(4);
  base::Diagnostics diagnostics;
  // The inside of 178 mm takes no two columns beside each other: 160 + 18 + 10.
  auto pouch = derive(request, diagnostics);
  REQUIRE(pouch);
  CHECK(pouch->sizes.finished_width == mm(190));
  CHECK(pouch->capacity->liners >= 4);
  CHECK(pouch->capacity->columns == 1);
  const auto ways = alternatives(request);
  for (const Alternative& way : ways) CHECK(way.holds == (way.columns == 1));
  // 200 mm do, and are the smaller panel.
  request.sizes["width"].value = mm(200);
  pouch = derive(request, diagnostics);
  CHECK(pouch->capacity->columns == 2);
}

TEST_CASE("a width that the cloth cannot give is not chosen") {
  Request request = hand_worked(foldover());
  for (const char* open : {"width", "depth", "flap"}) request.sizes.erase(open);
  request.liners = liners(6);
  request.laminate.turn = Turn::along;
  request.laminate.width = mm(250);
  base::Diagnostics diagnostics;
  const auto pouch = derive(request, diagnostics);
  REQUIRE(pouch);
  CHECK(pouch->sizes.cut_width <= mm(250));
  CHECK(pouch->capacity->liners >= 6);
}

TEST_CASE("every limit is told in numbers") {
  Request request = hand_worked(foldover());
  request.liners = liners(1);
  base::Diagnostics diagnostics;
  const Capacity capacity = *derive(request, diagnostics)->capacity;
  REQUIRE(capacity.limits.size() == 4);
  // Two liners in one column need 80 + 18 + 10 across, three 117; of the front three need 143.5.
  CHECK(capacity.limits[0].limit == CapacityLimit::across);
  CHECK(capacity.limits[0].has == mm(178));
  CHECK(capacity.limits[0].needs == mm(108));
  CHECK(capacity.limits[0].needs_next == mm(117));
  CHECK(capacity.limits[0].is_short_by() == Length());
  CHECK(capacity.limits[1].is_short_by() == Length::mm(3.5));
  CHECK(capacity.limits[2].is_short_by() == mm(7));
  CHECK(capacity.limits[3].is_short_by() == Length());
}

TEST_CASE("more of anything never takes fewer liners") {
  std::mt19937 random(5);
  const auto between = [&](unsigned least, unsigned most) {
    return static_cast<std::int64_t>(least + random() % (most - least + 1));
  };
  const auto capacity = [](const Request& request) {
    base::Diagnostics diagnostics;
    return capacity_of(request, *sizes_of(request, stated_values(request), {}, diagnostics)).liners;
  };
  for (int round = 0; round < 300; ++round) {
    Construction construction = round % 2 == 0 ? foldover() : gusset();
    if (round % 3 == 0) construction.flap_law = FlapLaw::free;
    Request request = hand_worked(construction);
    request.sizes["width"].value = mm(between(90, 500));
    request.sizes["depth"].value = mm(between(100, 400));
    request.sizes["flap"].value = mm(between(30, 120));
    request.liners = liners(1);
    request.liners->width.value = mm(between(30, 150));
    request.liners->length.value = mm(between(50, 200));
    request.liners->thickness.value = mm(between(2, 20));
    const int now = capacity(request);
    CAPTURE(round);
    for (const char* name : {"width", "depth", "flap", "gusset"}) {
      Request larger = request;
      larger.sizes[name].value += mm(between(1, 30));
      CAPTURE(name);
      CHECK(capacity(larger) >= now);
    }
    for (auto* asked : {&request.liners->ease, &request.liners->overlap, &request.liners->width,
                        &request.liners->length, &request.liners->thickness}) {
      const Length before = asked->value;
      asked->value += mm(between(1, 10));
      CHECK(capacity(request) <= now);
      asked->value = before;
    }
  }
}

TEST_CASE("a job in inches and the same in millimetres carry the same") {
  // 1 in = 25.4 mm exactly (yard and pound agreement of 1959; NIST SP 811 app. B).
  Request inches = hand_worked(foldover());
  for (const char* open : {"width", "depth", "flap"}) inches.sizes.erase(open);
  inches.liners = liners(3);
  inches.liners->width.value = Length::inches(13, 4);
  inches.liners->length.value = Length::inches(19, 4);
  inches.liners->thickness.value = Length::inches(3, 8);
  inches.cut_step = base::kRulerInch;
  Request metric = inches;
  metric.liners->width.value = Length::nm(82'550'000);
  metric.liners->length.value = Length::nm(120'650'000);
  metric.liners->thickness.value = Length::nm(9'525'000);
  metric.cut_step = Length::nm(3'175'000);
  base::Diagnostics diagnostics;
  const auto a = derive(inches, diagnostics);
  const auto b = derive(metric, diagnostics);
  REQUIRE(a);
  REQUIRE(b);
  CHECK(a->sizes.cut_width == b->sizes.cut_width);
  CHECK(a->sizes.cut_length == b->sizes.cut_length);
  CHECK(a->capacity->liners == b->capacity->liners);
}

TEST_CASE("a cut panel of 8 1/2 x 15 in with a flap of a fifth takes three used liners") {
  // Common practice, no source. The folded liner that this assumes: 90 x 120 x 9 mm under a light
  // hand, with the usual ease of 10 mm and a seal of 13 mm: one column, 120 + 27 + 10 = 157 mm;
  // (15 - 3 + 1/2) / 2 in leave a depth of 158.75 mm.
  Request request = hand_worked(foldover());
  request.units = base::Unit::inch;
  request.sizes["lip_drop"].value = Length::inches(1, 2);
  for (const char* open : {"width", "depth", "flap"}) request.sizes.erase(open);
  request.panel = CutPanel{{Length::inches(17, 2), {}}, {Length::inches(15), {}}, {}, {}};
  request.liners = liners(1);
  request.liners->count.reset();
  request.liners->width.value = mm(90);
  base::Diagnostics diagnostics;
  const auto pouch = derive(request, diagnostics);
  REQUIRE(pouch);
  CHECK(pouch->capacity->liners == 3);
}

TEST_CASE("a remnant lies whichever way carries more") {
  Request request = hand_worked(foldover());
  request.sizes["flap"].stated.emplace();  // by the job, so kept
  request.liners = liners(1);
  request.liners->count.reset();
  const CutPanel remnant{{mm(450), {}}, {mm(300), {}}, {}, {}};
  const Request best = from_remnant(request, remnant);
  REQUIRE(best.panel);
  base::Diagnostics diagnostics;
  const auto found = derive(best, diagnostics);
  REQUIRE(found);
  // 300 long leaves (300 - 70 + 10) / 2 = 120 of depth, too little for any; 450 long leaves 195.
  CHECK(best.panel->width.value == mm(300));
  CHECK(found->sizes.flap == mm(70));
  CHECK(found->capacity->liners > 0);
  // A cloth with one direction is not turned. 120 deep is at most 240 wide: 254 with two allowances
  // of 7, on a mark of 5.
  request.laminate.turn = Turn::along;
  CHECK(from_remnant(request, remnant).panel->width.value == mm(250));
  // One that is long and narrow is cut shorter: 86 wide between the seams is at most 172 deep.
  const Request narrow = from_remnant(request, {{mm(100), {}}, {mm(900), {}}, {}, {}});
  base::Diagnostics ignored;
  const auto made = derive(narrow, ignored);
  REQUIRE(made);
  CHECK(made->sizes.depth == mm(170));
  request.laminate.turn = Turn::across;
  CHECK(from_remnant(request, remnant).panel->width.value == mm(300));
}

TEST_CASE("other liners are counted by the same laws") {
  Request request = hand_worked(foldover());
  request.liners = liners(1);
  base::Diagnostics diagnostics;
  const auto pouch = derive(request, diagnostics);
  REQUIRE(pouch);
  CHECK(capacity_for(*pouch, *request.liners).liners == pouch->capacity->liners);
  Liners thin = liners(1);
  thin.thickness.value = mm(3);
  CHECK(capacity_for(*pouch, thin).liners > pouch->capacity->liners);
}

// ---- Turned liners -----------------------------------------------------------------------------

namespace {

Capacity capacity_with(Request request) {
  base::Diagnostics diagnostics;
  return *derive(request, diagnostics)->capacity;
}

/// 8 1/2 x 15 in, folded 6 in up, 6 back and 3 over, seams and needles at 1/4 in, seal 5/8.
Request quilters_panel(Length width, Length length, Length thickness) {
  Request request = hand_worked(foldover());
  request.units = base::Unit::inch;
  request.cut_step = base::kRulerInch;
  for (const char* open : {"width", "depth"}) request.sizes.erase(open);
  const auto in = [&](const char* name, Length size) {
    request.sizes[name] = {size, base::Place{}};
  };
  in("flap", Length::inches(3));
  in("lip_drop", Length());
  in("seam_allowance", Length::inches(1, 4));
  in("needle_reach", Length::inches(1, 4));
  in("seal_width", Length::inches(5, 8));
  request.panel = CutPanel{{Length::inches(17, 2), {}}, {Length::inches(15), {}}, {}, {}};
  request.liners.emplace();
  request.liners->width.value = width;
  request.liners->length.value = length;
  request.liners->thickness.value = thickness;
  request.liners->ease.value = Length::inches(3, 8);
  return request;
}

}  // namespace

TEST_CASE("a liner may lie either way, so that no pouch that is in use carries none") {
  // 3 1/4 x 6 x 3/8 in stands too high in 6 in of depth; across 7 1/4 in inside it goes twice:
  // 6 + 3/4 + 3/8 = 7 1/8 <= 7 1/4, and not three times, 7 1/2.
  Request request = quilters_panel(Length::inches(13, 4), Length::inches(6), Length::inches(3, 8));
  const Capacity turned = capacity_with(request);
  CHECK(turned.liners == 2);
  CHECK(turned.lies == Lies::turned);
  // The same liner with its numbers the other way round lies as it is given.
  request.liners->width.value = Length::inches(6);
  request.liners->length.value = Length::inches(13, 4);
  const Capacity given = capacity_with(request);
  CHECK(given.liners == 2);
  CHECK(given.lies == Lies::as_given);
  // As given only, the first has no room at all.
  request = quilters_panel(Length::inches(13, 4), Length::inches(6), Length::inches(3, 8));
  request.liners->turn = LinerTurn::as_given;
  CHECK(capacity_with(request).liners == 0);
  CHECK_FALSE(capacity_with(request).one_fewer_above);
}

TEST_CASE("ties lie as given, then in fewer columns") {
  Request request = hand_worked(foldover());
  request.liners = liners(1);
  request.liners->turn = LinerTurn::either;
  request.liners->length.value = request.liners->width.value;
  CHECK(capacity_with(request).lies == Lies::as_given);
  CHECK(capacity_with(request).columns == 1);
}

TEST_CASE("the thickness at which one more goes in, and above which one fewer does") {
  // Across 7 1/4 in inside, 6 + n t + 3/8: three of (7 1/4 - 6 3/8) / 3 = 7/24 in, two of 7/16.
  Request request = quilters_panel(Length::inches(6), Length::inches(13, 4), Length::inches(3, 8));
  const Capacity capacity = capacity_with(request);
  CHECK(capacity.liners == 2);
  REQUIRE(capacity.one_more_at);
  REQUIRE(capacity.one_fewer_above);
  CHECK(*capacity.one_more_at == Length::nm(7 * 25'400'000 / 24));
  CHECK(*capacity.one_fewer_above == Length::inches(7, 16));
  request.liners->thickness.value = *capacity.one_more_at;
  CHECK(capacity_with(request).liners == 3);
  request.liners->thickness.value = *capacity.one_more_at + Length::nm(1);
  CHECK(capacity_with(request).liners == 2);
  request.liners->thickness.value = *capacity.one_fewer_above;
  CHECK(capacity_with(request).liners == 2);
  request.liners->thickness.value = *capacity.one_fewer_above + Length::nm(1);
  CHECK(capacity_with(request).liners == 1);
}

TEST_CASE("over random pouches the two thicknesses are where the capacity changes") {
  std::mt19937 random(8);
  const auto between = [&](unsigned least, unsigned most) {
    return mm(static_cast<std::int64_t>(least + random() % (most - least + 1)));
  };
  for (int round = 0; round < 100; ++round) {
    CAPTURE(round);
    Request request = hand_worked(round % 2 == 0 ? foldover() : gusset());
    request.sizes["width"].value = between(100, 400);
    request.sizes["depth"].value = between(100, 300);
    request.liners = liners(1);
    request.liners->turn = LinerTurn::either;
    request.liners->width.value = between(30, 120);
    request.liners->length.value = between(50, 160);
    request.liners->thickness.value = between(2, 20);
    base::Diagnostics diagnostics;
    const auto sizes = sizes_of(request, stated_values(request), {}, diagnostics);
    const auto at = [&](Length thickness) {
      request.liners->thickness.value = thickness;
      return capacity_of(request, *sizes).liners;
    };
    const Capacity now = capacity_of(request, *sizes);
    if (now.one_more_at) {
      CHECK(at(*now.one_more_at) > now.liners);
      CHECK(at(*now.one_more_at + Length::nm(1)) == now.liners);
    }
    if (now.one_fewer_above) {
      CHECK(at(*now.one_fewer_above) == now.liners);
      CHECK(at(*now.one_fewer_above + Length::nm(1)) < now.liners);
    }
  }
}

TEST_CASE("sizing turns the liners only where a stated width cannot take them as given") {
  Request request = hand_worked(foldover());
  for (const char* open : {"depth", "flap"}) request.sizes.erase(open);
  request.liners = liners(2);
  request.liners->turn = LinerTurn::either;
  request.liners->width.value = mm(170);
  request.liners->length.value = mm(100);
  // Inside 178 takes no 170 + 18 + 10 across, but 100 + 18 + 10.
  base::Diagnostics diagnostics;
  const auto pouch = derive(request, diagnostics);
  REQUIRE(pouch);
  CHECK(pouch->capacity->liners >= 2);
  CHECK(pouch->capacity->lies == Lies::turned);
  // Up the back 170 + 18 + 10, up the front 170 + 9 + 10 and the lip drop: 199.
  CHECK(pouch->sizes.depth == mm(199));
  const auto ways = alternatives(request);
  CHECK(std::any_of(ways.begin(), ways.end(), [](const Alternative& way) {
    return way.chosen && way.lies == Lies::turned && way.holds;
  }));
  // With the width open they stay as they are given.
  request.sizes.erase("width");
  CHECK(derive(request, diagnostics)->capacity->lies == Lies::as_given);
}

TEST_CASE("a caught flap that liners decide is a third of the depth at least") {
  Request request = hand_worked(foldover());
  for (const char* open : {"width", "depth", "flap"}) request.sizes.erase(open);
  request.liners = liners(3);
  base::Diagnostics diagnostics;
  const auto pouch = derive(request, diagnostics);
  REQUIRE(pouch);
  // One column: depth 120 + 27 + 10 = 157, front 120 + 13.5 + 10 under the lip drop less; a third
  // of 157 is 52.33, more than 10 + 30.
  CHECK(pouch->sizes.depth == mm(157));
  CHECK(pouch->sizes.flap == mm(53));
  // A flap that the job states is its own affair.
  request.sizes["flap"] = {mm(41), base::Place{}};
  CHECK(derive(request, diagnostics)->sizes.flap == mm(41));
}

// ---- Counts that stated sizes cannot take ------------------------------------------------------

namespace {

std::vector<base::Diagnostic> told_of(const Request& request) {
  base::Diagnostics diagnostics;
  (void)derive(request, diagnostics);
  std::vector<base::Diagnostic> told;
  for (const auto& one : diagnostics.sorted()) {
    if (one.message.key.starts_with("liners-over-")) told.push_back(one);
  }
  return told;
}

}  // namespace

TEST_CASE("a count that a stated width cannot take is an error where an option asks for it") {
  Request request = hand_worked(foldover());
  for (const char* open : {"depth", "flap"}) request.sizes.erase(open);
  request.sizes["width"] = {mm(120), base::Place{"job.toml", 3, 9, 0}};
  request.liners = liners(5);
  // Inside 108: 80 + 5 * 9 + 10 = 135 across, so 135 + 2 * 13 - 14 = 147 finished.
  const auto least = least_sizes(request);
  REQUIRE(least);
  REQUIRE(least->sizes.size() == 1);
  CHECK(least->sizes[0] == std::pair<std::string, Length>("width", mm(147)));
  CHECK(least->cut_width == mm(161));
  // What it names is enough, and a millimetre less is not.
  for (const auto& [width, takes] : {std::pair(147, true), std::pair(146, false)}) {
    Request other = request;
    other.sizes["width"].value = mm(width);
    CHECK(told_of(other).empty() == takes);
  }
  REQUIRE(told_of(request).size() == 1);
  CHECK(told_of(request)[0].severity == base::Severity::warning);
  request.liners->strictness = Liners::Count::must_fit;
  REQUIRE(told_of(request).size() == 1);
  CHECK(told_of(request)[0].severity == base::Severity::error);
  base::Diagnostics diagnostics;
  CHECK((!derive(request, diagnostics) || diagnostics.has_errors()));
}

TEST_CASE("where one size is not enough, the least of several is told") {
  Request request = hand_worked(foldover());
  request.liners = liners(40);
  request.liners->length.value = mm(200);
  // 150 of depth take no 200, and 178 inside no forty of them, however they are laid.
  const auto least = least_sizes(request);
  REQUIRE(least);
  CHECK(least->sizes.size() > 1);
  for (const auto& [name, length] : least->sizes) request.sizes[name].value = length;
  CHECK(told_of(request).empty());
}

TEST_CASE("of a cut panel the least width is told, or both its sides") {
  Request request = quilters_panel(Length::inches(6), Length::inches(13, 4), Length::inches(3, 8));
  request.liners->turn = LinerTurn::as_given;
  request.liners->count = base::Placed<int>{3, {}};
  // 6 + 9/8 + 3/8 across, two seals of 5/8 beside it: 8 3/4.
  const auto least = least_sizes(request);
  REQUIRE(least);
  CHECK(least->sizes ==
        std::vector<std::pair<std::string, Length>>{{"width", Length::inches(35, 4)}});
  request.panel->width.value = Length::inches(35, 4);
  CHECK(told_of(request).empty());
  request.liners->length.value = Length::inches(9);
  REQUIRE(least_sizes(request));
  CHECK(least_sizes(request)->sizes.size() == 2);
}
