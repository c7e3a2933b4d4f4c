#include "tell/construction.h"

#include <algorithm>
#include <numeric>
#include <utility>

#include "base/length.h"
#include "base/text.h"
#include "tell/names.h"

namespace pouchwright::tell {
namespace {

using base::Length;
using pouch::Action;
using pouch::Attachment;
using pouch::ClothKind;
using pouch::LinearForm;
using pouch::Operation;

std::string cloth_key(ClothKind cloth) {
  return key_of("construction-cloth-", pouch::kClothWords, cloth);
}

std::string finish_key(pouch::FinishKind kind) {
  return key_of("construction-finish-", pouch::kFinishWords, kind);
}

class Teller {
 public:
  Teller(const pouch::Pouch& pouch, const base::Voice& words)
      : pouch_(pouch), construction_(pouch.construction()), words_(words) {}

  ConstructionWords told() {
    add("construction-panels", panels());
    add("construction-sizes", sizes());
    add("construction-closures", closures());
    add("construction-pieces", pieces());
    add("construction-attachments", attachments());
    add("construction-compartments", compartments());
    add("construction-operations", operations());
    return {
        construction_.name + ": " + construction_.title, construction_.about,
        words_.say({key_of("construction-flap-", pouch::kFlapLawWords, construction_.flap_law)}),
        std::move(sections_)};
  }

 private:
  [[nodiscard]] std::string say(const base::Message& message) const { return words_.say(message); }
  [[nodiscard]] std::string shown(Length length) const {
    return words_.text(base::in_both(length));
  }
  [[nodiscard]] std::string by(Length width, Length length) const {
    return say({"size-by-size", {{"width", shown(width)}, {"length", shown(length)}}});
  }

  void add(const char* heading, std::vector<WordsRow> rows) {
    if (!rows.empty()) sections_.push_back({say({heading}), std::move(rows)});
  }

  // ---- What is cut -----------------------------------------------------------------------------

  [[nodiscard]] std::vector<WordsRow> panels() const {
    std::vector<WordsRow> rows;
    for (std::size_t i = 0; i < construction_.panels.size(); ++i) {
      const pouch::PanelRule& rule = construction_.panels[i];
      rows.push_back({rule.name, cut_size(i), panel_meaning(rule)});
      for (const pouch::SpanRule& span : rule.spans) {
        rows.push_back({say({"construction-span", {{"span", span.name}}}),
                        length_of(pouch_.sizes.panels[i], span.name), formula(span.length)});
      }
    }
    return rows;
  }

  /// What is cut for the panel; a lining is not, where the job has none.
  [[nodiscard]] std::string cut_size(std::size_t panel) const {
    for (const pouch::CutPart& part : pouch_.sizes.parts) {
      if (part.panel == panel) return by(part.width, part.length);
    }
    return say({"construction-only-lining"});
  }

  [[nodiscard]] std::string length_of(const pouch::FlatPanel& flat, const std::string& name) const {
    for (const pouch::Span& span : flat.spans) {
      if (span.name == name) return shown(span.to - span.from);
    }
    return "";
  }

  [[nodiscard]] std::string panel_meaning(const pouch::PanelRule& rule) const {
    std::string text = say({cloth_key(rule.cloth)});
    const auto outer = [&](const char* key, const LinearForm& by) {
      if (!by.terms.empty()) text += "; " + say({key, {{"by", formula(by)}}});
    };
    outer("construction-outer-start", rule.outer_inset.start);
    outer("construction-outer-end", rule.outer_inset.end);
    outer("construction-outer-sides", rule.outer_inset.sides);
    return text;
  }

  [[nodiscard]] std::vector<WordsRow> pieces() const {
    std::vector<WordsRow> rows;
    for (const pouch::CutPart& part : pouch_.sizes.parts) {
      if (part.panel) continue;
      const std::string count = std::to_string(part.count);
      rows.push_back({part.name, by(part.width, part.length),
                      say({"construction-piece",
                           {{"count", count}, {"cloth", say({cloth_key(part.cloth)})}}})});
    }
    return rows;
  }

