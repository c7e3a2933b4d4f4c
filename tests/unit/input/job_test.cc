// Job files: a sample with every table read whole, defaults and their order, faults.
#include "input/job.h"

#include "support.h"

using namespace pouchwright;
using namespace pouchwright::input;
using base::Length;
using base::Unit;
using test::faults;
using test::fine;
using test::Lines;
using test::set;
using test::told;

namespace {

Length mm(std::int64_t count) { return Length::whole_mm(count); }

Length size(const JobSettings& settings, const char* name) {
  const auto found = settings.request.sizes.find(name);
  REQUIRE(found != settings.request.sizes.end());
  return found->second.value;
}

bool has_size(const JobSettings& settings, const char* name) {
  return settings.request.sizes.contains(name);
}

const std::string kFoldover = "construction = \"foldover\"\n";

// A job with every table, as a person would write it.
const char* const kSample = R"(construction = "foldover"      # a name in patterns/, or a path
title = "Carry pouch, three liners"
units = "mm"                   # mm or in: how lengths print; a bare number is read in these
ruler = "1 mm"                 # cut sizes are rounded up to this

[pouch]                        # finished sizes; what [liners] decides may be left out
width = "190 mm"               # seam line to seam line
depth = "165 mm"               # bottom to flap fold
flap = "70 mm"
lip_drop = "10 mm"
seam_allowance = "7 mm"
needle_reach = "8 mm"          # left out: the seam allowance
seal_width = "15 mm"
min_clear_seal = "1 mm"        # what must be left in the worst case
start_finish = "overedge"      # none | overedge | turned, or { finish = "overedge", takes = "0 mm", needle_reach = "5 mm" }
end_finish = "overedge"
cards = "inside"               # inside | on_top | both

[tolerance]
cut = "1 mm"
place = "2 mm"
sew = "2 mm"

[liners]
count = 3
width = "80 mm"                # one liner, folded as it is carried
length = "120 mm"
thickness = "9 mm"
columns = 1                    # left out: whichever needs least cloth
ease = "10 mm"
overlap = "30 mm"

[materials]
laminate = "pul-150"           # a name in shared/materials.toml, or a table with the same fields
outer = { width = "110 cm", selvedge = "1 cm", thickness = "0.25 mm", turn = "along", frays = true }

[batch]
pouches = 40
helpers = 4

[iron]                         # what the trial on scraps showed; left out: the packet asks for the trial
dots = 2
steam = true
seconds = 8

[lay]
cuts = "straight"              # or "free"
table_length = "1.5 m"
plies = 1                      # or "folded 2", "folded 4" (lengthwise), or a number of stacked layers

[[lay.remnant]]
material = "laminate"
width = "60 cm"
length = "45 cm"

[[lay.by_product]]
name = "tag loop"
width = "25 mm"
length = "80 mm"
count = 40

[paper]
size = "A4"                    # a name in shared/papers.toml, or "210 x 297 mm"
margin = "10 mm"
overlap = "10 mm"
printed_square = "50 x 50 mm"  # what the 50 mm check square measured: across x down
half = false                   # draw half the panel, to lay on a fold of the cloth
)";

}  // namespace

TEST_CASE("the sample job's pouch is read whole") {
  const auto job = fine(kSample);
  const auto& request = job.request;
  CHECK(request.construction.name == "foldover");
  CHECK(job.construction_place == base::Place{"job.toml", 1, 16, 26});
  CHECK(request.title == "Carry pouch, three liners");
  CHECK(job.style == base::LengthStyle{Unit::mm, mm(1)});
  CHECK(request.cut_step == mm(1));
  CHECK(request.place == base::Place{"job.toml", 0, 0, 0});
  CHECK(request.sizes.size() == 8);
  CHECK(size(job, "width") == mm(190));
  CHECK(request.sizes.at("width").stated == base::Place{"job.toml", 7, 9, 17});
  CHECK(size(job, "depth") == mm(165));
  CHECK(size(job, "flap") == mm(70));
  CHECK(size(job, "lip_drop") == mm(10));
  CHECK(size(job, "seam_allowance") == mm(7));
  CHECK(size(job, "needle_reach") == mm(8));
  CHECK(size(job, "seal_width") == mm(15));
  CHECK(size(job, "min_clear_seal") == mm(1));
  CHECK(request.start_finish.kind == pouch::FinishKind::overedge);
  CHECK(request.start_finish.takes == Length());
  CHECK(request.start_finish.needle_reach == mm(5));
  REQUIRE(request.start_finish.stated);
  CHECK(request.start_finish.stated->line == 15);
  CHECK(request.end_finish.kind == pouch::FinishKind::overedge);
  CHECK(request.cards == pouch::CardUse::inside);
  CHECK_FALSE(request.turn_of_cloth);
  CHECK_FALSE(request.panel);
  CHECK(request.tolerance.cut.value == mm(1));
  CHECK(request.tolerance.place.value == mm(2));
  CHECK(request.tolerance.sew.value == mm(2));
  CHECK(request.tolerance.sew.place == base::Place{"job.toml", 22, 7, 13});
}

