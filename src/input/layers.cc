#include "input/layers.h"

#include <algorithm>
#include <utility>

namespace pouchwright::input {

namespace {

constexpr std::string_view kSole = "sole";
constexpr std::string_view kMaterials = "materials";

/// Does the iron's table say more than how large its sole is?
bool has_setting(const Node& iron) {
  return std::any_of(iron.entries.begin(), iron.entries.end(),
                     [](const Entry& one) { return one.key != kSole; });
}

bool are_tables(const Node& a, const Node& b) {
  return a.kind == Node::Kind::table && b.kind == Node::Kind::table;
}

std::string written(const Node& node) {
  if (node.kind == Node::Kind::array) return "";
  if (node.kind == Node::Kind::boolean) return node.truth ? "true" : "false";
  return node.kind == Node::Kind::text ? "\"" + node.text + "\"" : node.text;
}

class Taken {
 public:
  explicit Taken(GroupValue::Of of) : of_(of) {}

  // NOLINTNEXTLINE(misc-no-recursion): nesting was limited before parsing
  void note(const Node& node, const std::string& path) {
    if (node.kind != Node::Kind::table) values_.push_back({path, node.place, written(node), of_});
    for (const Entry& one : node.entries) note(one.node, path + "." + one.key);
  }
  void put(Node& table, const Entry& one, const std::string& path) {
    table.entries.push_back(one);
    note(one.node, path);
  }
  [[nodiscard]] std::vector<GroupValue> values() && { return std::move(values_); }

 private:
  GroupValue::Of of_;
  std::vector<GroupValue> values_;
};

// NOLINTNEXTLINE(misc-no-recursion): nesting was limited before parsing
void put_over(Node& job, const Node& over) {
  for (const Entry& one : over.entries) {
    Node* own = found(job, one.key);
    if (own == nullptr) {
      job.entries.push_back(one);
    } else if (!are_tables(*own, one.node)) {
      *own = one.node;
    } else if (one.key == kMaterials) {
      for (const Entry& cloth : one.node.entries) {
        take_out(*own, cloth.key);
        own->entries.push_back(cloth);
      }
    } else {
      put_over(*own, one.node);
    }
  }
}

}  // namespace

const std::vector<std::string>& shared_keys() {
  static const std::vector<std::string> kShared = {
      "units", "language", "ruler",  "tolerance", "materials", "batch",  "iron",
      "lay",   "paper",    "packet", "group",     "stock",     "prices", "stitches"};
  return kShared;
}

Node* found(Node& table, std::string_view key) {
  return const_cast<Node*>(std::as_const(table).find(key));
}

Node& table_in(Node& table, std::string_view key) {
  Node* own = found(table, key);
  if (own == nullptr) {
    table.entries.push_back({std::string(key), Node{}});
    return table.entries.back().node;
  }
  if (own->kind != Node::Kind::table) *own = Node{};
  return *own;
}

void take_out(Node& table, std::string_view key) {
  std::erase_if(table.entries, [&](const Entry& one) { return one.key == key; });
}

std::vector<GroupValue> lay_under(Node& job, const Node& shared, GroupValue::Of of) {
  Taken taken(of);
  for (const Entry& one : shared.entries) {
    Node* own = found(job, one.key);
    if (own == nullptr) {
      taken.put(job, one, one.key);
      continue;
    }
    if (!are_tables(*own, one.node)) continue;
    const bool is_set = one.key == "iron" && has_setting(*own);
    for (const Entry& value : one.node.entries) {
      if (own->find(value.key) || (is_set && value.key != kSole)) continue;
      taken.put(*own, value, one.key + "." + value.key);
    }
  }
  return std::move(taken).values();
}

std::vector<GroupValue> lay_over(Node& job, const Node& over, GroupValue::Of of) {
  put_over(job, over);
  Taken taken(of);
  for (const Entry& one : over.entries) taken.note(one.node, one.key);
  return std::move(taken).values();
}

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

base::Unit bare_unit(const Node& root) {
  const Node* node = root.find("units");
  return node && node->text == "in" ? base::Unit::inch : base::Unit::mm;
}

}  // namespace pouchwright::input
