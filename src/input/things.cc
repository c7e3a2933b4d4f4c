#include "input/things.h"

#include <algorithm>
#include <string>
#include <vector>

#include "input/pouch_table.h"
#include "pouch/construction.h"

namespace pouchwright::input {
namespace {

/// No group has more of anything.
constexpr double kMostThings = 1e6;

bool is_cloth(const std::string& name) {
  return name == "laminate" || name == "outer" || name == "lining";
}

}  // namespace

void read_things(TableReader& stock, const Library& library, batch::Things& made) {
  const Node* node = stock.table("things");
  if (!node) return;
  auto& diagnostics = stock.context().diagnostics;
  TableReader reader(*node, stock.path("things"), stock.context());
  const std::vector<std::string> known =
      library.supplies ? batch::names_of_things(library.supplies()) : std::vector<std::string>();
  for (const auto& [name, value] : node->entries) {
    const bool is_known =
        known.empty() || std::find(known.begin(), known.end(), name) != known.end();
    if (is_known) {
      if (const auto count = reader.number(name, 0, kMostThings)) made[name] = *count;
      continue;
    }
    reader.know(name);
    diagnostics.error(
        value.key_place, {"thing-unknown", {{"thing", clipped(name)}}},
        {is_cloth(name) ? base::Message("thing-is-cloth-hint") : nearest_hint(name, known)});
  }
  reader.finish();
}

}  // namespace pouchwright::input
