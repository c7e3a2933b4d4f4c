#include <algorithm>
#include <charconv>

#include "input/data.h"
#include "input/reader.h"

namespace pouchwright::input {

namespace {

using namespace pouch;

/// What `[pouch]` says beside sizes: a size of the same name could never be read.
bool is_no_size(std::string_view key) {
  static const std::vector<std::string_view> keys = {"start_finish", "end_finish", "cards",
                                                     "turn_of_cloth"};
  return std::find(keys.begin(), keys.end(), key) != keys.end();
}

/// Sizes that every construction has, with or without a line in its [size] table.
const std::vector<std::string>& common_sizes() {
  static const std::vector<std::string> names = {size::kNeedleReach, size::kMinClearSeal};
  return names;
}

class ConstructionReader {
 public:
  ConstructionReader(const Node& root, const std::string& name, diag::Diagnostics& diagnostics)
      : diagnostics_(diagnostics), reader_(root, "", {diagnostics, bare_unit(root)}) {
    made_.name = name;
    made_.place = {root.place.file, 0, 0, 0};
  }

  Construction read() {
    // What it says, bare_unit has looked up before.
    (void)reader_.choice<units::Unit>("units",
                                      {{"mm", units::Unit::mm}, {"in", units::Unit::inch}});
    if (const auto title = reader_.text("title")) made_.title = title->value;
    if (const auto about = reader_.text("about")) made_.about = about->value;
    if (const auto law = reader_.choice<FlapLaw>("flap", {{"caught", FlapLaw::caught},
                                                          {"free", FlapLaw::free},
                                                          {"none", FlapLaw::none},
                                                          {"rolled", FlapLaw::rolled}})) {
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
    sizes();
    panels();
    for (const Node* node : reader_.tables("compartment")) compartment(*node);
    for (const Node* node : reader_.tables("operation")) operation(*node);
    reader_.finish();
    return std::move(made_);
  }

 private:
  static units::Unit bare_unit(const Node& root) {
    const Node* node = root.find("units");
    return node && node->text == "in" ? units::Unit::inch : units::Unit::mm;
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

  void panels() {
    reader_.require("panel");
    for (const Node* node : reader_.tables("panel")) {
      TableReader reader(*node, "panel", reader_.context());
      PanelRule panel;
      panel.place = node->place;
      if (reader.require("name")) {
        if (const auto name = reader.text("name")) panel.name = name->value;
      }
      reader.require("span");
      for (const Node* span : reader.tables("span")) panel.spans.push_back(span_of(*span));
      reader.finish();
      if (panel.spans.empty() && reader.has("span")) {
        diagnostics_.error(node->place, {"panel-without-spans", {{"panel", panel.name}}}, {});
      }
      made_.panels.push_back(std::move(panel));
    }
  }

  SpanRule span_of(const Node& node) {
    TableReader reader(node, "span", reader_.context());
    SpanRule span;
    span.place = node.place;
    if (reader.require("name")) {
      if (const auto name = reader.text("name")) span.name = name->value;
    }
    reader.require("length");
    if (const Node* length = reader.table("length")) span.length = form_of(*length);
    reader.finish();
    return span;
  }

  LinearForm form_of(const Node& table) {
    LinearForm form;
    for (const auto& [name, node] : table.entries) {
      LinearForm::Term term{name, 1, 1, node.key_place};
      if (!weight_of(node, term)) {
        diagnostics_.error(node.place, {"not-a-weight", {{"size", name}}}, {{"not-a-weight-hint"}});
        continue;
      }
      form.terms.push_back(term);
    }
    return form;
  }

  /// A whole number, or a fraction as text: "1/2", "-3/4". Both parts below a thousand.
  static bool weight_of(const Node& node, LinearForm::Term& term) {
    constexpr std::int64_t kMost = 1000;
    if (node.kind == Node::Kind::whole) {
      term.numerator = node.whole;
      return node.whole >= -kMost && node.whole <= kMost;
    }
    if (node.kind != Node::Kind::text) return false;
    const char* const end = node.text.data() + node.text.size();
    const auto top = std::from_chars(node.text.data(), end, term.numerator);
    if (top.ec != std::errc() || top.ptr == end || *top.ptr != '/') return false;
    const auto below = std::from_chars(top.ptr + 1, end, term.denominator);
    return below.ec == std::errc() && below.ptr == end && term.denominator > 0 &&
           term.denominator <= kMost && term.numerator >= -kMost && term.numerator <= kMost;
  }

  void compartment(const Node& node) {
    TableReader reader(node, "compartment", reader_.context());
    Compartment made;
    made.place = node.place;
    if (reader.require("name")) {
      if (const auto name = reader.text("name")) made.name = name->value;
    }
    if (reader.require("film")) made.film = reader.texts("film");
    reader.finish();
    made_.compartments.push_back(std::move(made));
  }

  static const std::vector<Choice<Action>>& actions() {
    static const std::vector<Choice<Action>> choices = [] {
      std::vector<Choice<Action>> all;
      all.reserve(kActions.size());
      for (const Action action : kActions) all.push_back({name_of(action), action});
      return all;
    }();
    return choices;
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
    const auto action = action_node ? reader.choice<Action>("do", actions()) : std::nullopt;
    reader.know("needs");
    if (!action) return;
    made.action = action->value;
    if (made.action == Action::finish) finish(reader, made);
    if (made.action == Action::fold) fold(reader, made);
    if (made.action == Action::press || made.action == Action::sew) edges(reader, made);
    if (made.action == Action::press) {
      if (const auto from = reader.choice<PressFrom>("from", {{"front", PressFrom::front},
                                                              {"back", PressFrom::back},
                                                              {"both", PressFrom::both}})) {
        made.from = from->value;
      }
    }
    reader.finish();
    made_.operations.push_back(std::move(made));
  }

  static void finish(TableReader& reader, Operation& made) {
    if (!reader.require("end")) return;
    if (const auto end = reader.choice<Edge>("end", {{"start", Edge::start}, {"end", Edge::end}})) {
      made.end = end->value;
    }
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
    if (const auto lands = reader.choice<Landing>(
            "lands", {{"on top", Landing::on_top}, {"underneath", Landing::underneath}})) {
      made.landing = lands->value;
    }
  }

  static void edges(TableReader& reader, Operation& made) {
    if (!reader.require("edges")) return;
    static const std::vector<std::pair<std::string, std::vector<Edge>>> names = {
        {"sides", {Edge::left, Edge::right}},
        {"left", {Edge::left}},
        {"right", {Edge::right}},
        {"start", {Edge::start}},
        {"end", {Edge::end}}};
    for (const auto& text : reader.texts("edges")) {
      const auto named = std::find_if(names.begin(), names.end(),
                                      [&](const auto& one) { return one.first == text.value; });
      if (named == names.end()) {
        reader.context().diagnostics.error(
            text.place, {"not-a-choice", {{"key", "edges"}, {"text", clipped(text.value)}}},
            {{"choices-hint", {{"names", "sides, left, right, start, end"}}}});
        continue;
      }
      for (const Edge edge : named->second) made.edges.push_back({edge, text.place});
    }
  }

  diag::Diagnostics& diagnostics_;
  TableReader reader_;
  Construction made_;
};

}  // namespace

std::optional<pouch::Construction> read_construction(const LoadedFile& file,
                                                     const std::string& name,
                                                     diag::Diagnostics& diagnostics) {
  const auto root = parsed(file, diagnostics);
  if (!root) return std::nullopt;
  diag::Diagnostics faults;
  Construction made = ConstructionReader(*root, name, faults).read();
  if (!faults.has_errors()) (void)pouch::check(made, faults);
  diagnostics.add_all(faults);
  if (faults.has_errors()) return std::nullopt;
  return made;
}

}  // namespace pouchwright::input
