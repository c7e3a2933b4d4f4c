#include <map>
#include <string>
#include <utility>

#include "base/length.h"
#include "base/number.h"
#include "job/report/parts.h"
#include "job/report/reports.h"
#include "pouch/judge/remedies.h"
#include "pouch/questions.h"
#include "tell/fill.h"
#include "tell/operations.h"

namespace pouchwright::job {

using base::at_most;
using base::in_both;
using base::Length;
using Fields = Cell::Fields;

namespace {

using Use = pouch::NamedCard::Use;

Fields with_interval(Fields fields, const pouch::Interval& interval) {
  fields.push_back({"from_mm", interval.from});
  fields.push_back({"to_mm", interval.to});
  return fields;
}

Fields fold_fields(const pouch::FoldLine& fold, const pouch::FlatPanel& panel) {
  const auto& spans = panel.spans;
  return {{"at_mm", fold.at},
          {"between", Cell::List{spans[fold.before].name, spans[fold.before + 1].name}}};
}

Fields contact_fields(const pouch::Contact& contact, const pouch::Pouch& pouch) {
  return with_interval(
      {{"operation", pouch.operation(contact.operation).id},
       {"layers", Cell::List{pouch.name(contact.lower), pouch.name(contact.upper)}}},
      contact.heights);
}

Fields seam_fields(const pouch::SeamLayers& seam, const pouch::Pouch& pouch) {
  return with_interval({{"operation", pouch.operation(seam.operation).id},
                        {"edge", seam.edge == pouch::Edge::bottom ? "bottom" : "sides"},
                        {"layers", seam.layers},
                        {"thickness_mm", seam.thickness}},
                       seam.heights);
}

void add_panel(Report& report, const pouch::Pouch& pouch) {
  const pouch::Sizes& sizes = pouch.sizes;
  report.field("cut", sides(sizes.cut_width, sizes.cut_length));
  report.heading("size-panel");
  report.row("size-cut", by(sizes.cut_width, sizes.cut_length));
  for (const pouch::Span& span : sizes.main_panel().spans) {
    report.row({"size-span", {{"span", span.name}}}, from_to({span.from, span.to}));
  }
  const auto& spans = sizes.main_panel().spans;
  for (const pouch::FoldLine& fold : folds_of(sizes.main_panel())) {
    report.row({"size-fold",
                {{"before", spans[fold.before].name}, {"after", spans[fold.before + 1].name}}},
               in_both(fold.at));
  }
  part_rows(report, pouch);
}

/// Sizes that a job states and that come out larger: the panel is cut on the ruler.
void add_rounded(Report& report, const pouch::Pouch& pouch) {
  const std::pair<std::string_view, Length> made[] = {
      {pouch::size::kWidth, pouch.sizes.finished_width},
      {pouch::size::kDepth, pouch.sizes.depth},
      {pouch::size::kFlap, pouch.sizes.flap}};
  Cell::List all;
  for (const auto& [name, length] : made) {
    const auto size = pouch.request.sizes.find(name);
    const bool is_stated = size != pouch.request.sizes.end() && size->second.stated;
    if (!is_stated || length <= size->second.value) continue;
    const std::string path = pouch::size_path(name);
    const base::Message words{"size-cut-up",
                              {{"field", base::FieldName{path}},
                               {"made", length},
                               {"stated", base::exact(size->second.value)},
                               {"step", base::exact(pouch.request.cut_step)}}};
    all.emplace_back(Fields{
        {"path", path}, {"stated_mm", size->second.value}, {"made_mm", length}, {"words", words}});
    report.say(words);
  }
  report.field("rounded", std::move(all));
}

void add_finished(Report& report, const pouch::Pouch& pouch) {
  const pouch::Sizes& sizes = pouch.sizes;
  report.field("finished", Fields{{"width_mm", sizes.finished_width},
                                  {"depth_mm", sizes.depth},
                                  {"flap_mm", sizes.flap}});
  report.field("overall",
               Fields{{"width_mm", sizes.overall_width}, {"height_mm", sizes.overall_height}});
  report.heading("size-pouch");
  report.row("size-finished", by(sizes.finished_width, sizes.depth));
  if (sizes.flap > Length()) report.row("size-flap", in_both(sizes.flap));
  report.row("size-overall", by(sizes.overall_width, sizes.overall_height));
  report.row("inside_width_mm", "size-inside", in_both(sizes.inside_width));
  add_rounded(report, pouch);
}

void add_seal(Report& report, const pouch::Pouch& pouch) {
  const pouch::Sizes& sizes = pouch.sizes;
  report.field("spans", cells(sizes.main_panel().spans, span_fields));
  report.field("folds", cells(folds_of(sizes.main_panel()), [&](const pouch::FoldLine& fold) {
                 return fold_fields(fold, sizes.main_panel());
               }));
  report.field("seal_zones", zone_cells(pouch));
  report.field("contacts", cells(pouch.contacts, [&](const pouch::Contact& contact) {
                 return contact_fields(contact, pouch);
               }));
  report.field("exposed_film", cells(pouch.exposed_film, [](const pouch::Interval& bare) {
                 return with_interval({}, bare);
               }));
  report.heading("size-seal");
  report.row("size-seal-width", in_both(sizes.seal_width));
  if (const auto& own = pouch.request.card) {
    report.field("card", Fields{{"kind", word_of(pouch::kCardKindWords, own->kind)},
                                {"width_mm", own->width.value},
                                {"length_mm", own->length.value},
                                {"top_bar", own->top_bar}});
    report.row("size-own-card", by(own->width.value, own->length.value));
  }
  zone_rows(report, pouch);
  report.row("clear_seal_mm", "size-clear-seal", in_both(at_most(pouch.clear_seal)));
  const Length worst = pouch.clear_seal_worst;
  report.field("clear_seal_worst_mm", worst);
  report.row("size-clear-seal-worst", worst > Length() ? base::Value(in_both(at_most(worst)))
                                                       : base::Value(pouch::seal_left(worst)));
  const auto advised = pouch::seal_for_many_hands(pouch);
  report.field("seal_advice_mm", advised);
  if (advised) report.row("size-seal-advice", seal_advice(pouch));
  const Length slack = pouch.clear_seal - sizes.min_clear_seal;
  if (slack > Length()) report.row("size-slack", in_both(at_most(slack)));
  const auto stem = [&](Use use) { return in_both(first_card(pouch.cards, use).stem_width); };
  report.row("size-cards", base::Message("size-cards-are", {{"stem", stem(Use::slip)},
                                                            {"shield", stem(Use::shield)}}));
}

void add_water(Report& report, const pouch::Pouch& pouch, const pouch::Fill& fill) {
  report.heading("size-water");
  report.row("water_line_mm", "size-water-line", in_both(at_most(pouch.water_line())));
  report.row("water_line_because", "size-because", pouch.first_pocket().because);
  report.field("water_volume_ml", pouch.water_volume_ml);
  report.row("size-volume",
             base::Message("size-volume-is", {{"ml", base::figures(pouch.water_volume_ml, 2)}}));
  report.field("bottom_pressure_pa", pouch.bottom_pressure_pa);
  report.row("size-pressure",
             base::Message("size-pressure-is", {{"pa", base::fixed(pouch.bottom_pressure_pa, 0)}}));
  fill_rows(report, fill);
}

void add_cards(Report& report, const pouch::Pouch& pouch) {
  const pouch::Card& slip_card = first_card(pouch.cards, Use::slip);
  const pouch::Card& shield = first_card(pouch.cards, Use::shield);
  report.field("slip_card", Fields{{"outline", outline_cells(slip_card)},
                                   {"stem_width_mm", slip_card.stem_width},
                                   {"stem_length_mm", slip_card.stem_length},
                                   {"crossbar_width_mm", slip_card.bar_width}});
  report.field("shield", Fields{{"outline", outline_cells(shield)},
                                {"stem_width_mm", shield.stem_width},
                                {"arms_width_mm", shield.bar_width}});
}

/// What is cut of each cloth for one pouch, without what a plan wastes.
Cell::List cloth_taken(const pouch::Pouch& pouch) {
  std::map<std::string, double> mm2;
  const auto area = [](Length width, Length length) { return width.in_mm() * length.in_mm(); };
  for (const pouch::CutPart& part : pouch.sizes.parts) {
    if (part.cloth == pouch::ClothKind::bought) continue;
    mm2[word_of(pouch::kClothWords, part.cloth)] += part.count * area(part.width, part.length);
    if (part.outer) mm2["outer"] += part.count * area(part.outer->width, part.outer->length);
  }
  return cells(mm2, [](const auto& one) {
    return Fields{{"material", one.first}, {"mm2", one.second}};
  });
}

void add_cloth(Report& report, const pouch::Pouch& pouch, const base::Voice& words) {
  report.field("cloth", cloth_taken(pouch));
  report.field("turn_of_cloth_mm", pouch.turn_of_cloth);
  report.field("layers_at_seams", cells(pouch.layers_at_seams, [&](const pouch::SeamLayers& seam) {
                 return seam_fields(seam, pouch);
               }));
  report.heading("size-cloth");
  // A panel that is cut gains nothing by it.
  if (!pouch.request.panel && pouch.turn_of_cloth > Length()) {
    report.row("size-turn", pouch.turn_of_cloth);
  }
  const tell::OperationWords said(pouch, words);
  for (const pouch::SeamLayers& seam : pouch.layers_at_seams) {
    const auto [from, to] = seam.heights;
    const char* key = to < Length()     ? "size-seam-all-below"
                      : from < Length() ? "size-seam-below"
                                        : "size-seam-is";
    report.row({"size-seam", {{"operation", said.name(seam.operation)}}},
               base::Message(key, {{"from", in_both(from < Length() ? -from : from)},
                                   {"to", in_both(to < Length() ? -to : to)},
                                   {"layers", seam.layers}}));
  }
}

}  // namespace

base::Message seal_advice(const pouch::Pouch& pouch) {
  return {"clear-seal-little",
          {{"worst", pouch::seal_left(pouch.clear_seal_worst)},
           {"good", base::exact(pouch::kGoodClearSeal.of(pouch.request.units))},
           {"seal", base::asked(*pouch::seal_for_many_hands(pouch))}}};
}

Report size_report(const pouch::Pouch& pouch, const base::Voice& words) {
  const pouch::Fill fill = tell::fill_read(pouch, words);
  Report report;
  report.field("construction", pouch.construction().name);
  report.field("title", pouch.request.title);
  add_panel(report, pouch);
  add_finished(report, pouch);
  add_seal(report, pouch);
  add_water(report, pouch, fill);
  add_cards(report, pouch);
  add_content(report, pouch, words);
  report.field("water", fill_fields(fill));
  add_cloth(report, pouch, words);
  add_parts(report, pouch);
  return report;
}

}  // namespace pouchwright::job
