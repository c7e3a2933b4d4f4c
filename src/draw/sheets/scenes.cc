#include "draw/sheets/scenes.h"

#include <string>
#include <utility>

namespace pouchwright::draw {
namespace {

void add(Frame& picture, const Icons& icons, std::string_view name) {
  const auto found = icons.find(name);
  if (found == icons.end()) return;
  picture.items.insert(picture.items.end(), found->second.begin(), found->second.end());
}

std::string name_of(Scene scene) {
  switch (scene) {
    case Scene::hold:
      return "hold";
    case Scene::no_shaking:
      return "no_shaking";
    case Scene::rinse:
      return "rinse";
    case Scene::wash:
      return "wash";
    case Scene::dry:
      return "dry";
  }
  return {};
}

}  // namespace

std::vector<std::string_view> icon_names() {
  std::vector<std::string_view> names{"hold",
                                      "no_shaking",
                                      "rinse",
                                      "wash",
                                      "dry",
                                      "ironing",
                                      "ironing_steam",
                                      "ironing_no_steam",
                                      kNever,
                                      "test_fill",
                                      "test_fill_turned_back",
                                      "test_fill_held_back",
                                      "test_read",
                                      "test_wait",
                                      "test_wait_stood",
                                      "liner_stack"};
  for (const auto& named : kIconNames) names.push_back(named.second);
  return names;
}

Frame iron_picture(const Icons& icons, int dots, Steam steam) {
  Frame made;
  made.box = {0, 0, kIronWidth, kIronHeight};
  add(made, icons, "ironing");
  constexpr double kDotGap = 2.4;
  for (int i = 0; i < dots; ++i) {
    made.items.emplace_back(
        Shape{.group = Group::label,
              .path = circle({8.4 + kDotGap * (i - (dots - 1) / 2.0), 5.8}, 0.7),
              .stroke = std::nullopt,
              .fill = Fill::solid,
              .name = ""});
  }
  if (steam != Steam::unsaid) add(made, icons, "ironing_steam");
  if (steam == Steam::never) add(made, icons, "ironing_no_steam");
  return made;
}

Frame liner_stack_picture(const Icons& icons) {
  Frame made;
  made.box = {0, 0, kStackWidth, kStackHeight};
  add(made, icons, "liner_stack");
  return made;
}

int sole_temperature(int dots) {
  switch (dots) {
    case 1:
      return 110;
    case 2:
      return 150;
    default:
      return 200;
  }
}

Frame scene_picture(const Icons& icons, Scene scene) {
  Frame made;
  made.box = {0, 0, kSceneWidth, kSceneHeight};
  add(made, icons, name_of(scene));
  return made;
}

}  // namespace pouchwright::draw
