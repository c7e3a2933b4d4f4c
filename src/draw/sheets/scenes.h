/// Small line pictures: the iron with its dots, a pouch, a liner, water, a person. Drawn by
/// ourselves, in black lines, readable without words. Their lines are data: shared/icons.toml.
#pragma once

#include <string_view>
#include <vector>

#include "draw/with_ink.h"
#include "ink/flow.h"
#include "ink/icons.h"

namespace pouchwright::draw {

/// What `Icons` must hold for the pictures below and for the icons of steps.
[[nodiscard]] std::vector<std::string_view> icon_names();

/// What an iron's symbol says of steam.
enum class Steam { unsaid, on, never };
inline constexpr double kIronWidth = 15;
inline constexpr double kIronHeight = 12;
/// The outline of an iron, nose to the left, with one to three dots as in ISO 3758; steam as lines
/// below the sole, crossed out for `never`.
[[nodiscard]] Frame iron_picture(const Icons& icons, int dots, Steam steam);

/// Five liners in a stack under a book, with a ruler.
inline constexpr double kStackWidth = 44;
inline constexpr double kStackHeight = 20;
[[nodiscard]] Frame liner_stack_picture(const Icons& icons);

/// The sole plate's temperature by dots, °C at most. Source: ISO 3758.
[[nodiscard]] int sole_temperature(int dots);

/// The pictures of the going-home card, each kSceneWidth x kSceneHeight.
enum class Scene { hold, no_shaking, rinse, wash, dry };
inline constexpr double kSceneWidth = 28;
inline constexpr double kSceneHeight = 20;
[[nodiscard]] Frame scene_picture(const Icons& icons, Scene scene);
/// Where there is room for the pouch that is carried in Scene::hold, its top at the hand.
inline constexpr Box kHeldPouch{15.8, 5.2, 28, 20};

}  // namespace pouchwright::draw
