#include "batch/thread.h"

#include <doctest/doctest.h>

#include "support/requests.h"
#include "unit/batch/thread_support.h"

using namespace pouchwright;
using namespace pouchwright::batch;
using test::mm;

namespace {

pouch::Pouch pouch_of(const pouch::Request& request) {
  base::Diagnostics diagnostics;
  const auto made = pouch::derive(request, diagnostics);
  REQUIRE(made.has_value());
  return *made;
}

pouch::Request sewn_foldover() {
  return test::hand_worked(test::with_sewn_sides(test::foldover()));
}

const Seam* seam_of(const pouch::Pouch& pouch, const std::vector<Seam>& seams,
                    const std::string& operation) {
  for (const Seam& seam : seams) {
    if (pouch.operation(seam.operation).id == operation) return &seam;
  }
  return nullptr;
}

}  // namespace

TEST_CASE("geometry gives the handbook's worked examples") {
  // Textile calculation handbook pages: 504 with 10 stitches an inch, 0.25 in wide, 0.05 in thick.
  const Length stitch = Length::inches(1, 10);
  const double overedge = overedge_ratio(Length::inches(1, 4), Length::inches(1, 20), stitch);
  CHECK(overedge == doctest::Approx(15));
  // 20 yd of seam: 274.32 m of thread; 1 yd = 0.9144 m (yard and pound agreement, 1959).
  CHECK(20 * 0.9144 * overedge == doctest::Approx(274.32));
  // The same pages: 301, 0.01 in thick.
  CHECK(lockstitch_ratio(Length::inches(1, 100), stitch) == doctest::Approx(2.2));
}

