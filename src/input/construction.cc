#include <algorithm>
#include <map>

#include "input/construction_parts.h"
#include "input/data.h"
#include "input/reader.h"

namespace pouchwright::input {

namespace {

using namespace pouch;

constexpr base::Named<bool> kFilmUpWords[] = {{true, "up"}, {false, "down"}};

/// What `[pouch]` says beside sizes: a size of the same name could never be read.
bool is_no_size(std::string_view key) {
  static const std::vector<std::string_view> kKeys = {"start_finish", "end_finish", "cards",
                                                      "turn_of_cloth"};
  return std::find(kKeys.begin(), kKeys.end(), key) != kKeys.end();
}

/// Sizes that every construction has, with or without a line in its [size] table.
const std::vector<std::string>& common_sizes() {
  static const std::vector<std::string> kNames = {size::kNeedleReach, size::kMinClearSeal};
  return kNames;
}

class ConstructionReader {
 public:
  ConstructionReader(const Node& root, const std::string& name, const StatedCount& stated,
                     base::Diagnostics& diagnostics)
      : diagnostics_(diagnostics),
        stated_(stated),
        reader_(root, "", {diagnostics, bare_unit(root)}) {
    made_.name = name;
    made_.place = {root.place.file, 0, 0, 0};
  }

  Construction read() {
    // What it says, bare_unit has looked up before.
    (void)reader_.choice("units", base::kUnitWords);
    if (const auto title = reader_.text("title")) made_.title = title->value;
    if (const auto about = reader_.text("about")) made_.about = about->value;
    if (const auto law = reader_.choice("flap", kFlapLawWords)) {
      made_.flap_law = law->value;
    }
    bottom();
    if (const auto spare = required_text("spare")) {
      made_.spare = spare->value;
      made_.spare_place = spare->place;
    }
    if (const auto span = required_text("depth_is")) made_.depth_span = span->value;
    if (const auto span = reader_.text("flap_is")) made_.flap_span = span->value;
    if (const auto adds = reader_.truth("turn_of_cloth")) made_.turn_of_cloth = adds->value;
    finish_standard("start_finish", made_.start_standard);
    finish_standard("end_finish", made_.end_standard);
    for (const auto& closure : reader_.texts("closures")) made_.closures.push_back(closure.value);
    sizes();
    counts();
    panels();
    // A repeated span that is to take what rounding adds is the last of its kind.
    if (const auto spare = repeated_.find(made_.spare); spare != repeated_.end()) {
      made_.spare = spare->second.back();
    }
    for (const Node* node : reader_.tables("piece")) {
      made_.pieces.push_back(piece_of(*node, reader_.context()));
    }
    for (const Node* node : reader_.tables("attachment")) {
      made_.attachments.push_back(attachment_of(*node, reader_.context()));
    }
    for (const Node* node : reader_.tables("compartment")) compartment(*node);
    for (const Node* node : reader_.tables("operation")) operation(*node);
    reader_.finish();
    return std::move(made_);
  }

 private:
  static base::Unit bare_unit(const Node& root) {
    const Node* node = root.find("units");
    return node && node->text == "in" ? base::Unit::inch : base::Unit::mm;
  }

  std::optional<Placed<std::string>> required_text(std::string_view key) {
    if (!reader_.require(key)) return std::nullopt;
    return reader_.text(key);
  }

  /// A key that must name exactly two spans.
  static std::optional<std::pair<std::string, std::string>> two_spans(TableReader& reader,
                                                                      std::string_view key) {
    const Node* node = reader.require(key);
    if (!node) return std::nullopt;
    const auto names = reader.texts(key);
    if (names.size() == 2) return std::pair(names[0].value, names[1].value);
    reader.context().diagnostics.error(node->place, {"two-spans", {{"key", reader.path(key)}}},
                                       {{"two-spans-hint"}});
    return std::nullopt;
  }

  void bottom() {
    if (const auto pair = two_spans(reader_, "bottom")) {
      std::tie(made_.bottom_a, made_.bottom_b) = *pair;
      made_.bottom_place = reader_.find("bottom")->place;
    }
  }

  void sizes() {
    reader_.require("size");
    if (const Node* table = reader_.table("size")) {
      for (const auto& [name, node] : table->entries) size(name, node);
    }
    for (const std::string& name : common_sizes()) {
      if (!made_.size_rule(name)) made_.sizes.push_back({name, {}, "", zero_of(name), {}});
    }
  }

  static Zero zero_of(std::string_view name) {
    return name == pouch::size::kMinClearSeal ? Zero::allowed : Zero::refused;
  }

  void size(const std::string& name, const Node& node) {
    if (node.kind != Node::Kind::table) {
      diagnostics_.error(node.place, {"wrong-kind-table", {{"key", "size." + name}}}, {});
      return;
    }
    if (is_no_size(name)) {
      diagnostics_.error(node.key_place, {"size-is-a-key", {{"size", name}}},
                         {{"size-is-a-key-hint"}});
    }
    TableReader reader(node, "size." + name, reader_.context());
    SizeRule rule;
    rule.name = name;
    rule.zero = zero_of(name);
    rule.place = node.key_place;
    if (const auto zero = reader.truth("zero")) {
      rule.zero = zero->value ? Zero::allowed : Zero::refused;
    }
    if (const auto standard = reader.length("default", rule.zero)) rule.standard = standard->value;
    if (const auto meaning = reader.text("meaning")) rule.meaning = meaning->value;
    reader.finish();
    made_.sizes.push_back(rule);
  }

