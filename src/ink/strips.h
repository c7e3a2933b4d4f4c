/// Sheets that are built from strips: pieces of a page, one below the other, that are never cut
/// through.
///
///     Strip strip;
///     draw(strip, Group::seam, line({0, 0}, {90, 0}), {}, "axis");
///     strip.height = 6;
///     auto drawings = stacked(std::move(strips), sheet, Breaks::pages);
///
/// Not for drawings at full size, which the paper layer cuts into pages.
#pragma once

#include <string>
#include <vector>

#include "ink/scene.h"

namespace pouchwright::ink {

/// Items with their own origin at the top left, and how much height they take.
struct Strip {
  std::vector<Item> items;
  double height = 0;
  bool is_heading = false;  ///< never the last on a page
};

/// Adds a line.
void draw(Strip& strip, Group group, Path path, Stroke stroke, const char* name);
/// Adds words of Group::label.
void write(Strip& strip, std::string words, Point at, Anchor anchor,
           Weight weight = Weight::regular, double size = kSmallestSize, int turn_deg = 0);

/// Does a sheet go on on further pages, or grow downwards?
enum class Breaks { pages, none };

/// What all drawings of one sheet share; `room` is what fits on a page.
struct SheetRoom {
  std::string name;
  std::string title;
  Point room;
};

/// The strips one below the other, at least one drawing. With Breaks::pages each drawing is as high
/// as the room and a strip that finds no room begins the next; else one drawing holds all.
[[nodiscard]] std::vector<Drawing> stacked(std::vector<Strip> strips, const SheetRoom& sheet,
                                           Breaks breaks);

}  // namespace pouchwright::ink