TEST_CASE(
    "a pouch's seams are its sides from bottom to flap fold, their tails, and finished ends") {
  pouch::Request request = sewn_foldover();
  request.end_finish = {pouch::FinishKind::overedge, Length(), mm(5), {}};
  const pouch::Pouch pouch = pouch_of(request);
  const auto seams = seams_of(pouch, test::thread_rules());
  REQUIRE(seams.size() == 3);
  const Seam* sides = seam_of(pouch, seams, "sew-sides");
  REQUIRE(sides != nullptr);
  // Worked by hand: folded, the sides are as high as the depth, 150 mm; where
  // front, back and flap lie together they are three laminates of 0.35 mm.
  CHECK(sides->length == mm(150));
  CHECK(sides->per_pouch == 2);
  CHECK(sides->thickness == 3 * Length::nm(350'000));
  CHECK(sides->stitch == "504");
  CHECK_FALSE(sides->has_back_tacks);
  const Seam* end = seam_of(pouch, seams, "finish-end");
  REQUIRE(end != nullptr);
  CHECK(end->length == mm(204));
  CHECK(end->stitch == "504");
  const Seam* tails = seam_of(pouch, seams, "tails");
  REQUIRE(tails != nullptr);
  CHECK(tails->length == mm(20));
  CHECK(tails->per_pouch == 4);
  CHECK(tails->stitch == "304");
}

TEST_CASE("a zigzagged end is sewn back and forth, whatever sews overedged ones") {
  pouch::Request request = sewn_foldover();
  request.end_finish = {pouch::FinishKind::zigzag, Length(), mm(5), {}};
  const pouch::Pouch pouch = pouch_of(request);
  const auto seams = seams_of(pouch, test::thread_rules());
  const Seam* end = seam_of(pouch, seams, "finish-end");
  REQUIRE(end != nullptr);
  // ISO 4915:1991: 304 is the zigzag, a lockstitch.
  CHECK(end->stitch == "304");
  CHECK(end->has_back_tacks);
  CHECK(ends_leave_chains({}, test::thread_rules()));
  StatedStitches stated;
  stated.ends = {"zigzag", {}};
  CHECK_FALSE(ends_leave_chains(stated, test::thread_rules()));
}

TEST_CASE("four threads round an edge take what the formula says") {
  // 5 + 2 S (3 T + 2 W), a textile engineering page's table of formulas. By hand, in inches: ten
  // stitches, 0.07 thick, 0.2 wide are 5 + 20 · (0.21 + 0.4) = 17.2; people count on about 17.
  const Length stitch = Length::inches(1, 10);
  CHECK(four_thread_ratio(Length::inches(1, 5), Length::nm(1'778'000), stitch) ==
        doctest::Approx(17.2));
}

TEST_CASE("a turned end is a lockstitch seam, and stated stitches replace the usual ones") {
  pouch::Request request = sewn_foldover();
  request.start_finish = {pouch::FinishKind::turned, mm(10), mm(18), {}};
  ThreadRules rules = test::thread_rules();
  StatedStitches stated;
  stated.sides = {"301", {}};
  use(stated, rules);
  const pouch::Pouch pouch = pouch_of(request);
  const auto seams = seams_of(pouch, rules);
  const Seam* start = seam_of(pouch, seams, "finish-start");
  REQUIRE(start != nullptr);
  CHECK(start->stitch == "301");
  CHECK(start->has_back_tacks);
  const Seam* sides = seam_of(pouch, seams, "sew-sides");
  REQUIRE(sides != nullptr);
  CHECK(sides->stitch == "301");
  CHECK(sides->has_back_tacks);
  // A lockstitch leaves no chain that could unravel.
  CHECK(seam_of(pouch, seams, "tails") == nullptr);
}

TEST_CASE("stated stitches are codes or words, and what is not known changes nothing") {
  ThreadRules rules = test::thread_rules();
  StatedStitches stated;
  stated.ends = {"zigzag", {}};
  stated.hems = {"401", {}};
  stated.tails = {"999", {}};
  use(stated, rules);
  CHECK(rules.sew == "504");
  CHECK(rules.finish_overedge == "304");
  CHECK(rules.finish_turned == "401");
  CHECK(rules.secure_tails == "304");
}

TEST_CASE("sides that are sewn in several passes take thread for each") {
  pouch::Request request = sewn_foldover();
  request.passes = {{{"straight", {}}, mm(6), mm(0), false}, {{"504", {}}, mm(2), mm(5), true}};
  const pouch::Pouch pouch = pouch_of(request);
  const auto seams = seams_of(pouch, test::thread_rules());
  REQUIRE(seams.size() == 3);
  CHECK(seams[0].stitch == "301");
  CHECK(seams[1].stitch == "504");
  CHECK(seams[0].length == mm(150));
  CHECK(seams[1].length == mm(150));
  // Only the overedge's chains are secured.
  CHECK(pouch.operation(seams[2].operation).id == "tails");
  CHECK(seams[2].per_pouch == 4);
}

TEST_CASE("tape is sewn on round its edge, and what has no stated length is named") {
  pouch::Pouch pouch = pouch_of(sewn_foldover());
  pouch::Construction& made = pouch.request.construction;
  for (const auto kind : {pouch::AttachmentKind::hook_and_loop, pouch::AttachmentKind::label,
                          pouch::AttachmentKind::snap}) {
    pouch::Attachment& rule = made.attachments.emplace_back();
    rule.name = word_of(pouch::kAttachmentWords, kind);
    rule.kind = kind;
  }
  pouch::Fixed tape;
  tape.operation = made.operations.size();
  made.operations.push_back(test::operation("tape-on", pouch::does::Attach{}));
  tape.y = {mm(20), mm(40)};
  tape.width = mm(60);
  tape.x = {mm(102)};
  pouch::Fixed label = tape;
  label.attachment = 1;
  label.width = Length();
  pouch::Fixed snap = label;
  snap.attachment = 2;
  pouch.fixed = {tape, label, snap};
  const auto seams = seams_of(pouch, test::thread_rules());
  const Seam* round = seam_of(pouch, seams, "tape-on");
  REQUIRE(round != nullptr);
  // By hand: 2 · (20 + 60) mm.
  CHECK(round->length == mm(160));
  CHECK(round->per_pouch == 1);
  CHECK(round->stitch == "301");
  CHECK(uncounted_seams(pouch) == std::vector<std::string>{"label"});
}

TEST_CASE("a flap is hemmed along both sides") {
  pouch::Pouch pouch = pouch_of(sewn_foldover());
  pouch::Construction& made = pouch.request.construction;
  made.operations.push_back(test::operation("hem-flap", pouch::does::Hem{*made.flap_span}));
  const auto seams = seams_of(pouch, test::thread_rules());
  const Seam* sides = seam_of(pouch, seams, "hem-flap");
  REQUIRE(sides != nullptr);
  // The hand-worked pouch's flap is 70 mm (support/requests.h).
  CHECK(sides->length == mm(70));
  CHECK(sides->per_pouch == 2);
  CHECK(sides->stitch == "301");
}

TEST_CASE("an overedge reaches as far as machines sew it; nothing is known of other stitches") {
  const ThreadRules rules = test::thread_rules();
  // Machine manuals: 2.5 to 5 mm on home machines.
  CHECK(least_reach(*rules.stitch("504")) == Length::nm(2'500'000));
  CHECK_FALSE(least_reach(*rules.stitch("301")).has_value());
  Stitch unknown = *rules.stitch("504");
  unknown.least_width.reset();
  CHECK_FALSE(least_reach(unknown).has_value());
}

TEST_CASE("thread is ratio times seam, chains between pieces and back-tacks, and waste") {
  ThreadRules rules = test::thread_rules();
  const std::vector<Seam> chained = {{0, "504", mm(150), {}, 2, false}};
  const auto needs = thread_needs(chained, 10, rules);
  REQUIRE(needs.size() == 1);
  CHECK(needs[0].seam_metres == doctest::Approx(3));
  // By hand: (20 · 150 + 21 · 25) mm · 14 (Carr & Latham, quoted in course notes) · 1.15.
  CHECK(needs[0].metres == doctest::Approx(3.525 * 14 * 1.15));
  const std::vector<Seam> locked = {{0, "301", mm(150), {}, 2, true}};
  // By hand: 20 · (150 + 4 · 10) mm, · 2.5 (the same), · 1.15: a lockstitch leaves no chain.
  CHECK(thread_needs(locked, 10, rules)[0].metres == doctest::Approx(3.8 * 2.5 * 1.15));
}

TEST_CASE("a chain stitch's thread is divided by needle and looper as measured") {
  // Published measurement: 15 cm of 401 took 19.5 cm of needle and 62.0 cm of looper thread.
  const auto needs = thread_needs({{0, "401", mm(1000), {}, 1, false}}, 100, test::thread_rules());
  REQUIRE(needs[0].parts.size() == 2);
  CHECK(needs[0].parts[0].part == "needle");
  CHECK(needs[0].parts[0].metres / needs[0].parts[1].metres == doctest::Approx(19.5 / 62.0));
  CHECK(needs[0].parts[0].metres + needs[0].parts[1].metres == doctest::Approx(needs[0].metres));
}

TEST_CASE("packages are enough for every thread at once") {
  const ThreadRules rules = test::thread_rules();
  // A short seam still needs three cones for three threads.
  CHECK(thread_needs({{0, "504", mm(100), {}, 1, false}}, 1, rules)[0].packages == 3);
  // By hand: 2000 · 0.2 m and 2001 chains of 25 mm, · 14 · 1.15 = 7245.4 m; cones of 2500 m: three
  // would do for one thread, for three that divide it in any way two more.
  const auto many = thread_needs({{0, "504", mm(200), {}, 1, false}}, 2000, rules);
  CHECK(many[0].metres == doctest::Approx(450.025 * 14 * 1.15));
  CHECK(many[0].packages == 5);
  // By hand: 69 m · 2.5 · 1.15 = 198.4 m: a spool of 200 m, its bobbins wound off it; 70 m take two.
  CHECK(thread_needs({{0, "301", mm(230), {}, 1, false}}, 300, rules)[0].packages == 1);
  CHECK(thread_needs({{0, "301", mm(230), {}, 1, false}}, 305, rules)[0].packages == 2);
}

TEST_CASE("stitches that are sewn one after the other share the packages on their machine") {
  ThreadRules rules = test::thread_rules();
  Stitch four = *rules.stitch("504");
  four.code = "512";
  four.ratio = 18;
  four.threads = 4;
  rules.stitches.push_back(four);
  // A serger holds four cones, whichever of its stitches it sews.
  const std::vector<Seam> serged = {{0, "504", mm(200), {}, 2, false},
                                    {1, "512", mm(150), {}, 2, false}};
  auto bought = packages_needed(thread_needs(serged, 20, rules), rules);
  REQUIRE(bought.size() == 1);
  CHECK(bought[0].package.name == "cone");
  CHECK(bought[0].count == 4);
  CHECK(bought[0].threads == 4);
  // Straight stitch and zigzag are sewn on one machine, from one spool.
  const std::vector<Seam> sewn = {{0, "301", mm(200), {}, 2, false},
                                  {1, "304", mm(20), {}, 4, false}};
  bought = packages_needed(thread_needs(sewn, 5, rules), rules);
  REQUIRE(bought.size() == 1);
  CHECK(bought[0].count == 1);
  CHECK(bought[0].metres < 200);
}

TEST_CASE("thick layers ask for as many packages as geometry says, the amount stays the table's") {
  const ThreadRules rules = test::thread_rules();
  // By hand: 3 + 4 · (5 + 9) / 2.54 = 25.05 m a metre against 16.1; 2000 · 0.2 m and 2001 chains
  // are 450.025 m: 11272 m, so 5 + 2 cones.
  const auto thick = thread_needs({{0, "504", mm(200), mm(9), 1, false}}, 2000, rules);
  CHECK(thick[0].metres == doctest::Approx(450.025 * 14 * 1.15));
  CHECK(thick[0].packages == 7);
}

TEST_CASE("geometry is asked only where its lengths are known") {
  const ThreadRules rules = test::thread_rules();
  CHECK(ratio_by_geometry(*rules.stitch("504"), mm(1)).has_value());
  CHECK(ratio_by_geometry(*rules.stitch("301"), mm(1)) > 2);
  CHECK_FALSE(ratio_by_geometry(*rules.stitch("401"), mm(1)).has_value());
  CHECK(rules.stitch("999") == nullptr);
}

TEST_CASE("whether there are tails to secure follows from the stitches that close the pouch") {
  // ISO 4915: 504 an overedge, 304 a zigzag, 301 a lockstitch; which run on as a chain is common
  // practice, no source.
  pouch::Request request = sewn_foldover();
  StatedStitches stated;
  CHECK(leaves_chains(request, stated, test::thread_rules()));
  stated.sides = base::Placed<std::string>{"zigzag", {}};
  CHECK_FALSE(leaves_chains(request, stated, test::thread_rules()));
  request.passes.resize(2);
  request.passes[0].stitch.value = "301";
  request.passes[1].stitch.value = "304";
  CHECK_FALSE(leaves_chains(request, {}, test::thread_rules()));
  request.passes[1].stitch.value = "504";
  CHECK(leaves_chains(request, {}, test::thread_rules()));
}

TEST_CASE("the rows along a strap that is made up are counted") {
  pouch::Request request = sewn_foldover();
  auto& construction = request.construction;
  pouch::PieceRule piece;
  piece.name = "strap";
  piece.width = {{{"lip_drop", 6, 1}}};
  piece.length = {{{"lip_drop", 9, 1}}};
  piece.count = 2;
  piece.how = "Fold it in four and stitch along both edges.";
  piece.rows = 2;
  construction.pieces = {piece};
  pouch::Attachment strap;
  strap.name = "strap";
  strap.kind = pouch::AttachmentKind::strap;
  strap.made_of = 0;
  strap.span = *construction.flap_span;
  strap.distance = {{{"lip_drop", 2, 1}}};
  strap.extent = {{{"lip_drop", 1, 1}}};
  strap.width = {{{"lip_drop", 2, 1}}};
  construction.attachments = {strap};
  construction.operations.insert(construction.operations.begin(),
                                 {"strap-on", {}, pouch::does::Attach{0, {}}});
  const pouch::Pouch made = pouch_of(request);
  Length rows;
  for (const Seam& seam : seams_of(made, test::thread_rules())) {
    if (made.operation(seam.operation).id == "strap-on" && seam.per_pouch == 4) {
      rows = seam.length;
      CHECK(seam.stitch == "301");
    }
  }
  // By hand: nine times 10 mm, two rows on each of two straps.
  CHECK(rows == mm(90));
  CHECK(uncounted_seams(made).empty());
  request.construction.pieces[0].rows = 0;
  CHECK(uncounted_seams(pouch_of(request)) == std::vector<std::string>{"strap"});
}
