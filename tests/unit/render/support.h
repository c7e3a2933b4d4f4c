/// What the tests of this layer share: the pinned fonts, and small drawings and pages.
#pragma once

#include <filesystem>
#include <string>

#include "paper/pages.h"
#include "render/fonts.h"

/// The fonts of the source folder, set up once.
inline const pouchwright::render::Fonts& pinned_fonts() {
  static const pouchwright::render::Fonts kFonts(std::filesystem::path(POUCHWRIGHT_SOURCE) /
                                                 "fonts");
  return kFonts;
}

inline pouchwright::ink::Shape outline(const pouchwright::ink::Box& box,
                                       pouchwright::ink::Group group) {
  using namespace pouchwright::ink;
  return {.group = group,
          .path = rectangle(box),
          .stroke = Stroke{LinePattern::continuous, 0.35},
          .fill = Fill::none,
          .name = {}};
}

inline pouchwright::ink::Text label(std::string words, pouchwright::ink::Point at) {
  using namespace pouchwright::ink;
  return {.group = Group::label,
          .words = std::move(words),
          .at = at,
          .size = kLabelSize,
          .anchor = Anchor::start,
          .weight = Weight::regular,
          .turn_deg = 0};
}

/// A card of 120 x 80 mm with one of each kind of ink.
inline pouchwright::ink::Drawing small_card() {
  using namespace pouchwright::ink;
  Drawing card{.name = "card", .title = "Card “ä” 袋", .extent = {-5, -5, 125, 85}, .items = {}};
  card.add(outline({0, 0, 120, 80}, Group::cut));
  Shape fold{.group = Group::fold,
             .path = line({0, 40}, {120, 40}),
             .stroke = Stroke{LinePattern::dashed, 0.25},
             .fill = Fill::none,
             .name = "fold"};
  card.add(fold);
  card.add(Shape{.group = Group::notch,
                 .path = circle({60, 40}, 2),
                 .stroke = {},
                 .fill = Fill::solid,
                 .name = "fold"});
  card.add(label("this side up <&\">", {10, 20}));
  return card;
}

/// The card on two A4 pages, its right half turned on the second, with a check square each.
inline pouchwright::paper::Pages card_pages() {
  using namespace pouchwright;
  paper::Pages pages{.name = "mask",
                     .title = "Mask",
                     .width = 210,
                     .height = 297,
                     .scale = {1, 1},
                     .drawings = {small_card()},
                     .pages = {},
                     .plain_grid_pages = 0};
  for (const int turn : {0, 90}) {
    const double x0 = turn == 0 ? -5 : 55;
    paper::Page page{
        .placements = {}, .furniture = {}, .check_square = {}, .label = turn == 0 ? "A1" : "B1"};
    page.placements.push_back({.drawing = 0,
                               .window = {x0, -5, x0 + 70, 85},
                               .turn_deg = turn,
                               .at = {20, 30},
                               .cell = page.label,
                               .column = turn / 90,
                               .row = 0});
    page.check_square = {20, 200, 70, 250};
    page.furniture.push_back(outline(page.check_square, ink::Group::scale_check));
    page.furniture.push_back(label("page " + page.label, {20, 280}));
    pages.pages.push_back(std::move(page));
  }
  return pages;
}
