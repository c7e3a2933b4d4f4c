#include "job/commands/supplies.h"

#include <algorithm>
#include <utility>
#include <variant>

#include "base/text.h"
#include "input/reader.h"
#include "job/commands/commands.h"
#include "job/commands/schedule.h"
#include "job/documents.h"
#include "job/report/page.h"
#include "job/report/reports.h"
#include "job/sheets.h"
#include "lay/spare.h"
#include "render/text.h"
#include "tell/names.h"
#include "tell/supplies.h"

namespace pouchwright::job {
namespace {

/// Long enough for any list on one drawing, which is then cut to what it holds.
constexpr ink::Point kEndlessRoom{kSheetRoom.x, 20'000};

/// Template and cards; what else a packet prints is not needed to make the pouch.
std::optional<int> pages_to_print(Run& run) {
  const auto cut = template_pages(run, {.has_gauge = false});
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

/// How many of the job's tags the plan's waste yields.
int tags_of(const ClothPlan& plan, const pouch::Request& request) {
  const auto& asked = plan.request.by_products;
  for (std::size_t i = 0; i < asked.size(); ++i) {
    const bool is_tag = request.tag && asked[i].name == request.tag->name;
    if (is_tag && i < plan.plan.by_products.size()) return plan.plan.by_products[i];
  }
  return 0;
}

batch::Order order_of(const Run& run, const std::vector<ClothPlan>& plans,
                      const std::vector<batch::Seam>& seams, const OtherCounts& counts) {
  batch::Order order;
  order.unit = run.style().unit;
  order.seams = seams;
  order.pages = counts.pages;
  order.clips = counts.clips;
  order.shop_step = run.settings().lay.shop_step;
  order.attachments = priced_attachments(run.pouch());
  for (const ClothPlan& plan : plans) {
    const lay::Lay& roll = plan.plan.cloth;
    const base::Length spare = lay::spare_across(roll);
    order.cloths.push_back({plan.material, plan.request.cloth.name, plan.terms.bought_width,
                            plan.to_buy(), plan.terms.price, plan.terms.price_per,
                            plan.plan.cloth.cloth_length, plan.extra, plan.terms.is_washed_first,
                            plan.needed(), roll.width - spare, spare});
    order.tags_cut += tags_of(plan, run.pouch().request);
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
  run.diagnostics().warning(stated->second.stated.value_or(base::Place()),
                            {"reach-below-stitch",
                             {{"reach", base::exact(stated->second.value)},
                              {"stitch", stitch->code},
                              {"least", base::exact(*least)}}},
                            {{"reach-below-stitch-hint"}});
}

/// One drawing, cut to what it holds.
std::vector<ink::Drawing> endless_sheet(const Run& run, const ShoppingList& shopping) {
  auto drawn = supplies_sheets(run, shopping, kEndlessRoom);
  const render::FontMeasure measure(run.fonts());
  double foot = 0;
  for (const ink::Item& item : drawn.front().items) {
    foot = std::max(foot, ink::bounds(item, measure).y1);
  }
  drawn.front().extent.y1 = foot + 1;
  return drawn;
}

Report report_of(const Run& run, const ShoppingList& shopping, const base::Voice& words) {
  return supplies_report(run.pouch(), shopping, run.settings().batch.currency, words);
}

}  // namespace

std::optional<batch::SamplingPlan> sampling_of(const batch::Settings& settings) {
  if (!settings.aql) return std::nullopt;
  const auto made = batch::sampling_plan(settings.pouches.value, settings.aql->value);
  const auto* plan = std::get_if<batch::SamplingPlan>(&made);
  return plan ? std::optional(*plan) : std::nullopt;
}

ShoppingList shopping_list(const Run& run, const std::vector<ClothPlan>& plans,
                           const Sewing& sewing, const OtherCounts& counts) {
  ShoppingList made{run.data().supplies(), {}};
  const input::JobSettings& settings = run.settings();
  made.data.thread = sewing.rules;
  made.data.card_sheets =
      batch::card_sheets(made.data.card_families, settings.paper.name, run.style().unit);
  made.list = batch::supplies(order_of(run, plans, sewing.seams, counts), run.pouch(), made.data,
                              settings.batch, settings.prices);
  return made;
}

void warn_of(Run& run, const ShoppingList& shopping) {
  tell_unused_prices(run, shopping.list);
  tell_reach(run, shopping.data.thread);
}

std::vector<ink::Drawing> supplies_sheets(const Run& run, const ShoppingList& shopping,
                                          ink::Point room) {
  const base::Voice words = run.paper_words();
  Report report = report_of(run, shopping, words);
  report.begin();
  report.heading("supplies-ready");
  for (std::string& one : tell::things_to_lay_ready(run.pouch(), shopping.list,
                                                    run.settings().batch.irons.value, words)) {
    report.write(std::move(one));
  }
  const std::string title =
      words.say({"supplies-title", {{"title", tell::title_of(run.pouch(), words)}}});
  const render::FontMeasure measure(run.fonts());
  return pages(report.blocks, {.name = "supplies", .title = title, .room = room}, words, measure);
}

std::vector<std::string> choices_of(const Run& run, const ShoppingList& shopping) {
  return tell::supply_choices(shopping.list, shopping.data.thread, run.paper_words());
}

std::vector<std::string> sources_of(const Run& run, const ShoppingList& shopping) {
  return tell::thread_sources(run.pouch(), shopping.list, shopping.data.thread, run.paper_words());
}

Answer supplies(Run& run) {
  const auto plans = cloth_plans(run);
  const auto pages = pages_to_print(run);
  if (run.diagnostics().has_errors()) return run.job_wrong();
  const Sewing sewing = sewing_of(run);
  ShoppingList shopping =
      shopping_list(run, plans, sewing, {pages, clips_needed(run, plans, sewing, std::nullopt)});
  warn_of(run, shopping);
  Report report = report_of(run, shopping, run.words());
  for (std::string& one : choices_of(run, shopping)) report.write(std::move(one));
  for (std::string& one : sources_of(run, shopping)) report.write(std::move(one));
  Made made{std::move(report)};
  made.sheets = {"supplies", [&run, shopping = std::move(shopping)](ink::Breaks breaks) {
                   return breaks == ink::Breaks::pages ? supplies_sheets(run, shopping, kSheetRoom)
                                                       : endless_sheet(run, shopping);
                 }};
  return made;
}

}  // namespace pouchwright::job
