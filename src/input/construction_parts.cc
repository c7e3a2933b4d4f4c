#include "input/construction_parts.h"

#include <algorithm>
#include <charconv>

namespace pouchwright::input {

using namespace pouch;

namespace {

/// A whole number, or a fraction as text: "1/2", "-3/4". Both parts below a thousand.
bool weight_of(const Node& node, LinearForm::Term& term) {
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

CountRule count_of(const std::string& name, const Node& node, const Context& context) {
  TableReader reader(node, "count." + name, context);
  CountRule rule;
  rule.name = name;
  rule.place = node.key_place;
  if (const auto least = reader.whole("least", 1, kMostRepeats)) rule.least = least->value;
  rule.most = rule.least;
  if (const auto most = reader.whole("most", rule.least, kMostRepeats)) {
    rule.most = most->value;
  } else if (reader.has("most")) {
    rule.most = kMostRepeats;  // told already; the default is held to the limit alone
  }
  reader.require("default");
  rule.standard = rule.least;
  if (const auto standard = reader.whole("default", rule.least, rule.most)) {
    rule.standard = standard->value;
  }
  if (const auto meaning = reader.text("meaning")) rule.meaning = meaning->value;
  reader.finish();
  return rule;
}

std::string required_name(TableReader& reader) {
  if (!reader.require("name")) return "";
  const auto name = reader.text("name");
  return name ? name->value : "";
}

void place_across(TableReader& reader, Attachment& made) {
  if (const auto across = reader.choice("across", kAcrossWords)) {
    made.across = across->value;
    made.across_place = across->place;
  }
  made.from_side = form_under(reader, "from_side");
  const Node* side = reader.find("from_side");
  if (side && made.across_place.file.empty()) made.across_place = side->place;
}

void caught_between(TableReader& reader, Attachment& made) {
  const Node* node = reader.find("between");
  if (!node) return;
  const auto names = reader.texts("between");
  if (names.size() == 2) {
    made.between.emplace(names[0].value, names[1].value);
    return;
  }
  reader.context().diagnostics.error(node->place, {"two-spans", {{"key", reader.path("between")}}},
                                     {{"two-spans-hint"}});
}

}  // namespace

LinearForm form_of(const Node& table, const Context& context) {
  LinearForm form;
  for (const auto& [name, node] : table.entries) {
    LinearForm::Term term{name, 1, 1, node.key_place};
    if (!weight_of(node, term)) {
      context.diagnostics.error(node.place, {"not-a-weight", {{"size", name}}},
                                {{"not-a-weight-hint"}});
      continue;
    }
    form.terms.push_back(term);
  }
  return form;
}

LinearForm form_under(TableReader& reader, std::string_view key) {
  const Node* table = reader.table(key);
  return table ? form_of(*table, reader.context()) : LinearForm();
}

std::vector<CountRule> counts_of(const Node& table,
                                 const std::function<std::optional<int>(const CountRule&)>& stated,
                                 const Context& context) {
  std::vector<CountRule> counts;
  for (const auto& [name, node] : table.entries) {
    if (node.kind != Node::Kind::table) {
      context.diagnostics.error(node.place, {"wrong-kind-table", {{"key", "count." + name}}}, {});
      continue;
    }
    CountRule rule = count_of(name, node, context);
    rule.value = stated ? stated(rule).value_or(rule.standard) : rule.standard;
    counts.push_back(std::move(rule));
  }
  return counts;
}

std::vector<int> repeats_of(const base::Placed<std::string>& text,
                            const std::vector<CountRule>& counts, const Context& context) {
  constexpr std::string_view kUp = " up from ";
  constexpr std::string_view kDown = " down to ";
  const bool is_up = text.value.find(kUp) != std::string::npos;
  const std::size_t at = text.value.find(is_up ? kUp : kDown);
  const std::string name = text.value.substr(0, at);
  const auto count = std::find_if(counts.begin(), counts.end(),
                                  [&](const CountRule& rule) { return rule.name == name; });
  const std::string_view rest = at == std::string::npos
                                    ? std::string_view()
                                    : std::string_view(text.value).substr(at + kUp.size());
  int bound = 0;
  const auto read = std::from_chars(rest.data(), rest.data() + rest.size(), bound);
  const bool is_number = read.ec == std::errc() && read.ptr == rest.data() + rest.size();
  if (count == counts.end() || !is_number || bound < 0 || bound > kMostRepeats) {
    context.diagnostics.error(text.place, {"not-a-repeat", {{"text", clipped(text.value)}}},
                              {{"not-a-repeat-hint"}});
    return {};
  }
  std::vector<int> numbers;
  for (int number = bound; number <= count->value; ++number) numbers.push_back(number);
  if (!is_up) std::reverse(numbers.begin(), numbers.end());
  return numbers;
}

std::string with_number(std::string text, int number) {
  const std::pair<std::string_view, int> holes[] = {
      {"{n}", number}, {"{n-1}", number - 1}, {"{n+1}", number + 1}};
  for (const auto& [hole, value] : holes) {
    for (std::size_t at = text.find(hole); at != std::string::npos; at = text.find(hole)) {
      text.replace(at, hole.size(), std::to_string(value));
    }
  }
  return text;
}

PieceRule piece_of(const Node& node, const Context& context) {
  TableReader reader(node, "piece", context);
  PieceRule piece;
  piece.place = node.place;
  piece.name = required_name(reader);
  reader.require("width");
  reader.require("length");
  piece.width = form_under(reader, "width");
  piece.length = form_under(reader, "length");
  if (const auto count = reader.whole("count", 1, 100)) piece.count = count->value;
  if (const auto cloth = reader.choice(
          "cloth", kClothWords, {ClothKind::laminate, ClothKind::outer, ClothKind::bought})) {
    piece.cloth = cloth->value;
  }
  if (const auto how = reader.text("how")) piece.how = how->value;
  reader.finish();
  return piece;
}

Attachment attachment_of(const Node& node, const Context& context) {
  TableReader reader(node, "attachment", context);
  Attachment made;
  made.place = node.place;
  made.name = required_name(reader);
  reader.require("kind");
  if (const auto kind = reader.choice("kind", kAttachmentWords)) {
    made.kind = kind->value;
  }
  if (const auto piece = reader.text("piece")) made.piece = piece->value;
  if (const auto closure = reader.text("closure")) made.closure = closure->value;
  if (const auto count = reader.whole("count", 1, 20)) made.count = count->value;
  if (const auto span = reader.text("span")) {
    made.span = span->value;
    made.span_place = span->place;
  }
  if (const auto on = reader.text("on")) {
    made.on = on->value;
    made.on_place = on->place;
  }
  if (const auto from = reader.choice("from", kEdgeWords, {Edge::start, Edge::end})) {
    made.from = from->value;
  }
  made.distance = form_under(reader, "distance");
  made.extent = form_under(reader, "extent");
  made.reach = form_under(reader, "reach");
  made.width = form_under(reader, "width");
  if (const auto half = reader.text("half_of")) made.half_of = half->value;
  place_across(reader, made);
  caught_between(reader, made);
  reader.finish();
  return made;
}

}  // namespace pouchwright::input
