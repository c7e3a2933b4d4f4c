#include <algorithm>
#include <array>
#include <charconv>
#include <functional>
#include <optional>
#include <string_view>
#include <utility>

#include "base/text.h"
#include "draw/sheets/cautions.h"
#include "draw/sheets/home_card.h"
#include "draw/sheets/iron_trial.h"
#include "draw/sheets/leak_test.h"
#include "draw/sheets/overview.h"
#include "draw/sheets/steps.h"
#include "job/commands/cloth_plans.h"
#include "job/commands/commands.h"
#include "job/commands/schedule.h"
#include "job/commands/supplies.h"
#include "job/documents.h"
#include "job/report/content.h"
#include "job/sheets.h"
#include "job/step_facts.h"
#include "paper/notes.h"
#include "render/pdf.h"
#include "render/png.h"
#include "render/text.h"

namespace pouchwright::job {

namespace {

using ink::Drawing;

/// The sections in order of use, as --only and --without call them.
constexpr std::array<std::string_view, 11> kSections = {
    "overview", "supplies", "lay",    "template", "mask",    "iron",
    "steps",    "schedule", "checks", "home",     "cautions"};

constexpr const char* kFile = "packet.pdf";
/// Small letters can just be read, and a page of A4 fits a screen.
constexpr double kPreviewDotsPerInch = 84;
/// What a page's foot takes of a sheet's room, mm.
constexpr double kFoot = 7;
/// Of the foot's words, below the top of a full-size page's lower margin; they need that much more.
constexpr double kFootBase = 3.4;
constexpr double kFootDescent = 1;
/// At a sheet's edge many printers leave so much white (common practice, no source).
constexpr double kUnprintable = 5;
/// As wide as a page's number can become, in front of which a line of the overview breaks.
constexpr const char* kWidestNumber = "00000";

/// Part of the packet: what its pages are, and whether they are at full size.
struct Section {
  std::string name;
  paper::Pages pages;
  bool full_size = false;
  int prints = 1;  ///< how often its pages are printed
};

// ---- What is asked for ----

std::vector<std::string> names_in(const std::string& option, const std::string& text) {
  std::vector<std::string> names;
  std::size_t from = 0;
  while (from <= text.size()) {
    const std::size_t comma = std::min(text.find(',', from), text.size());
    std::string name(base::trimmed(text.substr(from, comma - from)));
    if (std::find(kSections.begin(), kSections.end(), name) == kSections.end()) {
      throw UsageFault{{"usage-section", {{"option", option}, {"text", name.substr(0, 40)}}},
                       {{"usage-section-hint", {{"names", base::list_text(kSections)}}}}};
    }
    names.push_back(std::move(name));
    from = comma + 1;
  }
  return names;
}

bool holds(const std::vector<std::string>& names, std::string_view name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

std::vector<std::string> asked_sections(const JobOptions& options) {
  std::vector<std::string> asked(kSections.begin(), kSections.end());
  const auto keep = [&](const std::function<bool(const std::string&)>& kept) {
    asked.erase(std::remove_if(asked.begin(), asked.end(),
                               [&](const std::string& name) { return !kept(name); }),
                asked.end());
  };
  if (options.only) {
    const auto names = names_in("--only", *options.only);
    keep([&](const std::string& name) { return holds(names, name); });
  }
  if (options.without) {
    const auto names = names_in("--without", *options.without);
    keep([&](const std::string& name) { return !holds(names, name); });
  }
  if (asked.empty()) throw UsageFault{{"usage-no-section"}, {{"usage-no-section-hint"}}};
  return asked;
}

/// As many as --copies says; nothing where it is not given.
std::optional<int> copies(const Run& run) {
  const auto& text = run.options().copies;
  if (!text) return std::nullopt;
  int number = 0;
  const auto [end, fault] = std::from_chars(text->data(), text->data() + text->size(), number);
  const bool whole = fault == std::errc() && end == text->data() + text->size();
  if (whole && number >= 1 && number <= batch::kMostPouches) return number;
  throw UsageFault{{"usage-option", {{"option", "--copies"}, {"text", text->substr(0, 40)}}},
                   {{"usage-copies-hint", {{"most", batch::kMostPouches}}}}};
}

std::string out_file(const Run& run) {
  const std::string& out = run.options().out;
  if (out.empty()) return kFile;
  if (std::filesystem::path(out).extension() == ".pdf") return out;
  throw UsageFault{{"usage-out-no-pdf", {{"text", out}}}, {{"usage-out-no-pdf-hint"}}};
}

// ---- The sections ----

class Packet {
 public:
  Packet(Run& run, std::vector<std::string> asked, std::optional<int> copies)
      : run_(run),
        asked_(std::move(asked)),
        copies_(copies),
        measure_(run.fonts()),
        paper_(sheet_paper(run.settings().paper)) {
    paper_.room.y -= kFoot;
  }

  /// First what tells of no other section's pages, then what names or counts them; numbers last.
  /// False after errors.
  bool make() {
    if (asks("lay") || asks("supplies") || asks("schedule")) {
      plans_ = cloth_plans(run_.pouch(), run_.settings(), run_.diagnostics());
    }
    if (has_failed()) return false;
    if (asks("steps") || asks("supplies") || asks("schedule")) sewing_ = sewing_of(run_);
    for (const std::string& name : asked_) sections_.push_back({name, {}});
    for (Section& section : sections_) {
      if (section.name != "overview" && section.name != "supplies") make(section);
      if (has_failed()) return false;
    }
    if (Section* found = section_of("overview")) put_overview(*found);
    if (Section* found = section_of("supplies")) put_supplies(*found);
    number_pages();
    return true;
  }

  [[nodiscard]] std::vector<paper::Pages> documents() const {
    std::vector<paper::Pages> all;
    for (const Section& section : sections_) all.push_back(section.pages);
    return all;
  }

  /// A picture of each section's first page, beside the packet and named after both.
  void add_previews(OutputFiles& files, const std::string& packet_file) const {
    std::filesystem::path file = packet_file;
    const std::string stem = file.stem().string();
    for (const Section& section : sections_) {
      file.replace_filename(stem + "-" + section.name + ".png");
      files.add(file, render::page_png(section.pages, 0, kPreviewDotsPerInch, run_.fonts()));
    }
  }

  [[nodiscard]] Json report(const std::string& pdf) const {
    Json made;
    made["sections"] = Json::array();
    made["documents"] = Json::array();
    std::size_t before = 0;
    for (const Section& section : sections_) {
      made["sections"].push_back({{"name", section.name},
                                  {"title", section.pages.title},
                                  {"first_page", before + 1},
                                  {"pages", section.pages.pages.size()},
                                  {"prints", section.prints}});
      if (section.full_size) add_documents(made["documents"], section, before, pdf);
      before += section.pages.pages.size();
    }
    return made;
  }

 private:
  [[nodiscard]] bool asks(std::string_view name) const { return holds(asked_, name); }
  [[nodiscard]] bool has_failed() const { return run_.diagnostics().has_errors(); }
  [[nodiscard]] std::string title_of(const std::string& name) const {
    return run_.say({"packet-section-" + name});
  }

  Section* section_of(std::string_view name) {
    const auto found = std::find_if(sections_.begin(), sections_.end(),
                                    [&](const Section& one) { return one.name == name; });
    return found == sections_.end() ? nullptr : &*found;
  }

  /// Where a document's pages lie in the packet; no page has an SVG file of its own.
  static void add_documents(Json& all, const Section& section, std::size_t before,
                            const std::string& pdf) {
    for (Json& document : documents_report(section.pages, pdf)) {
      document["svg"] = nullptr;
      for (Json& page : document["pages"]) {
        page["page"] = page["page"].get<std::size_t>() + before;
        page["svg"] = nullptr;
      }
      all.push_back(std::move(document));
    }
  }

  void put_sheets(Section& section, std::vector<Drawing> drawings) {
    section.pages = sheets(section.name, std::move(drawings), paper_);
    section.pages.title = title_of(section.name);
  }

  void put_full_size(Section& section, paper::Pages pages) {
    section.pages = std::move(pages);
    section.pages.title = title_of(section.name);
    section.full_size = true;
    columns_ += paper::columns_of(section.pages);
  }

  /// The packet counts all its pages: a second number on one is one too many.
  [[nodiscard]] PartOf part_of_packet() const { return {columns_, paper::PageNumbers::none}; }

  void make(Section& section) {
    const auto& words = run_.words();
    const auto& pouch = run_.pouch();
    const auto& settings = run_.settings();
    const ink::Point room = paper_.room;
    if (section.name == "lay") {
      put_sheets(section, draw::lay_pages(lays_to_draw(plans_, words), words, measure_, room));
    } else if (section.name == "template") {
      put_full_size(section, template_pages(run_, part_of_packet()));
    } else if (section.name == "mask") {
      put_full_size(section, mask_pages(run_, part_of_packet()));
    } else if (section.name == "iron") {
      put_sheets(section, draw::iron_trial(draw::iron_trial_of(pouch, settings.iron), run_.icons(),
                                           words, measure_, room));
    } else if (section.name == "steps") {
      put_sheets(section,
                 draw::steps_sheet(pouch, {.room = room, .facts = step_facts(run_, sewing_)},
                                   run_.icons(), words, measure_));
    } else if (section.name == "schedule") {
      const auto made = work_plan(run_, plans_, sewing_);
      if (!made) return;
      put_sheets(section, schedule_drawings(run_, *made, room, ink::Breaks::pages));
    } else if (section.name == "checks") {
      put_sheets(section, draw::leak_sheet({.pouch = &pouch,
                                            .pouches = settings.batch.pouches.value,
                                            .helpers = settings.batch.helpers.value,
                                            .plan = sampling_of(settings.batch),
                                            .test_minutes = test_minutes(run_)},
                                           words, measure_, room));
    } else if (section.name == "home") {
      put_home_cards(section);
    } else {
      put_sheets(section, draw::cautions(words, measure_, room));
    }
  }

  /// A card for each pouch takes one page, printed again and again; cards that were counted out by
  /// the option are all drawn.
  void put_home_cards(Section& section) {
    const draw::HomeCard card{.pouch = &run_.pouch(),
                              .copies = copies_.value_or(run_.settings().batch.pouches.value),
                              .repeats = copies_ ? draw::Repeats::drawn : draw::Repeats::printed};
    draw::HomeCards made =
        draw::home_cards(card, run_.icons(), run_.words(), measure_, paper_.room);
    section.prints = made.prints;
    put_sheets(section, std::move(made.pages));
  }

  /// Sheets of paper that the packet takes.
  [[nodiscard]] std::size_t print_count() const {
    std::size_t count = 0;
    for (const Section& section : sections_) {
      count += section.pages.pages.size() * static_cast<std::size_t>(section.prints);
    }
    return count;
  }

  [[nodiscard]] std::size_t page_count() const {
    std::size_t count = 0;
    for (const Section& section : sections_) count += section.pages.pages.size();
    return count;
  }

  /// The list counts all that is printed of the packet, its own pages as well.
  void put_supplies(Section& section) {
    const std::size_t others = print_count();
    std::size_t own = 1;
    for (;;) {
      const ShoppingList list =
          shopping_list(run_, plans_, sewing_, static_cast<int>(others + own));
      put_sheets(section, supplies_sheets(run_, list, paper_.room));
      if (section.pages.pages.size() <= own) return;
      own = section.pages.pages.size();
    }
  }

  [[nodiscard]] std::string title() const {
    const std::string& title = run_.settings().request.title;
    return title.empty() ? run_.say({"drawing-untitled"}) : title;
  }

  /// The sections that ask for something to be done. The cautions come first: they are read before
  /// anything else is done, though they lie at the end.
  [[nodiscard]] std::vector<const Section*> to_do() const {
    std::vector<const Section*> all;
    for (const Section& section : sections_) {
      if (section.name == "overview") continue;
      all.insert(section.name == "cautions" ? all.begin() : all.end(), &section);
    }
    return all;
  }

  [[nodiscard]] std::string where(const Section& section, const std::string& page) const {
    return run_.say({"packet-where", {{"section", title_of(section.name)}, {"page", page}}});
  }

  [[nodiscard]] base::Message task_of(const Section& section) const {
    const std::string& name = section.name;
    if (section.prints > 1) {
      return {"packet-do-home-print", {{"times", section.prints}}};
    }
    const std::string key =
        "packet-do-" + (name == "iron" && run_.settings().iron ? "ironed" : name);
    const bool single = run_.settings().batch.pouches.value == 1 && run_.words().has(key + "-one");
    return single ? key + "-one" : key;
  }

  void put_overview(Section& section) {
    const auto& capacity = run_.pouch().capacity;
    std::vector<draw::OverviewTask> tasks;
    for (const Section* one : to_do()) {
      tasks.push_back({run_.say(task_of(*one)), where(*one, kWidestNumber)});
    }
    const draw::OverviewSheet sheet{&run_.pouch(),
                                    title(),
                                    capacity ? shown(*capacity, run_.words()) : std::string(),
                                    run_.settings().batch.pouches.value,
                                    run_.settings().batch.helpers.value,
                                    std::move(tasks)};
    draw::Overview made = draw::overview(sheet, run_.words(), measure_, paper_.room);
    references_ = std::move(made.where);
    put_sheets(section, std::move(made.pages));
  }

  /// Each line of the overview's list names the first page of its section.
  void refer(Section& overview) {
    const std::vector<const Section*> sections = to_do();
    for (std::size_t i = 0; i < references_.size(); ++i) {
      ink::Drawing& page = overview.pages.drawings[references_[i].page];
      std::get<ink::Text>(page.items[references_[i].item]).words =
          where(*sections[i], sections[i]->pages.pages.front().label);
    }
  }

  void number_pages() {
    const std::size_t count = page_count();
    std::size_t number = 0;
    for (Section& section : sections_) {
      const bool in_margin = !section.full_size || margin_has_room();
      std::optional<paper::Notes> notes;
      if (!in_margin) notes.emplace(section.pages, printable(section), measure_);
      for (std::size_t i = 0; i < section.pages.pages.size(); ++i) {
        paper::Page& page = section.pages.pages[i];
        page.label = std::to_string(++number);
        const std::string of_all =
            run_.say({"packet-page", {{"page", page.label}, {"pages", count}}});
        if (in_margin) {
          add_foot(section, page, of_all);
        } else {
          add_notes(section, *notes, i, of_all);
        }
      }
    }
    if (Section* overview = section_of("overview")) refer(*overview);
  }

  /// Is there a line of words between the drawing and the edge that printers leave white?
  [[nodiscard]] bool margin_has_room() const {
    return run_.settings().paper.margins.bottom.in_mm() >= kFootBase + kFootDescent + kUnprintable;
  }

  [[nodiscard]] ink::Box printable(const Section& section) const {
    const auto& margins = run_.settings().paper.margins;
    return {margins.left.in_mm(), margins.top.in_mm(), section.pages.width - margins.right.in_mm(),
            section.pages.height - margins.bottom.in_mm()};
  }

  [[nodiscard]] std::string what_it_is(const Section& section) const {
    return run_.say({section.full_size ? "packet-full-size" : "packet-not-full-size",
                     {{"section", section.pages.title}}});
  }

  /// On the left what the page is, on the right its number. Full-size pages have it in the lower
  /// margin, since all else is the drawing's.
  void add_foot(const Section& section, paper::Page& page, const std::string& number) const {
    const ink::Box room = printable(section);
    const double left = section.full_size ? room.x0 : paper_.at.x;
    const double right = section.full_size ? room.x1 : paper_.at.x + paper_.room.x;
    const double base = section.full_size ? room.y1 + kFootBase
                                          : paper_.at.y + paper_.room.y + kFoot - kFootDescent;
    page.furniture.emplace_back(
        ink::Text{.words = what_it_is(section), .at = {left, base}, .size = ink::kSmallestSize});
    page.furniture.emplace_back(ink::Text{.words = number,
                                          .at = {right, base},
                                          .size = ink::kSmallestSize,
                                          .anchor = ink::Anchor::end});
  }

  /// The same over a full-size page's drawing, where it has room.
  void add_notes(const Section& section, paper::Notes& notes, std::size_t page,
                 const std::string& number) const {
    const ink::Box room = printable(section);
    notes.add(page, number, {room.x1, room.y1});
    notes.add(page, what_it_is(section), {room.x0, room.y1});
  }

  Run& run_;
  std::vector<std::string> asked_;
  std::optional<int> copies_;  ///< of going-home cards, drawn one by one
  render::PangoMeasure measure_;
  SheetPaper paper_;
  std::vector<ClothPlan> plans_;
  Sewing sewing_;
  std::vector<Section> sections_;
  std::vector<ink::ItemIndex> references_;  ///< of the overview's tasks
  std::size_t columns_ = 0;  ///< of full-size pages so far: cells are unique in the file
};

}  // namespace

Outcome packet(Run& run) {
  const std::string file = out_file(run);
  Packet packet(run, asked_sections(run.options()), copies(run));
  if (!packet.make()) return run.job_wrong();
  const std::string& named = run.settings().request.title;
  const std::string title =
      run.say({"packet-title", {{"title", named.empty() ? run.say({"drawing-untitled"}) : named}}});
  OutputFiles files;
  files.add(file, render::to_pdf(packet.documents(), {.title = title}, run.fonts()));
  if (run.options().previews == Previews::png) packet.add_previews(files, file);
  run.write(files);
  std::string text = run.written();
  if (!text.empty()) text += run.say({"note-print"}) + "\n";
  return run.done(packet.report(std::filesystem::path(file).filename().string()), text);
}

}  // namespace pouchwright::job
