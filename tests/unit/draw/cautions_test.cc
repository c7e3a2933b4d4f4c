#include "draw/sheets/cautions.h"

#include "unit/draw/page_support.h"

using namespace pouchwright::draw;
using namespace pouchwright::ink;
using namespace pouchwright::test;

TEST_CASE("the cautions are legible on every paper, also in longer words") {
  const EvenMeasure measure;
  for (const double longer : {0.0, 0.4}) {
    for (const NamedRoom& paper : rooms()) {
      CAPTURE(paper.name);
      check_pages(cautions(own_words(longer), measure, paper.room), paper.room);
    }
  }
}

TEST_CASE("the cautions hold what their sources say") {
  const EvenMeasure measure;
  const auto pages = cautions(own_words(), measure, {128, 1000});
  const std::string words = all_words(pages);
  // ISO 3758: the sole plate at most 110, 150, 200 °C; no steam with one dot.
  for (const char* part : {"110 °C", "150 °C", "200 °C"}) CHECK(has(words, part));
  CHECK(has(words, "Never use steam with one dot"));
  // NHS advice, as quoted: cool or lukewarm running water for 20 minutes.
  CHECK(has(words, "20 minutes"));
  // HSE: 65 °C for 10 minutes or 71 °C for 3 minutes, in institutions.
  CHECK(has(words, "65 °C"));
  CHECK(has(words, "71 °C"));
  CHECK(has(words, "no medical device"));
}
