#include "input/job.h"

#include <algorithm>
#include <charconv>

#include "base/number.h"
#include "base/text.h"
#include "batch/sampling.h"
#include "input/prices.h"
#include "input/reader.h"
#include "input/work.h"
#include "pouch/judge/content.h"

namespace pouchwright::input {

namespace {

using pouch::EndFinish;
using pouch::FinishKind;
using pouch::FlapShape;
using pouch::MaterialKind;
using pouch::Through;
namespace size = pouch::size;

class JobReader {
 public:
  JobReader(const Node& root, const Library& library, base::Diagnostics& diagnostics)
      : root_(root),
        library_(library),
        diagnostics_(diagnostics),
        reader_(root, "", {diagnostics, bare_unit(root)}) {}

  JobSettings read(std::optional<base::Unit> printed) {
    made_.request.place = {root_.place.file, 0, 0, 0};
    style(printed);
    if (const auto title = reader_.text("title")) made_.request.title = title->value;
    const bool has_construction = construction();
    panel_of_job();
    liners();
    pouch_table(has_construction);
    tolerances();
    materials();
    batch();
    stitches();
    iron();
    lay();
    paper();
    prices();
    one_currency();
    sizes_outside();
    reader_.finish();
    return std::move(made_);
  }

 private:
  static base::Unit bare_unit(const Node& root) {
    const Node* node = root.find("units");
    return node && node->text == "in" ? base::Unit::inch : base::Unit::mm;
  }

  Context context() const { return reader_.context(); }

  /// A size above the first header belongs to no table.
  void sizes_outside() {
    for (const auto& [key, node] : root_.entries) {
      const auto& sizes = made_.request.construction.sizes;
      const bool is_size = std::any_of(sizes.begin(), sizes.end(),
                                       [&key = key](const auto& one) { return one.name == key; });
      if (!is_size || reader_.knows(key) || node.kind == Node::Kind::table) continue;
      reader_.know(key);
      diagnostics_.error(node.key_place, {"key-unknown", {{"key", clipped(key)}}},
                         {{"key-in-pouch-hint", {{"key", key}}}});
    }
  }

  void style(std::optional<base::Unit> printed) {
    const auto units = reader_.choice("units", base::kUnitWords);
    const base::Unit of_job = units ? units->value : base::Unit::mm;
    const base::Unit of_print = printed.value_or(of_job);
    auto& request = made_.request;
    const auto ruler = reader_.length("ruler", Zero::refused);
    request.cut_step = ruler ? ruler->value : base::default_style(of_job).ruler;
    // --units changes printing only: cut sizes still round to the step of the job's own units.
    made_.style = base::default_style(of_print);
    if (of_print == of_job) made_.style.ruler = request.cut_step;
  }

  bool construction() {
    if (!reader_.require("construction")) return false;
    const auto name = reader_.text("construction");
    if (!name) return false;
    const bool is_path = name->value.find('/') != std::string::npos;
    if (is_path && !name->value.ends_with(".toml")) {
      diagnostics_.error(name->place, {"path-not-toml", {{"text", clipped(name->value)}}},
                         {{"path-not-toml-hint"}});
      return false;
    }
    const auto file = library_.load(name->value);
    if (!file) {
      diagnostics_.error(name->place, {"construction-unknown", {{"text", clipped(name->value)}}},
                         {is_path ? base::Message("path-not-toml-hint")
                          : name->value.ends_with(".toml")
                              ? base::Message("path-beside-hint", {{"text", clipped(name->value)}})
                              : nearest_hint(name->value, library_.constructions)});
      return false;
    }
    made_.construction_place = name->place;
    std::string stem = name->value.substr(name->value.find_last_of('/') + 1);
    if (is_path) stem.resize(stem.size() - std::string_view(".toml").size());
    const auto made = read_construction(
        *file, stem, [this](const pouch::CountRule& rule) { return stated_count(rule); },
        diagnostics_);
    if (!made) {
      diagnostics_.error(name->place, {"construction-unusable", {{"construction", stem}}});
      return false;
    }
    made_.request.construction = *made;
    return true;
  }

