#include <algorithm>

#include "input/construction_operations.h"
#include "input/construction_panels.h"
#include "input/construction_parts.h"
#include "input/data.h"
#include "input/reader.h"

namespace pouchwright::input {

namespace {

using namespace pouch;

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

Zero zero_of(std::string_view name) {
  return name == pouch::size::kMinClearSeal ? Zero::allowed : Zero::refused;
}

/// What a number without a unit is read in.
base::Unit bare_unit(const Node& root) {
  const Node* node = root.find("units");
  return node && node->text == "in" ? base::Unit::inch : base::Unit::mm;
}

class ConstructionReader {
 public:
  ConstructionReader(const Node& root, const std::string& name, const StatedCount& stated,
                     base::Diagnostics& diagnostics)
      : diagnostics_(diagnostics),
        stated_(stated),
        reader_(root, "", {diagnostics, bare_unit(root)}) {
    made_.name = name;
    places_.file = {root.place.file, 0, 0, 0};
  }

  /// Whether it can be used, `diagnostics` say.
  ReadConstruction read() {
    // What it says, bare_unit has looked up before.
    (void)reader_.choice("units", base::kUnitWords);
    if (const auto title = reader_.text("title")) made_.title = title->value;
    if (const auto about = reader_.text("about")) made_.about = about->value;
    if (const auto law = reader_.choice("flap", kFlapLawWords)) {
      made_.flap_law = law->value;
    }
    const auto bottom = two_spans(reader_, "bottom");
    auto spare = required_text("spare");
    const auto depth = required_text("depth_is");
    const auto flap = reader_.text("flap_is");
    if (const auto adds = reader_.truth("turn_of_cloth")) made_.turn_of_cloth = adds->value;
    finish_standard("start_finish", made_.start_standard);
    finish_standard("end_finish", made_.end_standard);
    for (const auto& closure : reader_.texts("closures")) made_.closures.push_back(closure.value);
    sizes();
    counts();
    panels();
    if (bottom) meet_at_bottom(*bottom);
    if (spare) {
      // A repeated span that is to take what rounding adds is the last of its kind.
      const auto repeated = repeated_.find(spare->value);
      if (repeated != repeated_.end()) spare->value = repeated->second.back();
      made_.spare = names_.span(*spare).value_or(SpanRef());
    }
    if (depth) made_.depth_span = names_.span({depth->value, places_.file}).value_or(SpanRef());
    if (flap) made_.flap_span = names_.span({flap->value, places_.file});
    pieces();
    attachments();
    for (const Node* node : reader_.tables("compartment")) compartment(*node);
    if (made_.compartments.empty()) names_.faults.error(places_.file, {"no-compartment"}, {});
    operations();
    reader_.finish();
    if (!diagnostics_.has_errors()) diagnostics_.add_all(names_.faults);
    return {std::move(made_), std::move(places_)};
  }

 private:
  std::optional<Placed<std::string>> required_text(std::string_view key) {
    if (!reader_.require(key)) return std::nullopt;
    return reader_.text(key);
  }

  /// Neighbours on one panel, or ends of two panels that a seam joins.
  void meet_at_bottom(const TwoNames& names) {
    if (names_.knows_span(names.a) && names_.knows_span(names.b)) {
      made_.bottom_a = *names_.span({names.a, names.place});
      made_.bottom_b = *names_.span({names.b, names.place});
      if (made_.has_bottom_seam()) {
        if (names_.is_at_an_end(made_.bottom_a) && names_.is_at_an_end(made_.bottom_b)) return;
        names_.faults.error(names.place, {"bottom-not-at-ends", {{"a", names.a}, {"b", names.b}}},
                            {{"bottom-not-at-ends-hint"}});
        return;
      }
    }
    (void)names_.touching(names);
  }

  void sizes() {
    reader_.require("size");
    if (const Node* table = reader_.table("size")) {
      for (const auto& [name, node] : table->entries) size(name, node);
    }
    for (const std::string& name : common_sizes()) {
      if (!made_.size_rule(name)) made_.sizes.push_back({.name = name, .zero = zero_of(name)});
    }
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
    if (const auto zero = reader.truth("zero")) {
      rule.zero = zero->value ? Zero::allowed : Zero::refused;
    }
    const auto length = [&](const char* key) {
      const auto read = reader.length(key, rule.zero);
      return read ? std::optional(read->value) : std::nullopt;
    };
    rule.standard = length("default");
    rule.standard_in = length("default_in");
    rule.former = length("was");
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
    PanelReader panels(made_, names_);
    for (const Node* node : reader_.tables("panel")) panels.read(*node, reader_.context());
    panel_places_ = panels.places();
    repeated_ = panels.repeated();
    too_many(made_.panels.size(), kMostPanels, "too-many-panels");
    std::size_t spans = 0;
    for (const PanelRule& panel : made_.panels) spans += panel.spans.size();
    too_many(spans, kMostSpans, "too-many-spans");
  }

  void too_many(std::size_t count, std::size_t most, const char* key) {
    if (count <= most) return;
    names_.faults.error(places_.file, {key, {{"count", count}, {"most", most}}}, {});
  }

