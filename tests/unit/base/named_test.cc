#include "base/named.h"

#include <doctest/doctest.h>

using namespace pouchwright::base;

namespace {

enum class Side { front, behind };
constexpr Named<Side> kSideWords[] = {{Side::behind, "from behind"}, {Side::front, "front"}};

}  // namespace

TEST_CASE("a value has a word, and the word the value") {
  CHECK(word_of(kSideWords, Side::behind) == std::string("from behind"));
  CHECK(value_of(kSideWords, "front") == Side::front);
  CHECK_FALSE(value_of(kSideWords, "Front"));
  CHECK_FALSE(value_of(kSideWords, ""));
}

TEST_CASE("the words come in the table's order") {
  CHECK(words_of(kSideWords) == std::vector<std::string>{"from behind", "front"});
}

TEST_CASE("a key ends in the word as a plain name") {
  CHECK(key_of("seen-", kSideWords, Side::behind) == "seen-from-behind");
}
