#include "input/reader.h"

#include <algorithm>
#include <cmath>

#include "base/number.h"
#include "base/text.h"

namespace pouchwright::input {

namespace {

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

/// "1,000 mm": the comma as nothing, and as a point without the zeros that end the number.
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
  base::Message::Values values = {{"text", clipped(text)}, {"key", path}};
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

std::optional<Placed<Length>> length_of(const Node& node, const std::string& path, Zero zero,
                                        Context context) {
  const bool is_number = node.kind == Node::Kind::whole || node.kind == Node::Kind::decimal;
  if (!is_number && node.kind != Node::Kind::text) {
    context.diagnostics.error(node.place, {"wrong-kind-length", {{"key", path}}},
                              {{"length-hint"}});
    return std::nullopt;
  }
  const std::string text = is_number ? plain_number(node.text) : node.text;
  const auto reading = base::read_length(text, context.bare);
  if (const auto* fault = std::get_if<base::LengthFault>(&reading)) {
    length_fault(node, path, text, *fault, context);
    return std::nullopt;
  }
  const Length length = std::get<Length>(reading);
  if (length < Length()) {
    context.diagnostics.error(
        node.place, {"length-negative", {{"key", path}, {"text", clipped(text)}}},
        {{zero == Zero::allowed ? "length-zero-or-more-hint" : "length-positive-hint"}});
    return std::nullopt;
  }
  if (length == Length() && zero == Zero::refused) {
    context.diagnostics.error(node.place, {"length-zero", {{"key", path}, {"text", clipped(text)}}},
                              {{"length-positive-hint"}});
    return std::nullopt;
  }
  return Placed<Length>{length, node.place};
}

namespace {

/// Where the unit of a length begins, whatever it is: behind its last digit or fraction.
std::size_t unit_at(std::string_view length) {
  std::size_t behind = 0;
  for (const std::string_view sign :
       {"0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "¼", "½", "¾", "⅛", "⅜", "⅝", "⅞"}) {
    const std::size_t last = length.rfind(sign);
    if (last != std::string_view::npos) behind = std::max(behind, last + sign.size());
  }
  return behind;
}

}  // namespace

std::optional<LengthPair> length_pair_of(std::string_view text, base::Unit bare) {
  std::size_t cross = text.find_first_of("xX");
  std::size_t size = 1;
  if (cross == std::string_view::npos) {
    constexpr std::string_view kTimes = "×";
    cross = text.find(kTimes);
    size = kTimes.size();
  }
  if (cross == std::string_view::npos) return std::nullopt;
  const std::string_view first = text.substr(0, cross);
  const std::string second(text.substr(cross + size));
  const auto across_bare = base::read_length(first, base::Unit::mm);
  const auto across_other = base::read_length(first, base::Unit::inch);
  const auto down = base::read_length(second, bare);
  if (!std::holds_alternative<Length>(down) || !std::holds_alternative<Length>(across_bare)) {
    return std::nullopt;
  }
  Length across = std::get<Length>(across_bare);
  const bool first_is_bare = across_bare != across_other && across != Length();
  if (first_is_bare) {
    const std::string both = std::string(first) + second.substr(unit_at(second));
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
    context_.diagnostics.error(place, {"key-missing", {{"key", path(key)}}},
                               {{"key-missing-hint", {{"key", std::string(key)}}}});
  }
  return node;
}

std::string TableReader::path(std::string_view key) const {
  return name_.empty() ? std::string(key) : name_ + "." + std::string(key);
}

void TableReader::wrong_kind(std::string_view key, const Node& node, const char* wanted_key) {
  context_.diagnostics.error(node.place,
                             {std::string("wrong-kind-") + wanted_key, {{"key", path(key)}}},
                             {{std::string("found-") + word_of(kKindKeys, node.kind)}});
}

std::optional<Placed<std::string>> TableReader::word(std::string_view key,
                                                     const std::vector<std::string>& words) {
  const auto found = text(key);
  if (!found || std::find(words.begin(), words.end(), found->value) != words.end()) return found;
  context_.diagnostics.error(
      found->place, {"not-a-choice", {{"key", path(key)}, {"text", clipped(found->value)}}},
      {{"choices-hint", {{"names", base::list_text(words)}}}});
  return std::nullopt;
}

bool TableReader::fits(std::string_view key, const Node& node) {
  if (!base::is_drawable(node.text)) {
    context_.diagnostics.error(node.place, {"text-not-drawable", {{"key", path(key)}}},
                               {{"text-not-drawable-hint"}});
    return false;
  }
  const int letters = letter_count(node.text);
  if (letters <= kMostLetters) return true;
  context_.diagnostics.error(
      node.place,
      {"text-too-long", {{"key", path(key)}, {"count", letters}, {"most", kMostLetters}}},
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
  return node ? length_of(*node, path(key), zero, context_) : std::nullopt;
}

std::optional<Placed<LengthPair>> TableReader::length_pair(std::string_view key) {
  const auto words = text(key);
  if (!words) return std::nullopt;
  const auto pair = length_pair_of(words->value, context_.bare);
  if (!pair || pair->across <= Length() || pair->down <= Length()) {
    context_.diagnostics.error(
        words->place, {"not-a-size", {{"key", path(key)}, {"text", clipped(words->value)}}},
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
    context_.diagnostics.error(
        node->place, {"wrong-kind-whole", {{"key", path(key)}}},
        {below == above ? base::Message("without-decimals-hint", {{"number", shown(below)}})
                        : base::Message("whole-beside-hint",
                                        {{"below", shown(below)}, {"above", shown(above)}})});
    return std::nullopt;
  }
  if (node->kind != Node::Kind::whole) {
    wrong_kind(key, *node, "whole");
    return std::nullopt;
  }
  if (node->whole < least || node->whole > most) {
    context_.diagnostics.error(
        node->place,
        {"out-of-range",
         {{"key", path(key)}, {"text", clipped(node->text)}, {"least", least}, {"most", most}}},
        {{"out-of-range-hint"}});
    return std::nullopt;
  }
  return Placed<int>{static_cast<int>(node->whole), node->place};
}

std::optional<Placed<double>> TableReader::number(std::string_view key, double least, double most) {
  const Node* node = find(key);
  if (!node) return std::nullopt;
  if (node->kind != Node::Kind::whole && node->kind != Node::Kind::decimal) {
    wrong_kind(key, *node, "number");
    return std::nullopt;
  }
  const double value =
      node->kind == Node::Kind::whole ? static_cast<double>(node->whole) : node->decimal;
  if (!std::isfinite(value) || value < least || value > most) {
    context_.diagnostics.error(node->place,
                               {"out-of-range",
                                {{"key", path(key)},
                                 {"text", clipped(node->text)},
                                 {"least", base::shortened(least, 3)},
                                 {"most", base::shortened(most, 3)}}},
                               {{"out-of-range-hint"}});
    return std::nullopt;
  }
  return Placed<double>{value, node->place};
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