  // ---- What the job may say --------------------------------------------------------------------

  [[nodiscard]] std::vector<WordsRow> sizes() const {
    std::vector<WordsRow> rows;
    for (const pouch::SizeRule& rule : construction_.sizes) {
      rows.push_back({rule.name, usual(rule), meaning(rule)});
    }
    for (const pouch::CountRule& rule : construction_.counts) {
      rows.push_back(
          {rule.name, std::to_string(rule.standard),
           say({"construction-count",
                {{"meaning", rule.meaning}, {"least", rule.least}, {"most", rule.most}}})});
    }
    rows.push_back({"start_finish", say({finish_key(construction_.start_standard)}),
                    say({"construction-start-finish"})});
    rows.push_back({"end_finish", say({finish_key(construction_.end_standard)}),
                    say({"construction-end-finish"})});
    return rows;
  }

  /// What the size is where the job leaves it out: the construction's default, or what the program
  /// takes.
  [[nodiscard]] std::string usual(const pouch::SizeRule& rule) const {
    const auto taken = pouch_.request.sizes.find(rule.name);
    if (rule.standard) return shown(*rule.standard);
    return taken == pouch_.request.sizes.end() ? say({"construction-no-default"})
                                               : shown(taken->second.value);
  }

  /// The two sizes that every construction has and none needs to explain.
  [[nodiscard]] std::string meaning(const pouch::SizeRule& rule) const {
    if (!rule.meaning.empty()) return rule.meaning;
    if (rule.name == pouch::size::kNeedleReach) return say({"construction-needle-reach"});
    if (rule.name == pouch::size::kMinClearSeal) return say({"construction-min-clear-seal"});
    return "";
  }

  [[nodiscard]] std::vector<WordsRow> closures() const {
    std::vector<WordsRow> rows;
    for (const std::string& closure : construction_.closures) {
      rows.push_back({closure, rows.empty() ? say({"construction-closure-usual"}) : "", ""});
    }
    return rows;
  }

  // ---- What is fixed, what it holds ------------------------------------------------------------

  [[nodiscard]] std::vector<WordsRow> attachments() const {
    std::vector<WordsRow> rows;
    for (const Attachment& one : construction_.attachments) {
      rows.push_back({one.name, say({kind_key(one.kind)}), attachment_meaning(one)});
    }
    return rows;
  }

  [[nodiscard]] std::string attachment_meaning(const Attachment& one) const {
    const std::string distance = formula(one.distance);
    const bool at_start = one.from == pouch::Edge::start;
    const char* key = distance.empty()
                          ? (at_start ? "construction-at-start" : "construction-at-end")
                      : at_start ? "construction-from-start"
                                 : "construction-from-end";
    std::string text =
        say({key, {{"span", one.on.empty() ? one.span : one.on}, {"distance", distance}}});
    const auto also = [&](const base::Message& message) { text += "; " + say(message); };
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
    return text;
  }

  [[nodiscard]] std::vector<WordsRow> compartments() const {
    std::vector<WordsRow> rows;
    for (const pouch::Compartment& one : construction_.compartments) {
      rows.push_back(
          {one.name, say({key_of("construction-holds-", pouch::kHoldsWords, one.holds)}),
           say({"construction-film",
                {{"spans", base::list_text(one.film, ", ", &base::Placed<std::string>::value)}}})});
    }
    return rows;
  }

  // ---- What is done ----------------------------------------------------------------------------

  [[nodiscard]] std::vector<WordsRow> operations() const {
    std::vector<WordsRow> rows;
    for (const Operation& operation : construction_.operations) {
      rows.push_back({operation.id, "", say(done(operation))});
    }
    return rows;
  }

