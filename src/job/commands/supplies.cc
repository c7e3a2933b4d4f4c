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

/// All that the jobs have in common.
batch::Order order_of(const Run& run, const input::JobSettings& settings,
                      const std::vector<ClothPlan>& plans, const OtherCounts& counts) {
  batch::Order order;
  order.unit = run.style().unit;
  order.pages = counts.pages;
  order.clips = counts.clips;
  order.shop_step = settings.lay.shop_step;
  for (const ClothPlan& plan : plans) {
    const lay::Lay& roll = plan.plan.cloth;
    const base::Length spare = lay::spare_across(roll);
    order.cloths.push_back({plan.material, plan.request.cloth.name, plan.terms.bought_width,
                            plan.to_buy(), plan.terms.price, plan.terms.price_per,
                            plan.plan.cloth.cloth_length, plan.extra, plan.terms.is_washed_first,
                            plan.needed(), roll.width - spare, spare, plan.terms.print});
  }
  return order;
}

batch::BatchToMake batch_of(const Run& run, const std::vector<ClothPlan>& plans,
                            const Sewing& sewing) {
  batch::BatchToMake made{&run.pouch(), &run.settings().batch, priced_attachments(run.pouch()),
                          sewing.seams};
  for (const ClothPlan& plan : plans) made.tags_cut += tags_of(plan, run.pouch().request);
  return made;
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
void cut_to_content(const Run& run, ink::Drawing& drawing) {
  const render::FontMeasure measure(run.fonts());
  double foot = 0;
  for (const ink::Item& item : drawing.items) {
    foot = std::max(foot, ink::bounds(item, measure).y1);
  }
  drawing.extent.y1 = foot + 1;
}

Report report_of(const Run& run, const ShoppingList& shopping, const base::Voice& words) {
  return supplies_report(run.pouch(), shopping, run.settings().batch.currency, words);
}

/// What serves the next day.
void add_left(Report& report, const ShoppingList& shopping, const base::Voice& words) {
  const auto left = tell::left_for_more(shopping.list, words);
  if (left.empty()) return;
  report.begin();
  report.heading("supply-left");
  for (const std::string& one : left) report.write(one);
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
  made.list = batch::supplies(order_of(run, settings, plans, counts),
                              {batch_of(run, plans, sewing)}, made.data, settings.prices);
  return made;
}

ShoppingList shopping_list(const Run& run, const Day& day, const std::vector<ClothPlan>& plans,
                           const OtherCounts& counts) {
  ShoppingList made{run.data().supplies(), {}};
  const Run& first = *day.makes.front().run;
  const input::JobSettings& settings = first.settings();
  made.data.thread = sewing_of(first).rules;
  made.data.card_sheets =
      batch::card_sheets(made.data.card_families, settings.paper.name, run.style().unit);
  std::vector<batch::BatchToMake> batches;
  for (const DayMake& make : day.makes) {
    batches.push_back(batch_of(*make.run, plans, sewing_of(*make.run)));
  }
  made.list =
      batch::supplies(order_of(run, settings, plans, counts), batches, made.data, settings.prices);
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
                   const bool is_paged = breaks == ink::Breaks::pages;
                   auto drawn =
                       supplies_sheets(run, shopping, is_paged ? kSheetRoom : kEndlessRoom);
                   if (!is_paged) cut_to_content(run, drawn.front());
                   return drawn;
                 }};
  return made;
}

// ---- Of a day ----

std::vector<ink::Drawing> supplies_sheets(const Run& run, const Day& day,
                                          const ShoppingList& shopping, ink::Point room) {
  const base::Voice words = run.paper_words();
  const Run& first = *day.makes.front().run;
  Report report = report_of(first, shopping, words);
  add_left(report, shopping, words);
  report.begin();
  report.heading("supplies-ready");
  std::vector<std::string> told;
  for (const DayMake& make : day.makes) {
    for (std::string& one : tell::things_to_lay_ready(make.run->pouch(), shopping.list,
                                                      first.settings().batch.irons.value, words)) {
      if (std::find(told.begin(), told.end(), one) == told.end()) told.push_back(std::move(one));
    }
  }
  for (std::string& one : told) report.write(std::move(one));
  const std::string title = words.say({"supplies-title", {{"title", day.title}}});
  const render::FontMeasure measure(run.fonts());
  return pages(report.blocks, {.name = "supplies", .title = title, .room = room}, words, measure);
}

batch::ClipNeed clips_of_day(const Day& day, const std::vector<ClothPlan>& plans) {
  batch::ClipNeed most;
  for (const DayMake& make : day.makes) {
    const batch::ClipNeed one = clips_needed(*make.run, plans, sewing_of(*make.run), std::nullopt);
    most.clips += one.clips;
    most.pouches += one.pouches;
  }
  return most;
}

Answer supplies_of_day(Run& run, const Day& day) {
  const auto plans = cloth_plans(run, day);
  if (run.diagnostics().has_errors()) return run.job_wrong();
  int pages = 0;
  bool is_known = true;
  for (const DayMake& make : day.makes) {
    const auto own = pages_to_print(*make.run);
    pages += own.value_or(0);
    is_known = is_known && own.has_value();
    run.take(*make.run);
  }
  if (run.diagnostics().has_errors()) return run.job_wrong();
  ShoppingList shopping = shopping_list(
      run, day, plans, {is_known ? std::optional(pages) : std::nullopt, clips_of_day(day, plans)});
  Run& first = *day.makes.front().run;
  warn_of(first, shopping);
  run.take(first);
  Report report = report_of(first, shopping, run.words());
  add_left(report, shopping, run.words());
  report.field("makes", cells(day.makes, [](const DayMake& make) {
                 return Cell::Fields{{"make", make.title},
                                     {"pouches", make.run->settings().batch.pouches.value}};
               }));
  for (std::string& one : choices_of(first, shopping)) report.write(std::move(one));
  Made made{std::move(report)};
  made.sheets = {"supplies", [&run, &day, shopping = std::move(shopping)](ink::Breaks breaks) {
                   const bool is_paged = breaks == ink::Breaks::pages;
                   auto drawn =
                       supplies_sheets(run, day, shopping, is_paged ? kSheetRoom : kEndlessRoom);
                   if (!is_paged) cut_to_content(run, drawn.front());
                   return drawn;
                 }};
  return made;
}

}  // namespace pouchwright::job
