#include "input/construction_operations.h"

#include <algorithm>

#include "base/text.h"
#include "input/construction_parts.h"

namespace pouchwright::input {

using namespace pouch;

namespace {

constexpr base::Named<bool> kFilmUpWords[] = {{true, "up"}, {false, "down"}};

/// "sides" are two edges.
std::vector<Placed<Edge>> edges_in(TableReader& reader) {
  std::vector<Placed<Edge>> edges;
  if (!reader.require("edges")) return edges;
  for (const Name& text : reader.texts("edges")) {
    if (const auto edge = value_of(kEdgeWords, text.value)) {
      edges.push_back({*edge, text.place});
    } else if (text.value == "sides") {
      for (const Edge side : {Edge::left, Edge::right}) edges.push_back({side, text.place});
    } else {
      reader.context().diagnostics.error(
          text.place, {"not-a-choice", {{"key", "edges"}, {"text", clipped(text.value)}}},
          {{"choices-hint", {{"names", "sides, " + base::list_text(words_of(kEdgeWords))}}}});
    }
  }
  return edges;
}

/// The edge as the file says it: both sides at one place are `sides`.
std::string file_name_of(const Placed<Edge>& edge, const OperationText& text) {
  const auto has = [&](Edge side) {
    return std::any_of(text.edges.begin(), text.edges.end(), [&](const auto& one) {
      return one.value == side && one.place.line == edge.place.line &&
             one.place.column == edge.place.column;
    });
  };
  return has(Edge::left) && has(Edge::right) ? "sides" : word_of(kEdgeWords, edge.value);
}

std::vector<Edge> values_of(const std::vector<Placed<Edge>>& placed) {
  std::vector<Edge> edges;
  for (const auto& edge : placed) edges.push_back(edge.value);
  return edges;
}

std::optional<Name> required_text(TableReader& reader, std::string_view key) {
  if (!reader.require(key)) return std::nullopt;
  return reader.text(key);
}

/// `{rolls}` stands for the count of that name.
void fill_in_counts(std::string& text, const std::vector<CountRule>& counts) {
  for (const CountRule& rule : counts) {
    const std::string hole = "{" + rule.name + "}";
    for (std::size_t at = text.find(hole); at != std::string::npos; at = text.find(hole)) {
      text.replace(at, hole.size(), std::to_string(rule.value));
    }
  }
}

/// What an action has to say besides `id` and `needs`.
void read_fields(TableReader& reader, OperationText& text, Names& names) {
  const auto end = [&] {
    const auto found = reader.choice("end", kEdgeWords, {Edge::start, Edge::end});
    if (found) text.end = found->value;
  };
  const auto lands = [&] {
    if (const auto found = reader.choice("lands", kLandingWords)) text.landing = found->value;
  };
  // Only its kind is looked at: which stitch sews what, the job and shared/stitches.toml say.
  const auto stitch = [&] { (void)reader.text("stitch"); };
  switch (text.action) {
    case Action::attach:
      text.attachment = required_text(reader, "attachment");
      if (const auto through = reader.choice("through", kThroughWords)) {
        text.through = through->value;
      }
      return;
    case Action::lay_panel:
      text.panel = required_text(reader, "panel");
      text.pair = two_spans(reader, "meets");
      if (const auto film = reader.choice("film", kFilmUpWords)) text.film_up = film->value;
      end();
      text.offset = form_under(reader, "offset", names);
      lands();
      return;
    case Action::finish:
      text.panel = reader.text("panel");
      if (reader.require("end")) end();
      stitch();
      return;
    case Action::lay_card:
    case Action::take_card:
      text.compartment = reader.text("compartment");
      return;
    case Action::fold:
      text.pair = two_spans(reader, "between");
      text.turn = required_text(reader, "turn");
      lands();
      return;
    case Action::press:
      text.edges = edges_in(reader);
      if (const auto from = reader.choice("from", kPressFromWords)) text.from = from->value;
      return;
    case Action::hem:
      text.span = required_text(reader, "span");
      stitch();
      return;
    case Action::sew:
      stitch();
      text.edges = edges_in(reader);
      return;
    case Action::pair:
    case Action::look_inside:
    case Action::fill_first:
    case Action::secure_tails:
    case Action::test:
    case Action::tag:
    case Action::dry:
      return;
  }
}

}  // namespace

void OperationReader::read(const Node& node, const Context& context) {
  TableReader reader(node, "operation", context);
  OperationText text;
  text.id.place = node.place;
  if (reader.require("id")) {
    if (const auto id = reader.text("id")) text.id = *id;
  }
  if (reader.has("needs")) text.needs = reader.texts("needs");
  const auto action = reader.require("do") ? reader.choice("do", kActionWords) : std::nullopt;
  reader.know("needs");
  if (!action) return;
  text.action = action->value;
  read_fields(reader, text, names_);
  const auto repeat = reader.text("repeat");
  reader.finish();
  for (std::string* name :
       {text.pair ? &text.pair->a : nullptr, text.pair ? &text.pair->b : nullptr,
        text.turn ? &text.turn->value : nullptr}) {
    if (name) fill_in_counts(*name, made_.counts);
  }
  if (!repeat) return add(std::move(text));
  // The first has the needs stated, each further one needs the one before.
  bool is_first = true;
  for (const int number : repeats_of(*repeat, made_.counts, context)) {
    OperationText one = text;
    one.id.value += "-" + std::to_string(number);
    if (one.pair) one.pair->a = with_number(one.pair->a, number);
    if (one.pair) one.pair->b = with_number(one.pair->b, number);
    if (one.turn) one.turn->value = with_number(one.turn->value, number);
    if (!is_first) one.needs = {{made_.operations.back().id, text.id.place}};
    is_first = false;
    add(std::move(one));
  }
}

void OperationReader::add(OperationText text) {
  const auto is_same = [&](const Operation& one) { return one.id == text.id.value; };
  if (std::any_of(made_.operations.begin(), made_.operations.end(), is_same)) {
    names_.faults.error(text.id.place, {"operation-twice", {{"operation", text.id.value}}}, {});
  }
  made_.operations.push_back({text.id.value, {}, work_of(text)});
  places_.operations.push_back(text.id.place);
  texts_.push_back(std::move(text));
}

Work OperationReader::work_of(const OperationText& text) {
  switch (text.action) {
    case Action::attach:
      return attach(text);
    case Action::lay_panel:
      return lay_panel(text);
    case Action::pair:
      return does::Pair{};
    case Action::finish:
      return does::Finish{panel_of(text), text.end};
    case Action::lay_card:
      return does::LayCard{compartment_of(text)};
    case Action::fold:
      return fold(text);
    case Action::press:
      return does::Press{values_of(text.edges), text.from};
    case Action::take_card:
      return does::TakeCard{compartment_of(text)};
    case Action::look_inside:
      return does::LookInside{};
    case Action::fill_first:
      return does::FillFirst{};
    case Action::hem:
      return does::Hem{text.span ? names_.span(*text.span).value_or(SpanRef()) : SpanRef()};
    case Action::sew:
      return sew(text);
    case Action::secure_tails:
      return does::SecureTails{};
    case Action::test:
      return does::Test{};
    case Action::tag:
      return does::Tag{};
    case Action::dry:
      return does::Dry{};
  }
  return does::Pair{};
}

/// The main panel, where none is named.
std::size_t OperationReader::panel_of(const OperationText& text) {
  return text.panel ? names_.panel(*text.panel).value_or(0) : 0;
}

/// The first, where none is named.
std::size_t OperationReader::compartment_of(const OperationText& text) {
  if (!text.compartment) return 0;
  return names_.compartment({text.compartment->value, text.id.place}).value_or(0);
}

Work OperationReader::attach(const OperationText& text) {
  does::Attach work{.attachment = 0, .through = text.through};
  if (!text.attachment) return work;
  attached_.insert(text.attachment->value);
  work.attachment = names_.attachment(*text.attachment).value_or(0);
  return work;
}

/// One of the two spans is of the panel, the other of one that lies already. Either both are at
/// ends, which lie on each other, or the panel is a lining, laid anywhere.
Work OperationReader::lay_panel(const OperationText& text) {
  does::LayPanel work;
  work.end = text.end;
  work.film_up = text.film_up;
  work.landing = text.landing;
  work.offset = text.offset;
  const auto panel = text.panel ? names_.panel(*text.panel) : std::nullopt;
  if (!panel || !text.pair) return work;
  work.panel = *panel;
  if (*panel == 0 || !laid_.insert(*panel).second) {
    names_.faults.error(
        text.panel->place,
        {"panel-laid-twice", {{"operation", text.id.value}, {"panel", text.panel->value}}},
        {{"panel-laid-twice-hint"}});
    return work;
  }
  const auto a = names_.span({text.pair->a, text.pair->place});
  const auto b = a ? names_.span({text.pair->b, text.pair->place}) : std::nullopt;
  if (!b) return work;
  work.meets_a = *a;
  work.meets_b = *b;
  const bool at_ends = names_.is_at_an_end(*a) && names_.is_at_an_end(*b);
  const bool is_lining = made_.panels[*panel].cloth == ClothKind::lining;
  if ((a->panel == *panel) != (b->panel == *panel) && (at_ends || is_lining)) return work;
  names_.faults.error(text.pair->place,
                      {"panels-do-not-meet",
                       {{"panel", text.panel->value}, {"a", text.pair->a}, {"b", text.pair->b}}},
                      {{"panels-do-not-meet-hint"}});
  return work;
}

Work OperationReader::fold(const OperationText& text) {
  does::Fold work;
  work.landing = text.landing;
  if (!text.pair || !text.turn) return work;
  const auto pair = names_.touching(*text.pair);
  if (!pair) return work;
  work.between_a = pair->first;
  work.between_b = pair->second;
  work.turn = text.turn->value == text.pair->a ? pair->first : pair->second;
  if (text.turn->value != text.pair->a && text.turn->value != text.pair->b) {
    names_.faults.error(
        text.turn->place,
        {"turns-another", {{"turn", text.turn->value}, {"a", text.pair->a}, {"b", text.pair->b}}},
        {{"turns-another-hint"}});
  }
  if (!folded_.insert(std::minmax(pair->first, pair->second)).second) {
    names_.faults.error(text.id.place, {"folded-twice", {{"a", text.pair->a}, {"b", text.pair->b}}},
                        {});
  }
  return work;
}

/// An edge is sewn once; sewing it again would pierce what is closed already.
Work OperationReader::sew(const OperationText& text) {
  std::set<std::string> told;  // "sides" are two edges of one name in the file
  for (const auto& edge : text.edges) {
    const auto [first, is_new] = sewn_.emplace(edge.value, made_.operations.size());
    const std::string name = file_name_of(edge, text);
    if (is_new || !told.insert(name).second) continue;
    const bool is_own = first->second == made_.operations.size();
    const Name& before = is_own ? text.id : texts_[first->second].id;
    names_.faults.error(
        edge.place,
        {"edge-closed-twice",
         {{"operation", text.id.value}, {"edge", name}, {"first", before.value}}},
        {{"edge-closed-twice-hint", {{"first", before.value}, {"line", before.place.line}}}});
  }
  return does::Sew{values_of(text.edges)};
}

void OperationReader::finish(const std::vector<base::Place>& panels) {
  order();
  for (std::size_t i = 1; panels.size() <= kMostPanels && i < panels.size(); ++i) {
    if (laid_.contains(i)) continue;
    names_.faults.error(panels[i], {"panel-never-laid", {{"panel", made_.panels[i].name}}},
                        {{"panel-never-laid-hint"}});
  }
  for (std::size_t i = 0; i < made_.attachments.size(); ++i) {
    const std::string& name = made_.attachments[i].name;
    if (attached_.contains(name)) continue;
    names_.faults.error(places_.attachments[i], {"attachment-never-fixed", {{"attachment", name}}},
                        {{"attachment-never-fixed-hint"}});
  }
}

/// What an operation needs is done before it.
void OperationReader::order() {
  std::vector<std::string> ids;
  for (const Operation& operation : made_.operations) ids.push_back(operation.id);
  const std::set<std::string> in_circle = circles();
  for (std::size_t i = 0; i < texts_.size(); ++i) {
    for (const Name& need : texts_[i].needs) {
      const auto before = std::find(ids.begin(), ids.end(), need.value);
      const auto index = static_cast<std::size_t>(before - ids.begin());
      if (before == ids.end()) {
        names_.faults.error(need.place, {"operation-unknown", {{"operation", need.value}}},
                            {hint_for(need.value, ids)});
      } else if (index >= i && !in_circle.contains(ids[i])) {
        const base::Message::Values values = {{"operation", ids[i]}, {"need", need.value}};
        names_.faults.error(texts_[i].id.place, {"operation-out-of-order", values},
                            {{"operation-out-of-order-hint", values}});
      }
      made_.operations[i].needs.push_back(index);
    }
  }
}

/// Reports each circle of needs once, at its first operation, and returns all that are in one. Of
/// circles that share an operation only the first is told: most often it breaks the others.
std::set<std::string> OperationReader::circles() {
  std::set<std::string> members;
  for (const OperationText& text : texts_) {
    const std::string& id = text.id.value;
    if (members.contains(id)) continue;
    std::vector<std::string> way{id};
    std::set<std::string> seen;
    if (!leads_back(id, id, way, seen)) continue;
    const bool told = std::any_of(way.begin(), way.end(),
                                  [&](const std::string& one) { return members.contains(one); });
    members.insert(way.begin(), way.end());
    if (told) continue;
    way.push_back(way.front());
    names_.faults.error(text.id.place,
                        {"operations-in-a-circle", {{"chain", base::list_text(way)}}},
                        {{"operations-in-a-circle-hint"}});
  }
  return members;
}

bool OperationReader::leads_back(const std::string& from, const std::string& goal,
                                 std::vector<std::string>& way, std::set<std::string>& seen) const {
  const auto text = std::find_if(texts_.begin(), texts_.end(), [&](const OperationText& candidate) {
    return candidate.id.value == from;
  });
  if (text == texts_.end()) return false;
  for (const Name& need : text->needs) {
    if (need.value == goal) return true;
    if (!seen.insert(need.value).second) continue;
    way.push_back(need.value);
    if (leads_back(need.value, goal, way, seen)) return true;
    way.pop_back();
  }
  return false;
}

}  // namespace pouchwright::input