  /// What the job's [pouch] says for a count; pouch_table() reports what is wrong with it.
  std::optional<int> stated_count(const pouch::CountRule& rule) const {
    const Node* table = root_.find("pouch");
    const Node* node = table ? table->find(rule.name) : nullptr;
    if (!node || node->kind != Node::Kind::whole) return std::nullopt;
    if (node->whole < rule.least || node->whole > rule.most) return std::nullopt;
    return static_cast<int>(node->whole);
  }

  void panel_of_job() {
    const Node* node = reader_.table("panel");
    if (!node) return;
    has_panel_ = true;
    TableReader reader(*node, "panel", context());
    pouch::CutPanel panel;
    panel.place = node->key_place.file.empty() ? node->place : node->key_place;
    reader.require("width");
    reader.require("length");
    const auto width = reader.length("width", Zero::refused);
    const auto length = reader.length("length", Zero::refused);
    reader.finish();
    if (!width || !length) return;
    panel.width = *width;
    panel.length = *length;
    made_.request.panel = panel;
  }

  void liners() {
    const Node* node = reader_.table("liners");
    if (!node) return;
    TableReader reader(*node, "liners", context());
    pouch::Liners liners;
    liners.place = node->key_place;
    liners.count = reader.whole("count", 1, pouch::kMostLiners);
    liners.columns = reader.whole("columns", 1, pouch::kMostLiners);
    bool whole = true;
    const auto required = [&](const char* key, Placed<Length>& into) {
      reader.require(key);
      const auto length = reader.length(key, Zero::refused);
      if (length) into = *length;
      whole = whole && length.has_value();
    };
    required("width", liners.width);
    required("length", liners.length);
    required("thickness", liners.thickness);
    if (const auto ease = reader.length("ease", Zero::allowed)) liners.ease = *ease;
    if (const auto overlap = reader.length("overlap", Zero::allowed)) liners.overlap = *overlap;
    reader.finish();
    if (whole) made_.request.liners = liners;
  }

  void pouch_table(bool has_construction) {
    static const Node kEmpty;
    const Node* node = reader_.table("pouch");
    TableReader reader(node ? *node : kEmpty, "pouch", context());
    const pouch::Construction& construction = made_.request.construction;
    made_.request.start_finish = finish(reader, "start_finish", construction.start_standard);
    made_.request.end_finish = finish(reader, "end_finish", construction.end_standard);
    if (const auto cards = reader.choice("cards", pouch::kCardUseWords)) {
      made_.request.cards = cards->value;
    }
    made_.request.turn_of_cloth = made_.request.construction.turn_of_cloth;
    if (const auto adds = reader.truth("turn_of_cloth")) {
      made_.request.turn_of_cloth = adds->value;
    }
    if (!has_construction) {
      // Which further sizes are known, only the construction says; the usual ones can be read.
      for (const char* name :
           {size::kWidth, size::kDepth, size::kFlap, size::kLipDrop, size::kSeamAllowance,
            size::kNeedleReach, size::kSealWidth, size::kMinClearSeal}) {
        (void)reader.length(name, pouch::Zero::allowed);
      }
      return;
    }
    for (const pouch::SizeRule& rule : construction.sizes) one_size(reader, rule);
    for (const pouch::CountRule& rule : construction.counts) {
      (void)reader.whole(rule.name, rule.least, rule.most);
    }
    closure(reader);
    flap_shape(reader);
    passes(reader);
    auto& sizes = made_.request.sizes;
    if (!sizes.contains(size::kNeedleReach) && sizes.contains(size::kSeamAllowance)) {
      sizes[size::kNeedleReach] = sizes[size::kSeamAllowance];
    }
    reader.finish();
  }

