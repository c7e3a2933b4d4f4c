#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

#include "draw/sheets/cautions.h"
#include "draw/sheets/cut_plan.h"
#include "draw/sheets/day_overview.h"
#include "draw/sheets/iron_trial.h"
#include "draw/sheets/post_cards.h"
#include "draw/sheets/record_form.h"
#include "job/commands/cloth_plans.h"
#include "job/commands/packet_sections.h"
#include "job/commands/printing.h"
#include "job/commands/schedule.h"
#include "job/commands/supplies.h"
#include "job/step_facts.h"
#include "render/text.h"
#include "tell/operations.h"
#include "tell/post_cards.h"

namespace pouchwright::job {

namespace {

constexpr const char* kDay = "day";
constexpr const char* kWidestNumber = "00000";

/// What each job has for itself, in order of use: its overview first, which its others stand behind.
constexpr std::array<std::string_view, 7> kOwn = {"overview", "template", "mask", "steps",
                                                  "first",    "checks",   "home"};
/// Of these, what another print of the same pouch has for itself.
constexpr std::array<std::string_view, 3> kOwnOfPrint = {"overview", "checks", "home"};
/// What the day has once, behind its own overview.
constexpr std::array<std::string_view, 8> kCommon = {"cautions", "supplies", "iron",   "schedule",
                                                     "stations", "lay",      "record", "printing"};

bool holds(const std::vector<std::string>& names, std::string_view name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

class DayPacket {
 public:
  DayPacket(Run& run, const Day& day, const std::vector<std::string>& asked,
            std::optional<int> copies)
      : run_(run),
        day_(day),
        first_(*day.makes.front().run),
        asked_(asked),
        copies_(copies),
        paper_(packet_paper(first_)),
        measure_(first_.fonts()) {}

  /// Fails: no sections after an error.
  std::vector<Section> made() {
    if (needs_plans()) {
      plans_ = cloth_plans(run_, day_);
      if (run_.diagnostics().has_errors()) return {};
    }
    add_own();
    for (const std::string_view name : kCommon) {
      if (holds(asked_, name)) common_.push_back({.name = std::string(name)});
    }
    for (Section& section : common_) put(section);
    std::erase_if(common_, [](const Section& one) {
      return one.name == "stations" && one.pages.pages.empty();
    });
    if (has_failed()) return {};
    if (holds(asked_, "overview")) add_overview();
    count_pages();
    if (has_failed()) return {};
    for (Section& one : own_) common_.push_back(std::move(one));
    return std::move(common_);
  }

 private:
  [[nodiscard]] bool needs_plans() const {
    return holds(asked_, "lay") || holds(asked_, "supplies") || holds(asked_, "printing") ||
           holds(asked_, "schedule") || holds(asked_, "stations");
  }

  bool has_failed() {
    for (const DayMake& make : day_.makes) run_.take(*make.run);
    return run_.diagnostics().has_errors();
  }

  [[nodiscard]] std::string title_of(const Section& section) const {
    return run_.say({"packet-section-" + section.name});
  }

  void put_sheets(Section& section, std::vector<ink::Drawing> drawings) const {
    section.pages = sheets(section.name, std::move(drawings), paper_);
    section.pages.title = title_of(section);
  }

  // ---- Each job's own --------------------------------------------------------------------------

  void add_own() {
    std::size_t columns = 0;
    for (const DayMake& make : day_.makes) {
      std::vector<std::string> names;
      for (const std::string_view name : kOwn) {
        const bool is_own = !make.as || std::find(kOwnOfPrint.begin(), kOwnOfPrint.end(), name) !=
                                            kOwnOfPrint.end();
        if (is_own && holds(asked_, name)) names.emplace_back(name);
      }
      if (names.empty()) continue;
      for (Section& section : packet_sections(*make.run, names, copies_, columns)) {
        if (section.full_size) columns += paper::columns_of(section.pages);
        own_.push_back(of_make(std::move(section), make));
      }
    }
  }

  /// Told apart from the same section of another job, on paper and in a report.
  [[nodiscard]] Section of_make(Section section, const DayMake& make) const {
    section.make = make.title;
    section.name = make.folder + section.name;
    for (Section::Reference& one : section.references) one.section = make.folder + one.section;
    section.pages.name = make.folder.substr(0, make.folder.size() - 1) + "-" + section.pages.name;
    section.pages.title =
        run_.say({"day-section", {{"title", make.title}, {"section", section.pages.title}}});
    return section;
  }

  // ---- What they have in common ----------------------------------------------------------------

  void put(Section& section) {
    if (section.name == "cautions") put_cautions(section);
    if (section.name == "iron") put_iron_trial(section);
    if (section.name == "schedule") put_work_plan(section);
    if (section.name == "stations") put_station_cards(section);
    if (section.name == "lay") put_cut_plan(section);
    if (section.name == "record") put_record_form(section);
  }

  void put_cautions(Section& section) const {
    draw::CautionsSheet all = draw::cautions_of(first_.pouch(), first_.settings().sole);
    for (const DayMake& make : day_.makes) {
      draw::CautionsSheet one = draw::cautions_of(make.run->pouch(), make.run->settings().sole);
      all.has_place_to_hold = all.has_place_to_hold && one.has_place_to_hold;
      if (!all.request.outer && one.request.outer) all.request = std::move(one.request);
    }
    put_sheets(section,
               draw::cautions(all, run_.icons(), first_.paper_words(), measure_, paper_.room));
  }

  /// One for each laminate.
  void put_iron_trial(Section& section) const {
    std::vector<ink::Drawing> drawings;
    std::vector<std::string> laminates;
    for (const DayMake& make : day_.makes) {
      const std::string& name = make.run->pouch().request.laminate.name;
      if (holds(laminates, name)) continue;
      laminates.push_back(name);
      for (ink::Drawing& one :
           draw::iron_trial(draw::iron_trial_of(make.run->pouch(), make.run->settings().iron),
                            run_.icons(), first_.paper_words(), measure_, paper_.room)) {
        drawings.push_back(std::move(one));
      }
    }
    put_sheets(section, std::move(drawings));
  }

  /// Fails: no pages after an error.
  bool plan_work() {
    if (!work_) work_ = work_plan(run_, day_, plans_);
    return work_.has_value();
  }

  void put_work_plan(Section& section) {
    if (!plan_work()) return;
    put_sheets(section, schedule_drawings(first_, *work_, paper_.room, ink::Breaks::pages));
  }

  /// For each kind of pouch those of its stations, with its own pictures.
  void put_station_cards(Section& section) {
    if (!plan_work() || work_->line.keep != batch::Keep::posts) return;
    const base::Voice words = first_.paper_words();
    std::vector<ink::Drawing> drawings;
    for (const DayMake& make : day_.makes) {
      const batch::Schedule own = kept_of(make.title);
      if (own.kept.empty()) continue;
      auto cards = tell::post_cards_said(work_->line, own, work_->names, make.run->pouch(),
                                         step_facts(*make.run, sewing_of(*make.run)), words);
      for (tell::PostCardSaid& card : cards) {
        card.title = words.say({"lay-piece-of", {{"piece", card.title}, {"make", make.title}}});
        if (card.bundles > 0) card.bundles = bundles_of(make.title);
      }
      for (ink::Drawing& one :
           draw::post_cards(make.run->pouch(), cards, run_.icons(), words, measure_, paper_.room)) {
        drawings.push_back(std::move(one));
      }
    }
    put_sheets(section, std::move(drawings));
  }

  /// The plan with only what people do to this job's bundles; what is done once for all is the first
  /// job's.
  [[nodiscard]] batch::Schedule kept_of(const std::string& make) const {
    batch::Schedule own = work_->plan;
    const bool is_first = make == day_.makes.front().title;
    for (batch::Kept& kept : own.kept) {
      std::erase_if(kept.steps, [&](std::size_t step) {
        const std::string& whose = work_->makes[step];
        return whose.empty() ? !is_first : whose != make;
      });
    }
    std::erase_if(own.kept, [](const batch::Kept& kept) { return kept.steps.empty(); });
    return own;
  }

  [[nodiscard]] std::size_t bundles_of(const std::string& make) const {
    for (std::size_t i = 0; i < work_->makes.size(); ++i) {
      const batch::Step& step = work_->line.steps[i];
      if (work_->makes[i] == make && !step.once) {
        return step.last_of(work_->line.bundles.size()) + 1 - step.from;
      }
    }
    return 0;
  }

  void put_cut_plan(Section& section) const {
    const base::Voice words = first_.paper_words();
    put_sheets(section, draw::lay_pages(lays_to_draw(plans_, words), words, measure_, paper_.room));
  }

  void put_record_form(Section& section) const {
    draw::RecordForm form{day_.title, {}, day_.titles()};
    const base::Voice words = first_.paper_words();
    for (const DayMake& make : day_.makes) {
      const pouch::Pouch& pouch = make.run->pouch();
      const tell::OperationWords said(pouch, words);
      for (std::size_t i = 0; i < pouch.construction().operations.size(); ++i) {
        if (!said.step(i)) continue;
        const std::string name = said.name(i);
        if (!holds(form.works, name)) form.works.push_back(name);
      }
    }
    put_sheets(section, draw::record_form(form, words, measure_, paper_.room));
  }

  // ---- What names or counts the others ---------------------------------------------------------

  void add_overview() {
    draw::DayOverviewSheet sheet{day_.title, first_.settings().batch.helpers.value, {}, {}};
    std::vector<std::string> makes;
    for (const DayMake& make : day_.makes) {
      const auto own = std::find_if(own_.begin(), own_.end(),
                                    [&](const Section& one) { return one.make == make.title; });
      if (own != own_.end()) makes.push_back(own->name);
      sheet.makes.push_back(
          {&make.run->pouch(), make.title, make.run->settings().batch.pouches.value,
           make.as ? run_.say({"day-make-as", {{"make", day_.makes[*make.as].title}}})
                   : std::string(),
           own == own_.end() ? std::string()
                             : run_.say({"day-make-pages", {{"page", kWidestNumber}}})});
    }
    for (const Section& one : common_) sheet.tasks.push_back(overview_task(one, first_));
    if (!own_.empty()) {
      sheet.tasks.push_back(
          {run_.say({"packet-do-makes"}),
           run_.say({"packet-where",
                     {{"section", own_.front().pages.title}, {"page", kWidestNumber}}})});
    }
    draw::DayOverview drawn =
        draw::day_overview(sheet, first_.paper_words(), measure_, paper_.room);
    Section section{.name = kDay};
    put_sheets(section, std::move(drawn.pages));
    for (std::size_t i = 0; i < makes.size(); ++i) {
      section.references.push_back({makes[i], drawn.makes[i], "day-make-pages"});
    }
    for (std::size_t i = 0; i < drawn.tasks.size(); ++i) {
      const Section& named = i < common_.size() ? common_[i] : own_.front();
      section.references.push_back({named.name, drawn.tasks[i]});
    }
    common_.insert(common_.begin(), std::move(section));
  }

  /// The list counts all that is printed, its own pages as well; the notes on printing come with it.
  void count_pages() {
    Section* list = common_section("supplies");
    Section* printing = common_section("printing");
    if (list == nullptr && printing == nullptr) return;
    const batch::ClipNeed clips = work_ ? work_->clips : clips_of_day(day_, plans_);
    int home_prints = 0;
    for (const Section& one : own_) home_prints = std::max(home_prints, one.prints);
    std::size_t own = 1;
    std::size_t of_printing = 1;
    for (;;) {
      const std::size_t pages = pages_of_others() + (list ? own : 0) + (printing ? of_printing : 0);
      const ShoppingList shopping =
          shopping_list(run_, day_, plans_, {static_cast<int>(pages), clips});
      if (list) put_sheets(*list, supplies_sheets(first_, day_, shopping, paper_.room));
      if (printing) {
        put_sheets(*printing, printing_sheets(first_, shopping, home_prints, paper_.room));
      }
      const bool is_long = list && list->pages.pages.size() > own;
      const bool is_other = printing && printing->pages.pages.size() > of_printing;
      if (!is_long && !is_other) return;
      if (list) own = std::max(own, list->pages.pages.size());
      if (printing) of_printing = std::max(of_printing, printing->pages.pages.size());
    }
  }

  [[nodiscard]] std::size_t pages_of_others() const {
    std::size_t count = 0;
    for (const auto* sections : {&common_, &own_}) {
      for (const Section& one : *sections) {
        if (one.name == "supplies" || one.name == "printing") continue;
        count += one.pages.pages.size() * static_cast<std::size_t>(one.prints);
      }
    }
    return count;
  }

  Section* common_section(std::string_view name) {
    const auto found = std::find_if(common_.begin(), common_.end(),
                                    [&](const Section& one) { return one.name == name; });
    return found == common_.end() ? nullptr : &*found;
  }

  Run& run_;
  const Day& day_;
  Run& first_;
  const std::vector<std::string>& asked_;
  std::optional<int> copies_;
  SheetPaper paper_;
  render::FontMeasure measure_;
  std::vector<ClothPlan> plans_;
  std::optional<WorkPlan> work_;
  std::vector<Section> common_, own_;
};

}  // namespace

std::vector<Section> day_sections(Run& run, const Day& day, const std::vector<std::string>& asked,
                                  std::optional<int> copies) {
  return DayPacket(run, day, asked, copies).made();
}

}  // namespace pouchwright::job