  /// What a job's end has where it says nothing.
  void finish_standard(std::string_view key, FinishKind& into) {
    if (const auto kind = reader_.choice(key, kFinishWords)) {
      into = kind->value;
    }
  }

  void counts() {
    if (const Node* table = reader_.table("count")) {
      made_.counts = counts_of(*table, stated_, reader_.context());
    }
  }

  void panels() {
    reader_.require("panel");
    for (const Node* node : reader_.tables("panel")) {
      TableReader reader(*node, "panel", reader_.context());
      PanelRule panel;
      panel.place = node->place;
      if (reader.require("name")) {
        if (const auto name = reader.text("name")) panel.name = name->value;
      }
      panel.width = form_under(reader, "width");
      if (const auto cloth =
              reader.choice("cloth", kClothWords, {ClothKind::laminate, ClothKind::lining})) {
        panel.cloth = cloth->value;
      }
      outer_inset(reader, panel);
      reader.require("span");
      for (const Node* span : reader.tables("span")) spans_of(*span, panel);
      reader.finish();
      if (panel.spans.empty() && reader.has("span")) {
        diagnostics_.error(node->place, {"panel-without-spans", {{"panel", panel.name}}}, {});
      }
      made_.panels.push_back(std::move(panel));
    }
  }

  static void outer_inset(TableReader& reader, PanelRule& panel) {
    const Node* node = reader.table("outer_inset");
    if (!node) return;
    TableReader inset(*node, reader.path("outer_inset"), reader.context());
    panel.outer_inset = {form_under(inset, "start"), form_under(inset, "end"),
                         form_under(inset, "sides")};
    inset.finish();
  }

  /// One span, or one for each number of its `repeat`.
  void spans_of(const Node& node, PanelRule& panel) {
    TableReader reader(node, "span", reader_.context());
    SpanRule span;
    span.place = node.place;
    if (reader.require("name")) {
      if (const auto name = reader.text("name")) span.name = name->value;
    }
    reader.require("length");
    span.length = form_under(reader, "length");
    const auto repeat = reader.text("repeat");
    reader.finish();
    if (!repeat) {
      panel.spans.push_back(std::move(span));
      return;
    }
    for (const int number : repeats_of(*repeat, made_.counts, reader_.context())) {
      SpanRule one = span;
      one.name = span.name + "-" + std::to_string(number);
      repeated_[span.name].push_back(one.name);
      panel.spans.push_back(std::move(one));
    }
  }

  void compartment(const Node& node) {
    TableReader reader(node, "compartment", reader_.context());
    Compartment made;
    made.place = node.place;
    if (reader.require("name")) {
      if (const auto name = reader.text("name")) made.name = name->value;
    }
    if (reader.require("film")) {
      for (const auto& film : reader.texts("film")) add_film(film, made);
    }
    if (const auto holds = reader.choice("holds", kHoldsWords)) {
      made.holds = holds->value;
    }
    reader.finish();
    made_.compartments.push_back(std::move(made));
  }

  /// A repeated span stands for all of its numbers, in the panel's order.
  void add_film(const Placed<std::string>& film, Compartment& made) const {
    const auto repeated = repeated_.find(film.value);
    if (repeated == repeated_.end()) {
      made.film.push_back(film);
      return;
    }
    for (const std::string& name : repeated->second) made.film.push_back({name, film.place});
  }

  void operation(const Node& node) {
    TableReader reader(node, "operation", reader_.context());
    Operation made;
    made.place = node.place;
    if (reader.require("id")) {
      if (const auto id = reader.text("id")) {
        made.id = id->value;
        made.place = id->place;
      }
    }
    if (reader.has("needs")) made.needs = reader.texts("needs");
    const Node* action_node = reader.require("do");
    const auto action = action_node ? reader.choice("do", kActionWords) : std::nullopt;
    reader.know("needs");
    if (!action) return;
    made.action = action->value;
    if (made.action == Action::finish) finish(reader, made);
    if (made.action == Action::fold) fold(reader, made);
    if (made.action == Action::lay_panel) lay_panel(reader, made);
    if (made.action == Action::attach) attach(reader, made);
    if (made.action == Action::hem) hem(reader, made);
    if (made.action == Action::lay_card || made.action == Action::take_card) {
      if (const auto name = reader.text("compartment")) made.compartment = name->value;
    }
    if (made.action == Action::sew || made.action == Action::hem || made.action == Action::finish) {
      if (const auto stitch = reader.text("stitch")) made.stitch = stitch->value;
    }
    if (made.action == Action::press || made.action == Action::sew) edges(reader, made);
    if (made.action == Action::press) {
      if (const auto from = reader.choice("from", kPressFromWords)) {
        made.from = from->value;
      }
    }
    const auto repeat = reader.text("repeat");
    reader.finish();
    made.between_a = with_counts(made.between_a);
    made.between_b = with_counts(made.between_b);
    made.turn = with_counts(made.turn);
    if (repeat) {
      add_repeated(made, *repeat);
    } else {
      made_.operations.push_back(std::move(made));
    }
  }