  void closure(TableReader& reader) {
    const auto& known = made_.request.construction.closures;
    if (known.empty()) return;
    made_.request.closure = known.front();
    if (const auto chosen = reader.word("closure", known)) {
      made_.request.closure = chosen->value;
    }
    if (const auto through = reader.choice("closure_through", pouch::kThroughWords)) {
      made_.request.closure_through = through->value;
      closure_through_ = through->place;
    }
  }

  void flap_shape(TableReader& reader) {
    pouch::Request& request = made_.request;
    if (request.construction.flap_span.empty()) return;
    if (const auto shape = reader.choice("flap_shape", pouch::kFlapShapeWords)) {
      request.flap_shape = shape->value;
    }
    request.flap_corner = {pouch::kFlapCorner, {}};
    if (const auto corner = reader.length("flap_corner", Zero::refused)) {
      request.flap_corner = *corner;
    }
    if (request.flap_shape == FlapShape::straight) request.flap_corner.value = Length();
  }

  /// `passes = [{ stitch = "overedge", at = "1 mm", width = "6 mm" }, …]`, along the sides.
  void passes(TableReader& reader) {
    for (const Node* node : reader.tables("passes")) {
      TableReader table(*node, reader.path("passes"), context());
      pouch::SewingPass pass;
      table.require("stitch");
      if (const auto named = stitch(table, "stitch")) pass.stitch = *named;
      if (const auto at = table.length("at", Zero::allowed)) pass.at = at->value;
      if (const auto width = table.length("width", Zero::allowed)) pass.width = width->value;
      // Class 500 of ISO 4915 are the overedges.
      pass.from_edge = pass.stitch.value == "overedge" || pass.stitch.value.starts_with('5');
      table.finish();
      made_.request.passes.push_back(pass);
    }
  }

  /// Does [panel] or [liners] work this size out where the job does not state it?
  bool is_derived(const std::string& name) const {
    if (has_panel_) {
      return name == size::kWidth || name == size::kDepth || name == size::kFlap;
    }
    const bool from_liners = made_.request.liners && made_.request.liners->count;
    return from_liners && pouch::follows_liners(made_.request.construction, name);
  }

  void one_size(TableReader& reader, const pouch::SizeRule& rule) {
    const bool stated = reader.has(rule.name);
    const auto length = reader.length(rule.name, rule.zero);
    if (stated && has_panel_ && (rule.name == size::kWidth || rule.name == size::kDepth)) {
      diagnostics_.error(reader.find(rule.name)->key_place,
                         {"panel-and-size", {{"size", "pouch." + rule.name}}},
                         {{"panel-and-size-hint", {{"size", "pouch." + rule.name}}}});
    }
    if (length) {
      made_.request.sizes[rule.name] = *length;
      return;
    }
    if (stated || is_derived(rule.name)) return;
    if (rule.standard) {
      made_.request.sizes[rule.name] = {*rule.standard, {}};
    } else if (rule.name == size::kMinClearSeal) {
      made_.request.sizes[rule.name] = {kMinClearSeal, {}};
    } else if (rule.name != size::kNeedleReach) {
      diagnostics_.error(made_.request.place, {"size-missing", {{"size", "pouch." + rule.name}}},
                         {{"size-missing-hint", {{"size", rule.name}}}});
    }
  }

  EndFinish finish(TableReader& reader, const char* key, FinishKind standard) {
    EndFinish made;
    made.kind = standard;
    const Node* node = reader.find(key);
    std::optional<Placed<Length>> takes;
    std::optional<Placed<Length>> reach;
    bool says_none = false;
    if (node) made.place = node->place;
    if (!node) {
      // The construction's own.
    } else if (node->kind == Node::Kind::table) {
      TableReader table(*node, reader.path(key), context());
      table.require("finish");
      if (const auto kind = table.choice("finish", pouch::kFinishWords)) {
        made.kind = kind->value;
        says_none = kind->value == FinishKind::none;
      }
      takes = table.length("takes", Zero::allowed);
      reach = table.length("needle_reach", Zero::allowed);
      table.finish();
    } else if (const auto kind = reader.choice(key, pouch::kFinishWords)) {
      made.kind = kind->value;
    }
    if (made.kind == FinishKind::none) {
      for (const auto& unused : {takes, reach}) {
        if (!unused || !says_none) continue;
        diagnostics_.error(unused->place, {"no-finish-takes", {{"key", reader.path(key)}}},
                           {{"no-finish-takes-hint"}});
      }
      return made;
    }
    if (made.kind == FinishKind::turned) made.takes = pouch::kHem;
    if (takes) made.takes = takes->value;
    made.needle_reach = made.kind == FinishKind::turned
                            ? std::max(Length(), 2 * made.takes - pouch::kHemStitch)
                            : made.takes + pouch::kOveredgeReach;
    if (reach) made.needle_reach = reach->value;
    return made;
  }