  void pieces() {
    for (const Node* node : reader_.tables("piece")) {
      PieceRule piece = piece_of(*node, reader_.context(), names_);
      const bool is_twice = std::any_of(made_.pieces.begin(), made_.pieces.end(),
                                        [&](const auto& one) { return one.name == piece.name; });
      if (is_twice || is_panel(made_, piece.name)) names_.twice("piece", {piece.name, node->place});
      made_.pieces.push_back(std::move(piece));
    }
    too_many(made_.pieces.size(), kMostPieceRules, "too-many-pieces-in-construction");
  }

  void attachments() {
    std::vector<std::string> halves;
    for (const Node* node : reader_.tables("attachment")) {
      auto [made, half_of] = attachment_of(*node, reader_.context(), names_);
      const bool is_twice =
          std::any_of(made_.attachments.begin(), made_.attachments.end(),
                      [&, &name = made.name](const auto& one) { return one.name == name; });
      if (is_twice) names_.twice("attachment", {made.name, node->place});
      made_.attachments.push_back(std::move(made));
      places_.attachments.push_back(node->place);
      halves.push_back(std::move(half_of));
    }
    for (std::size_t i = 0; i < halves.size(); ++i) {
      if (!halves[i].empty()) other_half(i, halves);
    }
    too_many(made_.attachments.size(), kMostAttachments, "too-many-attachments");
  }

  /// The other half is a whole attachment of the same kind and closure.
  void other_half(std::size_t index, const std::vector<std::string>& halves) {
    Attachment& one = made_.attachments[index];
    std::vector<std::string> known;
    for (std::size_t i = 0; i < halves.size(); ++i) {
      const Attachment& other = made_.attachments[i];
      if (other.kind != one.kind || other.closure != one.closure) continue;
      if (!halves[i].empty() || i == index) continue;
      if (other.name == halves[index]) one.half_of = i;
      known.push_back(other.name);
    }
    if (one.half_of) return;
    names_.faults.error(places_.attachments[index],
                        {"half-unknown", {{"attachment", one.name}, {"half", halves[index]}}},
                        {hint_for(halves[index], known)});
  }

  void compartment(const Node& node) {
    TableReader reader(node, "compartment", reader_.context());
    Compartment made;
    std::vector<Name> film;
    if (reader.require("name")) {
      if (const auto name = reader.text("name")) made.name = name->value;
    }
    if (reader.require("film")) {
      for (const Name& span : reader.texts("film")) add_film(span, film);
    }
    if (const auto holds = reader.choice("holds", kHoldsWords)) {
      made.holds = holds->value;
    }
    reader.finish();
    if (film.size() < 2) {
      names_.faults.error(node.place, {"compartment-too-small", {{"compartment", made.name}}}, {});
    }
    for (std::size_t i = 0; i < film.size(); ++i) {
      const auto span = names_.span(film[i]);
      if (!span) continue;
      made.film.push_back(*span);
      if (i == 0 || !names_.knows_span(film[i - 1].value)) continue;
      if (meet_at_the_bottom(made.film[made.film.size() - 2], *span)) continue;
      (void)names_.touching({film[i - 1].value, film[i].value, film[i].place});
    }
    made_.compartments.push_back(std::move(made));
  }

  /// The bottom pair of two panels is joined by a seam.
  [[nodiscard]] bool meet_at_the_bottom(SpanRef a, SpanRef b) const {
    return made_.has_bottom_seam() &&
           std::minmax(a, b) == std::minmax(made_.bottom_a, made_.bottom_b);
  }

  /// A repeated span stands for all of its numbers, in the panel's order.
  void add_film(const Name& span, std::vector<Name>& film) const {
    const auto repeated = repeated_.find(span.value);
    if (repeated == repeated_.end()) {
      film.push_back(span);
      return;
    }
    for (const std::string& name : repeated->second) film.push_back({name, span.place});
  }

  void operations() {
    const base::Diagnostics before = names_.faults;
    OperationReader operations(made_, places_, names_);
    for (const Node* node : reader_.tables("operation")) {
      operations.read(*node, reader_.context());
    }
    operations.finish(panel_places_);
    if (made_.operations.size() <= kMostOperations) return;
    // A list that is too long is told of as a whole.
    names_.faults = before;
    too_many(made_.operations.size(), kMostOperations, "too-many-operations");
  }

  base::Diagnostics& diagnostics_;
  const StatedCount& stated_;
  TableReader reader_;
  Construction made_;
  ConstructionPlaces places_;
  Names names_{made_};
  std::vector<base::Place> panel_places_;
  RepeatedSpans repeated_;
};

}  // namespace

std::optional<ReadConstruction> read_construction(const LoadedFile& file, const std::string& name,
                                                  const StatedCount& stated,
                                                  base::Diagnostics& diagnostics) {
  const auto root = parsed(file, diagnostics);
  if (!root) return std::nullopt;
  base::Diagnostics faults;
  ReadConstruction read = ConstructionReader(*root, name, stated, faults).read();
  diagnostics.add_all(faults);
  if (faults.has_errors()) return std::nullopt;
  return read;
}

}  // namespace pouchwright::input
