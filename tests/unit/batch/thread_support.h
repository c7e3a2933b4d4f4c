/// The rules of shared/stitches.toml as far as the tests of `batch` need them; that file itself is
/// tested in `input`.
#pragma once

#include "batch/thread.h"

namespace pouchwright::test {

inline batch::ThreadRules thread_rules() {
  using base::Length;
  using batch::SeamEnds;
  const Length tenth_of_inch = Length::inches(1, 10);
  batch::ThreadRules rules;
  rules.waste = 0.15;
  rules.chain = Length::whole_mm(25);
  rules.back_tack = Length::whole_mm(10);
  rules.tail = Length::whole_mm(20);
  rules.packages = {{"spool", 200, false}, {"cone", 2500}};
  rules.stitches = {
      {"301",
       2.5,
       "textbook",
       2,
       {{"needle", 1}, {"bobbin", 1}},
       SeamEnds::back_tack,
       "spool",
       tenth_of_inch,
       std::nullopt},
      {"304", 7, "textbook", 2, {}, SeamEnds::back_tack, "spool", std::nullopt, std::nullopt},
      {"401",
       5.5,
       "textbook",
       2,
       {{"needle", 19.5}, {"looper", 62}},
       SeamEnds::chain,
       "cone",
       std::nullopt,
       std::nullopt},
      {"504",
       14,
       "textbook",
       3,
       {},
       SeamEnds::chain,
       "cone",
       tenth_of_inch,
       Length::whole_mm(5),
       Length::nm(2'500'000)}};
  rules.sew = "504";
  rules.secure_tails = "304";
  rules.finish_overedge = "504";
  rules.finish_zigzag = "304";
  rules.finish_turned = "301";
  rules.attach = "301";
  rules.words = {{"overedge", "504"}, {"straight", "301"}, {"zigzag", "304"}};
  return rules;
}

}  // namespace pouchwright::test