  /// `{rolls}` stands for the count of that name.
  std::string with_counts(std::string text) const {
    for (const CountRule& rule : made_.counts) {
      const std::string hole = "{" + rule.name + "}";
      for (std::size_t at = text.find(hole); at != std::string::npos; at = text.find(hole)) {
        text.replace(at, hole.size(), std::to_string(rule.value));
      }
    }
    return text;
  }

  /// The first has the needs stated, each further one needs the one before.
  void add_repeated(const Operation& pattern, const Placed<std::string>& repeat) {
    bool is_first = true;
    for (const int number : repeats_of(repeat, made_.counts, reader_.context())) {
      Operation one = pattern;
      one.id = pattern.id + "-" + std::to_string(number);
      one.between_a = with_number(pattern.between_a, number);
      one.between_b = with_number(pattern.between_b, number);
      one.turn = with_number(pattern.turn, number);
      if (!is_first) one.needs = {{made_.operations.back().id, pattern.place}};
      is_first = false;
      made_.operations.push_back(std::move(one));
    }
  }

  static void named_panel(TableReader& reader, Operation& made) {
    if (const auto panel = reader.text("panel")) {
      made.panel = panel->value;
      made.panel_place = panel->place;
    }
  }

  static void lay_panel(TableReader& reader, Operation& made) {
    reader.require("panel");
    named_panel(reader, made);
    if (const auto pair = two_spans(reader, "meets")) {
      std::tie(made.meets_a, made.meets_b) = *pair;
      made.meets_place = reader.find("meets")->place;
    }
    if (const auto film = reader.choice("film", kFilmUpWords)) {
      made.film_up = film->value;
    }
    which_end(reader, made);
    made.offset = form_under(reader, "offset");
    lands(reader, made);
  }

  static void attach(TableReader& reader, Operation& made) {
    reader.require("attachment");
    if (const auto name = reader.text("attachment")) {
      made.attachment = name->value;
      made.attachment_place = name->place;
    }
    if (const auto through = reader.choice("through", kThroughWords)) {
      made.through = through->value;
    }
  }

  static void hem(TableReader& reader, Operation& made) {
    reader.require("span");
    if (const auto span = reader.text("span")) {
      made.span = span->value;
      made.span_place = span->place;
    }
  }

  static void which_end(TableReader& reader, Operation& made) {
    if (const auto end = reader.choice("end", kEdgeWords, {Edge::start, Edge::end})) {
      made.end = end->value;
    }
  }

  static void lands(TableReader& reader, Operation& made) {
    if (const auto lands = reader.choice("lands", kLandingWords)) {
      made.landing = lands->value;
    }
  }

  static void finish(TableReader& reader, Operation& made) {
    named_panel(reader, made);
    if (reader.require("end")) which_end(reader, made);
  }

  static void fold(TableReader& reader, Operation& made) {
    if (const auto pair = two_spans(reader, "between")) {
      std::tie(made.between_a, made.between_b) = *pair;
      made.between_place = reader.find("between")->place;
    }
    if (reader.require("turn")) {
      if (const auto turn = reader.text("turn")) {
        made.turn = turn->value;
        made.turn_place = turn->place;
      }
    }
    lands(reader, made);
  }

  static void edges(TableReader& reader, Operation& made) {
    if (!reader.require("edges")) return;
    for (const auto& text : reader.texts("edges")) {
      if (const auto edge = value_of(kEdgeWords, text.value)) {
        made.edges.push_back({*edge, text.place});
      } else if (text.value == "sides") {
        for (const Edge side : {Edge::left, Edge::right}) made.edges.push_back({side, text.place});
      } else {
        reader.context().diagnostics.error(
            text.place, {"not-a-choice", {{"key", "edges"}, {"text", clipped(text.value)}}},
            {{"choices-hint", {{"names", "sides, " + base::list_text(words_of(kEdgeWords))}}}});
      }
    }
  }

  base::Diagnostics& diagnostics_;
  const StatedCount& stated_;
  TableReader reader_;
  Construction made_;
  std::map<std::string, std::vector<std::string>> repeated_;  ///< spans by their name in the file
};

}  // namespace

std::optional<pouch::Construction> read_construction(const LoadedFile& file,
                                                     const std::string& name,
                                                     const StatedCount& stated,
                                                     base::Diagnostics& diagnostics) {
  const auto root = parsed(file, diagnostics);
  if (!root) return std::nullopt;
  base::Diagnostics faults;
  Construction made = ConstructionReader(*root, name, stated, faults).read();
  if (!faults.has_errors()) (void)pouch::check(made, faults);
  diagnostics.add_all(faults);
  if (faults.has_errors()) return std::nullopt;
  return made;
}

}  // namespace pouchwright::input
