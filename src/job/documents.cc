#include "job/documents.h"

#include <algorithm>
#include <memory>
#include <optional>
#include <utility>

#include "draw/full_size/cards.h"
#include "draw/full_size/gauge.h"
#include "draw/full_size/template.h"
#include "job/commands/commands.h"
#include "job/report/documents.h"
#include "paper/test_page.h"
#include "render/pdf.h"
#include "render/png.h"
#include "render/svg.h"
#include "render/text.h"

namespace pouchwright::job {

namespace fs = std::filesystem;

namespace {

constexpr double kPreviewDotsPerInch = 96;
/// Small letters can just be read, and a page of A4 fits a screen.
constexpr double kPageDotsPerInch = 84;

/// Of a page beside others, to be told from them by a glance.
constexpr double kSmallDotsPerInch = 32;

void add_small_pictures(PagePictures& made, const paper::Pages& pages, const render::Fonts& fonts) {
  for (std::size_t page = 0; page < pages.pages.size(); ++page) {
    PagePictures::Page one{pages.width, pages.height, {}};
    const auto& wanted = made.wanted;
    if (std::find(wanted.begin(), wanted.end(), made.pages.size()) != wanted.end()) {
      one.png = render::page_png(pages, page, kSmallDotsPerInch, fonts);
    }
    made.pages.push_back(std::move(one));
  }
}

Answer document(Run& run, paper::Pages pages) {
  if (run.diagnostics().has_errors()) return run.job_wrong();
  Made made{{}, {}, Made::Told::prints};
  made.report.field("documents", document_cells(pages, {pages.name + ".pdf"}));
  made.document = std::move(pages);
  return made;
}

/// The job's title and the document's.
std::string full_title(const Run& run, const paper::Pages& pages) {
  const bool has_job = !run.options().test_page && !run.pouch().request.title.empty();
  return has_job ? run.pouch().request.title + ": " + pages.title : pages.title;
}

paper::Document document_of(const Run& run, const std::string& name, const std::string& title,
                            std::vector<ink::Drawing> drawings, PartOf whole) {
  run.go_on();
  paper::Document document{name,          title,         std::move(drawings), whole.first_column,
                           whole.numbers, whole.outlines};
  for (auto& drawn : document.drawings) {
    drawn = ink::in_cutting_order(ink::from_top_left(std::move(drawn)));
  }
  return document;
}

/// In the drawings' own places: pages count from the top left of each.
ink::Joins joins_between(const paper::Pages& pages, const std::vector<ink::Drawing>& drawn) {
  ink::Joins joins;
  for (std::size_t k = 0; k < drawn.size(); ++k) {
    for (const ink::Box& join : paper::joins_of(pages, k)) {
      joins[drawn[k].name].push_back(ink::moved(join, {drawn[k].extent.x0, drawn[k].extent.y0}));
    }
  }
  return joins;
}

constexpr std::pair kNothing{0, 0};

/// Words, and arrows along the cloth.
std::pair<int, int> cut_by_joins(const paper::Pages& pages, const ink::TextMeasure& measure) {
  return {paper::words_cut(pages, measure), paper::arrows_cut(pages)};
}

/// Whatever its joins cut.
paper::Pages paged_as_it_is(Run& run, const paper::Document& document,
                            const ink::TextMeasure& measure) {
  base::Diagnostics found;
  paper::Pages pages =
      paper::paged(document, run.settings().paper, run.paper_words(), measure, found);
  // All else was reported when it was first paged.
  if (found.has_errors()) run.diagnostics().add_all(found);
  return pages;
}

std::vector<ink::Drawing> drawn_template(Run& run, const PartOf& whole, const ink::Joins& joins) {
  const render::FontMeasure measure(run.fonts());
  auto drawings = draw::cutting_templates(run.pouch(), run.settings().pattern, run.paper_words(),
                                          measure, joins);
  if (whole.has_gauge) {
    drawings.push_back(draw::fold_gauge(run.pouch(), run.paper_words(), measure, joins));
  }
  return drawings;
}

}  // namespace

paper::Pages paged(Run& run, const std::string& name, const std::string& title,
                   const DrawnAround& drawn, PartOf whole) {
  constexpr int kMostTimes = 5;
  // Pages that change places again and again are all kept clear of after so many times.
  constexpr int kTurnAbout = 2;
  const render::FontMeasure measure(run.fonts());
  // What is traced may take other windows for the sake of its check squares.
  const bool is_furnished = whole.outlines == paper::Outlines::traced;
  const auto are_settled = [&](const paper::Pages& bare) {
    return is_furnished || cut_by_joins(bare, measure) == kNothing;
  };
  paper::Document best;
  std::optional<std::pair<int, int>> least;  // words first
  ink::Joins joins;
  for (int time = 0; time < kMostTimes; ++time) {
    const std::vector<ink::Drawing> drawings = drawn(joins);
    paper::Document document = document_of(run, name, title, drawings, whole);
    base::Diagnostics found;
    paper::Pages pages = paper::paged(document, run.settings().paper, run.paper_words(), measure,
                                      found, are_settled);
    if (!least) run.diagnostics().add_all(found);
    // Drawn around its joins a drawing may take a page more than there may be.
    if (found.has_errors()) break;
    const std::pair cut = cut_by_joins(pages, measure);
    if (cut == kNothing) return pages;
    ink::Joins next = joins_between(pages, drawings);
    if (time >= kTurnAbout) {
      for (auto& [drawing, before] : joins) {
        next[drawing].insert(next[drawing].end(), before.begin(), before.end());
      }
    }
    joins = std::move(next);
    if (!least || cut < *least) {
      least = cut;
      best = std::move(document);
    }
  }
  return least ? paged_as_it_is(run, best, measure) : paper::Pages();
}

paper::Document template_document(Run& run, PartOf whole) {
  return document_of(run, "template", run.say({"template-document"}),
                     drawn_template(run, whole, {}), whole);
}

paper::Pages template_pages(Run& run, PartOf whole) {
  return paged(
      run, "template", run.say({"template-document"}),
      [&](const ink::Joins& joins) { return drawn_template(run, whole, joins); }, whole);
}

bool can_be_printed(Run& run, const paper::Document& document) {
  const render::FontMeasure measure(run.fonts());
  return paper::can_be_paged(document, run.settings().paper, run.paper_words(), measure,
                             run.diagnostics());
}

paper::Pages mask_pages(Run& run, PartOf whole) {
  const render::FontMeasure measure(run.fonts());
  const auto wanted = run.pouch().request.cards;
  using Use = pouch::NamedCard::Use;
  const auto drawn = [&](const ink::Joins& joins) {
    std::vector<ink::Drawing> drawings;
    const auto add = [&](Use use) {
      for (auto& card :
           draw::cards(run.pouch(), use, run.settings().sole, run.paper_words(), measure, joins)) {
        drawings.push_back(std::move(card));
      }
    };
    if (wanted != pouch::CardUse::on_top) add(Use::slip);
    if (wanted != pouch::CardUse::inside) add(Use::shield);
    if (whole.has_gauge) {
      drawings.push_back(draw::fold_gauge(run.pouch(), run.paper_words(), measure, joins));
    }
    return drawings;
  };
  whole.outlines = paper::Outlines::traced;
  return paged(run, "mask", run.say({"mask-document"}), drawn, whole);
}

std::string drawing_svg(const Run& run, const ink::Drawing& drawn) {
  const auto& lines = run.options().lines == Lines::all
                          ? drawn
                          : ink::only(drawn, {ink::Group::cut, ink::Group::fold});
  return render::canvas_svg(lines, {drawn.title, run.say({"svg-note"})}, run.outliner());
}

bool are_shown(const Run& run, std::span<const paper::Pages> documents) {
  if (run.options().shown != Shown::pages) return false;
  for (const paper::Pages& pages : documents) {
    add_small_pictures(*run.options().page_pictures, pages, run.fonts());
  }
  return true;
}

void add_document(OutputFiles& files, const paper::Pages& made, const fs::path& folder,
                  const std::shared_ptr<const Run>& run) {
  const auto pages = std::make_shared<const paper::Pages>(made);
  const std::string title = full_title(*run, *pages);
  files.add(folder / (pages->name + ".pdf"), [run, pages, title] {
    if (are_shown(*run, {pages.get(), 1})) return std::string();
    return render::to_pdf(*pages, {.title = title}, run->fonts());
  });
  for (const ink::Drawing& drawn : pages->drawings) {
    files.add(folder / (drawn.name + ".svg"),
              [run, pages, &drawn] { return drawing_svg(*run, drawn); });
    if (run->options().previews == Previews::none) continue;
    files.add(folder / (drawn.name + ".png"), [run, pages, &drawn] {
      return render::canvas_png(drawn, kPreviewDotsPerInch, run->fonts());
    });
  }
  for (std::size_t page = 0; page < pages->pages.size(); ++page) {
    files.add(folder / page_file_name(*pages, page), [run, pages, page, title] {
      const render::FontMeasure measure(run->fonts());
      return render::page_svg(*pages, page, {title, run->say({"svg-note"})}, measure,
                              run->outliner());
    });
  }
}

void add_bound(const Run& run, Made& made) {
  const auto bound = std::make_shared<const Made::Bound>(*std::move(made.bound));
  made.files.add(bound->file, [&run, bound] {
    if (are_shown(run, bound->documents)) return std::string();
    return render::to_pdf(bound->documents, {.title = bound->title}, run.fonts());
  });
  if (run.options().previews == Previews::none) return;
  for (const paper::Pages& pages : bound->documents) {
    fs::path file = bound->file;
    file.replace_filename(file.stem().string() + "-" + pages.name + ".png");
    made.files.add(file, [&run, bound, &pages] {
      return render::page_png(pages, 0, kPageDotsPerInch, run.fonts());
    });
  }
}

Answer cutting_template(Run& run) { return document(run, template_pages(run)); }

Answer mask(Run& run) { return document(run, mask_pages(run)); }

/// The page is about the printer, so it needs no job: paper from --paper, else A4.
Answer printer_test(Run& run) {
  const input::PaperSize paper = run.paper();
  paper::PageSetup setup;
  setup.width = std::min(paper.width, paper.height);
  setup.height = std::max(paper.width, paper.height);
  const render::FontMeasure measure(run.fonts());
  return document(run, paper::test_page(setup, run.paper_words(), measure));
}

}  // namespace pouchwright::job
