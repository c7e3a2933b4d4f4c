#include "job/commands/supplies.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <variant>

#include "base/number.h"
#include "base/text.h"
#include "draw/sheets/supplies.h"
#include "input/reader.h"
#include "job/commands/commands.h"
#include "job/documents.h"
#include "job/report/parts.h"
#include "job/sheets.h"
#include "render/text.h"

namespace pouchwright::job {
namespace {

/// Long enough for any list on one drawing, which is then cut to what it holds.
constexpr ink::Point kEndlessRoom{kSheetRoom.x, 20'000};

double rounded(double value, double steps) { return std::round(value * steps) / steps; }
/// Amounts to a thousandth, money to a ten-thousandth: what is added up is not rounded before.
double amount(double value) { return rounded(value, 1e3); }
double money(double value) { return rounded(value, 1e4); }

Json or_null(const std::optional<double>& value, double (*round)(double)) {
  return value ? Json(round(*value)) : Json();
}

/// All but what is laid ready.
tell::SuppliesSheet sheet_of(const Run& run, const ShoppingList& shopping) {
  const std::string& title = run.settings().request.title;
  return {&run.pouch(), &shopping.list, &shopping.data.thread,
          title.empty() ? run.say("drawing-untitled") : title, run.settings().batch.currency};
}

/// Template and cards; what else a packet prints is not needed to make the pouch.
std::optional<int> pages_to_print(Run& run) {
  const auto cut = template_pages(run);
  const auto cards = mask_pages(run);
  if (run.diagnostics().has_errors()) return std::nullopt;
  return static_cast<int>(cut.pages.size() + cards.pages.size());
}

/// One price for all of a kind.
std::vector<batch::Attachment> priced_attachments(const pouch::Pouch& pouch) {
  auto bought = batch::attachments_to_buy(pouch);
  for (batch::Attachment& one : bought) one.price_name = word_of(pouch::kAttachmentWords, one.kind);
  return bought;
}

batch::Order order_of(const pouch::Pouch& pouch, const std::vector<ClothPlan>& plans,
                      const std::vector<batch::Seam>& seams, std::optional<int> pages,
                      base::Unit unit) {
  batch::Order order;
  order.unit = unit;
  order.seams = seams;
  order.pages = pages;
  order.attachments = priced_attachments(pouch);
  for (const ClothPlan& plan : plans) {
    order.cloths.push_back({plan.material, plan.request.cloth.name, plan.terms.full_width,
                            plan.to_buy(), plan.terms.price, plan.terms.price_per});
  }
  return order;
}

void tell_unused_prices(Run& run, const batch::Supplies& list) {
  std::vector<std::string> known;
  for (const batch::Supply& line : list.lines) known.push_back(line.name);
  for (const std::string& name : list.unused_prices) {
    const std::string near = base::nearest(name, known);
    std::string all;
    for (const std::string& one : known) {
      if (all.find(one) == std::string::npos) all += (all.empty() ? "" : ", ") + one;
    }
    run.diagnostics().warning(
        run.settings().prices.at(name).place, {"price-unused", {{"name", input::clipped(name)}}},
        {near.empty() || near == name ? base::Message("price-unused-hint", {{"names", all}})
                                      : base::Message("price-unused-near", {{"near", near}})});
  }
}

/// The needle reach that the job counts with must be what an overedge needs at the least.
void tell_reach(Run& run, const batch::ThreadRules& rules) {
  const pouch::Request& request = run.pouch().request;
  const auto stated = request.sizes.find(pouch::size::kNeedleReach);
  const batch::Stitch* stitch = rules.stitch(rules.sew);
  if (stitch == nullptr || stated == request.sizes.end() || !request.passes.empty()) return;
  const auto least = batch::least_reach(*stitch);
  if (!least || stated->second.value >= *least) return;
  run.diagnostics().warning(stated->second.place,
                            {"reach-below-stitch",
                             {{"reach", base::exact(stated->second.value)},
                              {"stitch", stitch->code},
                              {"least", base::exact(*least)}}},
                            {{"reach-below-stitch-hint"}});
}

// ---- The report
// ----------------------------------------------------------------------------------

Json lines_report(const batch::Supplies& list, const base::Voice& words) {
  Json lines = Json::array();
  const auto rows = tell::supply_rows(list, words);
  for (std::size_t i = 0; i < list.lines.size(); ++i) {
    const batch::Supply& line = list.lines[i];
    lines.push_back({{"kind", line.kind},
                     {"name", line.name},
                     {"what", rows[i].what},
                     {"amount", or_null(line.amount, amount)},
                     {"unit", word_of(batch::kSupplyUnitWords, line.unit)},
                     {"assumed", line.basis == batch::Basis::assumed},
                     {"price", or_null(line.unit_price, money)},
                     {"cost", or_null(line.cost, money)}});
  }
  return lines;
}

Json thread_report(const ShoppingList& shopping) {
  Json all = Json::array();
  for (const batch::ThreadNeed& need : shopping.list.thread) {
    const batch::Stitch& stitch = *shopping.data.thread.stitch(need.stitch);
    Json parts = Json::array();
    for (const batch::ThreadPart& part : need.parts) {
      parts.push_back({{"part", part.part}, {"thread_m", amount(part.metres)}});
    }
    all.push_back({{"stitch", need.stitch},
                   {"seam_m", amount(need.seam_metres)},
                   {"thread_m", amount(need.metres)},
                   {"ratio", stitch.ratio},
                   {"source", stitch.source},
                   {"parts", parts},
                   {"package", need.package.name},
                   {"package_m", need.package.metres},
                   {"packages", need.packages}});
  }
  return all;
}

Json seams_report(const ShoppingList& shopping) {
  Json all = Json::array();
  for (const batch::Seam& seam : shopping.list.seams) {
    const batch::Stitch& stitch = *shopping.data.thread.stitch(seam.stitch);
    all.push_back(
        {{"operation", seam.operation},
         {"stitch", seam.stitch},
         {"length_mm", seam.length.in_mm()},
         {"per_pouch", seam.per_pouch},
         {"thickness_mm", seam.thickness.in_mm()},
         {"ratio_by_geometry", or_null(batch::ratio_by_geometry(stitch, seam.thickness), amount)}});
  }
  return all;
}

Json cards_report(const batch::Supplies& list) {
  Json all = Json::array();
  for (const batch::CardNeed& card : list.cards) {
    all.push_back({{"card", card.card},
                   {"width_mm", card.width.in_mm()},
                   {"height_mm", card.height.in_mm()},
                   {"per_set", card.each},
                   {"cards", card.count},
                   {"sheet", card.sheet ? Json(card.sheet->name) : Json()},
                   {"sheets", card.sheet ? Json(card.sheets) : Json()}});
  }
  return all;
}

Json supplies_report(const Run& run, const ShoppingList& shopping) {
  const batch::Supplies& list = shopping.list;
  const std::string& currency = run.settings().batch.currency;
  Json report;
  report["pouches"] = list.pouches;
  report["supplies"] = lines_report(list, run.words());
  report["thread"] = thread_report(shopping);
  report["seams"] = seams_report(shopping);
  report["thread_not_counted"] = list.uncounted;
  report["card_sets"] = list.card_sets;
  report["cards"] = cards_report(list);
  report["cost"] = {{"currency", currency.empty() ? Json() : Json(currency)},
                    {"known", money(list.known_cost)},
                    {"known_per_pouch", money(list.known_cost_per_pouch())},
                    {"without", list.without}};
  return report;
}

// ---- The table and the list for a spreadsheet
// ----------------------------------------------------

using Cells = std::array<std::string, 4>;

std::string table_row(const Cells& cells, const std::array<std::size_t, 4>& widths) {
  std::string text = "  " + cells[0] + std::string(widths[0] - base::letter_count(cells[0]), ' ');
  for (std::size_t i = 1; i < cells.size(); ++i) {
    text += "  " + std::string(widths[i] - base::letter_count(cells[i]), ' ') + cells[i];
  }
  text.erase(text.find_last_not_of(' ') + 1);
  return text + "\n";
}

std::string supplies_table(const Run& run, const ShoppingList& shopping) {
  const base::Voice& words = run.words();
  const std::string pouches = std::to_string(shopping.list.pouches);
  std::vector<Cells> rows = {
      {words.say(shopping.list.pouches == 1
                     ? base::Message("supplies-what-one")
                     : base::Message("supplies-what", {{"pouches", pouches}})),
       words.say("supplies-amount"), words.say("supplies-price"), words.say("supplies-cost")}};
  for (const tell::SupplyRow& row : tell::supply_rows(shopping.list, words)) {
    rows.push_back({row.what, row.amount, row.price, row.cost});
  }
  std::array<std::size_t, 4> widths{};
  for (const Cells& row : rows) {
    for (std::size_t i = 0; i < row.size(); ++i)
      widths[i] = std::max(widths[i], base::letter_count(row[i]));
  }
  std::string text;
  for (const Cells& row : rows) text += table_row(row, widths);
  text += "\n";
  for (const std::string& note : tell::supply_notes(sheet_of(run, shopping), words)) {
    text += note + "\n";
  }
  return text;
}

std::string supplies_csv(const Run& run, const batch::Supplies& list) {
  std::string text = "kind,name,what,amount,unit,price,cost,currency\n";
  const auto rows = tell::supply_rows(list, run.words());
  const auto number = [](const std::optional<double>& value, int places) {
    return value ? base::shortest(*value, places) : std::string();
  };
  for (std::size_t i = 0; i < list.lines.size(); ++i) {
    const batch::Supply& line = list.lines[i];
    text += line.kind + "," + base::csv_cell(line.name) + "," + base::csv_cell(rows[i].what) + "," +
            number(line.amount, 3) + "," + word_of(batch::kSupplyUnitWords, line.unit) + "," +
            number(line.unit_price, 4) + "," + number(line.cost, 4) + "," +
            base::csv_cell(run.settings().batch.currency) + "\n";
  }
  return text;
}

std::string file_bytes(const Run& run, const ShoppingList& shopping, const Json& report) {
  const Ending ending = out_ending(run);
  if (ending == Ending::csv) return supplies_csv(run, shopping.list);
  if (ending == Ending::json) return dumped(report);
  if (ending == Ending::pdf) {
    return sheet_bytes(run, "supplies", ending, supplies_sheets(run, shopping, kSheetRoom));
  }
  auto drawn = supplies_sheets(run, shopping, kEndlessRoom);
  const render::PangoMeasure measure(run.fonts());
  double foot = 0;
  for (const ink::Item& item : drawn.front().items) {
    foot = std::max(foot, ink::bounds(item, measure).y1);
  }
  drawn.front().extent.y1 = foot + 1;
  return sheet_bytes(run, "supplies", ending, drawn);
}

}  // namespace

std::optional<batch::SamplingPlan> sampling_of(const batch::Settings& settings) {
  if (!settings.aql) return std::nullopt;
  const auto made = batch::sampling_plan(settings.pouches.value, settings.aql->value);
  const auto* plan = std::get_if<batch::SamplingPlan>(&made);
  return plan ? std::optional(*plan) : std::nullopt;
}

ShoppingList shopping_list(Run& run, const std::vector<ClothPlan>& plans, const Sewing& sewing,
                           std::optional<int> pages) {
  ShoppingList made{run.data().supplies(), {}};
  const input::JobSettings& settings = run.settings();
  made.data.thread = sewing.rules;
  made.list = batch::supplies(order_of(run.pouch(), plans, sewing.seams, pages, run.style().unit),
                              run.pouch(), made.data, settings.batch, settings.prices);
  tell_unused_prices(run, made.list);
  tell_reach(run, made.data.thread);
  return made;
}

std::vector<ink::Drawing> supplies_sheets(const Run& run, const ShoppingList& shopping,
                                          ink::Point room) {
  const render::PangoMeasure measure(run.fonts());
  tell::SuppliesSheet sheet = sheet_of(run, shopping);
  sheet.ready = tell::things_to_lay_ready(run.pouch(), shopping.list,
                                          run.settings().batch.irons.value, run.words());
  return draw::supplies_list(sheet, run.words(), measure, room);
}

Outcome supplies(Run& run) {
  const auto plans = cloth_plans(run.pouch(), run.settings(), run.diagnostics());
  const auto pages = pages_to_print(run);
  if (run.diagnostics().has_errors()) return run.job_wrong();
  const ShoppingList shopping = shopping_list(run, plans, sewing_of(run), pages);
  const Json report = supplies_report(run, shopping);
  if (!run.options().out.empty()) {
    OutputFiles files;
    files.add(run.options().out, file_bytes(run, shopping, report));
    run.write(files);
  }
  return run.done(report, supplies_table(run, shopping));
}

}  // namespace pouchwright::job