  [[nodiscard]] base::Message done(const Operation& operation) const {
    switch (operation.action) {
      case Action::attach:
        return attached(operation);
      case Action::lay_panel:
        return {
            operation.film_up ? "construction-do-lay-panel-up" : "construction-do-lay-panel-down",
            {{"panel", operation.panel}, {"a", operation.meets_a}, {"b", operation.meets_b}}};
      case Action::pair:
        return {"construction-do-pair"};
      case Action::finish:
        return {operation.end == pouch::Edge::start ? "construction-do-finish-start"
                                                    : "construction-do-finish-end",
                {{"panel", panel_of(operation)}}};
      case Action::lay_card:
        return {"construction-do-lay-card", {{"compartment", compartment_of(operation)}}};
      case Action::fold:
        return folded(operation);
      case Action::press:
        return pressed(operation);
      case Action::take_card:
        return {"construction-do-take-card", {{"compartment", compartment_of(operation)}}};
      case Action::look_inside:
        return {"construction-do-look"};
      case Action::hem:
        return {"construction-do-hem", {{"span", operation.span}}};
      case Action::sew:
        return {"construction-do-sew", {{"edges", edges_of(operation)}}};
      case Action::secure_tails:
        return {"construction-do-tails"};
      case Action::test:
        return {"construction-do-test"};
    }
    return {};
  }

  [[nodiscard]] std::string panel_of(const Operation& operation) const {
    return construction_.panels[pouch::panel_of(construction_, operation)].name;
  }
  [[nodiscard]] std::string compartment_of(const Operation& operation) const {
    return construction_.compartments[pouch::compartment_of(construction_, operation)].name;
  }

  static base::Message attached(const Operation& operation) {
    const char* key = !operation.through                            ? "construction-do-attach"
                      : *operation.through == pouch::Through::outer ? "construction-do-attach-outer"
                                                                    : "construction-do-attach-film";
    return {key, {{"attachment", operation.attachment}}};
  }

  static base::Message folded(const Operation& operation) {
    const bool over = operation.landing == pouch::Landing::on_top;
    return {over ? "construction-do-fold-over" : "construction-do-fold-under",
            {{"turn", operation.turn}, {"a", operation.between_a}, {"b", operation.between_b}}};
  }

  [[nodiscard]] base::Message pressed(const Operation& operation) const {
    const char* key = operation.from == pouch::PressFrom::front  ? "construction-do-press-front"
                      : operation.from == pouch::PressFrom::back ? "construction-do-press-back"
                                                                 : "construction-do-press-both";
    return {key, {{"edges", edges_of(operation)}}};
  }

  /// Left and right are "sides" in a file.
  [[nodiscard]] std::string edges_of(const Operation& operation) const {
    const auto has = [&](pouch::Edge edge) {
      return std::any_of(operation.edges.begin(), operation.edges.end(),
                         [&](const auto& one) { return one.value == edge; });
    };
    const bool left = has(pouch::Edge::left);
    const bool right = has(pouch::Edge::right);
    std::vector<const char*> keys;
    if (left && right) keys.push_back("construction-edge-sides");
    if (left && !right) keys.push_back("construction-edge-left");
    if (right && !left) keys.push_back("construction-edge-right");
    if (has(pouch::Edge::bottom)) keys.push_back("construction-edge-bottom");
    if (has(pouch::Edge::start)) keys.push_back("construction-edge-start");
    if (has(pouch::Edge::end)) keys.push_back("construction-edge-end");
    return base::list_text(keys, ", ", [&](const char* key) { return say({key}); });
  }

  const pouch::Pouch& pouch_;
  const pouch::Construction& construction_;
  base::Voice words_;
  std::vector<WordsSection> sections_;
};

}  // namespace

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

ConstructionWords construction_words(const pouch::Pouch& pouch, const base::Voice& words) {
  return Teller(pouch, words).told();
}

}  // namespace pouchwright::tell
