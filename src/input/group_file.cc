#include "input/group_file.h"

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "base/text.h"
#include "input/layers.h"
#include "input/reader.h"

namespace pouchwright::input {

namespace {

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
  const std::vector<std::string>& shared = shared_keys();
  if (std::find(shared.begin(), shared.end(), one.key) != shared.end()) return true;
  diagnostics.error(one.node.key_place, {"not-of-group", {{"key", clipped(one.key)}}},
                    {{"known-names-hint", {{"names", base::list_text(shared)}}}});
  return false;
}

}  // namespace

std::vector<GroupValue> take_group(Node& root, const Library& library,
                                   base::Diagnostics& diagnostics) {
  const auto named = group_of(root, library, diagnostics);
  const Node* key = root.find("group");
  if (key && key->kind == Node::Kind::text) take_out(root, "group");
  auto group = named ? parsed(named->file, diagnostics) : std::nullopt;
  if (!group) return {};
  std::erase_if(group->entries, [&](const Entry& one) { return !is_shared(one, diagnostics); });
  // Its paths lead from its own folder.
  place_paths(*group, named->folder);
  read_in(*group, bare_unit(*group));
  return lay_under(root, *group, GroupValue::Of::group);
}

}  // namespace pouchwright::input
