#include "input/job.h"

#include <algorithm>
#include <array>
#include <concepts>
#include <utility>

#include "base/number.h"
#include "base/text.h"
#include "batch/sampling.h"
#include "input/added_operations.h"
#include "input/fields.h"
#include "input/group_file.h"
#include "input/helpers.h"
#include "input/materials.h"
#include "input/pouch_table.h"
#include "input/prices.h"
#include "input/reader.h"
#include "input/sewing.h"
#include "input/things.h"
#include "input/work.h"
#include "pouch/judge/own_card.h"

namespace pouchwright::input {

namespace {

using Currencies = std::vector<Placed<std::string>>;

/// `units` is what the job says, `printed` what the command line does.
void style(TableReader& reader, std::optional<base::Unit> printed, JobSettings& made) {
  const auto units = reader.choice("units", base::kUnitWords);
  const base::Unit of_job = units ? units->value : base::Unit::mm;
  const base::Unit of_print = printed.value_or(of_job);
  const auto ruler = reader.length("ruler", Zero::refused);
  made.request.units = of_job;
  made.request.cut_step = ruler ? ruler->value : base::default_style(of_job).ruler;
  // --units changes printing only: cut sizes still round to the step of the job's own units.
  made.style = base::default_style(of_print);
  if (of_print == of_job) made.style.ruler = made.request.cut_step;
}

// ---- The construction ----

/// What the job's [pouch] says for a count; read_pouch() reports what is wrong with it.
std::optional<int> stated_count(const Node& root, const pouch::CountRule& rule) {
  const Node* table = root.find("pouch");
  const Node* node = table ? table->find(rule.name) : nullptr;
  if (!node || node->kind != Node::Kind::whole) return std::nullopt;
  if (node->whole < rule.least || node->whole > rule.most) return std::nullopt;
  return static_cast<int>(node->whole);
}

base::Message unknown_hint(const std::string& name, const Library& library) {
  if (name.find('/') != std::string::npos) return {"path-not-toml-hint"};
  if (name.ends_with(".toml")) return {"path-beside-hint", {{"text", clipped(name)}}};
  return nearest_hint(name, library.constructions());
}

void construction(const Node& root, TableReader& reader, const Library& library,
                  JobSettings& made) {
  auto& diagnostics = reader.context().diagnostics;
  const auto name = reader.require("construction") ? reader.text("construction") : std::nullopt;
  if (!name) return;
  const bool is_path = name->value.find('/') != std::string::npos;
  if (is_path && !name->value.ends_with(".toml")) {
    diagnostics.error(name->place, {"path-not-toml", {{"text", clipped(name->value)}}},
                      {{"path-not-toml-hint"}});
    return;
  }
  const auto file = library.load(name->value);
  if (!file) {
    diagnostics.add(
        {.place = name->place,
         .message = {"construction-unknown", {{"text", clipped(name->value)}}},
         .hints = {unknown_hint(name->value, library)},
         .remedy = nearest_remedy("construction", name->value, library.constructions())});
    return;
  }
  made.construction_place = name->place;
  std::string stem = name->value.substr(name->value.find_last_of('/') + 1);
  if (is_path) stem.resize(stem.size() - std::string_view(".toml").size());
  const auto read = read_construction(
      *file, stem, [&](const pouch::CountRule& rule) { return stated_count(root, rule); },
      diagnostics);
  if (read) {
    made.request.construction = read->construction;
    made.request.places = read->places;
  } else {
    diagnostics.error(name->place, {"construction-unusable", {{"construction", stem}}});
  }
}

/// A size above the first header belongs to no table.
void sizes_outside(const Node& root, TableReader& reader,
                   const std::vector<pouch::SizeRule>& sizes) {
  for (const auto& [key, node] : root.entries) {
    const bool is_size = std::any_of(sizes.begin(), sizes.end(),
                                     [&key = key](const auto& one) { return one.name == key; });
    if (!is_size || reader.knows(key) || node.kind == Node::Kind::table) continue;
    reader.know(key);
    reader.context().diagnostics.error(node.key_place, {"key-unknown", {{"key", clipped(key)}}},
                                       {{"key-in-pouch-hint", {{"key", key}}}});
  }
}

// ---- Tables that only their fields describe ----

/// The table `key` read into an Owner; empty where there is none, or a needed field is at fault.
template <class Owner>
std::optional<Owner> table_of(TableReader& root, const char* key, const Fields<Owner>& fields) {
  const Node* node = root.table(key);
  if (!node) return std::nullopt;
  TableReader reader(*node, key, root.context());
  Owner owner = usual_of<Owner>(root.context().bare);
  if constexpr (requires {
                  { owner.place } -> std::same_as<base::Place&>;
                }) {
    owner.place = node->key_place.file.empty() ? node->place : node->key_place;
  }
  const bool is_whole = read_fields(fields, reader, owner);
  reader.finish();
  return is_whole ? std::optional(owner) : std::nullopt;
}

/// The tables of a list, each read into an Owner, those at fault too.
template <class Owner>
std::vector<Owner> list_of(TableReader& table, const char* key, const Fields<Owner>& fields) {
  std::vector<Owner> all;
  // No path leads to a value of a list, so nothing can be put there.
  base::Diagnostics faults;
  for (const Node* node : table.tables(key)) {
    TableReader reader(*node, table.path(key), {faults, table.context().bare});
    Owner& owner = all.emplace_back();
    owner.place = node->place;
    read_fields(fields, reader, owner);
    reader.finish();
  }
  for (base::Diagnostic fault : faults.sorted()) {
    fault.remedy.reset();
    table.context().diagnostics.add(std::move(fault));
  }
  return all;
}

// ---- The batch ----

/// Minutes that a group has measured itself: a path, since the program has only one work table.
std::optional<batch::WorkTable> work_file(const Placed<std::string>& name, const Library& library,
                                          base::Diagnostics& diagnostics) {
  const bool is_path = name.value.find('/') != std::string::npos && name.value.ends_with(".toml");
  const auto file = is_path ? library.load(name.value) : std::nullopt;
  if (!file) {
    diagnostics.error(name.place, {"work-unknown", {{"text", clipped(name.value)}}},
                      {{"path-not-toml-hint"}});
    return std::nullopt;
  }
  auto work = read_work(*file, diagnostics);
  if (!work) {
    diagnostics.error(name.place, {"work-unusable", {{"text", clipped(name.value)}}});
  }
  return work;
}

/// The table of ISO 2859-1 is kept for a few limits only; nothing lies between them.
void check_aql(const Placed<double>& limit, base::Diagnostics& diagnostics) {
  const double near = batch::nearest_limit(limit.value);
  if (near == limit.value) return;
  const std::string known = base::list_text(batch::kQualityLimits, ", ",
                                            [](double one) { return base::shortest(one, 2); });
  diagnostics.add(
      {.place = limit.place,
       .message = {"aql-unknown", {{"aql", base::shortened(limit.value, 6)}}},
       .hints = {{"aql-unknown-hint", {{"near", base::shortened(near, 2)}, {"known", known}}}},
       .remedy = base::Remedy{"batch.aql", base::shortest(near, 2)}});
}

void batch(TableReader& root, const Library& library, JobSettings& made, Currencies& currencies) {
  const Node* node = root.table("batch");
  if (!node) return;
  TableReader reader(*node, "batch", root.context());
  auto& diagnostics = root.context().diagnostics;
  read_fields(kBatchFields, reader, made.batch);
  if (made.batch.aql) check_aql(*made.batch.aql, diagnostics);
  if (const auto plan = reader.choice("plan", batch::kPlanWords)) made.batch.plan = plan->value;
  read_helpers(reader, made.batch);
  made.request.fills_first = made.batch.first_pouch != batch::FirstPouch::none;
  if (const auto currency = reader.text("currency")) currencies.push_back(*currency);
  if (const auto work = reader.text("work")) made.work = work_file(*work, library, diagnostics);
  reader.finish();
}

/// Whoever measured only the sole has no setting to tell yet.
bool tells_sole_alone(const Node& iron) {
  return iron.entries.size() == 1 && iron.find("sole") != nullptr;
}

void iron(TableReader& root, JobSettings& made) {
  const Node* node = root.table("iron");
  if (!node) return;
  TableReader reader(*node, "iron", root.context());
  if (const auto sole = reader.length_pair("sole")) {
    made.sole = {sole->value.across, sole->value.down};
  }
  batch::IronTrial trial{.place = node->key_place.file.empty() ? node->place : node->key_place};
  if (!tells_sole_alone(*node) && read_fields(kIronFields, reader, trial)) made.iron = trial;
  reader.finish();
  if (!made.iron || !made.iron->steam || made.iron->dots != 1) return;
  root.context().diagnostics.add(
      {.place = node->find("steam")->place,
       .message = {"steam-on-one-dot"},
       .hints = {{"steam-on-one-dot-hint"}},
       .remedy = base::Remedy{"iron.steam", "false", {"remedy-no-steam"}}});
}

/// Half a template is a template: there is none beside a gauge alone.
void packet(TableReader& root, JobSettings& made) {
  const auto read = table_of(root, "packet", kPacketFields);
  if (!read) return;
  made.packet = *read;
  if (read->templates != PacketTemplate::gauge || made.pattern != pouch::Pattern::half) return;
  const Node* stated = root.find("packet")->find("template");
  root.context().diagnostics.add({.place = stated->place,
                                  .message = {"gauge-of-half"},
                                  .hints = {{"gauge-of-half-hint"}},
                                  .remedy = base::Remedy{"paper.half"}});
}

// ---- Cutting ----

/// The cloths of [materials].
constexpr std::array kClothNames = {"laminate", "outer", "lining"};

std::optional<lay::Plies> plies_at(TableReader& reader, const std::string& key) {
  const Node* node = reader.find(key);
  if (!node) return std::nullopt;
  if (node->kind == Node::Kind::whole) {
    const auto count = reader.whole(key, 1, lay::kMostPlies);
    if (!count) return std::nullopt;
    const auto way = count->value == 1 ? lay::Plies::Way::single : lay::Plies::Way::stacked;
    return lay::Plies{way, count->value};
  }
  if (node->text != "folded 2" && node->text != "folded 4") {
    reader.context().diagnostics.error(node->place, {"not-plies", {{"text", clipped(node->text)}}},
                                       {{"not-plies-hint"}});
    return std::nullopt;
  }
  return lay::Plies{lay::Plies::Way::folded, node->text == "folded 2" ? 2 : 4};
}

/// One value for all cloths, or a table by cloth.
void plies(TableReader& reader, lay::Settings& made) {
  const Node* node = reader.find("plies");
  if (!node || node->kind != Node::Kind::table) {
    made.plies = plies_at(reader, "plies").value_or(lay::Plies());
    return;
  }
  TableReader by_cloth(*node, reader.path("plies"), reader.context());
  for (const char* cloth : kClothNames) {
    if (const auto read = plies_at(by_cloth, cloth)) made.plies_by_cloth.push_back({cloth, *read});
  }
  by_cloth.finish();
}

void lay(TableReader& root, lay::Settings& made) {
  made = usual_of<lay::Settings>(root.context().bare);
  const Node* node = root.table("lay");
  if (!node) return;
  TableReader reader(*node, "lay", root.context());
  read_fields(kLayFields, reader, made);
  plies(reader, made);
  made.remnants = list_of(reader, "remnant", kRemnantFields);
  made.by_products = list_of(reader, "by_product", kByProductFields);
  reader.finish();
}

// ---- Paper ----

void paper_size(TableReader& reader, const Library& library, const base::Place& job,
                paper::PageSetup& made) {
  const auto text = reader.text("size");
  const std::string name = text ? text->value : made.name;
  const base::Unit usual = reader.context().bare;
  const base::Unit bare = text ? reader.find("size")->bare.value_or(usual) : usual;
  const auto found = paper_of(name, bare, library.papers);
  if (!found) {
    std::vector<std::string> names;
    for (const PaperSize& paper : library.papers) names.push_back(paper.name);
    reader.context().diagnostics.add({.place = text ? text->place : job,
                                      .message = {"paper-unknown", {{"text", clipped(name)}}},
                                      .hints = {nearest_hint(name, names), {"not-a-size-hint"}},
                                      .remedy = nearest_remedy("paper.size", name, names)});
    return;
  }
  made.name = found->name;
  made.width = std::min(found->width, found->height);
  made.height = std::max(found->width, found->height);
  if (text) made.place = text->place;
}

void margins(TableReader& reader, paper::PageSetup& made) {
  const Node* node = reader.find("margin");
  if (!node) return;
  made.margin_place = node->place;
  if (node->kind != Node::Kind::table) {
    const auto all = reader.length("margin", Zero::allowed);
    if (all) made.margins = {all->value, all->value, all->value, all->value};
    return;
  }
  TableReader sides(*node, "paper.margin", reader.context());
  read_fields(kMarginFields, sides, made.margins);
  sides.finish();
}

void paper(TableReader& root, const Library& library, JobSettings& settings) {
  static const Node kEmpty;
  const Node* node = root.table("paper");
  TableReader reader(node ? *node : kEmpty, "paper", root.context());
  const base::Place& job = settings.request.place;
  auto& made = settings.paper;
  made.place = made.margin_place = made.overlap_place = made.printed_square_place =
      node ? node->key_place : job;
  paper_size(reader, library, job, made);
  made.margins = usual_of<paper::Margins>(reader.context().bare);
  margins(reader, made);
  made.overlap = paper::kOverlap;
  if (const auto overlap = reader.length("overlap", Zero::allowed)) {
    made.overlap = overlap->value;
    made.overlap_place = overlap->place;
  }
  if (const auto square = reader.length_pair("printed_square")) {
    made.printed_across = square->value.across;
    made.printed_down = square->value.down;
    made.printed_square_place = square->place;
  }
  const auto half = reader.truth("half");
  if (half && half->value) settings.pattern = pouch::Pattern::half;
  reader.finish();
}

// ---- What is there ----

/// Cloth, of which a left-over of [[lay.remnant]] is the same, and things.
void stock(TableReader& root, const Library& library, JobSettings& made) {
  const Node* node = root.table("stock");
  if (!node) return;
  TableReader reader(*node, "stock", root.context());
  for (lay::Remnant& cloth : list_of(reader, "cloth", kRemnantFields)) {
    made.lay.remnants.push_back(std::move(cloth));
  }
  read_things(reader, library, made.batch.stock);
  reader.finish();
}

/// A cloth that is folded along its length turns the lower half of a print that runs across it
/// upside down.
void check_upright(const pouch::Material& cloth, const char* kind, const lay::Settings& lay,
                   base::Diagnostics& diagnostics) {
  const bool is_folded = lay.plies_of(kind).way == lay::Plies::Way::folded;
  if (!cloth.upright || cloth.turn != base::Turn::across || !is_folded) return;
  diagnostics.error(cloth.place, {"upright-folded", {{"cloth", cloth.name}}},
                    {{"upright-folded-hint"}});
}

// ---- Money ----

void prices(TableReader& root, batch::Prices& made, Currencies& currencies) {
  const Node* node = root.table("prices");
  if (!node) return;
  TableReader reader(*node, "prices", root.context());
  for (const auto& [name, node_of_price] : node->entries) {
    const auto price = read_price(reader, name);
    if (!price) continue;
    made[name] = {price->amount, price->place};
    if (!price->currency.empty()) currencies.push_back({price->currency, price->place});
  }
}

/// Sums make sense in one currency only; the first one stated counts, [batch] before the others.
void one_currency(Currencies currencies, JobSettings& made, base::Diagnostics& diagnostics) {
  const auto add = [&](const pouch::Material& material) {
    if (!material.price_currency.value.empty()) currencies.push_back(material.price_currency);
  };
  add(made.request.laminate);
  if (made.request.outer) add(*made.request.outer);
  if (currencies.empty()) return;
  check_currencies(currencies, diagnostics);
  made.batch.currency = currencies.front().value;
}

JobSettings settings_of(const Node& root, std::optional<base::Unit> printed, const Library& library,
                        base::Diagnostics& diagnostics) {
  TableReader reader(root, "", {diagnostics, bare_unit(root)});
  JobSettings made;
  Currencies currencies;
  made.request.place = {root.place.file, 0, 0, 0};
  style(reader, printed, made);
  if (const auto named = reader.language("language", library.languages)) {
    made.language = named->value;
  }
  if (const auto title = reader.text("title")) made.request.title = title->value;
  construction(root, reader, library, made);
  made.request.panel = table_of(reader, "panel", kPanelFields);
  made.request.card = table_of(reader, "card", kCardFields);
  made.request.liners = table_of(reader, "liners", kLinerFields);
  read_pouch(reader, library, made.request);
  made.request.tolerance = table_of(reader, "tolerance", kToleranceFields)
                               .value_or(pouch::usual_tolerances(made.request.units));
  pouch::fit_to_card(made.request, diagnostics);
  read_materials_of(reader, library, made.request);
  batch(reader, library, made, currencies);
  read_sewing(reader, library, made.request, made.batch);
  iron(reader, made);
  lay(reader, made.lay);
  check_upright(made.request.laminate, "laminate", made.lay, diagnostics);
  if (made.request.outer) check_upright(*made.request.outer, "outer", made.lay, diagnostics);
  take_tag(root, made.lay, made.batch.pouches.value, made.request, diagnostics);
  add_operations(made.request, diagnostics);
  paper(reader, library, made);
  packet(reader, made);
  made.group = read_group(reader);
  stock(reader, library, made);
  prices(reader, made.prices, currencies);
  one_currency(std::move(currencies), made, diagnostics);
  sizes_outside(root, reader, made.request.construction.sizes);
  reader.finish();
  return made;
}

bool is_liners_option(const Override& override) { return override.shown.starts_with("--liners"); }

/// Lays the overrides over the job. `--liners` counts liners whose size only the job can say: where
/// it does not, that is the fault, and no table with nothing but a count.
void apply_all(const std::vector<Override>& overrides, Node& root, base::Diagnostics& diagnostics) {
  for (const Override& override : overrides) {
    if (!is_liners_option(override)) apply(override, root, diagnostics);
  }
  for (const Override& override : overrides) {
    if (!is_liners_option(override)) continue;
    const Node* liners = root.find("liners");
    if (liners && liners->find("width")) {
      apply(override, root, diagnostics);
    } else {
      diagnostics.error({override.shown, 0, 0, 0}, {"liners-not-described"},
                        {{"liners-not-described-hint"}});
    }
  }
}

}  // namespace

std::optional<JobSettings> read_job(const LoadedFile& file, const std::vector<Override>& overrides,
                                    std::optional<base::Unit> units, const Library& library,
                                    base::Diagnostics& diagnostics) {
  auto root = parsed(file, diagnostics);
  if (!root) return std::nullopt;
  base::Diagnostics faults;
  std::vector<GroupValue> of_group;
  const auto add = [&of_group](std::vector<GroupValue> taken) {
    for (GroupValue& one : taken) of_group.push_back(std::move(one));
  };
  if (library.make != nullptr) {
    add(lay_over(*root, library.make->own, GroupValue::Of::day));
    add(lay_under(*root, library.make->shared, GroupValue::Of::day));
  }
  add(take_group(*root, library, faults));
  apply_all(overrides, *root, faults);
  JobSettings settings = settings_of(*root, units, library, faults);
  settings.of_group = std::move(of_group);
  if (settings.request.liners &&
      std::any_of(overrides.begin(), overrides.end(), is_liners_option)) {
    settings.request.liners->strictness = pouch::Liners::Count::must_fit;
  }
  diagnostics.add_all(faults);
  if (faults.has_errors()) return std::nullopt;
  return settings;
}

}  // namespace pouchwright::input
