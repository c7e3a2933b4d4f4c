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
using pouch::Construction;
using pouch::LinearForm;
using pouch::SpanRef;
namespace does = pouch::does;

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

Value length_of(const pouch::Pouch& pouch, SpanRef ref) {
  const pouch::Span& span = pouch.sizes.span(cut_span(pouch.sizes.panels, ref));
  return in_both(span.to - span.from);
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
    for (std::size_t k = 0; k < rules[i].spans.size(); ++k) {
      const pouch::SpanRule& span = rules[i].spans[k];
      rows.push_back({Message("construction-span", {{"span", span.name}}), length_of(pouch, {i, k}),
                      formula(span.length)});
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
  if (const auto standard = rule.usual(request.units)) return in_both(*standard);
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

Message place_said(const pouch::Attachment& one, const Construction& construction) {
  const std::string distance = formula(one.distance);
  const bool at_start = one.from == pouch::Edge::start;
  const char* near = at_start ? "construction-at-start" : "construction-at-end";
  const char* far = at_start ? "construction-from-start" : "construction-from-end";
  return {distance.empty() ? near : far,
          {{"span", one.on_piece ? construction.pieces[*one.on_piece].name
                                 : construction.span(one.span).name},
           {"distance", distance}}};
}

Row attachment_row(const pouch::Attachment& one, const Construction& construction) {
  Row row = {one.name, Message(kind_key(one.kind)), place_said(one, construction)};
  const auto also = [&](Message message) { row.emplace_back(std::move(message)); };
  if (!one.extent.terms.empty()) also({"construction-covers", {{"size", formula(one.extent)}}});
  if (one.across == pouch::Across::sides) also("construction-at-sides");
  if (one.across == pouch::Across::left) also("construction-at-left");
  if (one.across == pouch::Across::right) also("construction-at-right");
  if (!one.from_side.terms.empty()) {
    also({"construction-from-side", {{"distance", formula(one.from_side)}}});
  }
  if (one.between) {
    also({"construction-between",
          {{"a", construction.span(one.between->first).name},
           {"b", construction.span(one.between->second).name}}});
  }
  if (one.made_of) {
    also({"construction-made-of", {{"piece", construction.pieces[*one.made_of].name}}});
  }
  if (one.closure) {
    also({"construction-only-closure", {{"closure", construction.closures[*one.closure]}}});
  }
  return row;
}

Row compartment_row(const pouch::Compartment& one, const Construction& construction) {
  Value::List spans;
  for (const SpanRef span : one.film) spans.emplace_back(construction.span(span).name);
  return {one.name, Message(key_of("construction-holds-", pouch::kHoldsWords, one.holds)),
          Message("construction-film", {{"spans", spans}})};
}

// ---- What is done ----

/// What an operation does, each action by its own.
struct Done {
  const Construction& construction;
  pouch::Action action;

  [[nodiscard]] const std::string& name(SpanRef ref) const { return construction.span(ref).name; }
  [[nodiscard]] const std::string& pocket(std::size_t index) const {
    return construction.compartments[index].name;
  }

  Message operator()(const does::Attach& work) const {
    const char* key = !work.through                            ? "construction-do-attach"
                      : *work.through == pouch::Through::outer ? "construction-do-attach-outer"
                                                               : "construction-do-attach-film";
    return {key, {{"attachment", construction.attachments[work.attachment].name}}};
  }
  Message operator()(const does::LayPanel& work) const {
    return {work.film_up ? "construction-do-lay-panel-up" : "construction-do-lay-panel-down",
            {{"panel", construction.panels[work.panel].name},
             {"a", name(work.meets_a)},
             {"b", name(work.meets_b)}}};
  }
  Message operator()(const does::Finish& work) const {
    const bool at_start = work.end == pouch::Edge::start;
    return {at_start ? "construction-do-finish-start" : "construction-do-finish-end",
            {{"panel", construction.panels[work.panel].name}}};
  }
  Message operator()(const does::LayCard& work) const {
    return {"construction-do-lay-card", {{"compartment", pocket(work.compartment)}}};
  }
  Message operator()(const does::Fold& work) const {
    const bool over = work.landing == pouch::Landing::on_top;
    return {over ? "construction-do-fold-over" : "construction-do-fold-under",
            {{"turn", name(work.turn)}, {"a", name(work.between_a)}, {"b", name(work.between_b)}}};
  }
  Message operator()(const does::Press& work) const {
    const char* key = work.from == pouch::PressFrom::front  ? "construction-do-press-front"
                      : work.from == pouch::PressFrom::back ? "construction-do-press-back"
                                                            : "construction-do-press-both";
    return {key, {{"edges", edge_names(work.edges)}}};
  }
  Message operator()(const does::TakeCard& work) const {
    return {"construction-do-take-card", {{"compartment", pocket(work.compartment)}}};
  }
  Message operator()(const does::Hem& work) const {
    return {"construction-do-hem", {{"span", name(work.span)}}};
  }
  Message operator()(const does::Sew& work) const {
    return {"construction-do-sew", {{"edges", edge_names(work.edges)}}};
  }
  template <class Does>
  Message operator()(const Does&) const {
    return key_of("construction-do-", pouch::kActionWords, action);
  }
};

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
  const auto attachment = [&](const auto& one) { return attachment_row(one, construction); };
  const auto compartment = [&](const auto& one) { return compartment_row(one, construction); };
  const auto operation = [&](const pouch::Operation& one) {
    return Row{one.id, "", std::visit(Done{construction, one.action()}, one.work)};
  };
  std::vector<Section> all = {
      {"construction-panels", panels(pouch)},
      {"construction-sizes", sizes(pouch)},
      {"construction-closures", closures(construction)},
      {"construction-pieces", pieces(pouch)},
      {"construction-attachments", rows_of(construction.attachments, attachment)},
      {"construction-compartments", rows_of(construction.compartments, compartment)},
      {"construction-operations", rows_of(construction.operations, operation)}};
  std::erase_if(all, [](const Section& section) { return section.rows.empty(); });
  return all;
}

}  // namespace pouchwright::tell
