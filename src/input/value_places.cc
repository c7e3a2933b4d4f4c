#include "input/value_places.h"

namespace pouchwright::input {

namespace {

// NOLINTNEXTLINE(misc-no-recursion): nesting was limited before parsing
void collect(const Node& table, const std::string& above, std::vector<ValuePlace>& all) {
  for (const auto& [key, node] : table.entries) {
    const std::string path = above.empty() ? key : above + "." + key;
    all.push_back({path, node.key_place});
    all.push_back({path, node.place});
    collect(node, path, all);
    for (const Node& item : node.items) {
      all.push_back({path, item.place});
      for (const auto& [name, inner] : item.entries) {
        all.push_back({path, inner.key_place});
        all.push_back({path, inner.place});
      }
    }
  }
}

bool holds(const base::Place& outer, const base::Place& inner) {
  if (outer.file != inner.file || outer.line < 1 || outer.line != inner.line) return false;
  return outer.column <= inner.column &&
         (inner.column < outer.end_column || inner.column == outer.column);
}

}  // namespace

std::vector<ValuePlace> value_places(const LoadedFile& job,
                                     const std::vector<Override>& overrides) {
  std::vector<ValuePlace> all;
  base::Diagnostics ignored;
  if (const auto root = parsed(job, ignored)) collect(*root, "", all);
  // An option is the one value that it names, wherever in its text a fault stands.
  for (const Override& one : overrides) {
    const int end = static_cast<int>(one.text().size()) + 1;
    all.push_back({one.path, {one.shown, 1, 1, end}});
  }
  return all;
}

std::string path_at(const std::vector<ValuePlace>& places, const base::Place& place) {
  std::string path;
  for (const ValuePlace& one : places) {
    if (holds(one.place, place)) path = one.path;
  }
  return path;
}

}  // namespace pouchwright::input
