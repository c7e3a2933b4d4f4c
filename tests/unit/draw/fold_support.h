/// What the tests of fold pictures and steps share: a reader of the side view.
#pragma once

#include <string>
#include <vector>

#include "draw/folds/picture.h"
#include "unit/draw/full_size_support.h"

namespace pouchwright::test {

/// Every shape of that name; there may be none.
inline std::vector<const ink::Shape*> named_shapes(const ink::Drawing& sheet,
                                                   std::string_view name) {
  std::vector<const ink::Shape*> result;
  for (const ink::Item& item : sheet.items) {
    const auto* shape = std::get_if<ink::Shape>(&item);
    if (shape != nullptr && shape->name == name) result.push_back(shape);
  }
  return result;
}

inline std::vector<const ink::Shape*> shapes_beginning(const ink::Drawing& sheet,
                                                       std::string_view begin) {
  std::vector<const ink::Shape*> result;
  for (const ink::Item& item : sheet.items) {
    const auto* shape = std::get_if<ink::Shape>(&item);
    if (shape != nullptr && shape->name.starts_with(begin)) result.push_back(shape);
  }
  return result;
}

/// The index of the first stage of that operation.
inline std::size_t stage_of(const pouch::Pouch& pouch, std::string_view id) {
  for (std::size_t i = 0; i < pouch.stages.size(); ++i) {
    if (pouch.construction().operations[pouch.stages[i].operation].id == id) return i;
  }
  FAIL("no such stage");
  return 0;
}

}  // namespace pouchwright::test
