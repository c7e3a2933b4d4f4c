/// What the tests of the packet's word pages share: the
/// rooms of three papers, and what every page owes its reader.
#pragma once

#include <doctest/doctest.h>

#include <string>

#include "unit/draw/full_size_support.h"

namespace pouchwright::test {

struct NamedRoom {
  const char* name;
  ink::Point room;
};
/// Inside margins of 10 mm. ISO 216; ASME Y14.1.
inline std::vector<NamedRoom> rooms() {
  return {{"A4", {190, 277}}, {"Letter", {195.9, 259.4}}, {"A5", {128, 190}}};
}

/// No words under 8 pt, over others or outside; no ink outside; every page has some.
inline void check_pages(const std::vector<ink::Drawing>& pages, ink::Point room) {
  const EvenMeasure measure;
  REQUIRE_FALSE(pages.empty());
  const ink::Box whole{0, 0, room.x, room.y};
  for (const ink::Drawing& page : pages) {
    CHECK(page.extent == whole);
    CHECK(texts_of(page).size() > 1);
    for (const ink::Item& item : page.items) {
      const auto* text = std::get_if<ink::Text>(&item);
      INFO((text != nullptr ? text->words : std::get<ink::Shape>(item).name));
      CHECK(lies_in(ink::grown(bounds(item, measure), -1e-6), whole));
    }
    check_legible(page);
  }
}

inline std::string all_words(const std::vector<ink::Drawing>& pages) {
  std::string words;
  for (const ink::Drawing& page : pages) words += all_words(page);
  return words;
}

inline bool has(const std::string& words, const std::string& part) {
  return words.find(part) != std::string::npos;
}

}  // namespace pouchwright::test
