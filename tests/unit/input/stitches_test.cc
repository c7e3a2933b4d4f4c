// Thread ratios and small things: shared/stitches.toml, and what can be wrong in such a file.
#include "input/stitches.h"

#include "input/prices.h"
#include "support.h"

using namespace pouchwright;
using namespace pouchwright::input;
using base::Length;
using test::Lines;
using test::told;

namespace {

batch::SupplyData own_data() {
  base::Diagnostics diagnostics;
  const auto made =
      read_stitches(test::source_file("shared/stitches.toml"), test::library().papers, diagnostics);
  CHECK(told(diagnostics) == Lines{});
  REQUIRE(made.has_value());
  return *made;
}

const std::string kWhole =
    "[package.cone]\nmetres = 1000\n"
    "[stitch.504]\nratio = 14\nthreads = 3\nends = \"chain\"\npackage = \"cone\"\n"
    "source = \"textbook\"\n"
    "[allowance]\nwaste = 0.1\n"
    "[use]\nsew = \"504\"\nsecure_tails = \"504\"\nfinish_overedge = \"504\"\nfinish_zigzag = "
    "\"504\"\n"
    "finish_turned = \"504\"\nattach = \"504\"\n";

Lines faults(const std::string& text) {
  base::Diagnostics diagnostics;
  CHECK_FALSE(
      read_stitches({"stitches.toml", text}, test::library().papers, diagnostics).has_value());
  return told(diagnostics, "stitches.toml");
}

std::string changed(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

struct PriceRead {
  std::optional<Price> price;
  Lines told;
};
PriceRead price_of(const std::string& value) {
  base::Diagnostics diagnostics;
  const auto root = parsed({"job.toml", "cone = " + value}, diagnostics);
  REQUIRE(root.has_value());
  TableReader reader(*root, "prices", {diagnostics});
  PriceRead read{read_price(reader, "cone"), {}};
  read.told = told(diagnostics);
  return read;
}

}  // namespace

TEST_CASE("thread ratios are the textbook's") {
  const auto rules = own_data().thread;
  // Carr & Latham, The Technology of Clothing Manufacture, as quoted in course notes; for 304
  // another table has 5.5, and the file says that 7.0 is used.
  const std::vector<std::pair<std::string, double>> known = {
      {"301", 2.5}, {"401", 5.5}, {"304", 7.0}, {"503", 12}, {"504", 14}, {"512", 18}, {"516", 20}};
  // By formula, a textile engineering page's table; by hand at 10 stitches an inch, 0.07 in thick:
  // 406 7 + 20 (0.07 + 0.25), 407 9 + 20 (0.21 + 0.25), 514 5 + 20 (0.21 + 0.4), in/in.
  const std::vector<std::pair<std::string, double>> by_formula = {
      {"406", 13.4}, {"407", 18.2}, {"514", 17.2}};
  CHECK(rules.stitches.size() == known.size() + by_formula.size());
  for (const auto& one : by_formula) {
    CAPTURE(one.first);
    REQUIRE(rules.stitch(one.first) != nullptr);
    CHECK(rules.stitch(one.first)->ratio == one.second);
    CHECK(rules.stitch(one.first)->source == "formula");
  }
  for (const auto& one : known) {
    CAPTURE(one.first);
    REQUIRE(rules.stitch(one.first) != nullptr);
    CHECK(rules.stitch(one.first)->ratio == one.second);
  }
  CHECK(rules.stitch("304")->other_ratio == 5.5);  // another table: stated, not used
  // Textile calculation handbook pages: 10 to 15 % waste.
  CHECK(rules.waste == 0.15);
  // Common practice, no source.
  CHECK(rules.chain == Length::whole_mm(25));
}

TEST_CASE("only measured or geometric shares divide the thread, and 401's are the measured ones") {
  const auto rules = own_data().thread;
  // Published measurement: 15 cm of seam took 19.5 cm needle and 62.0 cm looper thread.
  const auto& shares = rules.stitch("401")->shares;
  REQUIRE(shares.size() == 2);
  CHECK(shares[0].part == "needle");
  CHECK(shares[0].weight / shares[1].weight == doctest::Approx(19.5 / 62.0));
  CHECK(rules.stitch("504")->shares.empty());
  // Ten stitches an inch: textile calculation handbook pages.
  CHECK(rules.stitch("504")->stitch_length == Length::inches(1, 10));
}

TEST_CASE("a home machine's overedge is 2.5 to 5 mm wide, and words stand for stitches") {
  const auto rules = own_data().thread;
  // Machine manuals.
  CHECK(rules.stitch("504")->least_width == Length::nm(2'500'000));
  CHECK(rules.stitch("504")->width == Length::whole_mm(5));
  // ISO 4915:1991: 301 lockstitch, 304 zigzag, 504 three-thread overedge.
  CHECK(rules.code_of("straight") == "301");
  CHECK(rules.code_of("zigzag") == "304");
  for (const char* word : {"overedge", "overlock", "serge", "serger"}) {
    CHECK(rules.code_of(word) == "504");
  }
  // The same: 406 and 407 cover stitches of two and three needles and a looper (from memory), 514
  // the four-thread overedge; of class 500, which takes an overedge machine, only the last.
  CHECK(rules.stitch("406")->threads == 3);
  CHECK(rules.stitch("407")->threads == 4);
  CHECK(rules.stitch("514")->threads == 4);
  CHECK(batch::is_overedge("514"));
  CHECK_FALSE(batch::is_overedge("407"));
  CHECK(rules.code_of("504") == "504");
  CHECK(rules.code_of("999").empty());
}

TEST_CASE("card sheets are papers by name, a family for A sizes and one for Letter") {
  const auto families = own_data().card_families;
  REQUIRE(families.size() == 2);
  const auto sheets = [&](const char* paper) {
    return batch::card_sheets(families, paper, base::Unit::mm);
  };
  REQUIRE(sheets("A4").size() == 3);
  // ISO 216.
  CHECK(sheets("A4")[0].width == Length::whole_mm(210));
  CHECK(sheets("A4")[2].height == Length::whole_mm(594));
  // ASME Y14.1.
  CHECK(sheets("Letter")[0].width == Length::inches(17, 2));
  CHECK(sheets("Letter")[1].height == Length::inches(17));
}

TEST_CASE("a spool serves needle and bobbin, every thread of a serger has a cone of its own") {
  const auto rules = own_data().thread;
  CHECK_FALSE(rules.package("spool")->each_thread);
  CHECK(rules.package("cone")->each_thread);
}

TEST_CASE("what a stitches file lacks or misnames is told at its place") {
  CHECK(faults("x = 1\n") ==
        Lines{"0:0 key-missing key=allowance", "0:0 key-missing key=use", "1:1 key-unknown key=x"});
  CHECK(faults(changed(kWhole, "package = \"cone\"", "package = \"cane\"")) ==
        Lines{"7:11 package-unknown text=cane"});
  CHECK(faults(changed(kWhole, "finish_turned = \"504\"", "finish_turned = \"301\"")) ==
        Lines{"16:17 stitch-unknown text=301"});
  CHECK(faults(changed(kWhole, "metres = 1000", "metres = 0")) ==
        Lines{"2:10 out-of-range key=package.cone.metres text=0 least=0.001 most=100000"});
  CHECK(faults(kWhole + "[card.own]\nunits = \"mm\"\nsheets = [\"B99\"]\n") ==
        Lines{"20:11 paper-unknown text=B99"});
  CHECK(faults(kWhole + "[sundry.clips]\ncount = 3\n") ==
        Lines{"18:1 key-missing key=sundry.clips.per"});
  CHECK(faults(kWhole + "[word]\nstraight = \"301\"\n") == Lines{"19:12 stitch-unknown text=301"});
}

TEST_CASE("a price is a number, with its currency or without") {
  CHECK(price_of("4.5").price->amount == 4.5);
  CHECK(price_of("4").price->currency.empty());
  const auto in_euros = price_of("\"4.50 EUR\"");
  REQUIRE(in_euros.price.has_value());
  CHECK(in_euros.price->amount == 4.5);
  CHECK(in_euros.price->currency == "EUR");
  // As people write them whose decimals stand behind a comma.
  CHECK(price_of("\"4,50 EUR\"").price->amount == 4.5);
  CHECK(price_of("\"4,5\"").price->amount == 4.5);
  CHECK(price_of("\"4.5 \"").price->amount == 4.5);
  for (const char* text : {"\"dear\"", "\"4.5.0\"", "\"EUR 4.5\"", "\"1e3 EUR\"", "\"nan EUR\"",
                           "\"inf EUR\"", "\"\""}) {
    CAPTURE(text);
    CHECK(price_of(text).told == Lines{"1:8 wrong-kind-number key=prices.cone"});
  }
  for (const char* text : {"\"-1 EUR\"", "\"2000000 EUR\""}) {
    CAPTURE(text);
    const Lines told = price_of(text).told;
    REQUIRE(told.size() == 1);
    CHECK(told[0].starts_with("1:8 out-of-range key=prices.cone"));
  }
}
