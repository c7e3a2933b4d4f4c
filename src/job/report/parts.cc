#include "job/report/parts.h"

#include <utility>

#include "base/length.h"

namespace pouchwright::job {

using Fields = Cell::Fields;

namespace {

Fields part_fields(const pouch::CutPart& part, const pouch::Sizes& sizes) {
  Fields fields = cut_fields(part);
  if (part.outer) fields.push_back({"outer", sides(part.outer->width, part.outer->length)});
  if (part.panel) {
    fields.push_back({"spans", cells(sizes.panels[*part.panel].spans, span_fields)});
  }
  return fields;
}

Fields fixed_fields(const pouch::Fixed& fixed, const pouch::Pouch& pouch) {
  const bool on_panel = fixed.span.has_value();
  const pouch::Attachment& rule = pouch.rule(fixed);
  const auto& pieces = pouch.construction().pieces;
  return {{"name", rule.name},
          {"kind", word_of(pouch::kAttachmentWords, rule.kind)},
          {"operation", pouch.operation(fixed.operation).id},
          {"panel", on_panel ? Cell(pouch.sizes.panels[fixed.span->panel].name) : Cell()},
          {"span", on_panel ? Cell(pouch.name(*fixed.span)) : Cell()},
          {"piece", fixed.piece ? Cell(pieces[*fixed.piece].name) : Cell()},
          {"y0_mm", fixed.y.from},
          {"y1_mm", fixed.y.to},
          {"x_mm", cells(fixed.x)},
          {"through", on_panel ? word_of(pouch::kThroughWords, fixed.through) : "piece"},
          {"caught",
           cells(fixed.caught, [](pouch::Edge seam) { return word_of(pouch::kEdgeWords, seam); })}};
}

Fields compartment_fields(const pouch::Compartment& rule, const pouch::CompartmentWater& one) {
  return {{"name", rule.name},
          {"holds", word_of(pouch::kHoldsWords, rule.holds)},
          {"lip_mm", one.lip_height},
          {"water_line_mm", one.water_line},
          {"water_line_because", one.because}};
}

Fields test_fields(const pouch::TestPoint& point, const pouch::Pouch& pouch) {
  const auto name = [&](pouch::SpanId span) { return pouch.name(span); };
  return {{"height_mm", point.height}, {"layers", cells(point.spans, name)}};
}

Fields card_fields(const pouch::NamedCard& named, const pouch::Pouch& pouch) {
  const bool is_slip = named.use == pouch::NamedCard::Use::slip;
  Fields fields = {{"card", is_slip ? "slip card" : "shield"},
                   {"operation", pouch.operation(named.operation).id},
                   {"outline", outline_cells(named.card)},
                   {"stem_width_mm", named.card.stem_width},
                   {"stem_length_mm", named.card.stem_length},
                   {"bar_width_mm", named.card.bar_width},
                   {"own", named.card.is_own}};
  if (is_slip) {
    const auto& compartments = pouch.construction().compartments;
    fields.push_back({"compartment", compartments[named.compartment].name});
  }
  return fields;
}

Fields zone_fields(const pouch::SealZone& zone, const pouch::Pouch& pouch) {
  return {{"x0_mm", zone.x.from},
          {"x1_mm", zone.x.to},
          {"y0_mm", zone.y.from},
          {"y1_mm", zone.y.to},
          {"layers", Cell::List{pouch.name(zone.lower), pouch.name(zone.upper)}},
          {"panel", pouch.sizes.panels[zone.panel].name}};
}

}  // namespace

Fields extra_fields(const batch::ClothExtra& extra) {
  Fields fields = {{"what", word_of(batch::kMoreWords, extra.what)}, {"length_mm", extra.length}};
  if (extra.pouches > 0) fields.push_back({"pouches", extra.pouches});
  return fields;
}

Fields sides(base::Length width, base::Length length) {
  return {{"width_mm", width}, {"length_mm", length}};
}

Fields cut_fields(const pouch::CutPart& part) {
  return {{"name", part.name},
          {"cloth", word_of(pouch::kClothWords, part.cloth)},
          {"width_mm", part.width},
          {"length_mm", part.length},
          {"count", part.count}};
}

Cell::List outline_cells(const pouch::Card& card) {
  return cells(card.outline, [](const pouch::Corner& corner) {
    return Cell::List{corner.x, corner.y};
  });
}

Fields span_fields(const pouch::Span& span) {
  return {{"name", span.name}, {"from_mm", span.from}, {"to_mm", span.to}};
}

base::Message from_to(const pouch::Interval& interval) {
  return {"size-from-to",
          {{"from", base::in_both(interval.from)}, {"to", base::in_both(interval.to)}}};
}

void add_parts(Report& report, const pouch::Pouch& pouch) {
  Cell::List panels;
  Cell::List pieces;
  for (const pouch::CutPart& part : pouch.sizes.parts) {
    (part.panel ? panels : pieces).emplace_back(part_fields(part, pouch.sizes));
  }
  report.field("panels", std::move(panels));
  report.field("pieces", std::move(pieces));
  report.field("attachments", cells(pouch.fixed, [&](const pouch::Fixed& fixed) {
                 return fixed_fields(fixed, pouch);
               }));
  Cell::List compartments;
  for (std::size_t i = 0; i < pouch.compartments.size(); ++i) {
    compartments.emplace_back(
        compartment_fields(pouch.construction().compartments[i], pouch.compartments[i]));
  }
  report.field("compartments", std::move(compartments));
  report.field("test_here", cells(pouch.test_points, [&](const pouch::TestPoint& point) {
                 return test_fields(point, pouch);
               }));
  report.field("cards", cells(pouch.cards, [&](const pouch::NamedCard& card) {
                 return card_fields(card, pouch);
               }));
}

void part_rows(Report& report, const pouch::Pouch& pouch) {
  const auto& parts = pouch.sizes.parts;
  if (parts.size() > 1) report.heading("size-parts");
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const pouch::CutPart& part = parts[i];
    if (i > 0) {
      report.row({"size-part",
                  {{"count", part.count},
                   {"part", part.name},
                   {"cloth", word_of(pouch::kClothWords, part.cloth)}}},
                 by(part.width, part.length));
    }
    if (!part.outer) continue;
    if (part.outer->width == part.width && part.outer->length == part.length) continue;
    report.row({"size-part-outer", {{"part", part.name}}},
               by(part.outer->width, part.outer->length));
  }
}

Cell::List zone_cells(const pouch::Pouch& pouch) {
  return cells(pouch.seal_zones,
               [&](const pouch::SealZone& zone) { return zone_fields(zone, pouch); });
}

void zone_rows(Report& report, const pouch::Pouch& pouch) {
  const bool has_several = pouch.sizes.panels.size() > 1;
  for (const pouch::SealZone& zone : pouch.seal_zones) {
    if (2 * zone.x.from >= pouch.sizes.cut_width) continue;  // the right side mirrors the left
    const bool is_across = 2 * zone.x.size() > pouch.sizes.cut_width;
    base::Message name(is_across ? "size-zone-bottom" : "size-zone",
                       {{"lower", pouch.name(zone.lower)}, {"upper", pouch.name(zone.upper)}});
    if (has_several) {
      const std::string& panel = pouch.sizes.panels[zone.panel].name;
      name = {"size-zone-on", {{"zone", name}, {"panel", panel}}};
    }
    report.row(name, from_to(zone.y));
  }
}

}  // namespace pouchwright::job
