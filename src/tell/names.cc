#include "tell/names.h"

#include <algorithm>

#include "base/text.h"

namespace pouchwright::tell {
namespace {

/// `wet-front` is a name for files; people read blanks.
std::string with_blanks(std::string name) {
  std::replace(name.begin(), name.end(), '-', ' ');
  return name;
}

/// The language's word for a name of the program's own constructions; others stand as they are.
std::string named(const char* begin, const std::string& name, const base::Voice& words) {
  const std::string key = begin + base::slug(name);
  if (words.has(key)) return words.say(key);
  // One of several, as `front-roll-2`.
  const std::size_t last = name.find_last_of('-');
  const bool is_numbered =
      last != name.npos && name.find_first_not_of("0123456789", last + 1) == name.npos;
  const std::string of_all = begin + base::slug(name.substr(0, last));
  if (is_numbered && words.has(of_all)) return words.say(of_all) + " " + name.substr(last + 1);
  return with_blanks(name);
}

}  // namespace

base::Message area_said(double square_mm, int places, base::Unit unit) {
  constexpr double kSquareMetre = 1e6;
  constexpr double kSquareYard = 914.4 * 914.4;  // NIST SP 811, appendix B: 1 yd = 0.9144 m
  const bool metric = unit == base::Unit::mm;
  return {metric ? "area-metres" : "area-yards",
          {{"amount", base::fixed(square_mm / (metric ? kSquareMetre : kSquareYard), places)}}};
}

std::string title_of(const pouch::Pouch& pouch, const base::Voice& words) {
  return pouch.request.title.empty() ? words.say("drawing-untitled") : pouch.request.title;
}

std::string kind_key(pouch::AttachmentKind kind) {
  return key_of("construction-kind-", pouch::kAttachmentWords, kind);
}

std::string span_name(const std::string& name, const base::Voice& words) {
  return named("drawing-span-", name, words);
}

std::string end_name(const pouch::Pouch& pouch, const pouch::does::Finish& finish,
                     const base::Voice& words) {
  return span_name(end_span(pouch.sizes.panels[finish.panel], finish.end).name, words);
}

base::Value::List edge_names(const std::vector<pouch::Edge>& edges) {
  using pouch::Edge;
  const bool left = works_on(edges, Edge::left);
  const bool right = works_on(edges, Edge::right);
  base::Value::List names;
  const auto add = [&](bool has, const char* key) {
    if (has) names.emplace_back(base::Message(key));
  };
  add(left && right, "construction-edge-sides");
  add(left && !right, "construction-edge-left");
  add(right && !left, "construction-edge-right");
  add(works_on(edges, Edge::bottom), "construction-edge-bottom");
  add(works_on(edges, Edge::start), "construction-edge-start");
  add(works_on(edges, Edge::end), "construction-edge-end");
  return names;
}

std::string part_name(const std::string& name, const base::Voice& words) {
  return named("drawing-part-", name, words);
}

std::string pocket_name(const pouch::Pouch& pouch, std::size_t compartment,
                        const base::Voice& words) {
  return part_name(pouch.construction().compartments[compartment].name, words);
}

std::string construction_title(const std::string& name, const std::string& title,
                               const base::Voice& words) {
  const std::string key = "construction-title-" + name;
  return words.has(key) ? words.say(key) : title;
}

std::string construction_about(const std::string& name, const std::string& about,
                               const base::Voice& words) {
  const std::string key = "construction-about-" + name;
  return words.has(key) ? words.say(key) : about;
}

base::Message cards_of(const pouch::Pouch& pouch) {
  switch (pouch.request.cards) {
    case pouch::CardUse::inside:
      return "card-slip";
    case pouch::CardUse::on_top:
      return "card-shield";
    case pouch::CardUse::both:
      break;
  }
  return "card-both";
}

std::string wet_pockets(const pouch::Pouch& pouch, const base::Voice& words) {
  std::string names;
  bool all_wet = true;
  for (const pouch::Compartment& one : pouch.construction().compartments) {
    if (one.holds == pouch::Holds::water) {
      names += (names.empty() ? "" : ", ") + part_name(one.name, words);
    } else {
      all_wet = false;
    }
  }
  return all_wet ? std::string() : names;
}

}  // namespace pouchwright::tell
