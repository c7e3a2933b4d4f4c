#include <utility>

#include "base/number.h"
#include "draw/sheets/construction.h"
#include "job/commands/commands.h"
#include "job/report/construction.h"
#include "job/sheets.h"
#include "render/text.h"

namespace pouchwright::job {

namespace {

void list_constructions(Run& run, Json& report, std::string& text) {
  text += run.say({"list-constructions"}) + "\n";
  report["constructions"] = Json::array();
  for (const std::string& name : run.data().constructions()) {
    const auto made =
        input::read_construction(*run.data().construction(name), name, run.diagnostics());
    if (!made) continue;
    text += "  " + name + ": " + made->title + "\n    " + made->about + "\n";
    Json sizes = Json::array();
    for (const auto& rule : made->sizes) {
      sizes.push_back({{"name", rule.name}, {"meaning", rule.meaning}});
      if (rule.standard) sizes.back()["default_mm"] = rule.standard->in_mm();
    }
    report["constructions"].push_back(
        {{"name", name}, {"title", made->title}, {"about", made->about}, {"sizes", sizes}});
  }
  text += "  " + run.say({"list-more"}) + "\n";
  Data::refuse(run.diagnostics());
}

std::string per_cent(double fraction) {
  constexpr int kPlaces = 1;
  return base::shortest(fraction * 100, kPlaces);
}

std::string material_text(const Run& run, const pouch::Material& material) {
  const bool is_laminate = material.kind == pouch::MaterialKind::laminate;
  const bool both = material.film == pouch::FilmFaces::both;
  const std::string turn = key_of("desk-choice-", base::kTurnWords, material.turn);
  return run.say(
      {"list-material-is",
       {{"kind", run.say({is_laminate ? "kind-laminate" : "kind-outer"})},
        {"width", base::in_both(material.width)},
        {"thickness", base::decimal_mm(material.thickness) + " mm"},
        {"film", is_laminate ? run.say({both ? "list-film-both" : "list-film-one"}) : ""},
        {"turn", run.say(base::Message(turn))},
        {"frays", run.say({material.frays ? "list-frays" : "list-frays-not"})},
        {"length", per_cent(material.shrink_length)},
        {"width_lost", per_cent(material.shrink_width)}}});
}

void list_materials(const Run& run, Json& report, std::string& text) {
  text += "\n" + run.say({"list-materials"}) + "\n";
  report["materials"] = Json::array();
  for (const auto& material : run.data().materials()) {
    const bool is_laminate = material.kind == pouch::MaterialKind::laminate;
    text += "  " + material.name + ": " + material_text(run, material) + "\n";
    report["materials"].push_back({{"name", material.name},
                                   {"kind", word_of(pouch::kMaterialWords, material.kind)},
                                   {"width_mm", material.width.in_mm()},
                                   {"selvedge_mm", material.selvedge.in_mm()},
                                   {"thickness_mm", material.thickness.in_mm()},
                                   {"turn", word_of(base::kTurnWords, material.turn)},
                                   {"frays", material.frays},
                                   {"shrink_length", material.shrink_length},
                                   {"shrink_width", material.shrink_width}});
    if (is_laminate)
      report["materials"].back()["film"] = word_of(pouch::kFilmFacesWords, material.film);
  }
}

void list_papers(const Run& run, Json& report, std::string& text) {
  text += "\n" + run.say({"list-papers"}) + "\n";
  report["papers"] = Json::array();
  for (const auto& paper : run.data().papers()) {
    text += "  " + paper.name + ": " +
            run.say({"size-by-size",
                     {{"width", base::decimal_mm(paper.width)},
                      {"length", base::decimal_mm(paper.height) + " mm"}}}) +
            "\n";
    report["papers"].push_back({{"name", paper.name},
                                {"width_mm", paper.width.in_mm()},
                                {"height_mm", paper.height.in_mm()}});
  }
}

/// By code; beside a code the word for it and what of a pouch is sewn with it unless a job says
/// otherwise.
void list_stitches(const Run& run, Json& report, std::string& text) {
  constexpr int kPlaces = 3;
  const batch::ThreadRules& rules = run.data().supplies().thread;
  const std::vector<std::pair<const char*, std::string>> used = {{"sides", rules.sew},
                                                                 {"ends", rules.finish_overedge},
                                                                 {"hems", rules.finish_turned},
                                                                 {"tails", rules.secure_tails}};
  text += "\n" + run.say({"list-stitches"}) + "\n";
  report["stitches"] = Json::array();
  for (const batch::Stitch& stitch : rules.stitches) {
    Json one = {{"stitch", stitch.code}, {"ratio", stitch.ratio}, {"threads", stitch.threads}};
    one["words"] = Json::array();
    one["used_for"] = Json::array();
    std::string line = "  " + stitch.code;
    for (const auto& [word, code] : rules.words) {
      if (code != stitch.code) continue;
      one["words"].push_back(word);
      line += " (" + word + ")";
    }
    line +=
        ": " +
        run.say({"list-stitch-is",
                 {{"ratio", base::shortened(stitch.ratio, kPlaces)}, {"count", stitch.threads}}});
    std::string uses;
    for (const auto& use : used) {
      if (use.second != stitch.code) continue;
      one["used_for"].push_back(use.first);
      uses += (uses.empty() ? "" : ", ") + std::string(use.first);
    }
    if (!uses.empty()) line += "; " + run.say({"list-stitch-used", {{"uses", uses}}});
    text += line + "\n";
    report["stitches"].push_back(std::move(one));
  }
}

// ---- Constructions in full ----

Ending asked_ending(const Run& run) {
  const Ending ending = out_ending(run);
  if (ending == Ending::pdf || ending == Ending::svg) return ending;
  throw UsageFault{{"usage-out-no-sheet", {{"text", run.options().out}}},
                   {{"usage-out-ending-hint"}}};
}

/// An SVG has one drawing: the pages one below the other.
std::vector<ink::Drawing> in_one(std::vector<ink::Drawing> pages) {
  ink::Drawing& first = pages.front();
  for (std::size_t i = 1; i < pages.size(); ++i) {
    const ink::Point below{0, first.extent.y1};
    for (ink::Item& item : pages[i].items) first.add(moved(std::move(item), below));
    first.extent.y1 += pages[i].extent.height();
  }
  pages.resize(1);
  return pages;
}

/// The listed constructions' pages as one file.
std::string pages_file(const Run& run, std::vector<ink::Drawing> pages, const SheetPaper& paper) {
  const Ending ending = asked_ending(run);
  const std::string name = "constructions";
  for (ink::Drawing& page : pages) page.title = run.say({"list-constructions"});
  if (ending == Ending::svg) pages = in_one(std::move(pages));
  return sheet_bytes(run, name, ending, pages, paper);
}

Outcome list_in_full(Run& run) {
  if (!run.options().out.empty()) (void)asked_ending(run);
  Json report;
  report["constructions"] = Json::array();
  std::string text;
  std::vector<ink::Drawing> pages;
  SheetPaper paper;
  for (const auto& one : listed_constructions(run)) {
    if (!one->sound) return one->run->job_wrong();
    const pouch::Pouch& pouch = one->run->pouch();
    report["constructions"].push_back(construction_report(pouch));
    text += (text.empty() ? "" : "\n") + construction_text(pouch, one->run->words());
    if (one->is_known) {
      text +=
          "\n  " + run.say({"construction-begin", {{"name", pouch.construction().name}}}) + "\n";
    }
    if (run.options().out.empty()) continue;
    paper = sheet_paper(one->run->settings().paper);
    const render::PangoMeasure measure(run.fonts());
    for (auto& page :
         draw::construction_pages(pouch, paper.room, run.icons(), one->run->words(), measure)) {
      pages.push_back(std::move(page));
    }
  }
  if (!pages.empty()) {
    OutputFiles files;
    files.add(run.options().out, pages_file(run, std::move(pages), paper));
    run.write(files);
  }
  return run.done(report, text + run.written());
}

/// Only constructions have names to choose by and pages to write.
void refuse_what_is_for_constructions(const Run& run) {
  if (!run.options().listed_name.empty()) {
    throw UsageFault{{"usage-list-name", {{"text", run.options().listed_name.substr(0, 40)}}},
                     {{"usage-list-hint"}}};
  }
  if (!run.options().out.empty()) {
    throw UsageFault{{"usage-list-out", {{"text", run.options().out}}}, {{"usage-list-hint"}}};
  }
}

}  // namespace

Outcome list(Run& run) {
  const std::string& asked = run.options().listed;
  if (asked == "constructions") return list_in_full(run);
  refuse_what_is_for_constructions(run);
  Json report;
  std::string text;
  if (asked.empty()) list_constructions(run, report, text);
  if (asked.empty() || asked == "materials") list_materials(run, report, text);
  if (asked.empty() || asked == "papers") list_papers(run, report, text);
  if (asked.empty() || asked == "stitches") list_stitches(run, report, text);
  return run.done(report, text.substr(text.find_first_not_of('\n')));
}

}  // namespace pouchwright::job
