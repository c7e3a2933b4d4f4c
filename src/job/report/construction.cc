#include "job/report/construction.h"

#include <string>
#include <utility>

#include "draw/folds/picture.h"
#include "job/report/page.h"
#include "job/report/parts.h"
#include "tell/construction.h"

namespace pouchwright::job {

using pouch::LinearForm;
using Fields = Cell::Fields;

namespace {

/// A picture in its column, mm.
constexpr double kHighestPicture = 66;

/// As in a construction's file: `{depth: 1, lip_drop: -1}`, fractions as texts.
Fields form_fields(const LinearForm& form) {
  Fields fields;
  for (const LinearForm::Term& term : form.terms) {
    const bool is_whole = term.denominator == 1;
    const std::string fraction =
        std::to_string(term.numerator) + "/" + std::to_string(term.denominator);
    fields.push_back({term.size, is_whole ? Cell(term.numerator) : Cell(fraction)});
  }
  return fields;
}

Fields count_fields(const pouch::CountRule& rule) {
  return {{"name", rule.name},
          {"meaning", rule.meaning},
          {"default", rule.standard},
          {"least", rule.least},
          {"most", rule.most}};
}

Fields panel_fields(const pouch::Pouch& pouch, const pouch::CutPart& part) {
  const pouch::PanelRule& rule = pouch.construction().panels[*part.panel];
  const auto& cut = pouch.sizes.panels[*part.panel].spans;
  Cell::List spans;
  for (std::size_t i = 0; i < cut.size(); ++i) {
    Fields fields = {{"name", cut[i].name}, {"length_mm", cut[i].to - cut[i].from}};
    const auto stated = span_ref(pouch.sizes.panels, {*part.panel, i});
    if (stated) fields.push_back({"is", form_fields(rule.spans[stated->span].length)});
    spans.emplace_back(std::move(fields));
  }
  return {{"name", rule.name},
          {"cloth", word_of(pouch::kClothWords, part.cloth)},
          {"width_mm", part.width},
          {"length_mm", part.length},
          {"spans", std::move(spans)}};
}

Fields attachment_fields(const pouch::Attachment& one, const pouch::Construction& construction) {
  const auto name = [&](pouch::SpanRef span) { return construction.span(span).name; };
  Fields fields = {{"name", one.name},
                   {"kind", word_of(pouch::kAttachmentWords, one.kind)},
                   {"span", one.on_piece ? Cell() : Cell(name(one.span))},
                   {"from", one.from == pouch::Edge::start ? "start" : "end"},
                   {"distance", form_fields(one.distance)}};
  if (one.closure) fields.push_back({"closure", construction.closures[*one.closure]});
  if (one.made_of) fields.push_back({"piece", construction.pieces[*one.made_of].name});
  if (one.on_piece) fields.push_back({"on", construction.pieces[*one.on_piece].name});
  if (one.across != pouch::Across::middle) {
    fields.push_back({"across", word_of(pouch::kAcrossWords, one.across)});
  }
  if (!one.from_side.terms.empty()) fields.push_back({"from_side", form_fields(one.from_side)});
  if (one.between) {
    fields.push_back({"between", Cell::List{name(one.between->first), name(one.between->second)}});
  }
  return fields;
}

Fields compartment_fields(const pouch::Compartment& one, const pouch::Construction& construction) {
  const auto name = [&](pouch::SpanRef span) { return construction.span(span).name; };
  return {{"name", one.name},
          {"holds", word_of(pouch::kHoldsWords, one.holds)},
          {"film", cells(one.film, name)}};
}

Fields operation_fields(const pouch::Operation& operation,
                        const pouch::Construction& construction) {
  const auto id = [&](std::size_t need) { return construction.operations[need].id; };
  return {{"id", operation.id},
          {"do", word_of(pouch::kActionWords, operation.action())},
          {"needs", cells(operation.needs, id)}};
}

/// `drawn` with what it shows above it.
ink::Frame captioned(const ink::Drawing& drawn, const std::string& caption) {
  ink::Frame picture;
  picture.write(caption, {0, ink::kSmallestSize});
  const double top = ink::kSmallestSize + 2;
  picture.place({drawn.items, drawn.extent}, {0, top});
  picture.box = {0, 0, drawn.extent.width(), top + drawn.extent.height()};
  return picture;
}

}  // namespace

Cell::List size_rules(const std::vector<pouch::SizeRule>& rules) {
  return cells(rules, [](const pouch::SizeRule& rule) {
    Fields fields = {{"name", rule.name}, {"meaning", rule.meaning}};
    if (rule.standard) fields.push_back({"default_mm", *rule.standard});
    if (rule.standard_in) fields.push_back({"default_in_mm", *rule.standard_in});
    return fields;
  });
}

Cell::Fields construction_fields(const pouch::Pouch& pouch) {
  const pouch::Construction& construction = pouch.construction();
  Cell::List panels;
  Cell::List pieces;
  for (const pouch::CutPart& part : pouch.sizes.parts) {
    if (part.panel) panels.emplace_back(panel_fields(pouch, part));
    if (!part.panel) pieces.emplace_back(cut_fields(part));
  }
  return {
      {"name", construction.name},
      {"title", construction.title},
      {"about", construction.about},
      {"flap", word_of(pouch::kFlapLawWords, construction.flap_law)},
      {"sizes", size_rules(construction.sizes)},
      {"counts", cells(construction.counts, count_fields)},
      {"start_finish", word_of(pouch::kFinishWords, construction.start_standard)},
      {"end_finish", word_of(pouch::kFinishWords, construction.end_standard)},
      {"closures", construction.closures},
      {"panels", std::move(panels)},
      {"pieces", std::move(pieces)},
      {"attachments", cells(construction.attachments,
                            [&](const auto& one) { return attachment_fields(one, construction); })},
      {"compartments",
       cells(construction.compartments,
             [&](const auto& one) { return compartment_fields(one, construction); })},
      {"operations", cells(construction.operations,
                           [&](const auto& one) { return operation_fields(one, construction); })}};
}

std::vector<Block> construction_blocks(const pouch::Pouch& pouch) {
  const pouch::Construction& construction = pouch.construction();
  Report report;
  report.begin(Block::Look::prose);
  report.line(Line::Kind::heading, {construction.name + ": " + construction.title});
  report.item({construction.about});
  report.item(
      {base::Message(key_of("construction-flap-", pouch::kFlapLawWords, construction.flap_law))});
  std::vector<tell::Section> sections = tell::construction_sections(pouch);
  for (std::size_t i = 0; i < sections.size(); ++i) {
    tell::Section& section = sections[i];
    const bool in_order = i + 1 == sections.size();
    report.begin(in_order ? Block::Look::steps : Block::Look::points, 2);
    report.heading(section.heading);
    for (tell::Row& row : section.rows) report.item(std::move(row));
  }
  return report.blocks;
}

std::vector<ink::Drawing> construction_pages(const pouch::Pouch& pouch, ink::Point room,
                                             const ink::Icons& icons, const base::Voice& words,
                                             const ink::TextMeasure& measure) {
  const std::vector<Block> blocks = construction_blocks(pouch);
  PageLook look{.name = "construction-" + pouch.construction().name,
                .title = words.text(blocks.front().lines.front().cells.front()),
                .room = room,
                .columns = ink::TextPages::Columns::two};
  const double width = ink::TextPages(look.name, look.title, room, look.columns, measure).width();
  const ink::Point picture{width, kHighestPicture};
  look.pictures = {
      captioned(draw::finished_picture(pouch, picture, words, measure),
                words.say("construction-picture-made")),
      captioned(draw::fold_picture(pouch, pouch::cut_panel(pouch), picture, icons, words, measure),
                words.say("construction-picture-cut"))};
  return pages(blocks, look, words, measure);
}

}  // namespace pouchwright::job
