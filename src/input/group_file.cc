#include "input/group_file.h"

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "base/text.h"
#include "input/reader.h"

namespace pouchwright::input {

namespace {

/// What a group has for all of its jobs. A pouch, its liners and its title are a job's own.
const std::vector<std::string> kShared = {"units", "ruler",  "tolerance", "materials", "batch",
                                          "iron",  "lay",    "paper",     "packet",    "group",
                                          "stock", "prices", "stitches"};

Node* found(Node& table, std::string_view key) {
  return const_cast<Node*>(std::as_const(table).find(key));
}

void take_out(Node& table, std::string_view key) {
  std::erase_if(table.entries, [&](const Entry& one) { return one.key == key; });
}

// ---- The file ----

struct Named {
  LoadedFile file;
  std::string
      folder;  ///< of its paths, as the job would name them; empty or with a slash at its end
};

std::string folder_of(const std::string& path) { return path.substr(0, path.rfind('/') + 1); }

/// A path, since the program knows no group.
std::optional<Named> named_by(const Node& key, const Library& library,
                              base::Diagnostics& diagnostics) {
  const bool is_path = key.text.find('/') != std::string::npos && key.text.ends_with(".toml");
  auto file = is_path ? library.load(key.text) : std::nullopt;
  if (file) return Named{std::move(*file), folder_of(key.text)};
  diagnostics.error(key.place, {"group-unknown", {{"text", clipped(key.text)}}},
                    {{"path-not-toml-hint"}});
  return std::nullopt;
}

/// The job's own, else the library's.
std::optional<Named> group_of(const Node& root, const Library& library,
                              base::Diagnostics& diagnostics) {
  const Node* key = root.find("group");
  if (key && key->kind == Node::Kind::text) return named_by(*key, library, diagnostics);
  auto file = library.group ? library.group() : std::nullopt;
  if (!file) return std::nullopt;
  const std::string folder = folder_of(file->name);
  return Named{std::move(*file), folder};
}

bool is_shared(const Entry& one, base::Diagnostics& diagnostics) {
  if (one.key == "group" && one.node.kind != Node::Kind::table) {
    diagnostics.error(one.node.key_place, {"group-in-group"}, {{"group-in-group-hint"}});
    return false;
  }
  if (std::find(kShared.begin(), kShared.end(), one.key) != kShared.end()) return true;
  diagnostics.error(one.node.key_place, {"not-of-group", {{"key", clipped(one.key)}}},
                    {{"known-names-hint", {{"names", base::list_text(kShared)}}}});
  return false;
}

/// Paths of a group's file lead from its own folder.
// NOLINTNEXTLINE(misc-no-recursion): nesting was limited before parsing
void place_paths(Node& node, const std::string& folder) {
  const bool is_path = node.kind == Node::Kind::text && node.text.find('/') != std::string::npos &&
                       node.text.ends_with(".toml");
  if (is_path && !node.text.starts_with('/')) node.text = folder + node.text;
  for (Entry& one : node.entries) place_paths(one.node, folder);
}

// NOLINTNEXTLINE(misc-no-recursion): nesting was limited before parsing
void read_in(Node& node, base::Unit unit) {
  node.bare = unit;
  for (Entry& one : node.entries) read_in(one.node, unit);
  for (Node& one : node.items) read_in(one, unit);
}

// ---- The job over it ----

constexpr std::string_view kSole = "sole";

/// Does the iron's table say more than how large its sole is?
bool has_setting(const Node& iron) {
  return std::any_of(iron.entries.begin(), iron.entries.end(),
                     [](const Entry& one) { return one.key != kSole; });
}

class Layer {
 public:
  explicit Layer(Node& job) : job_(job) {}

  void take(const Entry& one) {
    Node* own = found(job_, one.key);
    if (!own) return put(job_, one, one.key);
    const bool are_tables = own->kind == Node::Kind::table && one.node.kind == Node::Kind::table;
    if (!are_tables) return;
    const bool is_set = one.key == "iron" && has_setting(*own);
    for (const Entry& value : one.node.entries) {
      if (own->find(value.key) || (is_set && value.key != kSole)) continue;
      put(*own, value, one.key + "." + value.key);
    }
  }

  [[nodiscard]] std::vector<GroupValue> taken() && { return std::move(taken_); }

 private:
  void put(Node& table, const Entry& one, const std::string& path) {
    table.entries.push_back(one);
    note(one.node, path);
  }

  // NOLINTNEXTLINE(misc-no-recursion): nesting was limited before parsing
  void note(const Node& node, const std::string& path) {
    if (node.kind != Node::Kind::table) taken_.push_back({path, node.place});
    for (const Entry& one : node.entries) note(one.node, path + "." + one.key);
  }

  Node& job_;
  std::vector<GroupValue> taken_;
};

}  // namespace

base::Unit bare_unit(const Node& root) {
  const Node* node = root.find("units");
  return node && node->text == "in" ? base::Unit::inch : base::Unit::mm;
}

std::vector<GroupValue> take_group(Node& root, const Library& library,
                                   base::Diagnostics& diagnostics) {
  const auto named = group_of(root, library, diagnostics);
  const Node* key = root.find("group");
  if (key && key->kind == Node::Kind::text) take_out(root, "group");
  auto group = named ? parsed(named->file, diagnostics) : std::nullopt;
  if (!group) return {};
  std::erase_if(group->entries, [&](const Entry& one) { return !is_shared(one, diagnostics); });
  place_paths(*group, named->folder);
  read_in(*group, bare_unit(*group));
  Layer layer(root);
  for (const Entry& one : group->entries) layer.take(one);
  return std::move(layer).taken();
}

}  // namespace pouchwright::input
