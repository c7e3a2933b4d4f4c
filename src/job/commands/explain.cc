#include "job/commands/explain.h"

#include <algorithm>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/length.h"
#include "input/fields.h"
#include "input/job.h"
#include "job/job_text/edited.h"
#include "pouch/judge/content.h"

namespace pouchwright::job {
namespace {

using base::Length;
namespace size = pouch::size;

struct Explained {
  std::string path;
  std::string is;  ///< as the job would say it
  std::string from;
  base::Message told;
  std::optional<int> line{};
};

/// What options and the job's text say.
class Sources {
 public:
  explicit Sources(const Run& run)
      : overrides_(run.overrides()), written_(written_job(run.job_text()).value_or(WrittenJob())) {
    of_others_ = run.settings().of_group;
  }

  [[nodiscard]] std::optional<Explained> of(const std::string& path) const {
    for (const input::Override& one : overrides_) {
      if (one.path != path) continue;
      return Explained{path, one.value, "option", {"explain-option", {{"option", one.shown}}}};
    }
    // What a day's make says goes before its job; what a group says stands where the job says nothing.
    if (auto stated = of_others(path)) return stated;
    for (const WrittenValue& one : written_.values) {
      if (one.path != path) continue;
      return Explained{path, one.written, "job", {"explain-job", {{"line", one.first}}}, one.first};
    }
    return std::nullopt;
  }

 private:
  [[nodiscard]] std::optional<Explained> of_others(const std::string& path) const {
    for (const input::GroupValue& one : of_others_) {
      if (one.path != path) continue;
      const bool is_day = one.of == input::GroupValue::Of::day;
      const std::string file = std::filesystem::path(one.place.file).filename().string();
      return Explained{
          path,
          one.written,
          is_day ? "day" : "group",
          {is_day ? "explain-day" : "explain-group", {{"line", one.place.line}, {"file", file}}},
          one.place.line};
    }
    return std::nullopt;
  }

  std::vector<input::Override> overrides_;
  WrittenJob written_;
  std::vector<input::GroupValue> of_others_;  ///< of a day, a group
};

/// As the pouch has it once it is worked out; empty where only its spans show it.
std::optional<Length> worked_out(const pouch::Pouch& pouch, const std::string& name) {
  const pouch::Sizes& sizes = pouch.sizes;
  if (name == size::kWidth) return sizes.finished_width;
  if (name == size::kDepth) return sizes.depth;
  if (name == size::kFlap) return sizes.flap;
  if (name == size::kLipDrop) return sizes.lip_drop;
  if (name == size::kNeedleReach) return sizes.needle_reach;
  if (name == size::kSealWidth) return sizes.seal_width;
  const auto found = pouch.request.sizes.find(name);
  return found == pouch.request.sizes.end() ? std::nullopt : std::optional(found->second.value);
}

/// What a size follows from that nobody states; empty where it follows from nothing.
const char* derived_from(const pouch::Request& request, const std::string& name) {
  const bool is_fold_size = name == size::kDepth || name == size::kFlap || name == size::kLipDrop;
  if (request.card && name == size::kSealWidth) return "explain-from-card";
  if (request.panel) {
    if (request.panel->folds && is_fold_size) return "explain-from-folds";
    if (name == size::kWidth || name == size::kDepth) return "explain-from-panel";
    if (name == size::kFlap && !request.sizes.contains(name)) return "explain-from-panel";
  }
  if (request.card && name == size::kWidth) return "explain-from-card";
  const bool is_open = !request.sizes.contains(name);
  const bool follows =
      request.liners && request.liners->count && pouch::follows_liners(request.construction, name);
  if (follows && is_open) return "explain-from-liners";
  return nullptr;
}

Explained explained_size(const pouch::Pouch& pouch, const pouch::SizeRule& rule,
                         const Sources& sources) {
  const std::string path = "pouch." + rule.name;
  const pouch::Request& request = pouch.request;
  if (auto stated = sources.of(path)) return *stated;
  const auto length = worked_out(pouch, rule.name);
  const std::string is = length ? base::exact_text(*length, request.units) : std::string();
  if (const char* derived = derived_from(request, rule.name)) {
    return {path, is, "derived", derived};
  }
  if (rule.usual(request.units)) {
    return {path,
            is,
            "construction",
            {"explain-construction", {{"construction", request.construction.name}}}};
  }
  if (rule.name == size::kNeedleReach) return {path, is, "derived", "explain-from-allowance"};
  return {path, is, "program", "explain-program"};
}

/// Fields of a table that the job does not have say nothing; what a cloth with a name is like stands in
/// the data.
bool says_something(const input::FieldFacts& field, const pouch::Request& request) {
  if (field.table.starts_with("materials.")) return false;
  if (field.table == "panel") return request.panel.has_value();
  if (field.table == "card") return request.card.has_value();
  if (field.table == "liners") return request.liners.has_value();
  return true;
}

std::vector<Explained> explained(const Run& run) {
  const Sources sources(run);
  const pouch::Request& request = run.pouch().request;
  std::vector<Explained> all;
  if (auto stated = sources.of("construction")) all.push_back(*stated);
  for (const input::FieldFacts& field : input::job_fields()) {
    if (auto stated = sources.of(field.path())) {
      all.push_back(*stated);
      continue;
    }
    if (!says_something(field, request)) continue;
    if (request.card && field.path() == "pouch.cards") {
      const std::string cards = word_of(pouch::kCardUseWords, request.cards);
      all.push_back({field.path(), toml_text(cards), "derived", "explain-from-card"});
      continue;
    }
    // Tables that are asked for whole, and examples, hold nothing where the job leaves them out.
    if (field.holds_unless_stated()) {
      all.push_back({field.path(), field.usual_of(request.units), "program", "explain-program"});
    }
  }
  for (const pouch::SizeRule& rule : request.construction.sizes) {
    all.push_back(explained_size(run.pouch(), rule, sources));
  }
  std::stable_sort(all.begin(), all.end(), [](const Explained& a, const Explained& b) {
    return a.path.substr(0, a.path.find('.')) < b.path.substr(0, b.path.find('.'));
  });
  return all;
}

}  // namespace

void add_explained(Report& report, const Run& run) {
  const std::vector<Explained> all = explained(run);
  report.field("explained", cells(all, [&](const Explained& one) {
                 return Cell::Fields{{"value", one.path},
                                     {"is", one.is},
                                     {"from", one.from},
                                     {"line", one.line ? Cell(*one.line) : Cell()}};
               }));
  report.begin();
  report.heading("explain-head");
  for (const Explained& one : all) {
    report.row({"check-changed-value", {{"value", one.path}}},
               base::Message("explain-is", {{"is", one.is}, {"told", one.told}}));
  }
}

}  // namespace pouchwright::job
