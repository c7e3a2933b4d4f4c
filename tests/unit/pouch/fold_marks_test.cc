// A panel that is cut and folded at stated lines. The sizes it must come to are those of the pouches
// worked by hand, from which the same lines were worked out the other way.
#include "pouch/judge/fold_marks.h"

#include <doctest/doctest.h>

#include "support/requests.h"

using namespace pouchwright;
using namespace pouchwright::pouch;
using namespace pouchwright::test;

namespace {

/// Nobody states a size that the folds decide.
Request folded_at(Construction construction, Length width, Length length,
                  const std::vector<Length>& lines) {
  Request request = hand_worked(std::move(construction));
  for (const char* decided : {"width", "depth", "flap"}) request.sizes.erase(decided);
  request.panel = CutPanel{{width, {}}, {length, {}}, CutPanel::Folds(), {}};
  for (const Length line : lines) request.panel->folds->at.push_back({line, {}});
  return request;
}

std::string fault_of(const Request& request) {
  base::Diagnostics faults;
  CHECK(!derive(request, faults));
  const auto errors = faults.sorted(base::Severity::error);
  REQUIRE(errors.size() == 1);
  return errors.front().message.key;
}

}  // namespace

TEST_CASE("a panel folded at the lines of the pouch worked by hand has its sizes") {
  const Request request = folded_at(foldover(), mm(204), mm(360), {mm(140), mm(290)});
  base::Diagnostics faults;
  const auto pouch = derive(request, faults);
  REQUIRE(pouch);
  CHECK(pouch->sizes.finished_width == mm(190));
  CHECK(pouch->sizes.depth == mm(150));
  CHECK(pouch->sizes.flap == mm(70));
  CHECK(pouch->sizes.lip_drop == mm(10));
  CHECK(folds_of(pouch->sizes.main_panel()) == std::vector<FoldLine>{{mm(140), 0}, {mm(290), 1}});
  CHECK(pouch->water_line() == mm(140));
}

TEST_CASE("the folds of a gusset give both its halves") {
  Request request = folded_at(gusset(), mm(204), mm(410), {mm(140), mm(165), mm(190), mm(340)});
  base::Diagnostics faults;
  const auto pouch = derive(request, faults);
  REQUIRE(pouch);
  CHECK(pouch->sizes.depth == mm(150));
  CHECK(pouch->sizes.lip_drop == mm(10));
  CHECK(pouch->sizes.panels.front().spans[1].to - pouch->sizes.panels.front().spans[1].from ==
        mm(25));
  request.panel->folds->at[2].value = mm(195);
  CHECK(fault_of(request) == "folds-disagree");
}

TEST_CASE("8 1/2 x 15 in folded at 6 and 12 stays folded there (common practice, no source)") {
  Request request = folded_at(foldover(), Length::inches(17, 2), Length::inches(15),
                              {Length::inches(6), Length::inches(12)});
  request.units = base::Unit::inch;
  for (const bool turn : {false, true}) {
    request.turn_of_cloth = turn;
    base::Diagnostics faults;
    const auto pouch = derive(request, faults);
    REQUIRE(pouch);
    CHECK(pouch->sizes.depth == Length::inches(6));
    CHECK(pouch->sizes.flap == Length::inches(3));
    CHECK(pouch->sizes.lip_drop == Length());
    CHECK(pouch->sizes.main_panel().spans[1].from == Length::inches(6));
    CHECK(pouch->sizes.main_panel().spans[1].to == Length::inches(12));
  }
}

TEST_CASE("a turned start is measured from the raw edge, its hem included") {
  Request request = folded_at(foldover(), mm(204), mm(370), {mm(150), mm(300)});
  request.start_finish = {FinishKind::turned, mm(10), mm(18), {}};
  base::Diagnostics faults;
  const auto pouch = derive(request, faults);
  REQUIRE(pouch);
  CHECK(pouch->sizes.depth == mm(150));
  CHECK(pouch->sizes.lip_drop == mm(10));
  CHECK(pouch->sizes.flap == mm(70));
}

TEST_CASE("folds that make no pouch are told of") {
  const auto fault = [](const std::vector<Length>& lines) {
    return fault_of(folded_at(foldover(), mm(204), mm(360), lines));
  };
  CHECK(fault({}) == "folds-of-another-number");
  CHECK(fault({mm(140)}) == "folds-of-another-number");
  CHECK(fault({mm(100), mm(140), mm(290)}) == "folds-of-another-number");
  CHECK(fault({mm(290), mm(140)}) == "fold-not-beyond");
  CHECK(fault({mm(140), mm(140)}) == "fold-not-beyond");
  CHECK(fault({mm(140), mm(360)}) == "fold-outside");
  CHECK(fault({mm(160), mm(310)}) == "front-longer-than-back");
}
