#include "job/commands/supplies.h"

#include "job/report/page.h"
#include "job/report/reports.h"
#include "unit/draw/page_support.h"
#include "unit/job/run_support.h"
#include "unit/tell/supplies_support.h"

using namespace pouchwright;
using namespace pouchwright::job;
using namespace pouchwright::test;

namespace {

const EvenMeasure kMeasure;

Report report_of(const batch::Prices& prices, const base::Voice& words) {
  const ShoppingList shopping{supply_data(), list_of(prices)};
  return supplies_report(sewn_pouch(), shopping, "EUR", words);
}

}  // namespace

TEST_CASE("the list is legible on every paper, also in longer words") {
  for (const double longer : {0.0, 0.4}) {
    const base::Words words = own_words(longer);
    for (const NamedRoom& paper : rooms()) {
      CAPTURE(paper.name);
      const Report report = report_of({{"laminate", {14.5, {}}}, {"cone", {4, {}}}}, words);
      const PageLook look{.name = "supplies", .title = "Carry pouch", .room = paper.room};
      check_pages(pages(report.blocks, look, words, kMeasure), paper.room);
    }
  }
}

TEST_CASE("amounts, prices and costs are the same for machines, people and spreadsheets") {
  const Report report = report_of({{"laminate", {14.5, {}}}}, own_words());
  const Json fields = json(report.fields, own_words());
  const Json& cloth = fields["supplies"][0];
  // By hand: 2.6 m at 14.50 a metre are 37.70, of 40 pouches 0.9425 each.
  CHECK(cloth["name"] == "laminate");
  CHECK(cloth["amount"] == 2.6);
  CHECK(cloth["unit"] == "m");
  CHECK(cloth["amount_said"] == "2.6 m");
  CHECK(cloth["price"] == 14.5);
  CHECK(cloth["cost"] == 37.7);
  CHECK_FALSE(cloth.contains("currency"));
  CHECK(fields["cost"]["known"] == 37.7);
  CHECK(fields["cost"]["known_per_pouch"] == 0.9425);
  const std::string table = text(report.blocks, own_words());
  CHECK(table.substr(0, table.find('\n')).find("40 pouches") != std::string::npos);
  // A fortieth of 2.6 m is 0.065, which prints as what is needed: rounded up.
  CHECK(has(table, "0.07 m       14.50  37.70\n"));
  CHECK(cloth["used_per_pouch"] == 0.065);
  CHECK(cloth["needed"] == 2.6);
  const std::string rows = csv(report.table, own_words());
  CHECK(
      rows.starts_with("kind,name,what,amount,unit,price,cost,currency,needed,in_stock,"
                       "used_per_pouch,bought_once\ncloth,\"laminate\",\""));
  CHECK(has(rows, "\",2.6,m,14.5,37.7,\"EUR\",2.6,0,0.065,no\n"));
  CHECK(count_of(rows, "\n") == 1 + static_cast<int>(fields["supplies"].size()));
}

TEST_CASE("what is not known is nothing, in every form") {
  const Report report = report_of({}, own_words());
  const Json fields = json(report.fields, own_words());
  CHECK(fields["supplies"][0]["price"].is_null());
  CHECK(fields["supplies"][0]["cost"].is_null());
  CHECK(has(csv(report.table, own_words()), "\",2.6,m,,,\"EUR\",2.6,0,0.065,no\n"));
}

TEST_CASE("the command counts the cloth that the cut plan takes") {
  JobOptions options = options_of(
      "construction = \"foldover\"\n"
      "[pouch]\nwidth = \"190 mm\"\ndepth = \"150 mm\"\nflap = \"70 mm\"\n"
      "seam_allowance = \"7 mm\"\n[batch]\npouches = 10\n[prices]\nlaminate = 10\n");
  options.out = "supplies.csv";
  Run run(options, own_data());
  REQUIRE(run.read_job());
  const Made made = made_by(supplies, run);
  const Json fields = json(made.report.fields, run.words());
  const Json lay = json(made_by(job::lay, run).report.fields, run.words())["lays"][0];
  CHECK(fields["pouches"] == 10);
  // By hand: a row of seven panels of 204 x 360 and one of four turned ones hold ten and a spare one,
  // 50 mm square the cut end (common practice, no source), and the shop cuts every 100 mm.
  CHECK(lay["length_mm"] == 564.0);
  CHECK(lay["to_buy_mm"] == 600.0);
  REQUIRE(lay["extra"].size() == 1);
  CHECK(lay["extra"][0]["length_mm"] == 50.0);
  CHECK(fields["supplies"][0]["amount"] == 0.7);
  CHECK(fields["supplies"][0]["cost"] == 7.0);
  const auto files = files_of(run, made);
  REQUIRE(files.size() == 1);
  CHECK(files[0].bytes == csv(made.report.table, run.words()));
}
