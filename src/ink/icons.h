/// Small pictures of what a hand holds or does, for steps that are read without words. Their lines
/// are data: shared/icons.toml.
///
///     for (Shape& shape : icon(icons, Icon::iron, {10, 10, 18, 18})) drawing.add(std::move(shape));
#pragma once

#include <array>
#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "ink/scene.h"

namespace pouchwright::ink {

/// The shapes of every picture of the data file, by its name.
using Icons = std::map<std::string, std::vector<Shape>, std::less<>>;

enum class Icon {
  iron,
  hot_film,    ///< an iron on film: what must not be
  scrap_test,  ///< an iron on a small strip, with a tick
  steam,       ///< an iron with steam
  clip,
  pin,
  needle,    ///< of a sewing machine, with its foot
  overedge,  ///< stitches around an edge
  chain,     ///< a chain of thread between two pieces
  tail,      ///< a thread end drawn back under the stitches
  eye,
  drop,
  clock,
  snip,       ///< a small cut at a raw edge
  deep_snip,  ///< one that is too deep
  film_up,    ///< a panel, its film side up
  same_way,   ///< panels that lie in one direction
  card,       ///< the slip card
  flap_down,  ///< a hand's arrow on the closed flap
  turn,       ///< half a turn over
  hand,       ///< an open hand, seen from its back, that reaches upwards
  hand_near,  ///< a hand on something hot
  child,
  wet_plug,  ///< a plug under a drop
  window,    ///< one that stands open
  laser,
  tap,       ///< water that runs over a hand
  help,      ///< the cross of first aid
  cutter,    ///< a rotary cutter under its guard
  cut_away,  ///< a cut that leads away from the hand behind it
  shake,     ///< a cloth that is shaken
  bag,       ///< a closed bag with its label
  tub,       ///< hot water
  squeeze,   ///< a full pouch pressed from both sides
  tag,       ///< a folded tag with a number
  dryer,     ///< ISO 3758's tumble dryer at its lower heat: one dot in a ring in a square
};
inline constexpr std::array kIconNames = std::to_array<std::pair<Icon, std::string_view>>({
    {Icon::iron, "iron"},           {Icon::hot_film, "hot_film"}, {Icon::scrap_test, "scrap_test"},
    {Icon::steam, "steam"},         {Icon::clip, "clip"},         {Icon::pin, "pin"},
    {Icon::needle, "needle"},       {Icon::overedge, "overedge"}, {Icon::chain, "chain"},
    {Icon::tail, "tail"},           {Icon::eye, "eye"},           {Icon::drop, "drop"},
    {Icon::clock, "clock"},         {Icon::snip, "snip"},         {Icon::deep_snip, "deep_snip"},
    {Icon::film_up, "film_up"},     {Icon::same_way, "same_way"}, {Icon::card, "card"},
    {Icon::flap_down, "flap_down"}, {Icon::turn, "turn"},         {Icon::hand, "hand"},
    {Icon::hand_near, "hand_near"}, {Icon::child, "child"},       {Icon::wet_plug, "wet_plug"},
    {Icon::window, "window"},       {Icon::laser, "laser"},       {Icon::tap, "tap"},
    {Icon::help, "help"},           {Icon::cutter, "cutter"},     {Icon::cut_away, "cut_away"},
    {Icon::shake, "shake"},         {Icon::bag, "bag"},           {Icon::tub, "tub"},
    {Icon::squeeze, "squeeze"},     {Icon::tag, "tag"},           {Icon::dryer, "dryer"},
});
/// A ring with a stroke across: never do what stands in it.
inline constexpr std::string_view kNever = "never";

/// Which way a picture's upper end looks. Leftwards and rightwards are mirror images of each other,
/// as a left and a right hand are.
enum class Facing { up, right, left };

/// The picture within `box`, which is as wide as high. Requires: `icons` hold it.
[[nodiscard]] std::vector<Shape> icon(const Icons& icons, Icon which, const Box& box,
                                      Facing facing = Facing::up);
/// The picture within the ring. Requires: `icons` hold both.
[[nodiscard]] std::vector<Shape> forbidden(const Icons& icons, Icon which, const Box& box);

}  // namespace pouchwright::ink
