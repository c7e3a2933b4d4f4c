#include "job/commands/packet_sections.h"

#include <algorithm>
#include <array>
#include <utility>

#include "draw/sheets/cautions.h"
#include "draw/sheets/first_pouch.h"
#include "draw/sheets/home_card.h"
#include "draw/sheets/iron_trial.h"
#include "draw/sheets/leak_test.h"
#include "draw/sheets/overview.h"
#include "draw/sheets/post_cards.h"
#include "draw/sheets/record_form.h"
#include "draw/sheets/steps.h"
#include "job/commands/cloth_plans.h"
#include "job/commands/job_code.h"
#include "job/commands/printing.h"
#include "job/commands/schedule.h"
#include "job/commands/supplies.h"
#include "job/documents.h"
#include "job/report/parts.h"
#include "job/step_facts.h"
#include "pouch/questions.h"
#include "render/text.h"
#include "tell/names.h"
#include "tell/operations.h"

namespace pouchwright::job {
namespace {

using ink::Drawing;

/// As wide as a page's number can become, in front of which a line of the overview breaks.
constexpr const char* kWidestNumber = "00000";

/// What sections are made from; those made so far are among it.
struct Making {
  Run& run;
  std::optional<int> copies;
  SheetPaper paper;
  render::FontMeasure measure;
  std::vector<ClothPlan> plans{};
  Sewing sewing{};
  std::optional<ShoppingList> list{};  ///< without pages and clips, which later sections tell
  std::optional<WorkPlan> work{};
  std::vector<Section> sections{};
  std::size_t columns = 0;  ///< of full-size pages so far: cells are unique in the file
};

std::string section_title(const std::string& name, const Run& run) {
  return run.say({"packet-section-" + name});
}

void put_sheets(Section& section, std::vector<Drawing> drawings, const Making& from) {
  section.pages = sheets(section.name, std::move(drawings), from.paper);
  section.pages.title = section_title(section.name, from.run);
}

/// The packet counts all its pages: a second number on one is one too many.
PartOf part_of_packet(const Making& from, bool has_gauge) {
  return {from.columns, paper::PageNumbers::none, has_gauge};
}

void put_full_size(Section& section, paper::Pages pages, Making& from) {
  section.pages = std::move(pages);
  section.pages.title = section_title(section.name, from.run);
  section.full_size = true;
  from.columns += paper::columns_of(section.pages);
}

/// Whoever cuts with a ruler prints no template.
bool prints_gauge_alone(const Run& run) {
  return run.settings().packet.templates == input::PacketTemplate::gauge;
}

// ---- Sections that tell of no other ----

void put_cut_plan(Section& section, Making& from) {
  const base::Voice& words = from.run.paper_words();
  put_sheets(section,
             draw::lay_pages(lays_to_draw(from.plans, words), words, from.measure, from.paper.room),
             from);
}

void put_template(Section& section, Making& from) {
  put_full_size(section, template_pages(from.run, part_of_packet(from, false)), from);
}

void put_cards(Section& section, Making& from) {
  put_full_size(section, mask_pages(from.run, part_of_packet(from, true)), from);
}

void put_iron_trial(Section& section, Making& from) {
  const Run& run = from.run;
  put_sheets(section,
             draw::iron_trial(draw::iron_trial_of(run.pouch(), run.settings().iron), run.icons(),
                              run.paper_words(), from.measure, from.paper.room),
             from);
}

void put_steps(Section& section, Making& from) {
  const Run& run = from.run;
  put_sheets(section,
             draw::steps_sheet(run.pouch(),
                               {.room = from.paper.room, .facts = step_facts(run, from.sewing)},
                               run.icons(), run.paper_words(), from.measure),
             from);
}

void put_work_plan(Section& section, Making& from) {
  from.work = work_plan(from.run, from.plans, from.sewing);
  if (!from.work) return;
  put_sheets(section, schedule_drawings(from.run, *from.work, from.paper.room, ink::Breaks::pages),
             from);
}

/// Only where each has a station.
void put_station_cards(Section& section, Making& from) {
  const Run& run = from.run;
  if (!from.work) from.work = work_plan(from.run, from.plans, from.sewing);
  if (!from.work || from.work->line.keep != batch::Keep::posts) return;
  const base::Voice words = run.paper_words();
  const auto cards = tell::post_cards_said(from.work->line, from.work->plan, from.work->names,
                                           run.pouch(), step_facts(run, from.sewing), words);
  put_sheets(
      section,
      draw::post_cards(run.pouch(), cards, run.icons(), words, from.measure, from.paper.room),
      from);
}

void put_first_pouch(Section& section, Making& from) {
  put_sheets(section,
             draw::first_pouch_sheet(from.run.pouch(), from.run.paper_words(), from.measure,
                                     from.paper.room),
             from);
}

void put_leak_test(Section& section, Making& from) {
  const Run& run = from.run;
  const auto& batch = run.settings().batch;
  put_sheets(section,
             draw::leak_sheet({.pouch = &run.pouch(),
                               .pouches = batch.pouches.value,
                               .helpers = batch.helpers.value,
                               .bundle = work_table(run)->bundle,
                               .plan = sampling_of(batch),
                               .test_minutes = test_minutes(run)},
                              run.icons(), run.paper_words(), from.measure, from.paper.room),
             from);
}

void put_record_form(Section& section, Making& from) {
  const Run& run = from.run;
  const base::Voice words = run.paper_words();
  const tell::OperationWords said(run.pouch(), words);
  draw::RecordForm form{tell::title_of(run.pouch(), words), {}};
  const auto& operations = run.pouch().construction().operations;
  for (std::size_t i = 0; i < operations.size(); ++i) {
    if (!said.step(i)) continue;
    // A mouth is rolled several times.
    const std::string name = said.name(i);
    if (std::find(form.works.begin(), form.works.end(), name) == form.works.end()) {
      form.works.push_back(name);
    }
  }
  put_sheets(section, draw::record_form(form, words, from.measure, from.paper.room), from);
}

/// A card for each pouch takes one page, printed again and again; cards that were counted out by
/// the option are all drawn.
void put_home_cards(Section& section, Making& from) {
  const Run& run = from.run;
  const draw::HomeCard card{.pouch = &run.pouch(),
                            .copies = from.copies.value_or(run.settings().batch.pouches.value),
                            .repeats = from.copies ? draw::Repeats::drawn : draw::Repeats::printed};
  draw::HomeCards made =
      draw::home_cards(card, run.icons(), run.paper_words(), from.measure, from.paper.room);
  section.prints = made.prints;
  put_sheets(section, std::move(made.pages), from);
}

void put_cautions(Section& section, Making& from) {
  const Run& run = from.run;
  put_sheets(section,
             draw::cautions(draw::cautions_of(run.pouch(), run.settings().sole), run.icons(),
                            run.paper_words(), from.measure, from.paper.room),
             from);
}

void put_job(Section& section, Making& from) {
  put_sheets(section, job_code_sheets(from.run, from.paper.room), from);
}

// ---- Sections that name or count the others ----

/// The sections that ask for something to be done.
std::vector<const Section*> to_do(const std::vector<Section>& sections) {
  std::vector<const Section*> all;
  for (const Section& section : sections) {
    if (section.name != "overview") all.push_back(&section);
  }
  return all;
}

/// Cloth that shrinks is washed on the day before, as its plan counts it.
base::Message shopping_task(const Run& run) {
  const pouch::Request& request = run.pouch().request;
  base::Value::List washed;
  const auto add = [&](const pouch::Material& cloth, const char* key) {
    if (cloth.is_washed_first()) washed.emplace_back(base::Message(key));
  };
  add(request.laminate, "cloth-laminate");
  if (request.outer) add(*request.outer, "cloth-outer");
  if (request.lining) add(*request.lining, "cloth-lining");
  if (washed.empty()) return "packet-do-supplies";
  return {"packet-do-supplies-wash", {{"cloths", std::move(washed)}}};
}

/// Of which cloth something is cut that all of them are cut for.
std::pair<std::string, base::Value> of_cloth(const Run& run) {
  const bool has_several = run.pouch().request.outer || run.pouch().request.lining;
  return {"of", base::Message(has_several ? "of-each-cloth" : "of-the-laminate")};
}

base::Message task_of(const Section& section, const Run& run) {
  if (section.prints > 1) return {"packet-do-home-print", {{"times", section.prints}}};
  if (section.name == "supplies") return shopping_task(run);
  std::string name = section.name;
  if (name == "iron" && run.settings().iron) name = "ironed";
  if (name == "mask") {
    if (prints_gauge_alone(run)) name = "gauge";
    const pouch::Request& request = run.pouch().request;
    if (request.card) {
      const bool is_slip = request.card->kind == pouch::CardKind::slip;
      return {"packet-do-" + name + "-own",
              {{"card", base::Message(is_slip ? "card-slip" : "card-shield")}, of_cloth(run)}};
    }
    if (request.cards != pouch::CardUse::both) name += "-card";
  }
  const std::string key = "packet-do-" + name;
  const bool single = run.settings().batch.pouches.value == 1 && run.words().has(key + "-one");
  const bool mended = pouch::mending_of(run.pouch()) != pouch::Mending::never;
  return {single ? key + "-one" : key,
          {{"failed", base::Message(mended ? "packet-mend" : "packet-set-aside")},
           {"card", tell::cards_of(run.pouch())},
           of_cloth(run)}};
}

/// Told in kSections, below.
bool serves_once(std::string_view section);

void put_overview(Section& section, Making& from) {
  const Run& run = from.run;
  const std::vector<const Section*> others = to_do(from.sections);
  std::vector<draw::OverviewTask> tasks;
  std::vector<std::string> again{section_title(section.name, run)};
  for (const Section* one : others) {
    if (serves_once(one->name)) again.push_back(section_title(one->name, run));
    tasks.push_back(overview_task(*one, run));
  }
  draw::Overview made =
      draw::overview({&run.pouch(), tell::title_of(run.pouch(), run.paper_words()),
                      run.settings().batch.pouches.value, run.settings().batch.helpers.value,
                      std::move(tasks), std::move(again), &run.icons()},
                     run.paper_words(), from.measure, from.paper.room);
  for (std::size_t i = 0; i < made.where.size(); ++i) {
    section.references.push_back({others[i]->name, made.where[i]});
  }
  put_sheets(section, std::move(made.pages), from);
}

/// The list counts all that is printed of the packet, its own pages as well.
void put_supplies(Section& section, Making& from) {
  std::size_t others = 0;
  for (const Section& one : from.sections) {
    others += one.pages.pages.size() * static_cast<std::size_t>(one.prints);
  }
  const batch::ClipNeed clips = clips_needed(from.run, from.plans, from.sewing, from.work);
  std::size_t own = 1;
  for (;;) {
    const ShoppingList list =
        shopping_list(from.run, from.plans, from.sewing, {static_cast<int>(others + own), clips});
    put_sheets(section, supplies_sheets(from.run, list, from.paper.room), from);
    if (section.pages.pages.size() <= own) return;
    own = section.pages.pages.size();
  }
}

void put_printing(Section& section, Making& from) {
  int home_prints = 0;
  for (const Section& one : from.sections) {
    if (one.name == "home") home_prints = one.prints;
  }
  put_sheets(section, printing_sheets(from.run, *from.list, home_prints, from.paper.room), from);
}

/// A section, and when it is made: later ones tell of earlier ones' pages.
/// Does a section serve the next day as well, or is it written on or given away?
enum class Serves { again, once };
struct SectionRow {
  std::string_view name;
  void (*put)(Section&, Making&);
  Serves serves = Serves::again;
  int round = 0;
};

constexpr std::array kSections = {SectionRow{"overview", put_overview, Serves::once, 1},
                                  SectionRow{"cautions", put_cautions},
                                  SectionRow{"supplies", put_supplies, Serves::once, 2},
                                  SectionRow{"iron", put_iron_trial, Serves::once},
                                  SectionRow{"template", put_template},
                                  SectionRow{"mask", put_cards},
                                  SectionRow{"steps", put_steps},
                                  SectionRow{"first", put_first_pouch},
                                  SectionRow{"checks", put_leak_test, Serves::once},
                                  SectionRow{"record", put_record_form, Serves::once},
                                  SectionRow{"schedule", put_work_plan},
                                  SectionRow{"stations", put_station_cards},
                                  SectionRow{"lay", put_cut_plan},
                                  SectionRow{"home", put_home_cards, Serves::once},
                                  SectionRow{"printing", put_printing, Serves::again, 1},
                                  SectionRow{"job", put_job}};
constexpr int kRounds = 3;

const SectionRow& row_of(std::string_view section) {
  return *std::find_if(kSections.begin(), kSections.end(),
                       [&](const SectionRow& one) { return one.name == section; });
}

bool serves_once(std::string_view section) { return row_of(section).serves == Serves::once; }

}  // namespace

draw::OverviewTask overview_task(const Section& section, const Run& run) {
  // One that is made later has no title yet.
  const std::string& title = section.pages.title;
  return {run.say(task_of(section, run)),
          run.say({"packet-where",
                   {{"section", title.empty() ? section_title(section.name, run) : title},
                    {"page", kWidestNumber}}})};
}

std::vector<std::string_view> section_names() {
  std::vector<std::string_view> names;
  for (const SectionRow& row : kSections) names.push_back(row.name);
  return names;
}

std::vector<Section> packet_sections(Run& run, const std::vector<std::string>& asked,
                                     std::optional<int> copies, std::size_t first_column) {
  Making making{run, copies, packet_paper(run), render::FontMeasure(run.fonts())};
  making.columns = first_column;
  const auto asks = [&](const char* name) {
    return std::find(asked.begin(), asked.end(), name) != asked.end();
  };
  const bool lists = asks("supplies") || asks("printing");
  const bool plans_work = asks("schedule") || asks("stations");
  if (asks("lay") || lists || plans_work) {
    making.plans = cloth_plans(run);
  }
  if (run.diagnostics().has_errors()) return {};
  if (asks("steps") || lists || plans_work) making.sewing = sewing_of(run);
  if (lists) {
    making.list = shopping_list(run, making.plans, making.sewing, {});
    warn_of(run, *making.list);
  }
  for (const std::string& name : asked) {
    if (prints_gauge_alone(run) && name == "template") continue;
    making.sections.push_back({.name = name});
  }
  for (int round = 0; round < kRounds; ++round) {
    for (Section& section : making.sections) {
      const SectionRow& row = row_of(section.name);
      if (row.round == round) row.put(section, making);
      if (run.diagnostics().has_errors()) return {};
    }
    // Where nobody keeps a station there are no cards for it.
    if (round == 0) {
      std::erase_if(making.sections, [](const Section& section) {
        return section.name == "stations" && section.pages.pages.empty();
      });
    }
  }
  return std::move(making.sections);
}

}  // namespace pouchwright::job
