#include "input/likely.h"

#include <algorithm>
#include <variant>
#include <vector>

#include "base/text.h"

namespace pouchwright::input {

namespace {

struct LikelyValue {
  std::string_view path;
  LikelyLengths lengths;
};

constexpr Length mm(std::int64_t count) { return Length::whole_mm(count); }
constexpr Length um(std::int64_t count) { return Length::nm(count * 1000); }

// Common practice, no source: what pouches for a bag, their cloths and their liners measure, with
// room on either side for what nobody thought of.
constexpr LikelyValue kLikely[] = {
    {"liners.width", {mm(20), mm(400)}},
    {"liners.length", {mm(20), mm(600)}},
    {"liners.thickness", {um(500), mm(60)}},
    {"liners.ease", {Length(), mm(80)}},
    {"liners.overlap", {Length(), mm(200)}},
    {"pouch.width", {mm(60), mm(1000)}},
    {"pouch.depth", {mm(60), mm(1000)}},
    {"pouch.flap", {mm(10), mm(500)}},
    {"pouch.lip_drop", {mm(1), mm(100)}},
    {"pouch.gusset", {mm(5), mm(400)}},
    {"pouch.seam_allowance", {mm(2), mm(40)}},
    {"pouch.needle_reach", {mm(2), mm(45)}},
    {"pouch.seal_width", {mm(4), mm(80)}},
    {"pouch.min_clear_seal", {um(500), mm(30)}},
    {"pouch.knife", {um(500), mm(20)}},
    {"panel.width", {mm(50), mm(1200)}},
    {"panel.length", {mm(80), mm(2500)}},
    {"card.width", {mm(20), mm(1000)}},
    {"card.length", {mm(20), mm(1000)}},
    {"tolerance.cut", {Length(), mm(10)}},
    {"tolerance.place", {Length(), mm(10)}},
    {"tolerance.sew", {Length(), mm(10)}},
    {"materials.laminate.width", {mm(200), mm(5000)}},
    {"materials.laminate.selvedge", {mm(1), mm(80)}},
    {"materials.laminate.thickness", {um(50), mm(5)}},
    {"materials.outer.width", {mm(200), mm(5000)}},
    {"materials.outer.selvedge", {mm(1), mm(80)}},
    {"materials.outer.thickness", {um(50), mm(5)}},
    {"lay.table_length", {mm(200), mm(50'000)}},
};

std::optional<Length> read(const std::string& text) {
  const auto reading = base::read_length(text, base::Unit::mm);
  const auto* length = std::get_if<Length>(&reading);
  return length ? std::optional(*length) : std::nullopt;
}

/// The units for which `unit` is written by mistake, the likeliest first.
std::vector<std::string> mistaken_for(Length unit, bool is_bare) {
  if (unit == mm(1) && is_bare) return {"cm", "in"};
  if (unit == mm(1)) return {"cm"};
  if (unit == mm(10)) return {"mm"};
  if (unit == mm(1000)) return {"cm", "mm"};
  if (unit == Length::inches(1)) return {"mm", "cm"};
  return {"in"};
}

}  // namespace

std::optional<LikelyLengths> likely_lengths(std::string_view path) {
  const auto* found = std::find_if(std::begin(kLikely), std::end(kLikely),
                                   [&](const LikelyValue& one) { return one.path == path; });
  return found == std::end(kLikely) ? std::nullopt : std::optional(found->lengths);
}

std::optional<std::string> likely_meant(std::string_view typed, Length length, base::Unit bare,
                                        const LikelyLengths& likely) {
  const std::string number(base::trimmed(typed.substr(0, unit_at(typed))));
  std::string unit(base::trimmed(typed.substr(unit_at(typed))));
  const bool is_bare = unit.empty();
  if (is_bare) unit = word_of(base::kUnitWords, bare);
  const auto one = read("1 " + unit);
  // A number with a unit in it is of several.
  if (!one || !read(number + " mm")) return std::nullopt;
  for (const std::string& other : mistaken_for(*one, is_bare)) {
    const std::string meant = number + " " + other;
    const auto meant_length = read(meant);
    if (meant_length && likely.has(*meant_length)) return meant;
  }
  // Or a point at another place.
  const bool is_metric = one->in_nm() % mm(1).in_nm() == 0;
  for (const Length moved : {Length::nm(length.in_nm() / 10), 10 * length}) {
    if (is_metric && likely.has(moved)) return base::exact_text(moved, base::Unit::mm);
  }
  return std::nullopt;
}

void check_likely(const Node& node, const std::string& path, Length length, Context context) {
  const auto likely = likely_lengths(path);
  if (!likely || length == Length() || likely->has(length)) return;
  const auto meant = likely_meant(node.text, length, node.bare.value_or(context.bare), *likely);
  std::optional<base::Remedy> remedy;
  if (meant) remedy = base::Remedy{path, *meant, {"remedy-name", {{"word", *meant}}}};
  context.diagnostics.add(
      {.severity = base::Severity::warning,
       .place = node.place,
       .message = {length < likely->least ? "length-unlikely-small" : "length-unlikely-large",
                   {{"key", base::FieldName{path}}, {"length", base::exact(length)}}},
       .hints = {meant ? base::Message("did-you-mean", {{"word", *meant}})
                       : base::Message("length-unlikely-hint")},
       .remedy = std::move(remedy)});
}

}  // namespace pouchwright::input
