#include "tell/supplies.h"

#include "unit/draw/page_support.h"
#include "unit/tell/supplies_support.h"

using namespace pouchwright;
using namespace pouchwright::tell;
using namespace pouchwright::test;

namespace {

/// Those for the shop and those for whoever leads.
std::vector<std::string> notes_of(const batch::Supplies& list, const std::string& currency = "") {
  const auto rules = thread_rules();
  const pouch::Pouch pouch = sewn_pouch();
  const auto words = own_words();
  auto notes = supply_notes(list, rules, currency, words);
  for (const auto& more :
       {supply_choices(list, rules, words), thread_sources(pouch, list, rules, words)}) {
    notes.insert(notes.end(), more.begin(), more.end());
  }
  return notes;
}

const SupplyRow& row_with(const std::vector<SupplyRow>& rows, const std::string& part) {
  for (const SupplyRow& row : rows) {
    if (has(row.what, part)) return row;
  }
  FAIL("no row " << part);
  return rows.front();
}

}  // namespace

TEST_CASE("rows give amount, price and cost, and say what is not known") {
  const auto words = own_words();
  const auto rows = supply_rows(list_of({{"laminate", {14.5, {}}}}), words);
  CHECK(row_with(rows, "150 cm PUL").amount == "2.6 m");
  CHECK(row_with(rows, "150 cm PUL").price == "14.50");
  CHECK(row_with(rows, "150 cm PUL").cost == "37.70");
  CHECK(row_with(rows, "cones").cost.empty());
  CHECK(row_with(rows, "pages").amount == "not known");
  CHECK(row_with(rows, "clips").what.ends_with(" *"));
  CHECK(row_with(rows, "our-own-thing").amount == "1");
}

TEST_CASE("yards are read in eighths, as shops cut them") {
  // Common practice, no source.
  batch::Supplies list;
  const auto amount = [&](double yards) {
    list.lines = {{"cloth", "laminate", {"supply-laminate"}, yards, batch::SupplyUnit::yard}};
    return supply_rows(list, own_words())[0].amount;
  };
  CHECK(amount(2.625) == "2 5/8 yd");
  CHECK(amount(0.25) == "1/4 yd");
  CHECK(amount(3) == "3 yd");
  CHECK(amount(1.5) == "1 1/2 yd");
  base::LengthStyle on_paper = base::default_style(base::Unit::inch);
  on_paper.fractions = base::Fractions::set;
  list.lines.front().amount = 2.625;
  CHECK(supply_rows(list, base::Voice(own_words(), on_paper))[0].amount == "2⅝ yd");
}

TEST_CASE("the list tells what each cloth holds besides the pouches, and the spare ones") {
  batch::Supplies list = list_of({});
  list.cloths[0].pieces = mm(2340);
  list.cloths[0].extra = {{batch::More::squaring, mm(50)}, {batch::More::spoiled, mm(390), 2}};
  list.cloths[0].is_washed_first = true;
  list.cloths[0].across = mm(1428);
  list.cloths[0].spare_across = mm(72);
  std::string said;
  for (const auto& note : notes_of(list)) said += note + "\n";
  CHECK(has(said, "the pouches take 2340 mm"));
  CHECK(has(said, "50 mm to square the cut end"));
  CHECK(has(said, "390 mm for 2 spoiled pouches"));
  CHECK(has(said, "after the wash"));
  CHECK(has(said, "measure: at least 1428 mm between the selvedges"));
  CHECK(has(said, "first ones 1, spoiled ones 1"));
}

TEST_CASE("notes give the sum, what it lacks, and by whose figures thread was reckoned") {
  std::string said;
  for (const auto& note : notes_of(list_of({{"laminate", {14.5, {}}}}), "EUR")) {
    said += note + "\n";
  }
  CHECK(has(said, "37.70 EUR for 40 pouches, 0.94 EUR a pouch"));
  CHECK(has(said, "spool, cone, card, page, clips, our-own-thing"));
  CHECK(has(said, "textbook of clothing manufacture"));
  CHECK(has(said, "polyester"));
  std::string without;
  for (const auto& note : notes_of(list_of({}))) without += note;
  CHECK(has(without, "No sum"));
  CHECK_FALSE(has(without, "Cost:"));
}

TEST_CASE("who shops reads no sources, prices that are missing, or numbers of stitches") {
  std::string said;
  for (const auto& note : supply_notes(list_of({}), thread_rules(), "", own_words())) said += note;
  for (const char* word : {"textbook", "ISO", "504", "No sum", "prices"}) {
    CAPTURE(std::string(word));
    CHECK_FALSE(has(said, word));
  }
  CHECK(has(said, "polyester"));
}

TEST_CASE("a seam much thicker than usual is told") {
  auto list = list_of({});
  const auto said = [&] {
    std::string all;
    for (const auto& note : notes_of(list)) all += note;
    return all;
  };
  list.seams = {{index_of(foldover(), "sew-sides"), "504", mm(150), mm(3), 2, false}};
  // By hand: 3 + 4 · (5 + 3) / 2.54 = 15.6, within 14 and 15 % waste.
  CHECK_FALSE(has(said(), "is thick"));
  list.seams[0].thickness = mm(4);
  // By hand: 3 + 4 · (5 + 4) / 2.54 = 17.2, over 16.1.
  CHECK(has(said(), "17.2 times the seam, not 14"));
}

TEST_CASE("thread is told by what people do, with the step that shows it, and never by an id") {
  std::string said;
  for (const auto& note : notes_of(list_of({}))) said += note + "\n";
  // By hand: mark, pair, card in, front, fuse, card out, flap, sew; neither end is finished.
  CHECK(has(said, "sew both sides (step 8)"));
  for (const batch::Seam& seam : list_of({}).seams) {
    const std::string id = sewn_pouch().operation(seam.operation).id;
    CAPTURE(id);
    if (id.find('-') != std::string::npos) CHECK_FALSE(has(said, id));
  }
}

TEST_CASE("what a table needs besides is laid ready: tools for each kind of work") {
  const auto list = list_of({});
  const pouch::Pouch pouch = sewn_pouch();
  const auto joined = [&](const pouch::Pouch& one) {
    std::string all;
    for (const std::string& words : things_to_lay_ready(one, list, 2, own_words())) all += words;
    return all;
  };
  // Common practice, no source; stitch numbers of ISO 4915.
  for (const char* part :
       {"rotary cutter", "iron (2)", "wooden stick", "clock", "thread snips", "504", "jug"}) {
    CAPTURE(std::string(part));
    CHECK(has(joined(pouch), part));
  }
  CHECK_FALSE(has(joined(pouch), "setting tool"));
  pouch::Pouch snapped = pouch;
  snapped.request.construction.attachments.emplace_back().kind = pouch::AttachmentKind::snap;
  snapped.fixed.emplace_back();
  CHECK(has(joined(snapped), "setting tool"));
  pouch::Pouch cold = pouch;
  cold.seal_zones.clear();
  CHECK_FALSE(has(joined(cold), "iron"));
}
