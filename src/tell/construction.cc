#include "tell/construction.h"

#include <algorithm>
#include <cstdint>
#include <iterator>
#include <numeric>
#include <utility>

#include "tell/names.h"

namespace pouchwright::tell {
namespace {

using base::in_both;
using base::Message;
using base::Value;
using pouch::Action;
using pouch::Construction;
using pouch::LinearForm;
using pouch::Operation;

using Rows = std::vector<Row>;

Message cloth_said(pouch::ClothKind cloth) {
  return key_of("construction-cloth-", pouch::kClothWords, cloth);
}

Message finish_said(pouch::FinishKind kind) {
  return key_of("construction-finish-", pouch::kFinishWords, kind);
}

// ---- What is cut ----

/// What is cut for the panel; a lining is not, where the job has none.
Message cut_size(const pouch::Pouch& pouch, std::size_t panel) {
  for (const pouch::CutPart& part : pouch.sizes.parts) {
    if (part.panel == panel) return by(part.width, part.length);
  }
  return "construction-only-lining";
}

Value length_of(const pouch::FlatPanel& flat, const std::string& name) {
  for (const pouch::Span& span : flat.spans) {
    if (span.name == name) return in_both(span.to - span.from);
  }
  return "";
}

Row panel_row(const pouch::Pouch& pouch, std::size_t panel) {
  const pouch::PanelRule& rule = pouch.construction().panels[panel];
  Row row = {rule.name, cut_size(pouch, panel), cloth_said(rule.cloth)};
  const auto outer = [&](const char* key, const LinearForm& inset) {
    if (!inset.terms.empty()) row.push_back(Message(key, {{"by", formula(inset)}}));
  };
  outer("construction-outer-start", rule.outer_inset.start);
  outer("construction-outer-end", rule.outer_inset.end);
  outer("construction-outer-sides", rule.outer_inset.sides);
  return row;
}

Rows panels(const pouch::Pouch& pouch) {
  const auto& rules = pouch.construction().panels;
  Rows rows;
  for (std::size_t i = 0; i < rules.size(); ++i) {
    rows.push_back(panel_row(pouch, i));
    for (const pouch::SpanRule& span : rules[i].spans) {
      rows.push_back({Message("construction-span", {{"span", span.name}}),
                      length_of(pouch.sizes.panels[i], span.name), formula(span.length)});
    }
  }
  return rows;
}

Rows pieces(const pouch::Pouch& pouch) {
  Rows rows;
  for (const pouch::CutPart& part : pouch.sizes.parts) {
    if (part.panel) continue;
    rows.push_back({part.name, by(part.width, part.length),
                    Message("construction-piece",
                            {{"count", part.count}, {"cloth", cloth_said(part.cloth)}})});
  }
  return rows;
}

// ---- What the job may say ----

/// What the size is where the job leaves it out: the construction's default, or what the program
/// takes.
Value usual(const pouch::SizeRule& rule, const pouch::Request& request) {
  if (rule.standard) return in_both(*rule.standard);
  const auto taken = request.sizes.find(rule.name);
  if (taken == request.sizes.end()) return Message("construction-no-default");
  return in_both(taken->second.value);
}

/// The two sizes that every construction has and none needs to explain.
Value meaning(const pouch::SizeRule& rule) {
  if (!rule.meaning.empty()) return rule.meaning;
  if (rule.name == pouch::size::kNeedleReach) return Message("construction-needle-reach");
  if (rule.name == pouch::size::kMinClearSeal) return Message("construction-min-clear-seal");
  return "";
}

Rows sizes(const pouch::Pouch& pouch) {
  const Construction& construction = pouch.construction();
  Rows rows;
  for (const pouch::SizeRule& rule : construction.sizes) {
    rows.push_back({rule.name, usual(rule, pouch.request), meaning(rule)});
  }
  for (const pouch::CountRule& rule : construction.counts) {
    rows.push_back(
        {rule.name, rule.standard,
         Message("construction-count",
                 {{"meaning", rule.meaning}, {"least", rule.least}, {"most", rule.most}})});
  }
  rows.push_back({"start_finish", finish_said(construction.start_standard),
                  Message("construction-start-finish")});
  rows.push_back(
      {"end_finish", finish_said(construction.end_standard), Message("construction-end-finish")});
  return rows;
}

Rows closures(const Construction& construction) {
  Rows rows;
  for (const std::string& closure : construction.closures) {
    rows.push_back({closure});
    if (rows.size() == 1) rows.back().push_back(Message("construction-closure-usual"));
  }
  return rows;
}

// ---- What is fixed, what it holds ----

Message place_said(const pouch::Attachment& one) {
  const std::string distance = formula(one.distance);
  const bool at_start = one.from == pouch::Edge::start;
  const char* near = at_start ? "construction-at-start" : "construction-at-end";
  const char* far = at_start ? "construction-from-start" : "construction-from-end";
  return {distance.empty() ? near : far,
          {{"span", one.on.empty() ? one.span : one.on}, {"distance", distance}}};
}

Row attachment_row(const pouch::Attachment& one) {
  Row row = {one.name, Message(kind_key(one.kind)), place_said(one)};
  const auto also = [&](Message message) { row.emplace_back(std::move(message)); };
  if (!one.extent.terms.empty()) also({"construction-covers", {{"size", formula(one.extent)}}});
  if (one.across == pouch::Across::sides) also("construction-at-sides");
  if (one.across == pouch::Across::left) also("construction-at-left");
  if (one.across == pouch::Across::right) also("construction-at-right");
  if (!one.from_side.terms.empty()) {
    also({"construction-from-side", {{"distance", formula(one.from_side)}}});
  }
  if (one.between) {
    also({"construction-between", {{"a", one.between->first}, {"b", one.between->second}}});
  }
  if (!one.piece.empty()) also({"construction-made-of", {{"piece", one.piece}}});
  if (!one.closure.empty()) also({"construction-only-closure", {{"closure", one.closure}}});
  return row;
}

Row compartment_row(const pouch::Compartment& one) {
  Value::List spans;
  for (const auto& span : one.film) spans.emplace_back(span.value);
  return {one.name, Message(key_of("construction-holds-", pouch::kHoldsWords, one.holds)),
          Message("construction-film", {{"spans", spans}})};
}

// ---- What is done ----

/// Left and right are "sides" in a file.
Value edges_of(const Operation& operation) {
  const auto has = [&](pouch::Edge edge) {
    return std::any_of(operation.edges.begin(), operation.edges.end(),
                       [&](const auto& one) { return one.value == edge; });
  };
  const bool left = has(pouch::Edge::left);
  const bool right = has(pouch::Edge::right);
  Value::List edges;
  if (left && right) edges.emplace_back(Message("construction-edge-sides"));
  if (left && !right) edges.emplace_back(Message("construction-edge-left"));
  if (right && !left) edges.emplace_back(Message("construction-edge-right"));
  if (has(pouch::Edge::bottom)) edges.emplace_back(Message("construction-edge-bottom"));
  if (has(pouch::Edge::start)) edges.emplace_back(Message("construction-edge-start"));
  if (has(pouch::Edge::end)) edges.emplace_back(Message("construction-edge-end"));
  return edges;
}

const char* attach_key(const Operation& operation) {
  if (!operation.through) return "construction-do-attach";
  return *operation.through == pouch::Through::outer ? "construction-do-attach-outer"
                                                     : "construction-do-attach-film";
}

const char* press_key(const Operation& operation) {
  if (operation.from == pouch::PressFrom::front) return "construction-do-press-front";
  return operation.from == pouch::PressFrom::back ? "construction-do-press-back"
                                                  : "construction-do-press-both";
}

Message done(const Operation& operation, const Construction& construction) {
  const auto compartment = [&]() -> Value {
    return construction.compartments[pouch::compartment_of(construction, operation)].name;
  };
  switch (operation.action) {
    case Action::attach:
      return {attach_key(operation), {{"attachment", operation.attachment}}};
    case Action::lay_panel:
      return {operation.film_up ? "construction-do-lay-panel-up" : "construction-do-lay-panel-down",
              {{"panel", operation.panel}, {"a", operation.meets_a}, {"b", operation.meets_b}}};
    case Action::pair:
      return "construction-do-pair";
    case Action::finish:
      return {operation.end == pouch::Edge::start ? "construction-do-finish-start"
                                                  : "construction-do-finish-end",
              {{"panel", construction.panels[pouch::panel_of(construction, operation)].name}}};
    case Action::lay_card:
      return {"construction-do-lay-card", {{"compartment", compartment()}}};
    case Action::fold:
      return {operation.landing == pouch::Landing::on_top ? "construction-do-fold-over"
                                                          : "construction-do-fold-under",
              {{"turn", operation.turn}, {"a", operation.between_a}, {"b", operation.between_b}}};
    case Action::press:
      return {press_key(operation), {{"edges", edges_of(operation)}}};
    case Action::take_card:
      return {"construction-do-take-card", {{"compartment", compartment()}}};
    case Action::look_inside:
      return "construction-do-look";
    case Action::hem:
      return {"construction-do-hem", {{"span", operation.span}}};
    case Action::sew:
      return {"construction-do-sew", {{"edges", edges_of(operation)}}};
    case Action::secure_tails:
      return "construction-do-tails";
    case Action::test:
      return "construction-do-test";
  }
  return {};
}

template <class Parts, class RowOf>
Rows rows_of(const Parts& parts, RowOf row_of) {
  Rows rows;
  std::transform(parts.begin(), parts.end(), std::back_inserter(rows), row_of);
  return rows;
}

}  // namespace

Message by(base::Length width, base::Length length) {
  return {"size-by-size", {{"width", in_both(width)}, {"length", in_both(length)}}};
}

std::string formula(const LinearForm& form) {
  std::string text;
  for (const LinearForm::Term& term : form.terms) {
    const std::int64_t common = std::gcd(term.numerator, term.denominator);
    const std::int64_t above = (term.numerator < 0 ? -term.numerator : term.numerator) / common;
    const std::int64_t below = term.denominator / common;
    if (above == 0) continue;
    if (term.numerator < 0) {
      text += text.empty() ? "−" : " − ";
    } else if (!text.empty()) {
      text += " + ";
    }
    if (below != 1) {
      text += std::to_string(above) + "/" + std::to_string(below) + " · ";
    } else if (above != 1) {
      text += std::to_string(above) + " · ";
    }
    text += term.size;
  }
  return text;
}

std::vector<Section> construction_sections(const pouch::Pouch& pouch) {
  const Construction& construction = pouch.construction();
  const auto operation = [&](const Operation& one) {
    return Row{one.id, "", done(one, construction)};
  };
  std::vector<Section> all = {
      {"construction-panels", panels(pouch)},
      {"construction-sizes", sizes(pouch)},
      {"construction-closures", closures(construction)},
      {"construction-pieces", pieces(pouch)},
      {"construction-attachments", rows_of(construction.attachments, attachment_row)},
      {"construction-compartments", rows_of(construction.compartments, compartment_row)},
      {"construction-operations", rows_of(construction.operations, operation)}};
  std::erase_if(all, [](const Section& section) { return section.rows.empty(); });
  return all;
}

}  // namespace pouchwright::tell
