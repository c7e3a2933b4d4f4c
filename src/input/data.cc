#include "input/data.h"

#include <algorithm>
#include <map>

#include "input/fields.h"
#include "input/reader.h"

namespace pouchwright::input {

namespace {

// NOLINTNEXTLINE(misc-no-recursion): nesting was limited before parsing
void collect(const Node& table, const std::string& prefix,
             std::map<std::string, std::string, std::less<>>& words) {
  for (const auto& [key, node] : table.entries) {
    if (node.kind == Node::Kind::table) collect(node, prefix + key + ".", words);
    if (node.kind == Node::Kind::text) words[prefix + key] = node.text;
  }
}

std::string lower(std::string_view text) {
  std::string result(text);
  for (char& c : result) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return result;
}

}  // namespace

base::Words read_words(const LoadedFile& file, base::Diagnostics& diagnostics) {
  std::map<std::string, std::string, std::less<>> words;
  if (const auto root = parsed(file, diagnostics)) collect(*root, "", words);
  return base::Words(std::move(words));
}

std::vector<PaperSize> read_papers(const LoadedFile& file, base::Diagnostics& diagnostics) {
  std::vector<PaperSize> papers;
  const auto root = parsed(file, diagnostics);
  if (!root) return papers;
  TableReader reader(*root, "", {diagnostics});
  for (const auto& [name, node] : root->entries) {
    if (const auto size = reader.length_pair(name)) {
      papers.push_back({name, size->value.across, size->value.down});
    }
  }
  return papers;
}

std::optional<PaperSize> paper_of(std::string_view text, base::Unit bare,
                                  const std::vector<PaperSize>& known) {
  for (const PaperSize& paper : known) {
    if (lower(paper.name) == lower(text)) return paper;
  }
  const auto size = length_pair_of(text, bare);
  if (!size || size->across <= Length() || size->down <= Length()) return std::nullopt;
  return PaperSize{std::string(text), size->across, size->down};
}

std::optional<pouch::Material> read_material(const Node& table, const std::string& path,
                                             const std::string& name,
                                             std::optional<pouch::MaterialKind> kind,
                                             base::Unit bare, base::Diagnostics& diagnostics) {
  using pouch::MaterialKind;
  TableReader reader(table, path, {diagnostics, bare});
  pouch::Material material;
  material.name = name;
  material.place = table.place;
  const auto stated = reader.choice("kind", pouch::kMaterialWords);
  if (stated && kind && stated->value != *kind) {
    diagnostics.error(
        stated->place,
        {*kind == MaterialKind::laminate ? "material-no-laminate" : "material-no-outer",
         {{"name", name}}},
        {{"material-kind-hint"}});
  }
  material.kind = stated ? stated->value : kind.value_or(MaterialKind::laminate);
  material.thickness = usual_thickness(material.kind);
  read_fields(material_fields(material.kind), reader, material);
  const Node* selvedge = reader.find("selvedge");
  if (selvedge && material.selvedge > Length() && material.width > Length() &&
      material.usable_width() <= Length()) {
    diagnostics.error(selvedge->place, {"selvedge-too-wide", {{"name", name}}},
                      {{"selvedge-too-wide-hint"}});
  }
  if (material.price && material.price_per.empty()) material.price_per = "m";
  reader.finish();
  return material;
}

std::vector<pouch::Material> read_materials(const LoadedFile& file,
                                            base::Diagnostics& diagnostics) {
  std::vector<pouch::Material> materials;
  const auto root = parsed(file, diagnostics);
  if (!root) return materials;
  for (const auto& [name, node] : root->entries) {
    if (node.kind != Node::Kind::table) {
      diagnostics.error(node.place, {"wrong-kind-table", {{"key", name}}}, {});
      continue;
    }
    if (const auto material =
            read_material(node, name, name, std::nullopt, base::Unit::mm, diagnostics)) {
      materials.push_back(*material);
    }
  }
  return materials;
}

}  // namespace pouchwright::input
