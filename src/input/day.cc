#include "input/day.h"

#include <algorithm>
#include <array>
#include <filesystem>
#include <string_view>
#include <utility>

#include "base/text.h"
#include "batch/settings.h"
#include "input/layers.h"
#include "input/reader.h"

namespace pouchwright::input {

namespace {

constexpr const char* kMake = "make";

/// What a table [batch] says of the people and the room, which all jobs of a day share.
constexpr std::array<std::string_view, 10> kOfTheDay = {
    "helpers", "machines", "overedge_machines", "irons",  "plan",
    "changes", "break",    "break_every",       "helper", "work"};

/// Paths of the day's file lead from its folder, those of a job from the job's: the first as seen from
/// the second, empty or with a slash at its end.
std::string folder_from(const std::string& job, const std::string& day_file) {
  namespace fs = std::filesystem;
  const auto without_slash = [](fs::path path) {
    path = path.lexically_normal();
    return path.has_filename() ? path : path.parent_path();
  };
  const fs::path of_day = without_slash(fs::absolute(day_file).parent_path());
  const fs::path of_job = without_slash(of_day / fs::path(job).parent_path());
  const std::string back = of_day.lexically_relative(of_job).generic_string();
  return back.empty() || back == "." ? std::string() : back + "/";
}

/// A value at a dotted path, in tables made where there are none.
void put(Node& root, std::string_view path, const Node& value) {
  Node* table = &root;
  for (std::size_t dot = path.find('.'); dot != std::string_view::npos; dot = path.find('.')) {
    table = &table_in(*table, path.substr(0, dot));
    path.remove_prefix(dot + 1);
  }
  take_out(*table, path);
  table->entries.push_back({std::string(path), value});
}

bool is_list_of_tables(const Node& node) {
  return node.kind == Node::Kind::array &&
         std::any_of(node.items.begin(), node.items.end(),
                     [](const Node& one) { return one.kind == Node::Kind::table; });
}

bool is_path(std::string_view key) {
  return !key.empty() && !key.starts_with('.') && !key.ends_with('.') &&
         key.find("..") == std::string_view::npos &&
         std::count(key.begin(), key.end(), '.') < kMostDepth;
}

/// `set = { "pouch.width" = "200 mm" }`, or a table in it.
// NOLINTNEXTLINE(misc-no-recursion): nesting was limited before parsing
void take_sets(const Node& sets, const std::string& before, Node& own,
               base::Diagnostics& diagnostics) {
  for (const Entry& one : sets.entries) {
    const std::string path = before.empty() ? one.key : before + "." + one.key;
    if (!is_path(path)) {
      diagnostics.error(one.node.key_place, {"set-no-path", {{"path", clipped(path)}}},
                        {{"day-set-no-path-hint"}});
    } else if (is_list_of_tables(one.node)) {
      diagnostics.error(one.node.place, {"day-set-list", {{"key", clipped(one.key)}}},
                        {{"day-set-list-hint"}});
    } else if (one.node.kind == Node::Kind::table && path.find('.') == std::string::npos) {
      take_sets(one.node, path, own, diagnostics);
    } else {
      put(own, path, one.node);
    }
  }
}

/// The tables of a make lie over those of its job.
std::optional<Make> make_of(const Node& table, const Node& shared, const LoadedFile& file,
                            base::Diagnostics& diagnostics) {
  TableReader reader(table, kMake, {diagnostics, bare_unit(shared)});
  Make made;
  const auto job = reader.require("job") ? reader.text("job") : std::nullopt;
  const auto pouches = reader.whole("pouches", 1, batch::kMostPouches);
  if (reader.text("title")) put(made.own, "title", *table.find("title"));
  if (pouches) put(made.own, "batch.pouches", *table.find("pouches"));
  if (const Node* materials = reader.table("materials")) {
    for (const Entry& cloth : materials->entries)
      put(made.own, "materials." + cloth.key, cloth.node);
  }
  if (const Node* sets = reader.table("set")) take_sets(*sets, "", made.own, diagnostics);
  // A page in a browser has no files: it puts the job here.
  if (const Node* text = reader.find("text")) {
    if (text->kind == Node::Kind::text) made.text = text->text;
  }
  reader.finish();
  if (!job) return std::nullopt;
  made.job = *job;
  if (const Node* batch = shared.find("batch")) {
    for (const Entry& one : batch->entries) {
      const bool is_of_day =
          std::find(kOfTheDay.begin(), kOfTheDay.end(), one.key) != kOfTheDay.end();
      if (is_of_day) put(made.own, "batch." + one.key, one.node);
    }
  }
  made.shared = shared;
  const std::string folder = folder_from(job->value, file.name);
  for (Node* tree : {&made.own, &made.shared}) {
    place_paths(*tree, folder);
    read_in(*tree, bare_unit(shared));
  }
  return made;
}

bool is_shared(const Entry& one, base::Diagnostics& diagnostics) {
  const std::vector<std::string>& shared = shared_keys();
  if (std::find(shared.begin(), shared.end(), one.key) != shared.end()) return true;
  if (one.key == kMake || one.key == "title") return false;
  diagnostics.error(one.node.key_place, {"not-of-day", {{"key", clipped(one.key)}}},
                    {{"not-of-day-hint"}});
  return false;
}

/// But for how many are made.
// NOLINTNEXTLINE(misc-no-recursion): nesting was limited before parsing
bool are_alike(const Node& a, const Node& b) {
  if (a.kind != b.kind || a.text != b.text || a.whole != b.whole || a.decimal != b.decimal ||
      a.truth != b.truth || a.entries.size() != b.entries.size() ||
      a.items.size() != b.items.size())
    return false;
  for (std::size_t i = 0; i < a.entries.size(); ++i) {
    if (a.entries[i].key != b.entries[i].key) return false;
    if (a.entries[i].key != "pouches" && !are_alike(a.entries[i].node, b.entries[i].node))
      return false;
  }
  for (std::size_t i = 0; i < a.items.size(); ++i) {
    if (!are_alike(a.items[i], b.items[i])) return false;
  }
  return true;
}

Node* pouches_of(Make& make) {
  Node* batch = found(make.own, "batch");
  return batch ? found(*batch, "pouches") : nullptr;
}

/// Adds its pouches to those of the make that is alike; false where there is none.
bool is_added(Make& more, std::vector<Make>& makes) {
  for (Make& one : makes) {
    const bool is_same = one.job.value == more.job.value && one.text == more.text;
    if (!is_same || !are_alike(one.own, more.own)) continue;
    Node* all = pouches_of(one);
    const Node* extra = pouches_of(more);
    // How many a job makes that states it itself is not known here.
    if (all == nullptr || extra == nullptr) return false;
    all->whole += extra->whole;
    return true;
  }
  return false;
}

void check_sum(std::vector<Make>& makes, base::Diagnostics& diagnostics) {
  std::int64_t sum = 0;
  for (Make& one : makes) {
    const Node* pouches = pouches_of(one);
    if (pouches == nullptr) continue;
    sum += pouches->whole;
    if (sum <= batch::kMostPouches) continue;
    diagnostics.error(pouches->place,
                      {"day-too-many", {{"sum", sum}, {"most", batch::kMostPouches}}},
                      {{"day-too-many-hint"}});
    return;
  }
}

}  // namespace

bool is_day(const LoadedFile& file) {
  // Most files are no day, and need not be parsed to know it.
  if (file.text.find(kMake) == std::string::npos) return false;
  base::Diagnostics untold;
  const auto root = parsed(file, untold);
  return root && root->find(kMake) != nullptr;
}

void fill_no_first_pouch(Make& make) {
  Node none;
  none.kind = Node::Kind::text;
  none.text = word_of(batch::kFirstPouchWords, batch::FirstPouch::none);
  none.place = make.job.place;
  put(make.own, "batch.first_pouch", none);
}

std::optional<DayFile> read_day(const LoadedFile& file, const Languages& languages,
                                base::Diagnostics& diagnostics) {
  auto root = parsed(file, diagnostics);
  if (!root) return std::nullopt;
  base::Diagnostics faults;
  TableReader reader(*root, "", {faults, bare_unit(*root)});
  DayFile day;
  if (const auto title = reader.text("title")) day.title = title->value;
  if (const auto units = reader.choice("units", base::kUnitWords)) day.units = units->value;
  if (const auto named = reader.language("language", languages)) day.language = named->value;
  Node shared = *root;
  std::erase_if(shared.entries, [&](const Entry& one) { return !is_shared(one, faults); });
  const auto tables = reader.tables(kMake);
  if (tables.empty() && !faults.has_errors()) {
    faults.error(root->find(kMake)->place, {"day-no-make"}, {{"day-no-make-hint"}});
  }
  if (tables.size() > kMostMakes) {
    faults.error(tables[kMostMakes]->place, {"day-too-many-makes", {{"most", kMostMakes}}},
                 {{"day-too-many-hint"}});
  }
  for (std::size_t i = 0; i < tables.size() && i < kMostMakes; ++i) {
    auto make = make_of(*tables[i], shared, file, faults);
    if (make && !is_added(*make, day.makes)) day.makes.push_back(std::move(*make));
  }
  check_sum(day.makes, faults);
  diagnostics.add_all(faults);
  // What is wrong in the jobs is to be told with it.
  if (day.makes.empty()) return std::nullopt;
  return day;
}

}  // namespace pouchwright::input
