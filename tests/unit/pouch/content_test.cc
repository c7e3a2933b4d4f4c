#include "pouch/content.h"

#include <doctest/doctest.h>

#include "support/requests.h"

using namespace pouchwright;
using namespace pouchwright::pouch;
using namespace pouchwright::test;

namespace {

Liners liners(int count) {
  Liners made;
  made.count = diag::Placed<int>{count, {}};
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
  diag::Diagnostics diagnostics;
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
      diag::Diagnostics diagnostics;
      const auto pouch = derive(request, diagnostics);
      REQUIRE(pouch);
      CHECK(pouch->capacity->liners >= count);
      CHECK(pouch->sizes.flap >= mm(40));
    }
  }
}