  void tolerances() {
    const Node* node = reader_.table("tolerance");
    if (!node) return;
    TableReader reader(*node, "tolerance", context());
    auto& tolerance = made_.request.tolerance;
    if (const auto cut = reader.length("cut", Zero::allowed)) tolerance.cut = *cut;
    if (const auto place = reader.length("place", Zero::allowed)) tolerance.place = *place;
    if (const auto sew = reader.length("sew", Zero::allowed)) tolerance.sew = *sew;
    reader.finish();
  }

  void materials() {
    static const Node kEmpty;
    const Node* node = reader_.table("materials");
    TableReader reader(node ? *node : kEmpty, "materials", context());
    if (reader.has("laminate")) {
      if (auto found = material(*reader.find("laminate"), "laminate", MaterialKind::laminate)) {
        made_.request.laminate = *found;
      }
    } else if (const auto* standard = material_named(kLaminate)) {
      made_.request.laminate = *standard;
    } else {
      diagnostics_.error(made_.request.place, {"material-unknown", {{"text", kLaminate}}},
                         {{"material-none-hint"}});
    }
    if (reader.has("outer")) {
      made_.request.outer = material(*reader.find("outer"), "outer", MaterialKind::outer);
    }
    if (reader.has("lining")) {
      made_.request.lining = material(*reader.find("lining"), "lining", MaterialKind::outer);
    }
    for (const char* key : {"laminate", "outer", "lining"}) reader.know(key);
    reader.finish();
    fix_through();
  }

  /// Without an outer there is only the film to fix things to.
  void fix_through() {
    if (made_.request.outer) return;
    if (closure_through_ && made_.request.closure_through == Through::outer) {
      diagnostics_.error(*closure_through_, {"no-outer-to-fix"}, {{"no-outer-to-fix-hint"}});
    }
    made_.request.closure_through = Through::film;
  }

  const pouch::Material* material_named(std::string_view name) const {
    for (const pouch::Material& material : library_.materials) {
      if (material.name == name) return &material;
    }
    return nullptr;
  }

  std::optional<pouch::Material> material(const Node& node, const std::string& key,
                                          MaterialKind kind) {
    if (node.kind == Node::Kind::table) {
      return read_material(node, "materials." + key, key, kind, context().bare, diagnostics_);
    }
    if (node.kind != Node::Kind::text) {
      diagnostics_.error(node.place, {"wrong-kind-material", {{"key", "materials." + key}}}, {});
      return std::nullopt;
    }
    if (node.text.find('/') != std::string::npos) return material_file(node, key, kind);
    const pouch::Material* known = material_named(node.text);
    std::vector<std::string> names;
    for (const pouch::Material& one : library_.materials) {
      if (one.kind == kind) names.push_back(one.name);
    }
    if (!known) {
      diagnostics_.error(node.place, {"material-unknown", {{"text", clipped(node.text)}}},
                         {nearest_hint(node.text, names)});
      return std::nullopt;
    }
    if (known->kind != kind) {
      diagnostics_.error(
          node.place,
          {kind == MaterialKind::laminate ? "material-no-laminate" : "material-no-outer",
           {{"name", known->name}}},
          {{"choices-hint", {{"names", base::list_text(names)}}}});
      return std::nullopt;
    }
    pouch::Material found = *known;
    found.place = node.place;
    return found;
  }

