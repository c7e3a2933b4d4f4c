// Every enumeration that files and reports have words for has one word for each of its values, and
// no word twice. Held at compile time: a value that is added without a word does not build.
#include "base/named.h"

#include <doctest/doctest.h>

#include "base/turn.h"
#include "batch/supplies.h"
#include "batch/work/steps.h"
#include "lay/lay.h"
#include "lay/settings.h"
#include "pouch/judge/capacity.h"
#include "pouch/request.h"

using namespace pouchwright;

namespace {

/// GCC and clang write a value of an enumeration by its name, and any other as `(Type)7`.
template <auto kValue>
constexpr bool is_named_by_the_compiler() {
  const std::string_view here = __PRETTY_FUNCTION__;
  return here.substr(here.rfind("kValue = ")).find('(') == std::string_view::npos;
}

constexpr int kMostValues = 32;

template <class Value, int kFrom = 0>
constexpr int values_of() {
  if constexpr (kFrom == kMostValues) {
    return 0;
  } else {
    return (is_named_by_the_compiler<static_cast<Value>(kFrom)>() ? 1 : 0) +
           values_of<Value, kFrom + 1>();
  }
}

template <class Value, std::size_t kSize>
constexpr bool is_whole(const base::Named<Value> (&table)[kSize]) {
  for (std::size_t i = 0; i < kSize; ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      if (table[i].value == table[k].value) return false;
      if (std::string_view(table[i].word) == table[k].word) return false;
    }
  }
  return kSize == static_cast<std::size_t>(values_of<Value>());
}

enum class Side { front, behind };
constexpr base::Named<Side> kOneMissing[] = {{Side::front, "front"}};
constexpr base::Named<Side> kOneTwice[] = {{Side::front, "front"}, {Side::behind, "front"}};
static_assert(!is_whole(kOneMissing));
static_assert(!is_whole(kOneTwice));

static_assert(is_whole(base::kTurnWords));
static_assert(is_whole(base::kUnitWords));
static_assert(is_whole(pouch::kClothWords));
static_assert(is_whole(pouch::kEdgeWords));
static_assert(is_whole(pouch::kAttachmentWords));
static_assert(is_whole(pouch::kAcrossWords));
static_assert(is_whole(pouch::kThroughWords));
static_assert(is_whole(pouch::kFilmFacesWords));
static_assert(is_whole(pouch::kActionWords));
static_assert(is_whole(pouch::kLandingWords));
static_assert(is_whole(pouch::kPressFromWords));
static_assert(is_whole(pouch::kHoldsWords));
static_assert(is_whole(pouch::kFlapLawWords));
static_assert(is_whole(pouch::kFinishWords));
static_assert(is_whole(pouch::kCardUseWords));
static_assert(is_whole(pouch::kFlapShapeWords));
static_assert(is_whole(pouch::kMaterialWords));
static_assert(is_whole(pouch::kLimitWords));
static_assert(is_whole(lay::kCutsWords));
static_assert(is_whole(lay::kCutWords));
static_assert(is_whole(batch::kSeamEndsWords));
static_assert(is_whole(batch::kFirstPouchWords));
static_assert(is_whole(batch::kStationWords));
static_assert(is_whole(batch::kCountedWords));
static_assert(is_whole(batch::kSupplyUnitWords));

}  // namespace

TEST_CASE("an action is what its work does, in the order of both") {
  // The variant's order is the enumeration's; one of them out of place would swap two operations.
  CHECK(pouch::Operation{"", {}, pouch::does::Attach{}}.action() == pouch::Action::attach);
  CHECK(pouch::Operation{"", {}, pouch::does::LayPanel{}}.action() == pouch::Action::lay_panel);
  CHECK(pouch::Operation{"", {}, pouch::does::Pair{}}.action() == pouch::Action::pair);
  CHECK(pouch::Operation{"", {}, pouch::does::Finish{}}.action() == pouch::Action::finish);
  CHECK(pouch::Operation{"", {}, pouch::does::LayCard{}}.action() == pouch::Action::lay_card);
  CHECK(pouch::Operation{"", {}, pouch::does::Fold{}}.action() == pouch::Action::fold);
  CHECK(pouch::Operation{"", {}, pouch::does::Press{}}.action() == pouch::Action::press);
  CHECK(pouch::Operation{"", {}, pouch::does::TakeCard{}}.action() == pouch::Action::take_card);
  CHECK(pouch::Operation{"", {}, pouch::does::LookInside{}}.action() == pouch::Action::look_inside);
  CHECK(pouch::Operation{"", {}, pouch::does::FillFirst{}}.action() == pouch::Action::fill_first);
  CHECK(pouch::Operation{"", {}, pouch::does::Hem{}}.action() == pouch::Action::hem);
  CHECK(pouch::Operation{"", {}, pouch::does::Sew{}}.action() == pouch::Action::sew);
  CHECK(pouch::Operation{"", {}, pouch::does::SecureTails{}}.action() ==
        pouch::Action::secure_tails);
  CHECK(pouch::Operation{"", {}, pouch::does::Test{}}.action() == pouch::Action::test);
}
