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

const char* turn_name(pouch::Turn turn) {
  switch (turn) {
    case pouch::Turn::along:
      return "along";
    case pouch::Turn::across:
      return "across";
    case pouch::Turn::either:
      break;
  }
  return "either";
}

const char* film_name(pouch::FilmFaces film) {
  return film == pouch::FilmFaces::both ? "both" : "one";
}

std::string per_cent(double fraction) {
  constexpr int kPlaces = 1;
  return units::shortest(fraction * 100, kPlaces);
}

std::string material_text(const Run& run, const pouch::Material& material,
                          units::LengthStyle style) {
  const bool is_laminate = material.kind == pouch::MaterialKind::laminate;
  const bool both = material.film == pouch::FilmFaces::both;
  const std::string turn = std::string("desk-choice-") + turn_name(material.turn);
  return run.say(
      {"list-material-is",
       {{"kind", run.say({is_laminate ? "kind-laminate" : "kind-outer"})},
        {"width", text_in_both(material.width, style)},
        {"thickness", units::decimal_mm(material.thickness) + " mm"},
        {"film", is_laminate ? run.say({both ? "list-film-both" : "list-film-one"}) : ""},
        {"turn", run.say(diag::Message(turn))},
        {"frays", run.say({material.frays ? "list-frays" : "list-frays-not"})},
        {"length", per_cent(material.shrink_length)},
        {"width_lost", per_cent(material.shrink_width)}}});
}

void list_materials(const Run& run, Json& report, std::string& text) {
  const auto style = units::default_style(run.printed_units().value_or(units::Unit::mm));
  text += "\n" + run.say({"list-materials"}) + "\n";
  report["materials"] = Json::array();
  for (const auto& material : run.data().materials()) {
    const bool is_laminate = material.kind == pouch::MaterialKind::laminate;
    text += "  " + material.name + ": " + material_text(run, material, style) + "\n";
    report["materials"].push_back({{"name", material.name},
                                   {"kind", is_laminate ? "laminate" : "outer"},
                                   {"width_mm", material.width.in_mm()},
                                   {"selvedge_mm", material.selvedge.in_mm()},
                                   {"thickness_mm", material.thickness.in_mm()},
                                   {"turn", turn_name(material.turn)},
                                   {"frays", material.frays},
                                   {"shrink_length", material.shrink_length},
                                   {"shrink_width", material.shrink_width}});
    if (is_laminate) report["materials"].back()["film"] = film_name(material.film);
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