  std::optional<pouch::Material> material_file(const Node& node, const std::string& key,
                                               MaterialKind kind) {
    const auto file = node.text.ends_with(".toml") ? library_.load(node.text) : std::nullopt;
    if (!file) {
      diagnostics_.error(node.place, {"material-unknown", {{"text", clipped(node.text)}}},
                         {{"path-not-toml-hint"}});
      return std::nullopt;
    }
    base::Diagnostics faults;
    std::optional<pouch::Material> found;
    if (const auto root = parsed(*file, faults)) {
      found = read_material(*root, "", key, kind, base::Unit::mm, faults);
    }
    diagnostics_.add_all(faults);
    if (!faults.has_errors()) return found;
    diagnostics_.error(node.place, {"material-unusable", {{"text", clipped(node.text)}}});
    return std::nullopt;
  }

  void batch() {
    const Node* node = reader_.table("batch");
    if (!node) return;
    TableReader reader(*node, "batch", context());
    auto& made = made_.batch;
    if (const auto count = reader.whole("pouches", 1, batch::kMostPouches)) made.pouches = *count;
    if (const auto count = reader.whole("helpers", 1, batch::kMostPeople)) made.helpers = *count;
    // None is an answer as well: only the work plan needs them.
    if (const auto count = reader.whole("machines", 0, batch::kMostPeople)) made.machines = *count;
    if (const auto count = reader.whole("overedge_machines", 0, batch::kMostPeople)) {
      made.overedge_machines = *count;
    }
    if (const auto count = reader.whole("irons", 0, batch::kMostPeople)) made.irons = *count;
    aql(reader);
    if (const auto currency = reader.text("currency")) currencies_.push_back(*currency);
    if (const auto work = reader.text("work")) work_file(*work);
    reader.finish();
  }

  void stitches() {
    const Node* node = reader_.table("stitches");
    if (!node) return;
    TableReader reader(*node, "stitches", context());
    auto& made = made_.batch.stitches;
    made.sides = stitch(reader, "sides");
    made.ends = stitch(reader, "ends");
    made.hems = stitch(reader, "hems");
    made.tails = stitch(reader, "tails");
    reader.finish();
    if (made.sides && !made_.request.passes.empty()) {
      diagnostics_.error(made.sides->place, {"stitch-and-passes"}, {{"stitch-and-passes-hint"}});
    }
  }

  /// A code of ISO 4915, as a text or as a number, or a word for one.
  std::optional<Placed<std::string>> stitch(TableReader& reader, const char* key) {
    const Node* node = reader.find(key);
    if (!node) return std::nullopt;
    std::optional<Placed<std::string>> named;
    if (node->kind == Node::Kind::whole) {
      named = {std::to_string(node->whole), node->place};
    } else {
      named = reader.text(key);
    }
    if (!named || !library_.stitches) return named;
    const std::vector<std::string> known = library_.stitches();
    if (std::find(known.begin(), known.end(), named->value) != known.end()) return named;
    diagnostics_.error(named->place, {"stitch-unknown", {{"text", clipped(named->value)}}},
                       {{"stitch-unknown-hint", {{"names", base::list_text(known)}}}});
    return std::nullopt;
  }

  /// Minutes that a group has measured itself: a path, since the program has only one work table.
  void work_file(const Placed<std::string>& name) {
    const bool is_path = name.value.find('/') != std::string::npos;
    const auto file =
        is_path && name.value.ends_with(".toml") ? library_.load(name.value) : std::nullopt;
    if (!file) {
      diagnostics_.error(name.place, {"work-unknown", {{"text", clipped(name.value)}}},
                         {{"path-not-toml-hint"}});
      return;
    }
    made_.work = read_work(*file, diagnostics_);
    if (!made_.work) {
      diagnostics_.error(name.place, {"work-unusable", {{"text", clipped(name.value)}}});
    }
  }

