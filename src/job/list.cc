#include "job/commands.h"
#include "units/number.h"

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
  Data::refuse(run.diagnostics());
}

void list_materials(const Run& run, Json& report, std::string& text) {
  const auto style = units::default_style(run.printed_units().value_or(units::Unit::mm));
  text += "\n" + run.say({"list-materials"}) + "\n";
  report["materials"] = Json::array();
  for (const auto& material : run.data().materials()) {
    const bool is_laminate = material.kind == pouch::MaterialKind::laminate;
    const std::string kind = run.say({is_laminate ? "kind-laminate" : "kind-outer"});
    text += "  " + material.name + ": " +
            run.say({"list-material-is",
                     {{"kind", kind}, {"width", text_in_both(material.width, style)}}}) +
            "\n";
    report["materials"].push_back({{"name", material.name},
                                   {"kind", is_laminate ? "laminate" : "outer"},
                                   {"width_mm", material.width.in_mm()},
                                   {"selvedge_mm", material.selvedge.in_mm()},
                                   {"thickness_mm", material.thickness.in_mm()},
                                   {"frays", material.frays}});
  }
}

void list_papers(const Run& run, Json& report, std::string& text) {
  text += "\n" + run.say({"list-papers"}) + "\n";
  report["papers"] = Json::array();
  for (const auto& paper : run.data().papers()) {
    text += "  " + paper.name + ": " +
            run.say({"size-by-size",
                     {{"width", units::decimal_mm(paper.width)},
                      {"length", units::decimal_mm(paper.height) + " mm"}}}) +
            "\n";
    report["papers"].push_back({{"name", paper.name},
                                {"width_mm", paper.width.in_mm()},
                                {"height_mm", paper.height.in_mm()}});
  }
}

}  // namespace

Outcome list(Run& run) {
  Json report;
  std::string text;
  list_constructions(run, report, text);
  list_materials(run, report, text);
  list_papers(run, report, text);
  return run.done(report, text);
}

}  // namespace pouchwright::job
