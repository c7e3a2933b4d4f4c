#include <utility>
#include <vector>

#include "base/length.h"
#include "base/text.h"
#include "job/data.h"
#include "job/report/construction.h"
#include "job/report/reports.h"
#include "tell/names.h"

namespace pouchwright::job {

using base::Message;
using Fields = Cell::Fields;

namespace {

void add_constructions(Report& report, const Data& data, const base::Voice& words) {
  base::Diagnostics diagnostics;
  Cell::List all;
  report.heading("list-constructions");
  for (const std::string& name : data.constructions()) {
    const auto made = input::read_construction(*data.construction(name), name, diagnostics);
    if (!made) continue;
    report.item({name + ": " + tell::construction_title(name, made->construction.title, words)});
    report.item({"  " + tell::construction_about(name, made->construction.about, words)});
    all.emplace_back(Fields{{"name", name},
                            {"title", made->construction.title},
                            {"about", made->construction.about},
                            {"sizes", size_rules(made->construction.sizes)}});
  }
  report.item({Message("list-more")});
  report.field("constructions", std::move(all));
  Data::refuse(diagnostics);
}

Message material_said(const pouch::Material& material) {
  const bool is_laminate = material.kind == pouch::MaterialKind::laminate;
  const bool both = material.film == pouch::FilmFaces::both;
  const auto per_cent = [](double fraction) { return base::shortened(fraction * 100, 1); };
  base::Value film = "";
  if (is_laminate) film = Message(both ? "list-film-both" : "list-film-one");
  return {"list-material-is",
          {{"kind", Message(is_laminate ? "kind-laminate" : "kind-outer")},
           {"width", base::in_both(material.width)},
           {"thickness", base::decimal_mm(material.thickness) + " mm"},
           {"film", film},
           {"turn", Message(key_of("desk-choice-", base::kTurnWords, material.turn))},
           {"frays", Message(material.frays ? "list-frays" : "list-frays-not")},
           {"length", per_cent(material.shrink_length)},
           {"width_lost", per_cent(material.shrink_width)}}};
}

Fields material_fields(const pouch::Material& material) {
  Fields fields = {{"name", material.name},
                   {"kind", word_of(pouch::kMaterialWords, material.kind)},
                   {"width_mm", material.width},
                   {"selvedge_mm", material.selvedge},
                   {"thickness_mm", material.thickness},
                   {"turn", word_of(base::kTurnWords, material.turn)},
                   {"frays", material.frays},
                   {"shrink_length", material.shrink_length},
                   {"shrink_width", material.shrink_width}};
  if (material.kind == pouch::MaterialKind::laminate) {
    fields.push_back({"film", word_of(pouch::kFilmFacesWords, material.film)});
  }
  return fields;
}

void add_materials(Report& report, const Data& data, const base::Voice& words) {
  report.heading("list-materials");
  for (const pouch::Material& material : data.materials()) {
    report.item({material.name + ": " + words.say(material_said(material))});
  }
  report.field("materials", cells(data.materials(), material_fields));
}

Fields paper_fields(const input::PaperSize& paper) {
  return {{"name", paper.name}, {"width_mm", paper.width}, {"height_mm", paper.height}};
}

void add_papers(Report& report, const Data& data, const base::Voice& words) {
  report.heading("list-papers");
  for (const input::PaperSize& paper : data.papers()) {
    report.item({paper.name + ": " +
                 words.say({"size-by-size",
                            {{"width", base::decimal_mm(paper.width)},
                             {"length", base::decimal_mm(paper.height) + " mm"}}})});
  }
  report.field("papers", cells(data.papers(), paper_fields));
}

/// A stitch as a job can call it, and what of a pouch is sewn with it unless the job says
/// otherwise.
void add_stitch(Report& report, Cell::List& all, const batch::Stitch& stitch,
                const batch::ThreadRules& rules, const base::Voice& words) {
  constexpr int kPlaces = 3;
  std::vector<std::string> names;
  std::string line = stitch.code;
  for (const auto& [word, code] : rules.words) {
    if (code != stitch.code) continue;
    names.push_back(word);
    line += " (" + word + ")";
  }
  std::vector<std::string> uses;
  if (rules.sew == stitch.code) uses.emplace_back("sides");
  if (rules.finish_overedge == stitch.code) uses.emplace_back("ends");
  if (rules.finish_turned == stitch.code) uses.emplace_back("hems");
  if (rules.secure_tails == stitch.code) uses.emplace_back("tails");
  line +=
      ": " +
      words.say({"list-stitch-is",
                 {{"ratio", base::shortened(stitch.ratio, kPlaces)}, {"count", stitch.threads}}});
  if (!uses.empty()) line += "; " + words.say({"list-stitch-used", {{"uses", uses}}});
  report.item({line});
  all.emplace_back(Fields{{"stitch", stitch.code},
                          {"ratio", stitch.ratio},
                          {"threads", stitch.threads},
                          {"words", names},
                          {"used_for", uses}});
}

void add_stitches(Report& report, const Data& data, const base::Voice& words) {
  const batch::ThreadRules rules = data.supplies().thread;
  Cell::List all;
  report.heading("list-stitches");
  for (const batch::Stitch& stitch : rules.stitches) {
    add_stitch(report, all, stitch, rules, words);
  }
  report.field("stitches", std::move(all));
}

/// Which words there are, and who answers for them.
void add_languages(Report& report, const Data& data) {
  Cell::List all;
  report.heading("list-languages");
  for (const std::string& tag : data.languages()) {
    const base::Language& language = data.words(tag).language();
    const bool is_source = data.words(tag).text("language-state") == "source";
    const char* state = language.is_draft ? "drafted" : is_source ? "source" : "read";
    report.item({tag + ": " + language.name, Message("list-language-" + std::string(state))});
    all.emplace_back(Fields{{"language", tag}, {"name", language.name}, {"state", state}});
  }
  report.field("languages", std::move(all));
}

}  // namespace

Report list_report(const Data& data, const std::string& asked, const base::Voice& words) {
  Report report;
  if (asked.empty()) add_constructions(report, data, words);
  if (asked.empty() || asked == "languages") add_languages(report, data);
  if (asked.empty() || asked == "materials") add_materials(report, data, words);
  if (asked.empty() || asked == "papers") add_papers(report, data, words);
  if (asked.empty() || asked == "stitches") add_stitches(report, data, words);
  return report;
}

}  // namespace pouchwright::job
