/// A construction's TOML, named by a plain job, through folding to the drawings and their pages.
/// What is derived without errors keeps the sums and bounds that every sheet relies on.

#include <algorithm>
#include <optional>

#include "draw/full_size/cards.h"
#include "draw/full_size/template.h"
#include "fuzz/fuzz.h"
#include "input/data.h"
#include "input/job.h"
#include "paper/pages.h"
#include "pouch/pouch.h"

namespace {

using namespace pouchwright;
using base::Length;

/// Every character 0.6 em wide; real fonts would only cost time here.
class EvenMeasure final : public ink::TextMeasure {
 public:
  [[nodiscard]] ink::TextSize measure(std::string_view words, double size,
                                      ink::Weight) const override {
    return {static_cast<double>(words.size()) * 0.6 * size, 0.95 * size, 0.25 * size};
  }
};

struct Known {
  base::Words words;
  input::Library library;
  Known() {
    base::Diagnostics faults;
    words = input::read_words(fuzz::source_file("shared/words/en.toml"), faults);
    library.papers = input::read_papers(fuzz::source_file("shared/papers.toml"), faults);
    library.materials = input::read_materials(fuzz::source_file("shared/materials.toml"), faults);
    library.constructions = [] { return std::vector<std::string>{"own"}; };
    fuzz::hold(!faults.has_errors(), "the program's own data are sound");
  }
};

void hold_sums(const pouch::Pouch& pouch) {
  Length at;
  for (const pouch::Span& span : pouch.sizes.main_panel().spans) {
    fuzz::hold(span.from == at && span.to > span.from, "spans lie end to end");
    at = span.to;
  }
  fuzz::hold(at == pouch.sizes.cut_length, "spans are as long as the panel");
  for (const pouch::SealZone& zone : pouch.seal_zones) {
    fuzz::hold(zone.y.from >= Length() && zone.y.to <= pouch.sizes.cut_length &&
                   zone.x.from >= Length() && zone.x.to <= pouch.sizes.cut_width,
               "seal zones lie on the panel");
  }
  fuzz::hold(pouch.water_line() >= Length() && pouch.water_line() <= pouch.sizes.cut_length,
             "the water line is on the pouch");
}

void draw(const pouch::Pouch& pouch, const input::JobSettings& settings, const base::Words& words,
          base::Diagnostics& diagnostics) {
  const EvenMeasure measure;
  paper::Document document{
      "template",
      "Template",
      {draw::cutting_templates(pouch, draw::Pattern::whole, words, measure).front()}};
  for (const auto use : {pouch::NamedCard::Use::slip, pouch::NamedCard::Use::shield}) {
    for (auto& card : draw::cards(pouch, use, settings.sole, words, measure)) {
      document.drawings.push_back(std::move(card));
    }
  }
  for (auto& drawn : document.drawings) drawn = ink::from_top_left(std::move(drawn));
  const paper::Pages pages =
      paper::paged(document, settings.paper, {words, settings.style}, measure, diagnostics);
  fuzz::hold(pages.pages.empty() == diagnostics.has_errors(), "pages, or a fault");
}

void hold_to_rules(const std::string& construction, const std::string& job, const Known& known) {
  input::Library library = known.library;
  library.load = [&](const std::string& name) -> std::optional<input::LoadedFile> {
    if (name != "own") return std::nullopt;
    return input::LoadedFile{"patterns/own.toml", construction};
  };
  base::Diagnostics diagnostics;
  const auto settings = input::read_job({"job.toml", job}, {}, std::nullopt, library, diagnostics);
  fuzz::hold(settings.has_value() != diagnostics.has_errors(), "settings, or a fault");
  if (settings) {
    const auto pouch = pouch::derive(settings->request, diagnostics);
    fuzz::hold(pouch.has_value() || diagnostics.has_errors(), "a pouch, or a fault");
    if (pouch && !diagnostics.has_errors()) {
      hold_sums(*pouch);
      draw(*pouch, *settings, known.words, diagnostics);
    }
  }
  const base::Sources sources = {{"patterns/own.toml", construction}, {"job.toml", job}};
  for (const auto& told : diagnostics.sorted()) {
    fuzz::hold(!base::to_text(told, known.words, sources).empty(), "every fault can be told");
  }
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Known kKnown;
  const std::string construction = fuzz::text_of(data, size);
  hold_to_rules(construction, "construction = \"own\"\n", kKnown);
  hold_to_rules(construction,
                "construction = \"own\"\n[pouch]\nwidth = \"190 mm\"\ndepth = \"150 mm\"\n"
                "start_finish = \"overedge\"\nend_finish = \"turned\"\ncards = \"both\"\n",
                kKnown);
  return 0;
}
