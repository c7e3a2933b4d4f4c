#include "pouch/construction.h"

#include <algorithm>

namespace pouchwright::pouch {

const SizeRule* Construction::size_rule(std::string_view size_name) const {
  const auto found = std::find_if(sizes.begin(), sizes.end(),
                                  [&](const SizeRule& rule) { return rule.name == size_name; });
  return found == sizes.end() ? nullptr : &*found;
}

const std::vector<Edge>& edges_of(const Operation& operation) {
  static const std::vector<Edge> kNone;
  if (const auto* press = operation.as<does::Press>()) return press->edges;
  if (const auto* sew = operation.as<does::Sew>()) return sew->edges;
  return kNone;
}

bool works_on(const std::vector<Edge>& edges, Edge edge) {
  return std::find(edges.begin(), edges.end(), edge) != edges.end();
}

std::optional<std::size_t> compartment_of(const Operation& operation) {
  if (const auto* lays = operation.as<does::LayCard>()) return lays->compartment;
  if (const auto* takes = operation.as<does::TakeCard>()) return takes->compartment;
  return std::nullopt;
}

}  // namespace pouchwright::pouch
