#include "input/reader.h"

#include <algorithm>
#include <cmath>

#include "base/number.h"
#include "base/text.h"
#include "input/likely.h"

namespace pouchwright::input {

namespace {

using base::FieldName;
using base::Place;

constexpr base::Named<Node::Kind> kKindKeys[] = {
    {Node::Kind::table, "kind-table"},    {Node::Kind::array, "kind-array"},
    {Node::Kind::text, "kind-text"},      {Node::Kind::whole, "kind-whole"},
    {Node::Kind::decimal, "kind-number"}, {Node::Kind::boolean, "kind-truth"},
    {Node::Kind::moment, "kind-moment"}};

/// Whole numbers beside a larger one say nothing to a person.
constexpr double kMostTold = 1e6;

int letter_count(std::string_view text) { return static_cast<int>(base::letter_count(text)); }

using LengthFault = base::LengthFault;
constexpr base::Named<LengthFault::Kind> kFaultKeys[] = {
    {LengthFault::Kind::empty, "length-empty"},
    {LengthFault::Kind::not_a_number, "length-not-a-number"},
    {LengthFault::Kind::two_readings, "length-two-readings"},
    {LengthFault::Kind::larger_behind, "length-larger-behind"},
    {LengthFault::Kind::unknown_unit, "length-unknown-unit"},
    {LengthFault::Kind::bad_fraction, "length-bad-fraction"},
    {LengthFault::Kind::fine_denominator, "length-fine-denominator"},
    {LengthFault::Kind::too_fine, "length-too-fine"},
    {LengthFault::Kind::too_long, "length-too-long"}};

/// A number as a length text: TOML allows a plus sign and underscores between digits.
std::string plain_number(std::string_view written) {
  std::string text;
  for (const char c : written) {
    if (c != '_') text += c;
  }
  if (text.starts_with('+')) text.erase(0, 1);
  return text;
}

/// "1,000 mm": the mark as nothing, and as a point without the zeros that end the number.
std::pair<std::string, std::string> two_readings(const std::string& text, std::size_t comma) {
  constexpr std::size_t kDigits = 3;
  const std::string behind = text.substr(comma + 1 + kDigits);
  std::string decimals = text.substr(comma, 1 + kDigits);
  decimals.front() = '.';
  const std::size_t last = decimals.find_last_not_of('0');
  decimals.resize(last == 0 ? 0 : last + 1);
  std::string whole = text;
  whole.erase(comma, 1);
  return {clipped(base::trimmed(whole)),
          clipped(base::trimmed(text.substr(0, comma) + decimals + behind))};
}

base::Message length_fault_hint(const base::LengthFault& fault,
                                const base::Message::Values& values) {
  switch (fault.kind) {
    case LengthFault::Kind::too_long:
      return {"length-too-long-hint"};
    case LengthFault::Kind::larger_behind:
      return {"length-larger-behind-hint"};
    case LengthFault::Kind::two_readings:
      return {"length-two-readings-hint", values};
    case LengthFault::Kind::empty:
    case LengthFault::Kind::not_a_number:
    case LengthFault::Kind::unknown_unit:
    case LengthFault::Kind::bad_fraction:
    case LengthFault::Kind::fine_denominator:
    case LengthFault::Kind::too_fine:
      break;
  }
  return {"length-hint"};
}

void length_fault(const Node& node, const std::string& path, const std::string& text,
                  const base::LengthFault& fault, Context context) {
  Place place = node.place;
  const int first = node.kind == Node::Kind::text ? node.text_column : node.place.column;
  if (first > 0) {
    const std::string_view view(text);
    place.column = first + letter_count(view.substr(0, fault.at));
    place.end_column = place.column + std::max(1, letter_count(view.substr(fault.at, fault.size)));
  }
  base::Message::Values values = {{"text", clipped(text)}, {"key", FieldName{path}}};
  if (fault.kind == LengthFault::Kind::two_readings) {
    const auto [many, few] = two_readings(text, fault.at);
    values.insert(values.end(), {{"many", many}, {"few", few}});
  }
  const base::Message hint = length_fault_hint(fault, values);
  context.diagnostics.error(place, {word_of(kFaultKeys, fault.kind), std::move(values)}, {hint});
}

}  // namespace

std::string clipped(std::string_view text) {
  constexpr std::size_t kMost = 60;
  if (text.size() <= kMost) return std::string(text);
  // Not in the middle of a letter.
  return std::string(text.substr(0, base::utf8_bytes(text.substr(0, kMost)))) + "…";
}

base::Message nearest_hint(std::string_view word, const std::vector<std::string>& known) {
  const std::string near = base::nearest(word, known);
  if (near.empty()) return {"known-names-hint", {{"names", base::list_text(known)}}};
  return {"did-you-mean", {{"word", near}}};
}

std::optional<base::Remedy> nearest_remedy(const std::string& path, std::string_view word,
                                           const std::vector<std::string>& known) {
  const std::string near = base::nearest(word, known);
  if (near.empty()) return std::nullopt;
  return base::Remedy{path, near, {"remedy-name", {{"word", near}}}};
}

std::optional<Placed<Length>> length_of(const Node& node, const std::string& path, Zero zero,
                                        Context context) {
  const bool is_number = node.kind == Node::Kind::whole || node.kind == Node::Kind::decimal;
  if (!is_number && node.kind != Node::Kind::text) {
    context.diagnostics.error(node.place, {"wrong-kind-length", {{"key", FieldName{path}}}},
                              {{"length-hint"}});
    return std::nullopt;
  }
  const std::string text = is_number ? plain_number(node.text) : node.text;
  const auto reading = base::read_length(text, node.bare.value_or(context.bare));
  if (const auto* fault = std::get_if<base::LengthFault>(&reading)) {
    length_fault(node, path, text, *fault, context);
    return std::nullopt;
  }
  const Length length = std::get<Length>(reading);
  if (length < Length()) {
    context.diagnostics.error(
        node.place, {"length-negative", {{"key", FieldName{path}}, {"text", clipped(text)}}},
        {{zero == Zero::allowed ? "length-zero-or-more-hint" : "length-positive-hint"}});
    return std::nullopt;
  }
  if (length == Length() && zero == Zero::refused) {
    context.diagnostics.error(node.place,
                              {"length-zero", {{"key", FieldName{path}}, {"text", clipped(text)}}},
                              {{"length-positive-hint"}});
    return std::nullopt;
  }
  return Placed<Length>{length, node.place};
}

std::size_t unit_at(std::string_view length) {
  std::size_t behind = 0;
  for (const std::string_view sign :
       {"0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "¼", "½", "¾", "⅛", "⅜", "⅝", "⅞"}) {
    const std::size_t last = length.rfind(sign);
    if (last != std::string_view::npos) behind = std::max(behind, last + sign.size());
  }
  return behind;
}

std::vector<std::string> between_crosses(std::string_view text) {
  std::vector<std::string> parts(1);
  while (!text.empty()) {
    std::string_view cross;
    for (const std::string_view one : {"x", "X", "×", "*", " by "}) {
      if (text.starts_with(one)) cross = one;
    }
    if (cross.empty()) {
      parts.back() += text.front();
      text.remove_prefix(1);
    } else {
      parts.emplace_back();
      text.remove_prefix(cross.size());
    }
  }
  return parts;
}

std::optional<LengthPair> length_pair_of(std::string_view text, base::Unit bare) {
  const auto parts = between_crosses(text);
  if (parts.size() != 2) return std::nullopt;
  const std::string& first = parts.front();
  const std::string& second = parts.back();
  const auto across_bare = base::read_length(first, base::Unit::mm);
  const auto across_other = base::read_length(first, base::Unit::inch);
  const auto down = base::read_length(second, bare);
  if (!std::holds_alternative<Length>(down) || !std::holds_alternative<Length>(across_bare)) {
    return std::nullopt;
  }
  Length across = std::get<Length>(across_bare);
  const bool first_is_bare = across_bare != across_other && across != Length();
  if (first_is_bare) {
    const std::string both = first + second.substr(unit_at(second));
    const auto with_unit = base::read_length(both, bare);
    if (!std::holds_alternative<Length>(with_unit)) return std::nullopt;
    across = std::get<Length>(with_unit);
  }
  return LengthPair{across, std::get<Length>(down)};
}

void TableReader::know(std::string_view key) {
  if (std::find(known_.begin(), known_.end(), key) == known_.end()) known_.emplace_back(key);
}

const Node* TableReader::find(std::string_view key) {
  know(key);
  return table_.find(key);
}

const Node* TableReader::require(std::string_view key) {
  const Node* node = find(key);
  if (!node) {
    base::Place place = table_.place;
    if (name_.empty()) place = {place.file, 0, 0, 0};
    context_.diagnostics.add(
        {.place = place,
         .message = {"key-missing", {{"key", FieldName{path(key)}}}},
         .hints = {{"key-missing-hint",
                    {{"key", std::string(key)}, {"field", FieldName{path(key)}}}}},
         .path = path(key),
         .is_missing = true});
  }
  return node;
}

std::string TableReader::path(std::string_view key) const {
  return name_.empty() ? std::string(key) : name_ + "." + std::string(key);
}

void TableReader::wrong_kind(std::string_view key, const Node& node, const char* wanted_key) {
  context_.diagnostics.error(
      node.place, {std::string("wrong-kind-") + wanted_key, {{"key", FieldName{path(key)}}}},
      {{std::string("found-") + word_of(kKindKeys, node.kind)}});
}

std::optional<Placed<std::string>> TableReader::word(std::string_view key,
                                                     const std::vector<std::string>& words) {
  const auto found = text(key);
  if (!found || std::find(words.begin(), words.end(), found->value) != words.end()) return found;
  context_.diagnostics.add(
      {.place = found->place,
       .message = {"not-a-choice",
                   {{"key", FieldName{path(key)}}, {"text", clipped(found->value)}}},
       .hints = {{"choices-hint", {{"names", base::list_text(words)}}}},
       .remedy = nearest_remedy(path(key), found->value, words)});
  return std::nullopt;
}

std::optional<Placed<std::string>> TableReader::language(std::string_view key,
                                                         const Languages& known) {
  auto found = text(key);
  if (!found || !known) return found;
  const std::vector<std::string>& names = known();
  if (auto named = base::language_named(found->value, names)) {
    return Placed<std::string>{*std::move(named), found->place};
  }
  context_.diagnostics.add({.place = found->place,
                            .message = {"tongue-unknown", {{"text", clipped(found->value)}}},
                            .hints = {{"choices-hint", {{"names", base::list_text(names)}}}},
                            .remedy = nearest_remedy(path(key), found->value, names)});
  return std::nullopt;
}

bool TableReader::fits(std::string_view key, const Node& node) {
  if (!base::is_drawable(node.text)) {
    context_.diagnostics.error(node.place, {"text-not-drawable", {{"key", FieldName{path(key)}}}},
                               {{"text-not-drawable-hint"}});
    return false;
  }
  const int letters = letter_count(node.text);
  if (letters <= kMostLetters) return true;
  context_.diagnostics.error(
      node.place,
      {"text-too-long",
       {{"key", FieldName{path(key)}}, {"count", letters}, {"most", kMostLetters}}},
      {{"text-too-long-hint"}});
  return false;
}

std::optional<Placed<std::string>> TableReader::text(std::string_view key) {
  const Node* node = find(key);
  if (!node) return std::nullopt;
  if (node->kind != Node::Kind::text) {
    wrong_kind(key, *node, "text");
    return std::nullopt;
  }
  if (!fits(key, *node)) return std::nullopt;
  return Placed<std::string>{node->text, node->place};
}

std::optional<Placed<std::string>> TableReader::code(std::string_view key) {
  const Node* node = find(key);
  if (!node || node->kind != Node::Kind::whole) return text(key);
  return Placed<std::string>{std::to_string(node->whole), node->place};
}

std::optional<Placed<Length>> TableReader::length(std::string_view key, Zero zero) {
  const Node* node = find(key);
  const auto read = node ? length_of(*node, path(key), zero, context_) : std::nullopt;
  if (read) check_likely(*node, path(key), read->value, context_);
  return read;
}

std::optional<Placed<LengthPair>> TableReader::length_pair(std::string_view key) {
  const auto words = text(key);
  if (!words) return std::nullopt;
  const auto pair = length_pair_of(words->value, find(key)->bare.value_or(context_.bare));
  if (!pair || pair->across <= Length() || pair->down <= Length()) {
    context_.diagnostics.error(
        words->place,
        {"not-a-size", {{"key", FieldName{path(key)}}, {"text", clipped(words->value)}}},
        {{"not-a-size-hint"}});
    return std::nullopt;
  }
  return Placed<LengthPair>{*pair, words->place};
}

std::vector<Placed<Length>> TableReader::lengths(std::string_view key) {
  std::vector<Placed<Length>> all;
  const Node* node = find(key);
  if (!node) return all;
  if (node->kind != Node::Kind::array) {
    wrong_kind(key, *node, "lengths");
    return all;
  }
  for (const Node& item : node->items) {
    if (const auto length = length_of(item, path(key), Zero::refused, context_)) {
      all.push_back(*length);
    }
  }
  return all;
}

std::optional<Placed<int>> TableReader::whole(std::string_view key, int least, int most) {
  const Node* node = find(key);
  if (!node) return std::nullopt;
  if (node->kind == Node::Kind::decimal && std::abs(node->decimal) < kMostTold) {
    const double below = std::floor(node->decimal);
    const double above = std::ceil(node->decimal);
    const auto shown = [](double number) { return std::to_string(static_cast<int>(number)); };
    std::optional<base::Remedy> remedy;
    if (below == above) remedy = base::Remedy{path(key), shown(below)};
    context_.diagnostics.add(
        {.place = node->place,
         .message = {"wrong-kind-whole", {{"key", FieldName{path(key)}}}},
         .hints = {below == above
                       ? base::Message("without-decimals-hint", {{"number", shown(below)}})
                       : base::Message("whole-beside-hint",
                                       {{"below", shown(below)}, {"above", shown(above)}})},
         .remedy = std::move(remedy)});
    return std::nullopt;
  }
  if (node->kind != Node::Kind::whole) {
    wrong_kind(key, *node, "whole");
    return std::nullopt;
  }
  if (node->whole < least || node->whole > most) {
    context_.diagnostics.error(node->place,
                               {"out-of-range",
                                {{"key", FieldName{path(key)}},
                                 {"text", clipped(node->text)},
                                 {"least", least},
                                 {"most", most}}},
                               {{"out-of-range-hint"}});
    return std::nullopt;
  }
  return Placed<int>{static_cast<int>(node->whole), node->place};
}

std::optional<double> TableReader::number_in_words(std::string_view key, const Node& node,
                                                   Percent percent) {
  std::string text(base::trimmed(node.text));
  const bool is_percent = percent != Percent::unknown && text.ends_with('%');
  if (is_percent) text = base::trimmed(text.substr(0, text.size() - 1));
  const base::DecimalRead read = base::read_decimal(text);
  if (read.thousands_at) {
    const auto [many, few] = two_readings(text, *read.thousands_at);
    context_.diagnostics.error(
        node.place,
        {"length-two-readings", {{"text", clipped(text)}, {"many", many}, {"few", few}}},
        {{"length-two-readings-hint", {{"many", many}, {"few", few}}}});
    return std::nullopt;
  }
  if (!read.value) {
    wrong_kind(key, node, "number");
    return std::nullopt;
  }
  constexpr double kHundred = 100;
  return is_percent && percent == Percent::of_one ? *read.value / kHundred : *read.value;
}

std::optional<Placed<double>> TableReader::number(std::string_view key, double least, double most,
                                                  Percent percent) {
  const Node* node = find(key);
  if (!node) return std::nullopt;
  std::optional<double> value;
  switch (node->kind) {
    case Node::Kind::whole:
      value = static_cast<double>(node->whole);
      break;
    case Node::Kind::decimal:
      value = node->decimal;
      break;
    case Node::Kind::text:
      value = number_in_words(key, *node, percent);
      if (!value) return std::nullopt;
      break;
    case Node::Kind::table:
    case Node::Kind::array:
    case Node::Kind::boolean:
    case Node::Kind::moment:
      wrong_kind(key, *node, "number");
      return std::nullopt;
  }
  if (std::isfinite(*value) && *value >= least && *value <= most) {
    return Placed<double>{*value, node->place};
  }
  // 4, where 4 % is meant.
  std::optional<base::Remedy> remedy;
  if (percent == Percent::of_one && *value >= 1 && *value <= most * 100) {
    remedy = base::Remedy{path(key), base::shortest(*value, 3) + " %"};
  }
  context_.diagnostics.add({.place = node->place,
                            .message = {"out-of-range",
                                        {{"key", FieldName{path(key)}},
                                         {"text", clipped(node->text)},
                                         {"least", base::shortened(least, 3)},
                                         {"most", base::shortened(most, 3)}}},
                            .hints = {{"out-of-range-hint"}},
                            .remedy = std::move(remedy)});
  return std::nullopt;
}

std::optional<Placed<bool>> TableReader::truth(std::string_view key) {
  const Node* node = find(key);
  if (!node) return std::nullopt;
  if (node->kind != Node::Kind::boolean) {
    wrong_kind(key, *node, "truth");
    return std::nullopt;
  }
  return Placed<bool>{node->truth, node->place};
}

std::vector<Placed<std::string>> TableReader::texts(std::string_view key) {
  std::vector<Placed<std::string>> all;
  const Node* node = find(key);
  if (!node) return all;
  if (node->kind != Node::Kind::array) {
    wrong_kind(key, *node, "texts");
    return all;
  }
  for (const Node& item : node->items) {
    if (item.kind != Node::Kind::text) {
      wrong_kind(key, item, "texts");
    } else if (fits(key, item)) {
      all.push_back({item.text, item.place});
    }
  }
  return all;
}

std::vector<const Node*> TableReader::tables(std::string_view key) {
  std::vector<const Node*> all;
  const Node* node = find(key);
  if (!node) return all;
  if (node->kind != Node::Kind::array) {
    wrong_kind(key, *node, "tables");
    return all;
  }
  for (const Node& item : node->items) {
    if (item.kind == Node::Kind::table) {
      all.push_back(&item);
    } else {
      wrong_kind(key, item, "tables");
    }
  }
  return all;
}

const Node* TableReader::table(std::string_view key) {
  const Node* node = find(key);
  if (node && node->kind != Node::Kind::table) {
    wrong_kind(key, *node, "table");
    return nullptr;
  }
  return node;
}

bool TableReader::knows(std::string_view key) const {
  return std::find(known_.begin(), known_.end(), key) != known_.end();
}

void TableReader::finish() {
  for (const auto& [key, node] : table_.entries) {
    if (knows(key)) continue;
    context_.diagnostics.error(node.key_place, {"key-unknown", {{"key", clipped(path(key))}}},
                               {nearest_hint(key, known_)});
  }
}

}  // namespace pouchwright::input