TEST_CASE("the sample job's liners and materials are read whole") {
  const auto job = fine(kSample);
  const auto& liners = job.request.liners;
  REQUIRE(liners);
  CHECK(liners->count->value == 3);
  CHECK(liners->count->place == base::Place{"job.toml", 25, 9, 10});
  CHECK(liners->width.value == mm(80));
  CHECK(liners->length.value == mm(120));
  CHECK(liners->thickness.value == mm(9));
  CHECK(liners->columns->value == 1);
  CHECK(liners->ease.value == mm(10));
  CHECK(liners->overlap.value == mm(30));
  CHECK(job.request.laminate.name == "pul-150");
  CHECK(job.request.laminate.width == mm(1500));
  CHECK(job.request.laminate.place.line == 34);
  const auto& outer = job.request.outer;
  REQUIRE(outer);
  CHECK(outer->name == "outer");
  CHECK(outer->kind == pouch::MaterialKind::outer);
  CHECK(outer->width == mm(1100));
  CHECK(outer->selvedge == mm(10));
  CHECK(outer->usable_width() == mm(1080));
  CHECK(outer->thickness == Length::nm(250'000));
  CHECK(outer->turn == pouch::Turn::along);
  CHECK(outer->frays);
}

TEST_CASE("the sample job's batch, iron, lay and paper are read whole") {
  const auto job = fine(kSample);
  CHECK(job.batch.pouches.value == 40);
  CHECK(job.batch.helpers.value == 4);
  CHECK(job.batch.machines.value == 1);
  CHECK(job.batch.irons.value == 1);
  REQUIRE(job.iron);
  CHECK(job.iron->dots == 2);
  CHECK(job.iron->steam);
  CHECK(job.iron->seconds == 8);
  CHECK(job.lay.cuts == lay::Cuts::straight);
  CHECK(job.lay.table_length->value == mm(1500));
  CHECK(job.lay.plies == lay::Plies{lay::Plies::Way::single, 1});
  REQUIRE(job.lay.remnants.size() == 1);
  CHECK(job.lay.remnants[0].material == "laminate");
  CHECK(job.lay.remnants[0].width == mm(600));
  CHECK(job.lay.remnants[0].length == mm(450));
  REQUIRE(job.lay.by_products.size() == 1);
  CHECK(job.lay.by_products[0].name == "tag loop");
  CHECK(job.lay.by_products[0].width == mm(25));
  CHECK(job.lay.by_products[0].length == mm(80));
  CHECK(job.lay.by_products[0].count == 40);
  CHECK(job.paper.name == "A4");
  CHECK(job.paper.width == mm(210));
  CHECK(job.paper.height == mm(297));
  CHECK(job.paper.margins == paper::Margins{mm(10), mm(10), mm(10), mm(10)});
  CHECK(job.paper.overlap == mm(10));
  CHECK(job.paper.printed_across == mm(50));
  CHECK(job.paper.printed_down == mm(50));
  CHECK(job.pattern == pouch::Pattern::whole);
}

TEST_CASE("a job of one line has every default") {
  const auto job = fine(kFoldover);
  CHECK(size(job, "width") == mm(190));
  CHECK(size(job, "depth") == mm(150));
  CHECK(size(job, "seal_width") == mm(16));
  CHECK(size(job, "needle_reach") == mm(7));  // the seam allowance
  CHECK(size(job, "min_clear_seal") == mm(1));
  CHECK_FALSE(job.request.sizes.at("width").stated);
  CHECK(job.style == base::LengthStyle{Unit::mm, mm(1)});
  CHECK(job.request.title.empty());
  CHECK(job.request.start_finish.kind == pouch::FinishKind::none);
  CHECK(job.request.cards == pouch::CardUse::inside);
  CHECK(job.request.tolerance.sum() == mm(5));
  CHECK_FALSE(job.request.liners);
  CHECK(job.request.laminate.name == "pul-150");
  CHECK_FALSE(job.request.outer);
  CHECK(job.paper.name == "A4");
  CHECK(job.paper.margins == paper::Margins{mm(10), mm(10), mm(10), mm(10)});
  CHECK(job.paper.overlap == mm(10));
  CHECK(job.paper.printed_across == mm(50));
  CHECK(job.batch.pouches.value == 1);
  CHECK_FALSE(job.iron);
  CHECK_FALSE(job.lay.table_length);
  CHECK(job.lay.shop_step == mm(100));
}

TEST_CASE(
    "a value comes from the options, then the job, then what derives, then the construction") {
  const std::string own = kFoldover + "[pouch]\nwidth = 200\nseam_allowance = 9\n";
  CHECK(size(fine(own), "width") == mm(200));
  CHECK(size(fine(own, {set("pouch.width", "210mm")}), "width") == mm(210));
  CHECK(size(fine(own, {set("pouch.width", "210mm"), set("pouch.width", "220mm")}), "width") ==
        mm(220));
  CHECK(size(fine(own), "needle_reach") == mm(9));
  CHECK(size(fine(own, {set("pouch.seam_allowance", "8 mm")}), "needle_reach") == mm(8));
  const std::string liners = own + "[liners]\ncount = 3\nwidth = 80\nlength = 120\nthickness = 9\n";
  CHECK(size(fine(liners), "width") == mm(200));
  CHECK_FALSE(has_size(fine(liners), "depth"));
  CHECK_FALSE(has_size(fine(liners), "flap"));
  CHECK(size(fine(liners), "lip_drop") == mm(10));
}

TEST_CASE("liners without a count derive no sizes") {
  const auto job = fine(kFoldover + "[liners]\nwidth = 80\nlength = 120\nthickness = 9\n");
  CHECK(size(job, "depth") == mm(150));
  CHECK_FALSE(job.request.liners->count);
}

TEST_CASE("a cut panel derives width, depth and flap, unless the job has the flap") {
  const auto job = fine(kFoldover + "[panel]\nwidth = \"8 1/2 in\"\nlength = \"15 in\"\n");
  REQUIRE(job.request.panel);
  CHECK(job.request.panel->width.value == Length::inches(17, 2));
  CHECK(job.request.panel->length.value == Length::inches(15));
  CHECK(job.request.panel->place.line == 2);
  for (const char* name : {"width", "depth", "flap"}) CHECK_FALSE(has_size(job, name));
  const auto flap = fine(kFoldover + "[pouch]\nflap = 60\n[panel]\nwidth = 200\nlength = 400\n");
  CHECK(size(flap, "flap") == mm(60));
}

TEST_CASE("a cut panel beside a width or depth is an error at the size") {
  CHECK(faults("[pouch]\nwidth = 190\ndepth = 150\n[panel]\nwidth = 200\nlength = 400\n") ==
        Lines{"3:1 panel-and-size size=pouch.width", "4:1 panel-and-size size=pouch.depth"});
  CHECK(faults("[panel]\nwidth = 200\nlength = 400\n", {set("pouch.width", "190mm")}) ==
        Lines{"--set pouch.width=190mm:1:1 panel-and-size size=pouch.width"});
  CHECK(faults("[panel]\nwidth = 200\n") == Lines{"2:1 key-missing key=panel.length"});
  // A panel with a fault of its own stands beside the size all the same.
  CHECK(faults("[panel]\nwidth = 200\n[pouch]\ndepth = 150\n") ==
        Lines{"2:1 key-missing key=panel.length", "5:1 panel-and-size size=pouch.depth"});
}

TEST_CASE("bare numbers are in the job's units, wherever the line with the units stands") {
  const std::string pouch = "pouch.width = 7.5\npouch.flap = \"2 1/2\"\npaper.margin = 0.5\n";
  const auto before = fine(kFoldover + "units = \"in\"\n" + pouch);
  const auto after = fine(kFoldover + pouch + "units = \"in\"\n");
  for (const auto* one : {&before, &after}) {
    CHECK(size(*one, "width") == Length::inches(15, 2));
    CHECK(size(*one, "flap") == Length::inches(5, 2));
    CHECK(one->paper.margins.left == Length::inches(1, 2));
    CHECK(one->style == base::LengthStyle{Unit::inch, Length::inches(1, 8)});
    CHECK(size(*one, "depth") == Length::inches(6));  // the construction's own for inches
  }
  // In millimetres they are read as well, though hardly meant.
  const auto small = test::job(kFoldover + pouch);
  REQUIRE(small.settings);
  CHECK(size(*small.settings, "width") == Length::nm(7'500'000));
  CHECK(size(fine(kFoldover + pouch, {set("units", "in")}), "width") == Length::inches(15, 2));
}

TEST_CASE("the printed units change neither bare numbers nor the step of cut sizes") {
  const auto job = fine(kFoldover + "[pouch]\nwidth = 200\n", {}, Unit::inch);
  CHECK(size(job, "width") == mm(200));
  CHECK(job.style == base::default_style(Unit::inch));
  CHECK(job.request.cut_step == mm(1));
  const auto inches = fine(kFoldover + "units = \"in\"\n", {}, Unit::mm);
  CHECK(inches.style == base::default_style(Unit::mm));
  CHECK(inches.request.cut_step == Length::inches(1, 8));
  const auto stated = fine(kFoldover + "ruler = \"1/4 in\"\n");
  CHECK(stated.request.cut_step == Length::inches(1, 4));
  CHECK(stated.style.ruler == Length::inches(1, 4));
}

TEST_CASE("a decimal number is exact") {
  CHECK(size(fine(kFoldover + "[pouch]\nwidth = 212.7\n"), "width") == Length::nm(212'700'000));
  CHECK(size(fine(kFoldover, {set("pouch.width", "212.7")}), "width") == Length::nm(212'700'000));
}

TEST_CASE("a job in inches that says nothing lies on eighths") {
  const JobSettings job = fine(
      "construction = \"foldover\"\nunits = \"in\"\n"
      "[pouch]\nstart_finish = \"overedge\"\nend_finish = \"turned\"\n"
      "[liners]\nwidth = 6\nlength = 4\nthickness = 0.25\n");
  CHECK(job.request.units == Unit::inch);
  CHECK(size(job, "width") == Length::inches(15, 2));
  CHECK(size(job, "lip_drop") == Length::inches(1, 2));
  CHECK(size(job, "seam_allowance") == Length::inches(1, 4));
  CHECK(size(job, "needle_reach") == Length::inches(1, 4));
  CHECK(size(job, "seal_width") == Length::inches(5, 8));
  CHECK(size(job, "min_clear_seal") == Length::inches(1, 32));
  CHECK(job.request.start_finish.needle_reach == Length::inches(3, 16));
  CHECK(job.request.end_finish.takes == Length::inches(3, 8));
  CHECK(job.request.tolerance.cut.value == Length::inches(1, 32));
  CHECK(job.request.tolerance.sum() == Length::inches(5, 32));
  CHECK(job.request.liners->ease.value == Length::inches(3, 8));
  CHECK(job.request.liners->overlap.value == Length::inches(5, 4));
  CHECK(job.paper.margins.left == Length::inches(3, 8));
  CHECK(job.lay.shop_step == Length::inches(9, 2));
  // Printing in inches changes none of them.
  const JobSettings printed = fine("construction = \"foldover\"\n", {}, Unit::inch);
  CHECK(size(printed, "lip_drop") == mm(10));
}

TEST_CASE("an end's finish takes and reaches what its kind does, unless the job says") {
  const auto job = fine(kFoldover +
                        "[pouch]\nstart_finish = \"turned\"\nend_finish = { finish = "
                        "\"overedge\", takes = \"3 mm\" }\n");
  CHECK(job.request.start_finish.kind == pouch::FinishKind::turned);
  CHECK(job.request.start_finish.takes == mm(10));
  CHECK(job.request.start_finish.needle_reach == mm(18));
  CHECK(job.request.end_finish.takes == mm(3));
  CHECK(job.request.end_finish.needle_reach == mm(8));
  const auto stated = fine(kFoldover +
                           "[pouch]\nstart_finish = { finish = \"turned\", takes = \"12 mm\", "
                           "needle_reach = \"11 mm\" }\nend_finish = \"none\"\n");
  CHECK(stated.request.start_finish.takes == mm(12));
  CHECK(stated.request.start_finish.needle_reach == mm(11));
  CHECK(stated.request.end_finish.kind == pouch::FinishKind::none);
  CHECK(stated.request.end_finish.takes == Length());
  // A hem narrower than half its stitching's distance: the needle never reaches beyond the edge.
  const auto narrow =
      fine(kFoldover + "[pouch]\nend_finish = { finish = \"turned\", takes = 0 }\n");
  CHECK(narrow.request.end_finish.needle_reach == Length());
}

TEST_CASE("a zigzag takes nothing and reaches as far as an overedge, whatever people call that") {
  const std::string ends = "[pouch]\nstart_finish = \"zigzag\"\nend_finish = \"serge\"\n";
  const auto job = fine(kFoldover + ends);
  CHECK(job.request.start_finish.kind == pouch::FinishKind::zigzag);
  CHECK(job.request.start_finish.takes == Length());
  // Overedges of home machines are up to 5 mm wide: machine manuals. In inches, 3/16.
  CHECK(job.request.start_finish.needle_reach == mm(5));
  CHECK(job.request.end_finish.kind == pouch::FinishKind::overedge);
  const auto inches = fine("units = \"in\"\n" + kFoldover + ends);
  CHECK(inches.request.start_finish.needle_reach == Length::inches(3, 16));
  for (const char* word : {"overlock", "serger"}) {
    const auto said = fine(kFoldover + "[pouch]\nstart_finish = { finish = \"" + word + "\" }\n");
    CHECK(said.request.start_finish.kind == pouch::FinishKind::overedge);
  }
}

TEST_CASE("a print that stands upright runs along its cloth, unless the job says across") {
  const auto turn_of = [](const std::string& fields) {
    return fine(kFoldover + "[materials]\nouter = { width = \"110 cm\", upright = true" + fields +
                " }\n")
        .request.outer->turn;
  };
  CHECK(turn_of("") == base::Turn::along);
  CHECK(turn_of(", turn = \"across\"") == base::Turn::across);
}

TEST_CASE("a tag and a dryer are operations of the job, in whatever construction") {
  const auto plain = fine(kFoldover).request.construction.operations;
  const auto job =
      fine(kFoldover +
           "[batch]\npouches = 7\n[pouch]\ndryer = true\n[[lay.by_product]]\nname = \"label\"\n"
           "width = 25\nlength = 60\nuse = \"tag\"\n");
  const auto& made = job.request.construction.operations;
  REQUIRE(made.size() == plain.size() + 2);
  CHECK(made.back().as<pouch::does::Dry>() != nullptr);
  std::size_t tag = 0;
  while (made[tag].as<pouch::does::Tag>() == nullptr) ++tag;
  REQUIRE(made[tag + 1].as<pouch::does::Sew>() != nullptr);
  CHECK(made[tag + 1].needs.back() == tag);
  // What needed the seam still does.
  for (std::size_t i = tag + 1; i + 1 < made.size(); ++i) {
    CHECK(made[i].id == plain[i - 1].id);
    for (std::size_t k = 0; k < plain[i - 1].needs.size(); ++k) {
      CHECK(made[made[i].needs[k]].id == plain[plain[i - 1].needs[k]].id);
    }
  }
  // One a pouch, where no count is stated.
  CHECK(job.lay.by_products.front().count == 7);
  CHECK(job.request.tag->count == 7);
}

TEST_CASE("what is wrong with a finish is told") {
  CHECK(faults("[pouch]\nstart_finish = \"hem\"\nend_finish = { takes = \"-1 mm\", kind = 3 }\n") ==
        Lines{"3:16 not-a-choice key=pouch.start_finish text=hem",
              "4:14 key-missing key=pouch.end_finish.finish",
              "4:24 length-negative key=pouch.end_finish.takes text=-1 mm",
              "4:33 key-unknown key=pouch.end_finish.kind"});
  CHECK(faults("[pouch]\nstart_finish = 5\n") ==
        Lines{"3:16 wrong-kind-text key=pouch.start_finish"});
}

TEST_CASE("a construction's own size is accepted by that construction only") {
  const auto job = fine("construction = \"gusset\"\n[pouch]\ngusset = 60\n");
  CHECK(size(job, "gusset") == mm(60));
  CHECK(faults("[pouch]\ngusset = 60\n") == Lines{"3:1 key-unknown key=pouch.gusset"});
}

TEST_CASE("a job decides on the turn of cloth, else its construction") {
  CHECK(fine("construction = \"rolltop\"\n").request.turn_of_cloth);
  CHECK_FALSE(
      fine("construction = \"rolltop\"\n[pouch]\nturn_of_cloth = false\n").request.turn_of_cloth);
  CHECK_FALSE(fine("construction = \"foldover\"\n").request.turn_of_cloth);
}

TEST_CASE("all faults of a job are told at once, in the order of the file") {
  CHECK(faults("titel = \"x\"\nunits = \"ft\"\n[pouch]\nwidth = \"19x\"\ndepth = 0\nflap = nan\n"
               "lip_drop = -1\nseal_width = 1e300\ncards = \"under\"\nturn_of_cloth = 1\n"
               "[paper]\nsize = \"B99\"\nmargin = inf\n") ==
        Lines{"2:1 key-unknown key=titel", "3:9 not-a-choice key=units text=ft",
              "5:12 length-unknown-unit text=19x key=pouch.width",
              "6:9 length-zero key=pouch.depth text=0",
              "7:8 length-not-a-number text=nan key=pouch.flap",
              "8:12 length-negative key=pouch.lip_drop text=-1",
              "9:15 length-not-a-number text=1e300 key=pouch.seal_width",
              "10:9 not-a-choice key=pouch.cards text=under",
              "11:17 wrong-kind-truth key=pouch.turn_of_cloth", "13:8 paper-unknown text=B99",
              "14:10 length-not-a-number text=inf key=paper.margin"});
}

TEST_CASE("faults of the usual sizes are told beside an unknown construction") {
  const auto read = test::job("construction = \"foldovr\"\n[pouch]\nwidth = \"19x\"\n");
  CHECK(told(read.diagnostics) == Lines{"1:16 construction-unknown text=foldovr",
                                        "3:12 length-unknown-unit text=19x key=pouch.width"});
  CHECK(test::first_hints(read.diagnostics) == Lines{"did-you-mean word=foldover"});
}

TEST_CASE("an override's fault is at its own place") {
  CHECK(faults("", {set("pouch.width", "19x")}) ==
        Lines{"--set pouch.width=19x:1:17 length-unknown-unit text=19x key=pouch.width"});
  CHECK(faults("", {set("pouch.widht", "190mm")}) ==
        Lines{"--set pouch.widht=190mm:1:1 key-unknown key=pouch.widht"});
  CHECK(
      faults("", {set("batch.pouches", "0")}) ==
      Lines{"--set batch.pouches=0:1:17 out-of-range key=batch.pouches text=0 least=1 most=2000"});
  CHECK(faults("", {set("pouch", "5")}) == Lines{"--set pouch=5:1:9 wrong-kind-table key=pouch"});
  CHECK(faults("", {set("pouch.start_finish.takes", "2mm")}) ==
        Lines{"--set pouch.start_finish.takes=2mm:1:1 key-missing key=pouch.start_finish.finish"});
  CHECK(faults("[[lay.remnant]]\nmaterial = \"outer\"\nwidth = 1\nlength = 1\n",
               {set("lay.remnant.width", "2mm")}) ==
        Lines{"--set lay.remnant.width=2mm:1:1 set-in-array key=remnant"});
}

TEST_CASE("an override may mend what the file has wrong") {
  CHECK(size(fine(kFoldover + "[pouch]\nwidth = \"19x\"\n", {set("pouch.width", "190mm")}),
             "width") == mm(190));
  CHECK(fine("title = \"x\"\n", {set("construction", "gusset")}).request.construction.name ==
        "gusset");
}

TEST_CASE("the liners of the command line need a job that describes one") {
  const Override liners{"--liners 5", "liners.count", "5"};
  const auto job =
      fine(kFoldover + "[liners]\ncount = 3\nwidth = 80\nlength = 120\nthickness = 9\n", {liners});
  CHECK(job.request.liners->count->value == 5);
  CHECK(job.request.liners->count->place.file == "--liners 5");
  CHECK(faults("", {liners}) == Lines{"--liners 5:0:0 liners-not-described"});
  CHECK(faults("[pouch]\nwidth = \"19x\"\n", {liners}) ==
        Lines{"3:12 length-unknown-unit text=19x key=pouch.width",
              "--liners 5:0:0 liners-not-described"});
  const Override width = set("liners.width", "80mm");
  CHECK(fine(kFoldover + "[liners]\nlength = 120\nthickness = 9\n", {liners, width})
            .request.liners->count->value == 5);
  CHECK(faults("[liners]\nwidth = 80\nlength = 120\nthickness = 9\n",
               {{"--liners 0", "liners.count", "0"}}) ==
        Lines{"--liners 0:1:16 out-of-range key=liners.count text=0 least=1 most=1000"});
}

TEST_CASE("liners say how large one is") {
  CHECK(faults("[liners]\ncount = 3\nwidth = 0\n") ==
        Lines{"2:1 key-missing key=liners.length", "2:1 key-missing key=liners.thickness",
              "4:9 length-zero key=liners.width text=0"});
  CHECK(faults("[liners]\ncount = 1.5\nwidth = 80\nlength = 120\nthickness = 9\n") ==
        Lines{"3:9 wrong-kind-whole key=liners.count"});
  const auto zero = fine(
      kFoldover + "[liners]\nwidth = 80\nlength = 120\nthickness = 9\nease = 0\noverlap = 0\n");
  CHECK(zero.request.liners->ease.value == Length());
  CHECK(zero.request.liners->overlap.value == Length());
}

TEST_CASE("a construction is a name or a path that ends in .toml") {
  std::string own = test::source_file("patterns/gusset.toml").text;
  const auto known = test::library({{"styles/own.toml", own}});
  const auto read = test::job("construction = \"styles/own.toml\"\n", {}, std::nullopt, known);
  CHECK(told(read.diagnostics) == Lines{});
  REQUIRE(read.settings);
  CHECK(read.settings->request.construction.name == "own");
  const auto fault = [&](const std::string& name) {
    return told(
        test::job("construction = \"" + name + "\"\n", {}, std::nullopt, known).diagnostics);
  };
  CHECK(fault("styles/own") == Lines{"1:16 path-not-toml text=styles/own"});
  CHECK(fault("styles/none.toml") == Lines{"1:16 construction-unknown text=styles/none.toml"});
  CHECK(fault("") == Lines{"1:16 construction-unknown text="});
  CHECK(told(test::job("title = \"x\"\n").diagnostics) ==
        Lines{"0:0 key-missing key=construction"});
  CHECK(told(test::job("construction = 5\n").diagnostics) ==
        Lines{"1:16 wrong-kind-text key=construction"});
}

TEST_CASE("a fault in a construction's file is told there and then at the job") {
  const auto known = test::library({{"x/bad.toml", "flap = \"loose\"\n"}});
  const auto read = test::job("construction = \"x/bad.toml\"\n", {}, std::nullopt, known);
  const Lines lines = told(read.diagnostics);
  REQUIRE(lines.size() == 7);
  CHECK(std::count(lines.begin(), lines.end(), "1:16 construction-unusable construction=bad") == 1);
  CHECK(std::count(lines.begin(), lines.end(), "x/bad.toml:1:8 not-a-choice key=flap text=loose") ==
        1);
}

TEST_CASE("a material is a name, a path or a table") {
  const auto known = test::library({{"m/own.toml", "width = \"90 cm\"\nfrays = true\n"},
                                    {"m/bad.toml", "widht = 1\n"},
                                    {"m/other.toml", "kind = \"laminate\"\nwidth = 1500\n"}});
  const auto read = [&](const std::string& lines) {
    return test::job(kFoldover + "[materials]\n" + lines, {}, std::nullopt, known);
  };
  const auto own = read("outer = \"m/own.toml\"\n");
  CHECK(told(own.diagnostics) == Lines{});
  CHECK(own.settings->request.outer->width == mm(900));
  const auto table = read("laminate = { width = 1400, film = \"both\" }\nouter = \"cotton-140\"\n");
  CHECK(told(table.diagnostics) == Lines{});
  CHECK(table.settings->request.laminate.name == "laminate");
  CHECK(table.settings->request.laminate.film == pouch::FilmFaces::both);
  CHECK(table.settings->request.outer->name == "cotton-140");
  CHECK(told(read("laminate = \"pul-15\"\nouter = 5\nlining = \"x\"\n").diagnostics) ==
        Lines{"3:12 material-unknown text=pul-15", "4:9 wrong-kind-material key=materials.outer",
              "5:10 material-unknown text=x"});
  CHECK(told(read("laminate = \"cotton-110\"\nouter = \"pul-150\"\n").diagnostics) ==
        Lines{"3:12 material-no-laminate name=cotton-110", "4:9 material-no-outer name=pul-150"});
  CHECK(told(read("outer = \"m/bad.toml\"\n").diagnostics) ==
        Lines{"3:9 material-unusable text=m/bad.toml", "m/bad.toml:0:0 key-missing key=width",
              "m/bad.toml:1:1 key-unknown key=widht"});
  CHECK(told(read("outer = \"m/other.toml\"\n").diagnostics) ==
        Lines{"3:9 material-unusable text=m/other.toml",
              "m/other.toml:1:8 material-no-outer name=outer"});
  CHECK(told(read("outer = { selvedge = 5 }\n").diagnostics) ==
        Lines{"3:9 key-missing key=materials.outer.width"});
  CHECK(told(read("outer = \"m/none.toml\"\n").diagnostics) ==
        Lines{"3:9 material-unknown text=m/none.toml"});
}

TEST_CASE("a materials file without the usual laminate is told of, where the job names none") {
  input::Library without = test::library();
  std::erase_if(without.materials,
                [](const pouch::Material& one) { return one.name == input::kLaminate; });
  const auto read = test::job("construction = \"foldover\"\n", {}, std::nullopt, without);
  CHECK_FALSE(read.settings);
  CHECK(test::told(read.diagnostics) == Lines{"0:0 material-unknown text=pul-150"});
}

TEST_CASE("liners decide the gusset, unless the job does") {
  const std::string liners =
      "construction = \"gusset\"\n[liners]\nwidth = 80\nlength = 120\nthickness = 9\n";
  CHECK(fine(liners).request.sizes.at("gusset").value == Length::whole_mm(50));
  CHECK_FALSE(fine(liners + "count = 3\n").request.sizes.contains("gusset"));
  CHECK(fine(liners + "count = 3\n[pouch]\ngusset = 40\n").request.sizes.at("gusset").value ==
        Length::whole_mm(40));
}

TEST_CASE("papers are named or measured, and held upright") {
  const auto letter = fine(kFoldover + "[paper]\nsize = \"letter\"\n").paper;
  CHECK(letter.name == "Letter");
  CHECK(letter.width == Length::inches(17, 2));
  const auto flat = fine(kFoldover + "[paper]\nsize = \"420 x 297 mm\"\n").paper;
  CHECK(flat.width == mm(297));
  CHECK(flat.height == mm(420));
  const auto sides = fine(kFoldover + "[paper.margin]\ntop = 5\nleft = 0\n").paper.margins;
  CHECK(sides == paper::Margins{mm(5), mm(10), mm(10), mm(0)});
  const auto square = fine(kFoldover + "[paper]\nprinted_square = \"49.5x50.2\"\nhalf = true\n");
  CHECK(square.paper.printed_across == Length::nm(49'500'000));
  CHECK(square.paper.printed_down == Length::nm(50'200'000));
  CHECK(square.pattern == pouch::Pattern::half);
  CHECK(faults("[paper]\nsize = \"A44\"\nprinted_square = \"50\"\nmargin = { inner = 5 }\n") ==
        Lines{"3:8 paper-unknown text=A44", "4:18 not-a-size key=paper.printed_square text=50",
              "5:12 key-unknown key=paper.margin.inner"});
}

TEST_CASE("plies are one, folded or stacked") {
  const auto plies = [](const std::string& written) {
    return fine(kFoldover + "[lay]\nplies = " + written + "\n").lay.plies;
  };
  CHECK(plies("1") == lay::Plies{lay::Plies::Way::single, 1});
  CHECK(plies("6") == lay::Plies{lay::Plies::Way::stacked, 6});
  CHECK(plies("\"folded 2\"") == lay::Plies{lay::Plies::Way::folded, 2});
  CHECK(plies("\"folded 4\"") == lay::Plies{lay::Plies::Way::folded, 4});
  CHECK(faults("[lay]\nplies = 0\n") ==
        Lines{"3:9 out-of-range key=lay.plies text=0 least=1 most=50"});
  CHECK(faults("[lay]\nplies = \"folded 3\"\n") == Lines{"3:9 not-plies text=folded 3"});
}

TEST_CASE("plies may differ by cloth") {
  const lay::Plies single{};
  const lay::Plies in_four{lay::Plies::Way::folded, 4};
  const auto job = fine(kFoldover + "[lay]\nplies = { laminate = \"folded 4\", outer = 1 }\n").lay;
  CHECK(job.plies_of("laminate") == in_four);
  CHECK(job.plies_of("outer") == single);
  CHECK(job.plies_of("lining") == single);
  const auto both = fine(kFoldover + "[lay]\nplies = \"folded 4\"\n").lay;
  CHECK(both.plies_of("laminate") == in_four);
  CHECK(both.plies_of("outer") == in_four);
  CHECK(fine(kFoldover, {set("lay.plies.outer", "6")}).lay.plies_of("outer") ==
        lay::Plies{lay::Plies::Way::stacked, 6});
  CHECK(faults("[lay]\nplies = { outer = \"folded 3\", felt = 2 }\n") ==
        Lines{"3:19 not-plies text=folded 3", "3:31 key-unknown key=lay.plies.felt"});
}

TEST_CASE("a bundle is the work table's unless stated, and 3 in 100 pieces are spoiled") {
  CHECK_FALSE(fine(kFoldover).batch.bundle);
  CHECK(fine(kFoldover).batch.spoiled == 0.03);
  const auto job = fine(kFoldover + "[batch]\nbundle = 8\nspoiled = 0\n");
  CHECK(job.batch.bundle->value == 8);
  CHECK(job.batch.spoiled == 0);
  CHECK(faults("[batch]\nbundle = 0\nspoiled = 0.6\n") ==
        Lines{"3:10 out-of-range key=batch.bundle text=0 least=1 most=2000",
              "4:11 out-of-range key=batch.spoiled text=0.6 least=0 most=0.5"});
}

TEST_CASE("shops with yards cut eighths") {
  // Common practice, no source.
  CHECK(fine("units = \"in\"\n" + kFoldover).lay.shop_step == Length::inches(9, 2));
  CHECK(fine("units = \"in\"\n" + kFoldover + "[lay]\nshop_step = \"1/4 yd\"\n").lay.shop_step ==
        Length::inches(9));
}

TEST_CASE("remnants and by-products are lists of tables") {
  CHECK(faults("[lay.remnant]\nwidth = 1\n") == Lines{"2:1 wrong-kind-tables key=lay.remnant"});
  CHECK(
      faults("[[lay.remnant]]\nmaterial = \"felt\"\nwidth = 0\n[[lay.by_product]]\ncount = 0\n") ==
      Lines{"2:1 key-missing key=lay.remnant.length",
            "3:12 not-a-choice key=lay.remnant.material text=felt",
            "4:9 length-zero key=lay.remnant.width text=0",
            "5:1 key-missing key=lay.by_product.name", "5:1 key-missing key=lay.by_product.width",
            "5:1 key-missing key=lay.by_product.length",
            "6:9 out-of-range key=lay.by_product.count text=0 least=1 most=2000"});
}

TEST_CASE("the iron's sole is read with and without a setting, and is assumed where none is told") {
  // Design section 11: 120 x 240 mm, assumed.
  CHECK(fine("construction = \"foldover\"\n").sole == batch::IronSole{mm(120), mm(240)});
  const auto alone = fine("construction = \"foldover\"\n[iron]\nsole = \"110 x 220 mm\"\n");
  CHECK(alone.sole == batch::IronSole{mm(110), mm(220)});
  CHECK_FALSE(alone.iron);
  const auto both = fine("construction = \"foldover\"\n[iron]\ndots = 2\nsole = \"4 x 8 in\"\n");
  CHECK(both.sole.length == Length::inches(8));
  CHECK(both.iron);
  CHECK(faults("[iron]\nsole = \"large\"\n") == Lines{"3:8 not-a-size key=iron.sole text=large"});
}

TEST_CASE("steam needs two dots on the iron (ISO 3758)") {
  CHECK(faults("[iron]\ndots = 1\nsteam = true\n") == Lines{"4:9 steam-on-one-dot"});
  CHECK(faults("[iron]\nsteam = true\n") == Lines{"2:1 key-missing key=iron.dots"});
  CHECK(faults("[iron]\ndots = 4\nseconds = nan\n") ==
        Lines{"3:8 out-of-range key=iron.dots text=4 least=1 most=3",
              "4:11 out-of-range key=iron.seconds text=nan least=0 most=600"});
}

TEST_CASE("prices and batches are numbers") {
  const auto job = fine(kFoldover +
                        "[prices]\nthread = 3.5\n\"snap\" = 0\n[batch]\naql = 2.5\n"
                        "currency = \"EUR\"\nmachines = 2\nirons = 1\n");
  CHECK(job.prices.at("thread").value == 3.5);
  CHECK(job.prices.at("thread").place.line == 3);
  CHECK(job.prices.at("snap").value == 0);
  CHECK(job.batch.aql->value == 2.5);
  CHECK(job.batch.currency == "EUR");
  CHECK(job.batch.machines.value == 2);
  CHECK(faults("[prices]\nthread = \"dear\"\nsnap = -1\n") ==
        Lines{"3:10 wrong-kind-number key=prices.thread",
              "4:8 out-of-range key=prices.snap text=-1 least=0 most=1000000"});
}

TEST_CASE("an acceptance quality limit that the table lacks is refused, the nearest offered") {
  // ISO 2859-1: 0.65, 1.0, 1.5, 2.5, 4.0, 6.5 of the limits that the program knows.
  CHECK(fine(kFoldover + "[batch]\naql = 0.65\n").batch.aql->value == 0.65);
  CHECK(faults("[batch]\naql = 5\n") == Lines{"3:7 aql-unknown aql=5"});
}

TEST_CASE("prices in two currencies are refused, wherever they stand") {
  CHECK(fine(kFoldover + "[prices]\ncone = \"5 GBP\"\nspool = 2\n").batch.currency == "GBP");
  CHECK(faults("[prices]\ncone = \"5 GBP\"\nspool = \"2 EUR\"\n") ==
        Lines{"4:9 prices-two-currencies currency=EUR first=GBP"});
  CHECK(faults("[batch]\ncurrency = \"EUR\"\n[prices]\ncone = \"5 GBP\"\n") ==
        Lines{"5:8 prices-two-currencies currency=GBP first=EUR"});
  CHECK(faults("[materials]\nlaminate = { width = \"1 m\", price = \"9 USD\" }\n"
               "[prices]\ncone = \"5 GBP\"\n") ==
        Lines{"3:37 prices-two-currencies currency=USD first=GBP"});
}

TEST_CASE("the program's own sample job has no fault") {
  const auto job = fine(test::source_file("patterns/heron-quay.toml").text);
  CHECK(job.request.cards == pouch::CardUse::both);
  CHECK(job.request.outer->name == "cotton-110");
}
