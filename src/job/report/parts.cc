#include "job/report/parts.h"

#include <algorithm>

namespace pouchwright::job {

namespace {

double mm(base::Length length) { return length.in_mm(); }

Json part_report(const pouch::CutPart& part, const pouch::Sizes& sizes) {
  Json report = {{"name", part.name},
                 {"cloth", word_of(pouch::kClothWords, part.cloth)},
                 {"width_mm", mm(part.width)},
                 {"length_mm", mm(part.length)},
                 {"count", part.count}};
  if (part.outer) {
    report["outer"] = {{"width_mm", mm(part.outer->width)}, {"length_mm", mm(part.outer->length)}};
  }
  if (!part.panel) return report;
  report["spans"] = Json::array();
  for (const pouch::Span& span : sizes.panels[*part.panel].spans) {
    report["spans"].push_back(
        {{"name", span.name}, {"from_mm", mm(span.from)}, {"to_mm", mm(span.to)}});
  }
  return report;
}

Json fixed_report(const pouch::Fixed& fixed, const pouch::Sizes& sizes) {
  Json report = {{"name", fixed.name},
                 {"kind", word_of(pouch::kAttachmentWords, fixed.kind)},
                 {"operation", fixed.operation},
                 {"panel", Json()},
                 {"span", Json()},
                 {"piece", Json()},
                 {"y0_mm", mm(fixed.y.from)},
                 {"y1_mm", mm(fixed.y.to)},
                 {"x_mm", Json::array()},
                 {"through", word_of(pouch::kThroughWords, fixed.through)}};
  if (fixed.piece.empty()) {
    report["panel"] = sizes.panels[fixed.panel].name;
    report["span"] = fixed.span;
  } else {
    report["piece"] = fixed.piece;
    report["through"] = "piece";
  }
  for (const base::Length x : fixed.x) report["x_mm"].push_back(mm(x));
  report["caught"] = Json::array();
  for (const pouch::Edge seam : fixed.caught)
    report["caught"].push_back(word_of(pouch::kEdgeWords, seam));
  return report;
}

Json compartment_report(const pouch::CompartmentWater& one, const base::Voice& words) {
  return {{"name", one.name},
          {"holds", word_of(pouch::kHoldsWords, one.holds)},
          {"lip_mm", mm(one.lip_height)},
          {"water_line_mm", mm(one.water_line)},
          {"water_line_because", words.say(one.because)}};
}

Json card_report(const pouch::NamedCard& named) {
  const bool is_slip = named.use == pouch::NamedCard::Use::slip;
  Json report = {
      {"card", is_slip ? "slip card" : "shield"},     {"operation", named.operation},
      {"outline", outline_report(named.card)},        {"stem_width_mm", mm(named.card.stem_width)},
      {"stem_length_mm", mm(named.card.stem_length)}, {"bar_width_mm", mm(named.card.bar_width)}};
  if (is_slip) report["compartment"] = named.compartment;
  return report;
}

}  // namespace

Json outline_report(const pouch::Card& card) {
  Json outline = Json::array();
  for (const pouch::Corner& corner : card.outline) {
    outline.push_back(Json::array({mm(corner.x), mm(corner.y)}));
  }
  return outline;
}

void add_parts(Json& report, const pouch::Pouch& pouch, const base::Voice& words) {
  for (const char* key :
       {"panels", "pieces", "attachments", "compartments", "test_here", "cards"}) {
    report[key] = Json::array();
  }
  for (const pouch::CutPart& part : pouch.sizes.parts) {
    report[part.panel ? "panels" : "pieces"].push_back(part_report(part, pouch.sizes));
  }
  for (const pouch::Fixed& fixed : pouch.fixed) {
    report["attachments"].push_back(fixed_report(fixed, pouch.sizes));
  }
  for (const pouch::CompartmentWater& one : pouch.compartments) {
    report["compartments"].push_back(compartment_report(one, words));
  }
  for (const pouch::TestPoint& point : pouch.test_points) {
    report["test_here"].push_back({{"height_mm", mm(point.height)}, {"layers", point.spans}});
  }
  for (const pouch::NamedCard& card : pouch.cards) report["cards"].push_back(card_report(card));
}

void part_rows(const pouch::Pouch& pouch, TextTable& table, const base::Voice& words) {
  const auto size = [&](base::Length width, base::Length length) {
    return words.say(
        {"size-by-size", {{"width", base::in_both(width)}, {"length", base::in_both(length)}}});
  };
  const auto& parts = pouch.sizes.parts;
  if (parts.size() > 1) table.heading("size-parts");
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const pouch::CutPart& part = parts[i];
    if (i > 0) {
      table.row(words.say({"size-part",
                           {{"count", part.count},
                            {"part", part.name},
                            {"cloth", word_of(pouch::kClothWords, part.cloth)}}}),
                size(part.width, part.length));
    }
    if (!part.outer) continue;
    if (part.outer->width == part.width && part.outer->length == part.length) continue;
    table.row(words.say({"size-part-outer", {{"part", part.name}}}),
              size(part.outer->width, part.outer->length));
  }
}

void zone_rows(const pouch::Pouch& pouch, TextTable& table, const base::Voice& words) {
  const bool has_several = pouch.sizes.panels.size() > 1;
  for (const pouch::SealZone& zone : pouch.seal_zones) {
    if (2 * zone.x.from >= pouch.sizes.cut_width) continue;  // the right side mirrors the left
    const bool is_across = 2 * zone.x.size() > pouch.sizes.cut_width;
    std::string name = words.say({is_across ? "size-zone-bottom" : "size-zone",
                                  {{"lower", zone.lower}, {"upper", zone.upper}}});
    if (has_several) {
      name = words.say(
          {"size-zone-on", {{"zone", name}, {"panel", pouch.sizes.panels[zone.panel].name}}});
    }
    table.row(
        name,
        words.say({"size-from-to",
                   {{"from", base::in_both(zone.y.from)}, {"to", base::in_both(zone.y.to)}}}));
  }
}

}  // namespace pouchwright::job
