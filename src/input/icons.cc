#include "input/icons.h"

#include <string>
#include <utility>

#include "ink/path_data.h"
#include "input/reader.h"

namespace pouchwright::input {
namespace {

using ink::LinePattern;

/// ISO 128-20.
constexpr double kFinestLine = 0.13;
constexpr double kWidestLine = 1;

ink::Shape shape_of(TableReader reader) {
  ink::Shape shape;
  reader.require("d");
  if (const auto data = reader.text("d")) {
    if (auto path = ink::path_of(data->value)) {
      shape.path = std::move(*path);
    } else {
      reader.context().diagnostics.error(
          data->place, {"not-a-path", {{"key", reader.path("d")}, {"text", clipped(data->value)}}},
          {{"not-a-path-hint"}});
    }
  }
  const auto fill = reader.truth("fill");
  const auto film = reader.truth("film");
  const auto paper = reader.truth("paper");
  if (paper && paper->value) shape.fill = ink::Fill::paper;
  if (film && film->value) shape.fill = ink::Fill::grey;
  if (fill && fill->value) shape.fill = ink::Fill::solid;
  if (shape.fill == ink::Fill::none || shape.fill == ink::Fill::paper) reader.require("width");
  if (const auto width = reader.number("width", kFinestLine, kWidestLine)) {
    shape.stroke = ink::Stroke{LinePattern::continuous, width->value};
  }
  constexpr base::Named<LinePattern> kBroken[] = {{LinePattern::dashed, "dashed"},
                                                  {LinePattern::dotted, "dotted"}};
  const auto pattern = reader.choice("pattern", kBroken);
  if (pattern && shape.stroke) shape.stroke->pattern = pattern->value;
  reader.finish();
  return shape;
}

}  // namespace

ink::Icons read_icons(const LoadedFile& file, const std::vector<std::string_view>& names,
                      base::Diagnostics& diagnostics) {
  ink::Icons icons;
  const auto root = parsed(file, diagnostics);
  if (!root) return icons;
  TableReader reader(*root, "", {diagnostics});
  for (const std::string_view name : names) {
    reader.require(name);
    std::vector<ink::Shape>& shapes = icons[std::string(name)];
    for (const Node* stroke : reader.tables(name)) {
      shapes.push_back(shape_of({*stroke, std::string(name), {diagnostics}}));
    }
  }
  reader.finish();
  return icons;
}

}  // namespace pouchwright::input
