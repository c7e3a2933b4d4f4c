#include "input/data.h"

#include <algorithm>
#include <map>
#include <memory>
#include <optional>

#include "base/text.h"
#include "input/fields.h"
#include "input/reader.h"

namespace pouchwright::input {

namespace {

// NOLINTNEXTLINE(misc-no-recursion): nesting was limited before parsing
void collect(const Node& table, const std::string& prefix, base::Words::Table& words) {
  for (const auto& [key, node] : table.entries) {
    if (node.kind == Node::Kind::table) collect(node, prefix + key + ".", words);
    if (node.kind == Node::Kind::text) words[prefix + key] = node.text;
  }
}

bool has_control(std::string_view text) {
  bool found = false;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    found |= (byte < 0x20 && byte != '\n') || byte == 0x7F;
  }
  return found;
}

bool is_utf8(std::string_view text) {
  unsigned char all = 0;
  for (const char c : text) all |= static_cast<unsigned char>(c);
  return all < 0x80 || base::utf8_bytes(text) == text.size();
}

/// Undoes `\"` and `\\` in place. Nothing where there is another escape, or a quote without one.
std::optional<std::string_view> unescaped(char* from, std::size_t size) {
  const std::string_view written(from, size);
  if (written.find('\\') == std::string_view::npos) {
    return written.find('"') == std::string_view::npos ? std::optional(written) : std::nullopt;
  }
  char* to = from;
  for (std::size_t at = 0; at < size; ++at) {
    if (written[at] == '"') return std::nullopt;
    if (written[at] == '\\') {
      ++at;
      if (at == size || (written[at] != '"' && written[at] != '\\')) return std::nullopt;
    }
    *to++ = written[at];
  }
  return std::string_view(from, static_cast<std::size_t>(to - from));
}

/// The key and text of a line as our own file has it, `"key" = "text"`; they lie in the line.
std::optional<base::Words::Row> plain_row(char* line, std::size_t size) {
  constexpr std::string_view kBetween = "\" = \"";
  const std::string_view written(line, size);
  const std::size_t between = written.find(kBetween, 1);
  const std::size_t from = between + kBetween.size();
  if (!is_utf8(written) || between == std::string_view::npos || written.front() != '"' ||
      written.back() != '"' || from >= size) {
    return std::nullopt;
  }
  const std::string_view key = written.substr(1, between - 1);
  // Not by find_first_of, which asks for each letter.
  if (key.find('"') != key.npos || key.find('\\') != key.npos) return std::nullopt;
  const auto text = unescaped(line + from, size - from - 1);
  return text ? std::optional(base::Words::Row{key, *text}) : std::nullopt;
}

/// Words as our own file has them, read without the TOML library, which took half of the time of a
/// short run, and without a copy of each. Nothing where any line is something else.
std::optional<base::Words> read_plain_words(std::string_view given) {
  if (has_control(given)) return std::nullopt;
  const auto file = std::make_shared<std::string>(given);
  std::vector<base::Words::Row> rows;
  for (std::size_t at = 0, end = 0; at < file->size(); at = end + 1) {
    end = std::min(file->find('\n', at), file->size());
    const std::string_view line(file->data() + at, end - at);
    if (line.empty() || (line.front() == '#' && is_utf8(line))) continue;
    const auto row = plain_row(file->data() + at, line.size());
    if (!row) return std::nullopt;
    rows.push_back(*row);
  }
  std::sort(rows.begin(), rows.end(), [](const auto& a, const auto& b) { return a.key < b.key; });
  const auto twice = std::adjacent_find(
      rows.begin(), rows.end(), [](const auto& a, const auto& b) { return a.key == b.key; });
  if (twice != rows.end()) return std::nullopt;
  return base::Words(file, std::move(rows));
}

}  // namespace

base::Words read_words(const LoadedFile& file, base::Diagnostics& diagnostics) {
  if (file.text.size() <= kMostWordsBytes) {
    if (auto plain = read_plain_words(file.text)) return *std::move(plain);
  }
  base::Words::Table words;
  if (const auto root = parsed(file, diagnostics, kMostWordsBytes)) collect(*root, "", words);
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
    if (base::lower(paper.name) == base::lower(text)) return paper;
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
  // Which way the cloth's print runs: along it, where nothing is said.
  if (material.upright && material.turn == base::Turn::either) {
    material.turn = base::Turn::along;
  }
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
