#include "input/materials.h"

#include <algorithm>

#include "base/text.h"
#include "input/fields.h"

namespace pouchwright::input {

namespace {

using pouch::Material;
using pouch::MaterialKind;

const Material* material_named(const Library& library, std::string_view name) {
  const auto found = std::find_if(library.materials.begin(), library.materials.end(),
                                  [&](const Material& one) { return one.name == name; });
  return found == library.materials.end() ? nullptr : &*found;
}

std::optional<Material> material_file(const Node& node, const std::string& key, MaterialKind kind,
                                      const Library& library, base::Diagnostics& diagnostics) {
  const auto file = node.text.ends_with(".toml") ? library.load(node.text) : std::nullopt;
  if (!file) {
    diagnostics.error(node.place, {"material-unknown", {{"text", clipped(node.text)}}},
                      {{"path-not-toml-hint"}});
    return std::nullopt;
  }
  base::Diagnostics faults;
  std::optional<Material> found;
  if (const auto root = parsed(*file, faults)) {
    found = read_material(*root, "", key, kind, base::Unit::mm, faults);
  }
  diagnostics.add_all(faults);
  if (!faults.has_errors()) return found;
  diagnostics.error(node.place, {"material-unusable", {{"text", clipped(node.text)}}});
  return std::nullopt;
}

/// One of shared/materials.toml.
std::optional<Material> known_material(const Node& node, MaterialKind kind, const Library& library,
                                       base::Diagnostics& diagnostics) {
  const Material* known = material_named(library, node.text);
  if (known && known->kind == kind) {
    Material found = *known;
    found.place = node.place;
    return found;
  }
  std::vector<std::string> names;
  for (const Material& one : library.materials) {
    if (one.kind == kind) names.push_back(one.name);
  }
  if (!known) {
    const bool is_laminate = kind == MaterialKind::laminate;
    diagnostics.add(
        {.place = node.place,
         .message = {"material-unknown", {{"text", clipped(node.text)}}},
         .hints = {nearest_hint(node.text, names)},
         .remedy = nearest_remedy(is_laminate ? "materials.laminate" : "materials.outer", node.text,
                                  names)});
    return std::nullopt;
  }
  const bool is_laminate = kind == MaterialKind::laminate;
  diagnostics.error(
      node.place,
      {is_laminate ? "material-no-laminate" : "material-no-outer", {{"name", known->name}}},
      {{"choices-hint", {{"names", base::list_text(names)}}}});
  return std::nullopt;
}

/// `{ cloth = "cotton-110", print = "herons" }`: one of shared/materials.toml, and which roll of it.
std::optional<Material> known_print(const Node& node, const std::string& path, MaterialKind kind,
                                    const Library& library, Context context) {
  TableReader reader(node, path, context);
  const auto cloth = reader.text("cloth");
  auto found = cloth ? known_material(*node.find("cloth"), kind, library, context.diagnostics)
                     : std::nullopt;
  Material read = found.value_or(Material());
  read_fields(kPrintFields, reader, read);
  reader.finish();
  if (!found) return std::nullopt;
  if (read.upright && read.turn == base::Turn::either) read.turn = base::Turn::along;
  read.place = node.place;
  return read;
}

std::optional<Material> material(TableReader& reader, const std::string& key, MaterialKind kind,
                                 const Library& library) {
  const Node* node = reader.find(key);
  if (!node) return std::nullopt;
  const auto& [diagnostics, bare] = reader.context();
  if (node->kind == Node::Kind::table && node->find("cloth")) {
    return known_print(*node, reader.path(key), kind, library, reader.context());
  }
  if (node->kind == Node::Kind::table) {
    return read_material(*node, reader.path(key), key, kind, bare, diagnostics);
  }
  if (node->kind != Node::Kind::text) {
    diagnostics.error(node->place,
                      {"wrong-kind-material", {{"key", base::FieldName{reader.path(key)}}}}, {});
    return std::nullopt;
  }
  const bool is_path = node->text.find('/') != std::string::npos;
  return is_path ? material_file(*node, key, kind, library, diagnostics)
                 : known_material(*node, kind, library, diagnostics);
}

/// Without an outer there is only the film to fix things to.
void fix_through(TableReader& root, pouch::Request& request) {
  if (request.outer) return;
  const Node* pouch = root.find("pouch");
  const Node* through = pouch ? pouch->find("closure_through") : nullptr;
  const bool is_asked = !request.construction.closures.empty() && through &&
                        through->text == word_of(pouch::kThroughWords, pouch::Through::outer);
  if (is_asked) {
    root.context().diagnostics.error(through->place, {"no-outer-to-fix"},
                                     {{"no-outer-to-fix-hint"}});
  }
  request.closure_through = pouch::Through::film;
}

}  // namespace

void read_materials_of(TableReader& root, const Library& library, pouch::Request& request) {
  static const Node kEmpty;
  const Node* node = root.table("materials");
  TableReader reader(node ? *node : kEmpty, "materials", root.context());
  if (reader.has("laminate")) {
    if (const auto found = material(reader, "laminate", MaterialKind::laminate, library)) {
      request.laminate = *found;
    }
  } else if (const auto* standard = material_named(library, kLaminate)) {
    request.laminate = *standard;
  } else {
    root.context().diagnostics.error(request.place, {"material-unknown", {{"text", kLaminate}}},
                                     {{"material-none-hint"}});
  }
  request.outer = material(reader, "outer", MaterialKind::outer, library);
  request.lining = material(reader, "lining", MaterialKind::outer, library);
  reader.know("laminate");
  reader.finish();
  fix_through(root, request);
}

}  // namespace pouchwright::input
