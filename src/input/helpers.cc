#include "input/helpers.h"

#include <algorithm>
#include <string>

namespace pouchwright::input {
namespace {

batch::HelperStated helper(const Node& node, TableReader& batch, std::size_t number) {
  TableReader reader(node, "batch.helper[" + std::to_string(number) + "]", batch.context());
  batch::HelperStated made;
  made.place = node.key_place.file.empty() ? node.place : node.key_place;
  if (const auto name = reader.text("name")) made.name = name->value;
  made.can = reader.texts("can");
  if (const auto speed = reader.number("speed", batch::kSlowest, batch::kQuickest)) {
    made.speed = speed->value;
  }
  reader.finish();
  return made;
}

}  // namespace

void read_helpers(TableReader& reader, batch::Settings& made) {
  auto& diagnostics = reader.context().diagnostics;
  for (const Node* node : reader.tables("helper")) {
    made.people.push_back(helper(*node, reader, made.people.size() + 1));
    const Node* can = node->find("can");
    if (can != nullptr && can->kind == Node::Kind::array && can->items.empty()) {
      diagnostics.error(can->place, {"helper-can-nothing", {{"number", made.people.size()}}},
                        {{"helper-can-nothing-hint"}});
    }
  }
  const auto named = static_cast<int>(made.people.size());
  if (named == 0 || !reader.has("helpers")) {
    made.helpers.value = std::max(made.helpers.value, named);
  } else if (named > made.helpers.value) {
    diagnostics.error(made.helpers.place,
                      {"helpers-more-named", {{"named", named}, {"helpers", made.helpers.value}}},
                      {{"helpers-more-named-hint", {{"named", named}}}});
  }
}

}  // namespace pouchwright::input
