#include "job/report/size.h"

#include <algorithm>
#include <filesystem>
#include <utility>
#include <vector>

#include "base/length.h"
#include "base/number.h"
#include "base/text.h"
#include "job/report/content.h"
#include "job/report/parts.h"
#include "job/report/table.h"
#include "tell/operations.h"

namespace pouchwright::job {

using base::Length;

namespace {

double mm(Length length) { return length.in_mm(); }

/// A place on paper to the nanometre: what floating point adds beyond is no measure.
double rounded(double millimetres) { return Length::mm(millimetres).in_mm(); }

Json place_report(const base::Place& place) {
  if (place.file.empty()) return nullptr;
  const bool is_option = place.file.starts_with("--");
  return {{"file", is_option ? place.file : std::filesystem::path(place.file).filename().string()},
          {"line", place.line},
          {"column", place.column}};
}

Json interval_report(const pouch::Interval& interval) {
  return {{"from_mm", mm(interval.from)}, {"to_mm", mm(interval.to)}};
}

Json spans_report(const pouch::Sizes& sizes) {
  Json spans = Json::array();
  for (const pouch::Span& span : sizes.panel.spans) {
    spans.push_back({{"name", span.name}, {"from_mm", mm(span.from)}, {"to_mm", mm(span.to)}});
  }
  return spans;
}

Json folds_report(const pouch::Sizes& sizes) {
  Json folds = Json::array();
  for (const pouch::FoldLine& fold : sizes.folds) {
    folds.push_back({{"at_mm", mm(fold.at)}, {"between", {fold.before, fold.after}}});
  }
  return folds;
}

Json zones_report(const std::vector<pouch::SealZone>& zones, const pouch::Sizes& sizes) {
  Json report = Json::array();
  for (const pouch::SealZone& zone : zones) {
    report.push_back({{"x0_mm", mm(zone.x.from)},
                      {"x1_mm", mm(zone.x.to)},
                      {"y0_mm", mm(zone.y.from)},
                      {"y1_mm", mm(zone.y.to)},
                      {"layers", {zone.lower, zone.upper}},
                      {"panel", sizes.panels[zone.panel].name}});
  }
  return report;
}

Json contacts_report(const std::vector<pouch::Contact>& contacts) {
  Json report = Json::array();
  for (const pouch::Contact& contact : contacts) {
    Json entry = {{"operation", contact.operation}, {"layers", {contact.lower, contact.upper}}};
    entry.update(interval_report(contact.heights));
    report.push_back(entry);
  }
  return report;
}

Json seams_report(const std::vector<pouch::SeamLayers>& seams) {
  Json report = Json::array();
  for (const pouch::SeamLayers& seam : seams) {
    Json entry = {{"operation", seam.operation},
                  {"edge", seam.edge == pouch::Edge::bottom ? "bottom" : "sides"},
                  {"layers", seam.layers},
                  {"thickness_mm", mm(seam.thickness)}};
    entry.update(interval_report(seam.heights));
    report.push_back(entry);
  }
  return report;
}

Json placement_report(const paper::Pages& pages, std::size_t page,
                      const paper::Placement* placement) {
  const paper::Page& sheet = pages.pages[page];
  Json report;
  report["page"] = page + 1;
  report["svg"] = page_file_name(pages, page);
  report["cell"] = placement ? placement->cell : sheet.label;
  report["column"] = placement ? placement->column : 0;
  report["row"] = placement ? placement->row : 0;
  report["turn_deg"] = placement ? placement->turn_deg : 0;
  report["window"] = nullptr;
  report["at"] = {{"x_mm", 0}, {"y_mm", 0}};
  if (placement) {
    const ink::Box& window = placement->window;
    report["window"] = {{"x_mm", rounded(window.x0)},
                        {"y_mm", rounded(window.y0)},
                        {"width_mm", rounded(window.width())},
                        {"height_mm", rounded(window.height())}};
    report["at"] = {{"x_mm", rounded(placement->at.x)}, {"y_mm", rounded(placement->at.y)}};
  }
  report["check_square"] = {{"x_mm", rounded(sheet.check_square.x0)},
                            {"y_mm", rounded(sheet.check_square.y0)},
                            {"side_mm", paper::kCheckSquare}};
  return report;
}

Json capacity_or_null(const std::optional<pouch::Capacity>& capacity) {
  return capacity ? capacity_report(*capacity) : Json();
}

/// The pages that show one drawing; pages that show none belong to the first.
Json pages_report(const paper::Pages& pages, std::size_t drawing) {
  Json report = Json::array();
  for (std::size_t page = 0; page < pages.pages.size(); ++page) {
    const paper::Page& sheet = pages.pages[page];
    for (const paper::Placement& placement : sheet.placements) {
      if (placement.drawing == drawing) {
        report.push_back(placement_report(pages, page, &placement));
      }
    }
    if (sheet.placements.empty() && drawing == 0) {
      report.push_back(placement_report(pages, page, nullptr));
    }
  }
  return report;
}

}  // namespace

std::string dumped(const Json& report) {
  return report.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

Json diagnostics_report(const base::Diagnostics& diagnostics, base::Severity severity,
                        const base::Voice& words) {
  const auto say = [&](const base::Message& message) { return words.say(message); };
  Json report = Json::array();
  for (const base::Diagnostic& diagnostic : diagnostics.sorted(severity)) {
    report.push_back({{"place", place_report(diagnostic.place)},
                      {"message", words.say(diagnostic.message)},
                      {"hint", base::list_text(diagnostic.hints, "; ", say)}});
  }
  return report;
}

SizeDetails details_of(const pouch::Pouch& pouch, base::LengthStyle style) {
  return {pouch::alternatives(pouch.request), pouch::fill_of(pouch, style)};
}

Json size_report(const pouch::Pouch& pouch, const SizeDetails& details, const base::Voice& words) {
  const pouch::Sizes& sizes = pouch.sizes;
  Json report;
  report["construction"] = pouch.construction().name;
  report["title"] = pouch.request.title;
  report["cut"] = {{"width_mm", mm(sizes.cut_width)}, {"length_mm", mm(sizes.cut_length)}};
  report["finished"] = {{"width_mm", mm(sizes.finished_width)},
                        {"depth_mm", mm(sizes.depth)},
                        {"flap_mm", mm(sizes.flap)}};
  report["overall"] = {{"width_mm", mm(sizes.overall_width)},
                       {"height_mm", mm(sizes.overall_height)}};
  report["inside_width_mm"] = mm(sizes.inside_width);
  report["spans"] = spans_report(sizes);
  report["folds"] = folds_report(sizes);
  report["seal_zones"] = zones_report(pouch.seal_zones, sizes);
  report["contacts"] = contacts_report(pouch.contacts);
  report["exposed_film"] = Json::array();
  for (const auto& bare : pouch.exposed_film)
    report["exposed_film"].push_back(interval_report(bare));
  report["clear_seal_mm"] = mm(pouch.clear_seal);
  report["clear_seal_worst_mm"] = mm(pouch.clear_seal_worst);
  report["water_line_mm"] = mm(pouch.water_line);
  report["water_line_because"] = words.say(pouch.water_line_because);
  report["water_volume_ml"] = pouch.water_volume_ml;
  report["bottom_pressure_pa"] = pouch.bottom_pressure_pa;
  const pouch::Card& slip_card = first_card(pouch.cards, pouch::NamedCard::Use::slip);
  const pouch::Card& shield = first_card(pouch.cards, pouch::NamedCard::Use::shield);
  report["slip_card"] = {{"outline", outline_report(slip_card)},
                         {"stem_width_mm", mm(slip_card.stem_width)},
                         {"stem_length_mm", mm(slip_card.stem_length)},
                         {"crossbar_width_mm", mm(slip_card.bar_width)}};
  report["shield"] = {{"outline", outline_report(shield)},
                      {"stem_width_mm", mm(shield.stem_width)},
                      {"arms_width_mm", mm(shield.bar_width)}};
  report["capacity"] = capacity_or_null(pouch.capacity);
  report["alternatives"] = alternatives_report(details.ways);
  report["content"] = content_report(pouch);
  report["water"] = water_report(details.fill);
  report["turn_of_cloth_mm"] = mm(pouch.turn_of_cloth);
  report["layers_at_seams"] = seams_report(pouch.layers_at_seams);
  add_parts(report, pouch, words);
  return report;
}

std::string page_file_name(const paper::Pages& pages, std::size_t page) {
  return pages.name + "-" + pages.pages[page].label + ".svg";
}

Json documents_report(const paper::Pages& pages, const std::string& pdf) {
  Json documents = Json::array();
  if (pages.drawings.empty()) {
    documents.push_back({{"name", pages.name},
                         {"title", pages.title},
                         {"pdf", pdf},
                         {"svg", nullptr},
                         {"canvas", nullptr},
                         {"scale", {{"x", pages.scale.x}, {"y", pages.scale.y}}},
                         {"plain_grid_pages", pages.plain_grid_pages},
                         {"pages", pages_report(pages, 0)}});
  }
  for (std::size_t i = 0; i < pages.drawings.size(); ++i) {
    const ink::Drawing& drawn = pages.drawings[i];
    documents.push_back({{"name", drawn.name},
                         {"title", drawn.title},
                         {"pdf", pdf},
                         {"svg", drawn.name + ".svg"},
                         {"canvas",
                          {{"width_mm", rounded(drawn.extent.width())},
                           {"height_mm", rounded(drawn.extent.height())}}},
                         {"scale", {{"x", pages.scale.x}, {"y", pages.scale.y}}},
                         {"plain_grid_pages", pages.plain_grid_pages},
                         {"pages", pages_report(pages, i)}});
  }
  return documents;
}

std::string size_table(const pouch::Pouch& pouch, const SizeDetails& details,
                       const base::Voice& words) {
  const pouch::Sizes& sizes = pouch.sizes;
  const auto both = [&](Length length) { return words.text(base::in_both(length)); };
  const auto at_most = [&](Length length) {
    return words.text(base::in_both(base::at_most(length)));
  };
  const auto size_by_size = [&](Length a, Length b) {
    return words.say({"size-by-size", {{"width", both(a)}, {"length", both(b)}}});
  };
  TextTable table(words);
  table.heading("size-panel");
  table.row("size-cut", size_by_size(sizes.cut_width, sizes.cut_length));
  for (const pouch::Span& span : sizes.panel.spans) {
    table.row(words.say({"size-span", {{"span", span.name}}}),
              words.say({"size-from-to", {{"from", both(span.from)}, {"to", both(span.to)}}}));
  }
  for (const pouch::FoldLine& fold : sizes.folds) {
    table.row(words.say({"size-fold", {{"before", fold.before}, {"after", fold.after}}}),
              both(fold.at));
  }
  part_rows(pouch, table, words);
  table.heading("size-pouch");
  table.row("size-finished", size_by_size(sizes.finished_width, sizes.depth));
  if (sizes.flap > Length()) table.row("size-flap", both(sizes.flap));
  table.row("size-overall", size_by_size(sizes.overall_width, sizes.overall_height));
  table.row("size-inside", both(sizes.inside_width));
  table.heading("size-seal");
  table.row("size-seal-width", both(sizes.seal_width));
  zone_rows(pouch, table, words);
  table.row("size-clear-seal", at_most(pouch.clear_seal));
  table.row("size-clear-seal-worst", at_most(pouch.clear_seal_worst));
  const Length slack = pouch.clear_seal - sizes.min_clear_seal;
  if (slack > Length()) table.row("size-slack", at_most(slack));
  const auto stem = [&](pouch::NamedCard::Use use) {
    return both(first_card(pouch.cards, use).stem_width);
  };
  table.row("size-cards", words.say({"size-cards-are",
                                     {{"stem", stem(pouch::NamedCard::Use::slip)},
                                      {"shield", stem(pouch::NamedCard::Use::shield)}}}));
  table.heading("size-water");
  table.row("size-water-line", at_most(pouch.water_line));
  table.row("size-because", words.say(pouch.water_line_because));
  table.row("size-volume",
            words.say({"size-volume-is", {{"ml", base::figures(pouch.water_volume_ml, 2)}}}));
  table.row("size-pressure",
            words.say({"size-pressure-is", {{"pa", base::fixed(pouch.bottom_pressure_pa, 0)}}}));
  water_rows(details.fill, table, words);
  content_rows(pouch, details.ways, table, words);
  table.heading("size-cloth");
  table.row("size-turn", base::shortest(pouch.turn_of_cloth.in_mm(), 2) + " mm");
  const tell::OperationWords said(pouch, words);
  for (const pouch::SeamLayers& seam : pouch.layers_at_seams) {
    const auto [from, to] = seam.heights;
    const char* key = to < Length()     ? "size-seam-all-below"
                      : from < Length() ? "size-seam-below"
                                        : "size-seam-is";
    table.row(words.say({"size-seam", {{"operation", said.name(seam.operation)}}}),
              words.say({key,
                         {{"from", both(from < Length() ? -from : from)},
                          {"to", both(to < Length() ? -to : to)},
                          {"layers", seam.layers}}}));
  }
  return table.text();
}

Json savings_report(const batch::Savings& found) {
  Json report;
  report["now"] = {{"cloth_mm2_per_pouch", found.now_mm2_per_pouch},
                   {"water_line_mm", mm(found.water_line_now)},
                   {"capacity", capacity_or_null(found.capacity_now)}};
  report["changes"] = Json::array();
  for (const batch::Change& change : found.changes) {
    Json set = Json::object();
    for (const auto& [path, length] : change.set) set[path] = mm(length);
    report["changes"].push_back(
        {{"set", set},
         {"cut", {{"width_mm", mm(change.cut_width)}, {"length_mm", mm(change.cut_length)}}},
         {"cloth_mm2_per_pouch", change.cloth_mm2_per_pouch},
         {"saving_fraction", change.saving_fraction},
         {"water_line_mm", mm(change.water_line)},
         {"capacity", capacity_or_null(change.capacity)}});
  }
  return report;
}

namespace {

constexpr double kSquareMetre = 1e6;  // in mm²

/// What a change does besides saving cloth.
std::vector<std::string> side_effects(const batch::Savings& found, const batch::Change& change,
                                      const base::Voice& words) {
  std::vector<std::string> notes;
  if (change.water_line != found.water_line_now) {
    notes.push_back(words.say({"savings-water",
                               {{"water", base::at_most(change.water_line)},
                                {"water_now", base::at_most(found.water_line_now)}}}));
  }
  if (!change.capacity || !found.capacity_now) return notes;
  const bool moves = change.capacity->liners != found.capacity_now->liners;
  notes.push_back(words.say(
      {moves ? "savings-holds" : "savings-still-holds",
       {{"liners", shown(*change.capacity, words)}, {"now", shown(*found.capacity_now, words)}}}));
  return notes;
}

}  // namespace

std::string savings_table(const batch::Savings& found, Length tolerance, const base::Voice& words) {
  const auto cloth = [](double mm2) { return base::fixed(mm2 / kSquareMetre, 3); };
  std::string text =
      words.say(
          {"savings-now", {{"cloth", cloth(found.now_mm2_per_pouch)}, {"tolerance", tolerance}}}) +
      "\n";
  if (found.changes.empty()) return text + words.say({"savings-nothing"}) + "\n";
  std::size_t number = 0;
  for (const batch::Change& change : found.changes) {
    const std::string sets = base::list_text(change.set, ", ", [&](const auto& size) {
      return size.first + " = " + words.text(base::exact(size.second));
    });
    text += words.say({"savings-change",
                       {{"number", ++number},
                        {"set", sets},
                        {"percent", base::fixed(100 * change.saving_fraction, 1)},
                        {"cloth", cloth(change.cloth_mm2_per_pouch)}}});
    for (const std::string& note : side_effects(found, change, words)) text += "; " + note;
    text += "\n";
  }
  return text + words.say({"savings-apply"}) + "\n";
}

}  // namespace pouchwright::job