  /// The table of ISO 2859-1 is kept for a few limits only; nothing lies between them.
  void aql(TableReader& reader) {
    const auto limit = reader.number("aql", 0, 100);
    if (!limit) return;
    made_.batch.aql = *limit;
    const double near = batch::nearest_limit(limit->value);
    if (near == limit->value) return;
    const std::string known = base::list_text(batch::kQualityLimits, ", ",
                                              [](double one) { return base::shortest(one, 2); });
    diagnostics_.error(
        limit->place, {"aql-unknown", {{"aql", base::shortened(limit->value, 6)}}},
        {{"aql-unknown-hint", {{"near", base::shortened(near, 2)}, {"known", known}}}});
  }

  void iron() {
    const Node* node = reader_.table("iron");
    if (!node) return;
    TableReader reader(*node, "iron", context());
    batch::IronTrial trial;
    trial.place = node->place;
    reader.require("dots");
    if (const auto dots = reader.whole("dots", 1, 3)) trial.dots = dots->value;
    const auto steam = reader.truth("steam");
    if (steam) trial.steam = steam->value;
    constexpr double kMostSeconds = 600;
    if (const auto seconds = reader.number("seconds", 0, kMostSeconds)) {
      trial.seconds = seconds->value;
    }
    reader.finish();
    if (trial.steam && trial.dots == 1) {
      diagnostics_.error(steam->place, {"steam-on-one-dot"}, {{"steam-on-one-dot-hint"}});
    }
    made_.iron = trial;
  }

  void lay() {
    const Node* node = reader_.table("lay");
    if (!node) return;
    TableReader reader(*node, "lay", context());
    auto& made = made_.lay;
    if (const auto cuts = reader.choice("cuts", lay::kCutsWords)) {
      made.cuts = cuts->value;
    }
    made.table_length = reader.length("table_length", Zero::refused);
    if (const auto step = reader.length("shop_step", Zero::refused)) made.shop_step = step->value;
    plies(reader);
    for (const Node* remnant : reader.tables("remnant")) remnant_of(*remnant);
    for (const Node* piece : reader.tables("by_product")) by_product(*piece);
    reader.finish();
  }

  void plies(TableReader& reader) {
    const Node* node = reader.find("plies");
    if (!node) return;
    made_.lay.plies_place = node->place;
    if (node->kind == Node::Kind::whole) {
      if (const auto count = reader.whole("plies", 1, lay::kMostPlies)) {
        const auto way = count->value == 1 ? lay::Plies::Way::single : lay::Plies::Way::stacked;
        made_.lay.plies = {way, count->value};
      }
      return;
    }
    if (node->text != "folded 2" && node->text != "folded 4") {
      diagnostics_.error(node->place, {"not-plies", {{"text", clipped(node->text)}}},
                         {{"not-plies-hint"}});
      return;
    }
    made_.lay.plies = {lay::Plies::Way::folded, node->text == "folded 2" ? 2 : 4};
  }

  void remnant_of(const Node& node) {
    TableReader reader(node, "lay.remnant", context());
    lay::Remnant remnant;
    remnant.place = node.place;
    reader.require("material");
    if (const auto material = reader.word("material", words_of(pouch::kMaterialWords))) {
      remnant.material = material->value;
    }
    two_sides(reader, remnant.width, remnant.length);
    reader.finish();
    made_.lay.remnants.push_back(remnant);
  }

  static void two_sides(TableReader& reader, Length& width, Length& length) {
    reader.require("width");
    reader.require("length");
    if (const auto across = reader.length("width", Zero::refused)) width = across->value;
    if (const auto along = reader.length("length", Zero::refused)) length = along->value;
  }

  void by_product(const Node& node) {
    TableReader reader(node, "lay.by_product", context());
    lay::ByProduct piece;
    piece.place = node.place;
    reader.require("name");
    if (const auto name = reader.text("name")) piece.name = name->value;
    two_sides(reader, piece.width, piece.length);
    if (const auto count = reader.whole("count", 1, batch::kMostPouches))
      piece.count = count->value;
    reader.finish();
    made_.lay.by_products.push_back(piece);
  }

