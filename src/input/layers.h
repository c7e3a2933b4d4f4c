/// One file's tables laid under or over another's: a job over its day's shared tables, over its
/// group's file.
///
///     auto taken = lay_under(job, group, GroupValue::Of::group);  // a value of the job wins
///     lay_over(job, make, GroupValue::Of::day);                   // a value of the make wins
///
/// Inside `input` only.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "base/length.h"
#include "input/node.h"

namespace pouchwright::input {

/// A value that a job has from its group's file, or from its day's.
struct GroupValue {
  enum class Of { group, day };
  std::string path;
  base::Place place;
  std::string written{};  ///< as TOML; empty for a list
  Of of = Of::group;
};

/// Keys of what a group or a day may share. A pouch, its liners and its title are a job's own.
[[nodiscard]] const std::vector<std::string>& shared_keys();

/// A value of the job wins; so does a list as a whole, a cloth of [materials], and the setting of the
/// iron, which is of one trial. Returns what the job has from `shared`.
std::vector<GroupValue> lay_under(Node& job, const Node& shared, GroupValue::Of of);

/// A value of `over` wins. Tables are laid over each other, but for a cloth: that is whole. Returns
/// what the job has from `over`: all.
std::vector<GroupValue> lay_over(Node& job, const Node& over, GroupValue::Of of);

/// Of an entry: null where there is none.
[[nodiscard]] Node* found(Node& table, std::string_view key);
/// The entry's node, made as an empty table where there is none, or something else.
[[nodiscard]] Node& table_in(Node& table, std::string_view key);
void take_out(Node& table, std::string_view key);

/// Paths to files of a tree lead from `folder`, which is empty or has a slash at its end.
void place_paths(Node& node, const std::string& folder);
/// Bare lengths of a tree are in `unit`.
void read_in(Node& node, base::Unit unit);

/// Of lengths without a unit in a job, a day or a group's file: what it states as `units`, else
/// millimetres.
[[nodiscard]] base::Unit bare_unit(const Node& root);

}  // namespace pouchwright::input
