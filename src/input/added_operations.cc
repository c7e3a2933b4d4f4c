#include "input/added_operations.h"

#include <algorithm>
#include <string>
#include <utility>

namespace pouchwright::input {
namespace {

using pouch::Operation;
namespace does = pouch::does;

template <class Does>
bool has(const pouch::Construction& construction) {
  const auto& all = construction.operations;
  return std::any_of(all.begin(), all.end(),
                     [](const Operation& one) { return one.as<Does>() != nullptr; });
}

/// A name that no operation has.
std::string free_id(const pouch::Construction& construction, std::string id) {
  const auto is_taken = [&](const Operation& one) { return one.id == id; };
  const auto& all = construction.operations;
  while (std::any_of(all.begin(), all.end(), is_taken)) id += "-too";
  return id;
}

bool sews_sides(const Operation& operation) {
  const auto* sews = operation.as<does::Sew>();
  return sews != nullptr && works_on(sews->edges, pouch::Edge::left);
}

/// Puts the operation before the one at `index`, which needs it from then on; it needs what that
/// one needed.
void insert_before(std::size_t index, Operation added, const base::Place& place,
                   pouch::Request& request) {
  auto& all = request.construction.operations;
  added.needs = all[index].needs;
  for (Operation& one : all) {
    for (std::size_t& need : one.needs) need += need >= index ? 1 : 0;
  }
  all[index].needs.push_back(index);
  const auto at = static_cast<std::ptrdiff_t>(index);
  all.insert(all.begin() + at, std::move(added));
  auto& places = request.places.operations;
  if (index <= places.size()) places.insert(places.begin() + at, place);
}

void add_tag(pouch::Request& request, base::Diagnostics& diagnostics) {
  auto& all = request.construction.operations;
  const auto seam = std::find_if(all.begin(), all.end(), sews_sides);
  if (seam == all.end()) {
    diagnostics.error(request.tag->place, {"tag-no-side-seam", {{"tag", request.tag->name}}},
                      {{"tag-no-side-seam-hint"}});
    return;
  }
  insert_before(static_cast<std::size_t>(seam - all.begin()),
                {free_id(request.construction, "tag"), {}, does::Tag{}}, request.tag->place,
                request);
}

}  // namespace

void take_tag(const Node& root, lay::Settings& lay, int pouches, pouch::Request& request,
              base::Diagnostics& diagnostics) {
  const Node* table = root.find("lay");
  const Node* stated = table ? table->find("by_product") : nullptr;
  for (std::size_t i = 0; i < lay.by_products.size(); ++i) {
    lay::ByProduct& one = lay.by_products[i];
    if (one.use != lay::ByProductUse::tag) continue;
    if (request.tag) {
      diagnostics.error(one.place, {"tag-twice", {{"tag", one.name}, {"first", request.tag->name}}},
                        {{"tag-twice-hint"}});
      continue;
    }
    const Node* own = stated && i < stated->items.size() ? &stated->items[i] : nullptr;
    if (own == nullptr || own->find("count") == nullptr) one.count = pouches;
    if (one.count < pouches) {
      diagnostics.warning(one.place, {"tags-too-few", {{"count", one.count}, {"pouches", pouches}}},
                          {{"tags-too-few-hint"}});
    }
    request.tag = pouch::Tag{one.name, one.width, one.length, one.count, one.place};
  }
}

void add_operations(pouch::Request& request, base::Diagnostics& diagnostics) {
  pouch::Construction& construction = request.construction;
  if (construction.operations.empty()) return;
  if (request.tag && !has<does::Tag>(construction)) add_tag(request, diagnostics);
  if (request.dryer && !has<does::Dry>(construction)) {
    const std::size_t last = construction.operations.size() - 1;
    construction.operations.push_back({free_id(construction, "dryer"), {last}, does::Dry{}});
    request.places.operations.push_back(request.place);
  }
}

}  // namespace pouchwright::input