  void paper() {
    static const Node kEmpty;
    const Node* node = reader_.table("paper");
    TableReader reader(node ? *node : kEmpty, "paper", context());
    auto& made = made_.paper;
    const base::Place whole = node ? node->key_place : made_.request.place;
    made.place = made.margin_place = made.overlap_place = made.printed_square_place = whole;
    paper_size(reader);
    margins(reader);
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
    if (const auto half = reader.truth("half")) {
      made_.pattern = half->value ? pouch::Pattern::half : pouch::Pattern::whole;
    }
    reader.finish();
  }

  void paper_size(TableReader& reader) {
    const auto text = reader.text("size");
    const auto found =
        paper_of(text ? text->value : std::string("A4"), context().bare, library_.papers);
    if (!found) {
      std::vector<std::string> names;
      for (const PaperSize& paper : library_.papers) names.push_back(paper.name);
      diagnostics_.error(text ? text->place : made_.request.place,
                         {"paper-unknown", {{"text", text ? clipped(text->value) : "A4"}}},
                         {nearest_hint(text ? text->value : "A4", names), {"not-a-size-hint"}});
      return;
    }
    made_.paper.name = found->name;
    made_.paper.width = std::min(found->width, found->height);
    made_.paper.height = std::max(found->width, found->height);
    if (text) made_.paper.place = text->place;
  }

  void margins(TableReader& reader) {
    auto& made = made_.paper;
    made.margins = {paper::kMargin, paper::kMargin, paper::kMargin, paper::kMargin};
    const Node* node = reader.find("margin");
    if (!node) return;
    made.margin_place = node->place;
    if (node->kind != Node::Kind::table) {
      if (const auto all = reader.length("margin", Zero::allowed)) {
        made.margins = {all->value, all->value, all->value, all->value};
      }
      return;
    }
    TableReader sides(*node, "paper.margin", context());
    if (const auto side = sides.length("top", Zero::allowed)) made.margins.top = side->value;
    if (const auto side = sides.length("right", Zero::allowed)) made.margins.right = side->value;
    if (const auto side = sides.length("bottom", Zero::allowed)) made.margins.bottom = side->value;
    if (const auto side = sides.length("left", Zero::allowed)) made.margins.left = side->value;
    sides.finish();
  }

  void prices() {
    const Node* node = reader_.table("prices");
    if (!node) return;
    TableReader reader(*node, "prices", context());
    for (const auto& [name, node_of_price] : node->entries) {
      const auto price = read_price(reader, name);
      if (!price) continue;
      made_.prices[name] = {price->amount, price->place};
      if (!price->currency.empty()) currencies_.push_back({price->currency, price->place});
    }
  }

  /// Sums make sense in one currency only; the first one stated counts, [batch] before the others.
  void one_currency() {
    const auto add = [&](const pouch::Material& material) {
      if (material.price_currency.value.empty()) return;
      currencies_.push_back(material.price_currency);
    };
    add(made_.request.laminate);
    if (made_.request.outer) add(*made_.request.outer);
    if (currencies_.empty()) return;
    check_currencies(currencies_, diagnostics_);
    made_.batch.currency = currencies_.front().value;
  }

  const Node& root_;
  const Library& library_;
  base::Diagnostics& diagnostics_;
  TableReader reader_;
  JobSettings made_;
  std::vector<Placed<std::string>> currencies_;
  std::optional<base::Place> closure_through_;  ///< where the job says so
  bool has_panel_ = false;  ///< the job has a [panel], though it may be at fault
};

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
  apply_all(overrides, *root, faults);
  JobSettings settings = JobReader(*root, library, faults).read(units);
  diagnostics.add_all(faults);
  if (faults.has_errors()) return std::nullopt;
  return settings;
}

}  // namespace pouchwright::input
