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

/// On a span or on a piece, not on both; a piece has neither seams nor sides.
void lies_on(TableReader& reader, const base::Place& place, ReadAttachment& read, Names& names) {
  Attachment& made = read.made;
  const auto span = reader.text("span");
  const auto on = reader.text("on");
  if (span.has_value() == on.has_value()) {
    names.faults.error(place, {"attachment-on-one", {{"attachment", made.name}}},
                       {{"attachment-on-one-hint"}});
  } else if (span) {
    made.span = names.span(*span).value_or(SpanRef());
  } else {
    made.on_piece = names.piece(*on);
  }
  if (!on || (!made.between && made.across == Across::middle)) return;
  names.faults.error(place,
                     {"attachment-on-piece", {{"attachment", made.name}, {"piece", on->value}}},
                     {{"attachment-on-piece-hint"}});
}

/// Off the middle it says how far from the side, unless a seam catches it at the side itself.
void place_across(TableReader& reader, const base::Place& place, Attachment& made, Names& names) {
  const auto across = reader.choice("across", kAcrossWords);
  if (across) made.across = across->value;
  made.from_side = form_under(reader, "from_side", names);
  const Node* side = reader.find("from_side");
  const base::Place& told = across ? across->place : side ? side->place : place;
  const bool aside = made.across != Across::middle;
  const bool is_stated = !made.from_side.terms.empty();
  if (aside && !made.between && !is_stated) {
    names.faults.error(told, {"attachment-side-unstated", {{"attachment", made.name}}},
                       {{"attachment-side-unstated-hint"}});
  }
  if ((!aside || made.between) && is_stated) {
    names.faults.error(told, {"attachment-side-idle", {{"attachment", made.name}}},
                       {{"attachment-side-idle-hint"}});
  }
  if (made.count > 1 && (aside || made.between)) {
    names.faults.error(
        place, {"attachment-count-aside", {{"attachment", made.name}, {"count", made.count}}},
        {{"attachment-count-aside-hint"}});
  }
}

void caught_between(TableReader& reader, const base::Place& place, Attachment& made, Names& names) {
  if (!reader.has("between")) return;
  const auto pair = two_spans(reader, "between");
  if (!pair) return;
  const auto a = names.span({pair->a, place});
  const auto b = names.span({pair->b, place});
  made.between.emplace(a.value_or(SpanRef()), b.value_or(SpanRef()));
}

}  // namespace

LinearForm form_under(TableReader& reader, std::string_view key, Names& names) {
  LinearForm form;
  const Node* table = reader.table(key);
  if (!table) return form;
  for (const auto& [name, node] : table->entries) {
    LinearForm::Term term{name, 1, 1};
    if (!weight_of(node, term)) {
      reader.context().diagnostics.error(node.place, {"not-a-weight", {{"size", name}}},
                                         {{"not-a-weight-hint"}});
      continue;
    }
    names.size({name, node.key_place});
    form.terms.push_back(term);
  }
  return form;
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

PieceRule piece_of(const Node& node, const Context& context, Names& names) {
  TableReader reader(node, "piece", context);
  PieceRule piece;
  piece.name = required_name(reader);
  reader.require("width");
  reader.require("length");
  piece.width = form_under(reader, "width", names);
  piece.length = form_under(reader, "length", names);
  if (const auto count = reader.whole("count", 1, 100)) piece.count = count->value;
  if (const auto cloth = reader.choice(
          "cloth", kClothWords, {ClothKind::laminate, ClothKind::outer, ClothKind::bought})) {
    piece.cloth = cloth->value;
  }
  if (const auto how = reader.text("how")) piece.how = how->value;
  if (const auto rows = reader.whole("rows", 0, 100)) piece.rows = rows->value;
  reader.finish();
  return piece;
}

ReadAttachment attachment_of(const Node& node, const Context& context, Names& names) {
  TableReader reader(node, "attachment", context);
  ReadAttachment read;
  Attachment& made = read.made;
  made.name = required_name(reader);
  reader.require("kind");
  if (const auto kind = reader.choice("kind", kAttachmentWords)) {
    made.kind = kind->value;
  }
  if (const auto piece = reader.text("piece"))
    made.made_of = names.piece({piece->value, node.place});
  if (const auto closure = reader.text("closure")) {
    made.closure = names.closure({closure->value, node.place});
  }
  if (const auto count = reader.whole("count", 1, 20)) made.count = count->value;
  if (const auto from = reader.choice("from", kEdgeWords, {Edge::start, Edge::end})) {
    made.from = from->value;
  }
  made.distance = form_under(reader, "distance", names);
  made.extent = form_under(reader, "extent", names);
  made.reach = form_under(reader, "reach", names);
  made.width = form_under(reader, "width", names);
  if (const auto half = reader.text("half_of")) read.half_of = half->value;
  caught_between(reader, node.place, made, names);
  place_across(reader, node.place, made, names);
  lies_on(reader, node.place, read, names);
  reader.finish();
  return read;
}

}  // namespace pouchwright::input
