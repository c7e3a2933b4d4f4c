#include <algorithm>
#include <utility>

#include "base/length.h"
#include "job/commands/cloth_plans.h"
#include "job/report/parts.h"
#include "job/report/reports.h"
#include "lay/spare.h"
#include "tell/cut_plan.h"
#include "tell/supplies.h"

namespace pouchwright::job {

using base::in_both;
using base::Length;
using Fields = Cell::Fields;

namespace {

enum class Of { cloth, remnant };

/// As the plan names it: a by-product is counted apart from the kinds.
const std::string& name_of(const ClothPlan& cloth, int kind, bool by_product) {
  const auto& kinds = by_product ? cloth.request.by_products : cloth.request.kinds;
  return kinds[static_cast<std::size_t>(kind)].name;
}

/// Of a day: whose a piece is. Nothing else.
void add_make(Fields& fields, const ClothPlan& cloth, int kind, bool by_product) {
  const auto index = static_cast<std::size_t>(kind);
  if (by_product || index >= cloth.makes.size()) return;
  fields.push_back({"make", cloth.makes[index]});
}

Fields area_fields(const lay::Area& area) {
  return {{"x_mm", area.x}, {"y_mm", area.y}, {"width_mm", area.width}, {"height_mm", area.length}};
}

Fields piece_fields(const ClothPlan& cloth, const lay::Placed& piece) {
  Fields fields = {{"material", cloth.material, In::csv_only},
                   {"kind", name_of(cloth, piece.kind, piece.by_product)}};
  add_make(fields, cloth, piece.kind, piece.by_product);
  for (Field& field : area_fields(piece.area)) fields.push_back(std::move(field));
  fields.push_back({"turned", piece.turned});
  if (piece.by_product) fields.push_back({"by_product", true});
  if (piece.spare) fields.push_back({"spare", true});
  const bool is_stacked = cloth.request.plies.way == lay::Plies::Way::stacked;
  fields.push_back({"layer", piece.layer, is_stacked ? In::json : In::csv_only});
  return fields;
}

/// From the cloth's beginning on, from its left selvedge.
Cell::List pieces_in_order(const ClothPlan& cloth, std::vector<lay::Placed> pieces) {
  std::stable_sort(pieces.begin(), pieces.end(), [](const lay::Placed& a, const lay::Placed& b) {
    return std::pair(a.area.y, a.area.x) < std::pair(b.area.y, b.area.x);
  });
  return cells(pieces, [&](const lay::Placed& piece) { return piece_fields(cloth, piece); });
}

Fields step_fields(const ClothPlan& cloth, const lay::Step& step) {
  const auto ends = [](const lay::Line& line) {
    return Cell::List{line.x0, line.y0, line.x1, line.y1};
  };
  Fields fields = {
      {"cut", word_of(lay::kCutWords, step.cut)},
      {"at_mm", step.at},
      {"lines", cells(step.lines, ends)},
      {"length_number", step.cut_off + 1},
      {"piece", step.kind < 0 ? Cell() : Cell(name_of(cloth, step.kind, step.by_product))}};
  if (step.kind >= 0) add_make(fields, cloth, step.kind, step.by_product);
  return fields;
}

Fields lay_fields(const ClothPlan& cloth, std::size_t index) {
  const lay::Lay& lay = lay_of(cloth, index);
  const Of of = index < cloth.plan.remnants.size() ? Of::remnant : Of::cloth;
  Cell::List spare;
  for (std::size_t i = 0; i < lay.spare.size(); ++i) {
    Fields of_kind = {{"kind", cloth.request.kinds[i].name}, {"pieces", lay.spare[i]}};
    add_make(of_kind, cloth, static_cast<int>(i), false);
    spare.emplace_back(std::move(of_kind));
  }
  Fields fields = {
      {"material", cloth.material},
      {"cloth", cloth.request.cloth.name},
      {"remnant", of == Of::remnant},
      {"width_mm", of == Of::remnant ? lay.width : cloth.terms.full_width},
      {"usable_width_mm", lay.width},
      {"length_mm", lay.length},
      {"single_length_mm", lay.single_length},
      {"spare_across_mm", lay::spare_across(lay)},
      {"bound_mm", lay.bound},
      {"optimal", lay.optimal},
      {"cuts", word_of(lay::kCutsWords, lay.cuts)},
      {"layers", lay.layers},
      {"waste_fraction", lay.waste_fraction},
      {"pieces_per_metre", lay.pieces_per_metre},
      {"cuts_made", lay.cuts_made},
      {"pieces", pieces_in_order(cloth, lay.pieces)},
      {"steps", cells(lay.steps, [&](const lay::Step& step) { return step_fields(cloth, step); })},
      {"kept", cells(lay.kept, area_fields)},
      {"spare", std::move(spare)}};
  if (!cloth.terms.print.empty()) fields.push_back({"print", cloth.terms.print});
  if (cloth.trial) {
    fields.push_back({"trial_strips", cells(cloth.trial->in_waste[index], area_fields)});
  }
  if (of == Of::remnant) return fields;
  fields.push_back({"buy_width_mm", cloth.terms.bought_width});
  fields.push_back({"buy_length_mm", cloth.unwashed_length()});
  fields.push_back({"to_buy_mm", cloth.pieces_to_buy()});
  fields.push_back({"extra", cells(cloth.extra, extra_fields)});
  return fields;
}

void add_length(Report& report, const lay::Lay& lay) {
  report.say({"lay-length", {{"length", in_both(lay.length)}}});
  if (lay.layers > 1) {
    report.say({"lay-layers", {{"layers", lay.layers}, {"all", in_both(lay.cloth_length)}}});
  }
  if (lay.optimal) {
    report.say("lay-optimal");
    return;
  }
  const double gap =
      lay.length == Length() ? 0 : 100 * (lay.length - lay.bound).in_mm() / lay.length.in_mm();
  report.say({lay.work_ended ? "lay-gap-work" : "lay-gap",
              {{"bound", lay.bound}, {"gap", base::fixed(gap, 1)}}});
}

void add_purchase(Report& report, const ClothPlan& cloth, const std::string& currency) {
  const ClothTerms& terms = cloth.terms;
  report.say({terms.shrink_length > 0 ? "lay-buy-shrinking" : "lay-buy",
              {{"buy", in_both(cloth.to_buy())},
               {"shrink", base::shortened(100 * terms.shrink_length, 1)}}});
  for (const batch::ClothExtra& more : cloth.extra) {
    report.say({"lay-more", {{"more", tell::extra_said(more)}}});
  }
  if (!terms.price) return;
  const double per = terms.price_per == "yd" ? 914.4 : 1000;
  const double cost = cloth.to_buy().in_mm() / per * *terms.price;
  report.say({"lay-cost", {{"cost", base::fixed(cost, 2)}, {"currency", currency}}});
}

void add_steps(Report& report, const tell::LaySaid& said, const base::Voice& words) {
  report.say("lay-orders");
  std::size_t number = 0;
  for (const lay::Step& step : said.lay->steps) {
    report.say(
        {key_of("lay-step-", lay::kCutWords, step.cut),
         {{"number", ++number}, {"at", step.at}, {"gives", tell::step_gives(said, step, words)}}});
  }
}

void add_lay(Report& report, const ClothPlan& cloth, std::size_t index, const std::string& currency,
             const base::Voice& words) {
  const tell::LaySaid said = said_of(cloth, index);
  const lay::Lay& lay = *said.lay;
  const std::string name = tell::cloth_name(cloth.request.cloth.name, cloth.terms.print, words);
  report.begin();
  if (said.is_remnant) {
    report.heading(
        {"lay-remnant-head", {{"width", lay.width}, {"length", lay.length}, {"cloth", name}}});
  } else {
    report.heading({"lay-cloth-head", {{"cloth", name}, {"usable", base::at_most(lay.width)}}});
    if (lay.length == Length())
      return report.say({"lay-line", {{"words", base::Message("lay-from-remnants")}}});
    add_length(report, lay);
    if (!cloth.on_hand) add_purchase(report, cloth, currency);
    const bool in_yards = words.unit() == base::Unit::inch;
    const double each = in_yards ? base::Length::inches(36).in_mm() / 1000 : 1;
    report.say({in_yards ? "lay-waste-yard" : "lay-waste",
                {{"waste", base::fixed(100 * lay.waste_fraction, 1)},
                 {"each", base::fixed(lay.pieces_per_metre * each, 1)},
                 {"cuts", lay.cuts_made}}});
  }
  if (lay.pieces.empty()) {
    return report.say({"lay-line", {{"words", base::Message("lay-yields-nothing")}}});
  }
  for (const base::Message& fact : tell::lay_facts(said, words)) {
    report.say({"lay-line", {{"words", fact}}});
  }
  add_steps(report, said, words);
}

}  // namespace

Report lay_report(const std::vector<ClothPlan>& plans, const std::string& currency,
                  const base::Voice& words) {
  Report report;
  Cell::List lays;
  for (const ClothPlan& cloth : plans) {
    for (std::size_t i = 0; i <= cloth.plan.remnants.size(); ++i) {
      lays.emplace_back(lay_fields(cloth, i));
      add_lay(report, cloth, i, currency, words);
    }
    for (const lay::Placed& piece : cloth.plan.cloth.pieces) {
      report.table.rows.push_back(piece_fields(cloth, piece));
    }
  }
  report.field("lays", std::move(lays));
  report.table.columns = {{"material"}, {"kind", Table::Quotes::always},
                          {"x_mm"},     {"y_mm"},
                          {"width_mm"}, {"height_mm"},
                          {"turned"},   {"layer"}};
  const bool is_day = std::any_of(plans.begin(), plans.end(),
                                  [](const ClothPlan& cloth) { return !cloth.makes.empty(); });
  if (is_day)
    report.table.columns.insert(report.table.columns.begin() + 2, {"make", Table::Quotes::always});
  return report;
}

}  // namespace pouchwright::job
