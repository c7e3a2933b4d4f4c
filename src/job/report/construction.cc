#include "job/report/construction.h"

#include <algorithm>
#include <utility>

#include "base/text.h"
#include "job/report/parts.h"
#include "tell/construction.h"

namespace pouchwright::job {

namespace {

using pouch::LinearForm;

/// As in a construction's file: `{depth: 1, lip_drop: -1}`, fractions as texts.
Json form_report(const LinearForm& form) {
  Json report = Json::object();
  for (const LinearForm::Term& term : form.terms) {
    if (term.denominator == 1) {
      report[term.size] = term.numerator;
    } else {
      report[term.size] = std::to_string(term.numerator) + "/" + std::to_string(term.denominator);
    }
  }
  return report;
}

Json sizes_report(const pouch::Construction& construction) {
  Json sizes = Json::array();
  for (const pouch::SizeRule& rule : construction.sizes) {
    sizes.push_back({{"name", rule.name}, {"meaning", rule.meaning}});
    if (rule.standard) sizes.back()["default_mm"] = rule.standard->in_mm();
  }
  return sizes;
}

Json counts_report(const pouch::Construction& construction) {
  Json counts = Json::array();
  for (const pouch::CountRule& rule : construction.counts) {
    counts.push_back({{"name", rule.name},
                      {"meaning", rule.meaning},
                      {"default", rule.standard},
                      {"least", rule.least},
                      {"most", rule.most}});
  }
  return counts;
}

Json panels_report(const pouch::Pouch& pouch) {
  Json panels = Json::array();
  for (const pouch::CutPart& part : pouch.sizes.parts) {
    if (!part.panel) continue;
    const pouch::PanelRule& rule = pouch.construction().panels[*part.panel];
    Json spans = Json::array();
    for (const pouch::Span& span : pouch.sizes.panels[*part.panel].spans) {
      spans.push_back({{"name", span.name}, {"length_mm", (span.to - span.from).in_mm()}});
      for (const pouch::SpanRule& stated : rule.spans) {
        if (stated.name == span.name) spans.back()["is"] = form_report(stated.length);
      }
    }
    panels.push_back({{"name", rule.name},
                      {"cloth", word_of(pouch::kClothWords, part.cloth)},
                      {"width_mm", part.width.in_mm()},
                      {"length_mm", part.length.in_mm()},
                      {"spans", spans}});
  }
  return panels;
}

Json pieces_report(const pouch::Pouch& pouch) {
  Json pieces = Json::array();
  for (const pouch::CutPart& part : pouch.sizes.parts) {
    if (part.panel) continue;
    pieces.push_back({{"name", part.name},
                      {"cloth", word_of(pouch::kClothWords, part.cloth)},
                      {"width_mm", part.width.in_mm()},
                      {"length_mm", part.length.in_mm()},
                      {"count", part.count}});
  }
  return pieces;
}

Json attachments_report(const pouch::Construction& construction) {
  Json attachments = Json::array();
  for (const pouch::Attachment& one : construction.attachments) {
    attachments.push_back({{"name", one.name},
                           {"kind", word_of(pouch::kAttachmentWords, one.kind)},
                           {"span", one.span.empty() ? Json() : Json(one.span)},
                           {"from", one.from == pouch::Edge::start ? "start" : "end"},
                           {"distance", form_report(one.distance)}});
    Json& report = attachments.back();
    if (!one.closure.empty()) report["closure"] = one.closure;
    if (!one.piece.empty()) report["piece"] = one.piece;
    if (!one.on.empty()) report["on"] = one.on;
    if (one.across == pouch::Across::left) report["across"] = "left";
    if (one.across == pouch::Across::right) report["across"] = "right";
    if (one.across == pouch::Across::sides) report["across"] = "sides";
    if (!one.from_side.terms.empty()) report["from_side"] = form_report(one.from_side);
    if (one.between) report["between"] = {one.between->first, one.between->second};
  }
  return attachments;
}

Json compartments_report(const pouch::Construction& construction) {
  Json compartments = Json::array();
  for (const pouch::Compartment& one : construction.compartments) {
    Json film = Json::array();
    for (const auto& span : one.film) film.push_back(span.value);
    const char* holds = one.holds == pouch::Holds::water ? "water" : "dry";
    compartments.push_back({{"name", one.name}, {"holds", holds}, {"film", film}});
  }
  return compartments;
}

Json operations_report(const pouch::Construction& construction) {
  Json operations = Json::array();
  for (const pouch::Operation& operation : construction.operations) {
    Json needs = Json::array();
    for (const auto& need : operation.needs) needs.push_back(need.value);
    operations.push_back({{"id", operation.id},
                          {"do", word_of(pouch::kActionWords, operation.action)},
                          {"needs", needs}});
  }
  return operations;
}

std::string section_text(const tell::WordsSection& section, bool in_order) {
  std::size_t widest = 0;
  for (const tell::WordsRow& row : section.rows)
    widest = std::max(widest, base::letter_count(row.name));
  std::string text = "\n  " + section.heading + "\n";
  std::size_t number = 0;
  for (const tell::WordsRow& row : section.rows) {
    const std::string mark = std::to_string(++number) + ". ";
    text += "    ";
    if (in_order) text += (number < 10 ? " " : "") + mark;
    text += row.name + std::string(widest - base::letter_count(row.name) + 2, ' ') + row.value;
    if (!row.value.empty() && !row.meaning.empty()) text += "; ";
    text += row.meaning;
    text.erase(text.find_last_not_of(' ') + 1);
    text += "\n";
  }
  return text;
}

/// As a text of TOML, which takes JSON's escapes.
std::string quoted(const std::string& text) {
  return Json(text).dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::unique_ptr<ListedConstruction> listed(const Run& run, const std::string& name) {
  auto one = std::make_unique<ListedConstruction>();
  one->options.command = Command::list;
  one->options.job_file = name.ends_with(".toml") ? "list.toml" : name + ".toml";
  one->options.job_text = "construction = " + quoted(name) + "\n";
  one->options.sets = run.options().sets;
  one->options.units = run.options().units;
  one->options.paper = run.options().paper;
  one->options.form = run.options().form;
  one->options.naming = run.options().naming;
  one->run = std::make_unique<Run>(one->options, run.data());
  one->sound = one->run->read_job();
  one->is_known = name.find('/') == std::string::npos;
  return one;
}

}  // namespace

std::vector<std::unique_ptr<ListedConstruction>> listed_constructions(const Run& run) {
  const std::vector<std::string>& known = run.data().constructions();
  const std::string& asked = run.options().listed_name;
  std::vector<std::unique_ptr<ListedConstruction>> all;
  if (asked.empty()) {
    for (const std::string& name : known) all.push_back(listed(run, name));
    return all;
  }
  const bool is_known = std::find(known.begin(), known.end(), asked) != known.end();
  if (!is_known && asked.find('/') == std::string::npos) {
    throw UsageFault{{"construction-unknown", {{"text", asked.substr(0, 40)}}},
                     {{"usage-list-construction-hint", {{"names", base::list_text(known)}}}}};
  }
  all.push_back(listed(run, asked));
  return all;
}

Json construction_report(const pouch::Pouch& pouch) {
  const pouch::Construction& construction = pouch.construction();
  return {{"name", construction.name},
          {"title", construction.title},
          {"about", construction.about},
          {"flap", word_of(pouch::kFlapLawWords, construction.flap_law)},
          {"sizes", sizes_report(construction)},
          {"counts", counts_report(construction)},
          {"start_finish", word_of(pouch::kFinishWords, construction.start_standard)},
          {"end_finish", word_of(pouch::kFinishWords, construction.end_standard)},
          {"closures", construction.closures},
          {"panels", panels_report(pouch)},
          {"pieces", pieces_report(pouch)},
          {"attachments", attachments_report(construction)},
          {"compartments", compartments_report(construction)},
          {"operations", operations_report(construction)}};
}

std::string construction_text(const pouch::Pouch& pouch, const base::Voice& words) {
  const tell::ConstructionWords told = tell::construction_words(pouch, words);
  std::string text = told.title + "\n  " + told.about + "\n  " + told.flap + "\n";
  for (const tell::WordsSection& section : told.sections) {
    text += section_text(section, &section == &told.sections.back());
  }
  return text;
}

}  // namespace pouchwright::job
