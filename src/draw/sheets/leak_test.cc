#include "draw/sheets/leak_test.h"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "base/number.h"
#include "draw/full_size/template_words.h"
#include "draw/sheets/leak_boxes.h"
#include "draw/sheets/leak_picture.h"
#include "draw/sheets/test_scenes.h"
#include "ink/flow.h"
#include "ink/labels.h"
#include "ink/sentences.h"
#include "pouch/questions.h"
#include "tell/fill.h"
#include "tell/leak_test.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

using base::Length;

/// US fluid ounce: NIST SP 811, appendix B (from memory).
constexpr double kMlPerFluidOunce = 29.57353;
constexpr Point kPictureRoom{2 * kTestSceneWidth + 2, 56};

class LeakPages {
 public:
  LeakPages(const LeakSheet& sheet, const Icons& icons, const base::Voice& words,
            const TextMeasure& measure, Point room)
      : sheet_(sheet),
        icons_(icons),
        pouch_(*sheet.pouch),
        mouth_(mouth_of(pouch_)),
        fill_(tell::fill_read(*sheet.pouch, words)),
        words_(words),
        measure_(measure),
        pages_("leak-test", words.say({"leak-title", {{"title", tell::title_of(pouch_, words)}}}),
               room, TextPages::Columns::one, measure) {}

  std::vector<Drawing> drawn() {
    if (fill_.test_level <= Length()) {
      pages_.add({strong(words_.say("leak-no-water-line")),
                  text_paragraph(words_.say("leak-no-water-line-hint"))});
      return pages_.finished();
    }
    add_test();
    add_strip();
    pages_.add_in_columns(failure());
    boxes();
    return pages_.finished();
  }

 private:
  [[nodiscard]] std::string shown(Length length) const {
    return kept_together(words_.text(length));
  }

  // ---- How to test -----------------------------------------------------------------------------

  [[nodiscard]] std::string fill_words() const {
    const std::string level = shown(fill_.test_level);
    // Flat and wide bags: the formula has nothing to say there.
    if (fill_.test_ml <= 0) return words_.say({"leak-fill-level", {{"level", level}}});
    const base::Number amount = base::figures(fill_.test_ml, 2);
    if (words_.unit() == base::Unit::mm) {
      return words_.say({"leak-fill", {{"level", level}, {"millilitres", amount}}});
    }
    return words_.say({"leak-fill-ounces",
                       {{"level", level},
                        {"millilitres", amount},
                        {"ounces", base::figures(fill_.test_ml / kMlPerFluidOunce, 2)}}});
  }

  [[nodiscard]] Paragraphs failure() const {
    Paragraphs made{heading(words_.say("leak-failed"))};
    for (const tell::Sentences& one : tell::leak_failure(pouch_, words_)) {
      for (const base::Message& sentence : one) {
        made.push_back(point(kept_words({sentence}, words_)));
      }
    }
    return made;
  }

  [[nodiscard]] Paragraphs instructions() const {
    Paragraphs made{text_paragraph(kept_words(tell::leak_order(pouch_, words_), words_)),
                    strong(words_.say("leak-water-away")),
                    text_paragraph(words_.say("leak-water-clean"))};
    const std::string pockets = tell::wet_pockets(pouch_, words_);
    if (!pockets.empty()) {
      made.push_back(strong(words_.say({"leak-pocket", {{"pockets", pockets}}})));
    }
    if (mouth_ == Mouth::turned_back) made.push_back(step(words_.say("leak-turn-back")));
    if (mouth_ == Mouth::held_back) made.push_back(step(words_.say("leak-hold-back")));
    for (std::string& words : std::vector{
             fill_words(), words_.say({"leak-read", {{"level", shown(fill_.test_level)}}}),
             words_.say("leak-upright"),
             words_.say(hangs_while_waiting(pouch_, fill_) ? "leak-hang" : "leak-stand") + " " +
                 words_.say({"leak-wait", {{"minutes", base::shortened(sheet_.test_minutes, 1)}}}),
             words_.say("leak-look"), words_.say("leak-dry")}) {
      made.push_back(step(std::move(words)));
    }
    return made;
  }

  /// The last steps run on below the pictures, at full width.
  void add_test() {
    constexpr int kBelow = 2;
    const Paragraphs all = instructions();
    const auto below = all.end() - kBelow;
    pages_.add_beside({all.begin(), below}, pictures());
    pages_.add({below, all.end()});
  }

  /// The pouch, and below it filling, reading and waiting, each under the numbers of its steps.
  [[nodiscard]] Frame pictures() const {
    constexpr double kNumbers = 4;
    const int before = mouth_ == Mouth::open ? 0 : 1;
    const std::string fill = before == 0 ? "1" : "1, 2";
    const std::pair<TestScene, std::string> shown[] = {
        {TestScene::fill, fill},
        {TestScene::read, std::to_string(before + 2)},
        {hangs_while_waiting(pouch_, fill_) ? TestScene::wait_hung : TestScene::wait_stood,
         std::to_string(before + 4)}};
    Frame made = leak_picture(pouch_, kPictureRoom, words_, measure_);
    made.box.x1 = kPictureRoom.x;
    const double second = made.box.x1 - kTestSceneWidth;
    Point at{second, 0};
    for (const auto& [scene, numbers] : shown) {
      at = at.x > 0 ? Point{0, made.box.y1 + kPictureGap} : Point{second, at.y};
      made.write(numbers, {at.x, at.y + kNumbers - 1}, Anchor::start, Weight::bold, kLabelSize);
      std::get<Text>(made.items.back()).role = Role::none;
      made.place(test_picture(icons_, scene, mouth_), {at.x, at.y + kNumbers});
      made.box.y1 = at.y + kNumbers + kTestSceneHeight;
    }
    return made;
  }

  void add_strip() {
    const std::string level = shown(fill_.test_level);
    const auto strip = dip_strip(fill_.test_level, pages_.width(), words_, measure_);
    pages_.add({text_paragraph(
        words_.say({strip ? "leak-strip" : "leak-strip-own", {{"level", level}}}))});
    if (strip) pages_.add(*strip);
  }

  // ---- Which pouches ---------------------------------------------------------------------------

  [[nodiscard]] base::Number percent(double chance) const { return base::fixed(chance * 100, 0); }

  /// What a sample can miss, with one pouch in twenty leaking.
  [[nodiscard]] Paragraph missed(int sample, int accept) const {
    const int bad = std::max(1, (sheet_.pouches + 10) / 20);
    const double chance = batch::passes_of_lot(sheet_.pouches, bad, sample, accept);
    return text_paragraph(
        words_.say({bad == 1 ? "leak-sample-misses-one" : "leak-sample-misses",
                    {{"bad", bad}, {"pouches", sheet_.pouches}, {"percent", percent(chance)}}}));
  }

  [[nodiscard]] Paragraphs which() const {
    Paragraphs made{heading(words_.say("leak-which"))};
    if (sheet_.plan) {
      planned(made);
      return made;
    }
    const batch::Testing usual = batch::usual_testing(sheet_.pouches, sheet_.helpers);
    if (usual.every) {
      made.push_back(text_paragraph(
          sheet_.pouches == 1 ? words_.say("leak-test-the-one")
                              : words_.say({"leak-test-every", {{"pouches", sheet_.pouches}}})));
      return made;
    }
    made.push_back(text_paragraph(words_.say(
        {"leak-test-some",
         {{"pouches", sheet_.pouches}, {"helpers", usual.first_ones}, {"sample", usual.sample}}})));
    if (usual.sample > 0) made.push_back(missed(usual.sample, 0));
    return made;
  }

  void planned(Paragraphs& made) const {
    const batch::SamplingPlan& plan = *sheet_.plan;
    const base::Message::Values values = {{"pouches", plan.lot},
                                          {"limit", base::shortened(plan.limit, 2)},
                                          {"letter", std::string(1, plan.letter)},
                                          {"sample", plan.sample},
                                          {"accept", plan.accept},
                                          {"refuse", plan.refuse}};
    if (plan.test_all) {
      made.push_back(text_paragraph(words_.say({"leak-plan-all", values})));
      return;
    }
    made.push_back(text_paragraph(words_.say({"leak-plan", values})));
    made.push_back(text_paragraph(
        words_.say({plan.accept == 0 ? "leak-plan-none" : "leak-plan-some", values})));
    made.push_back(missed(plan.sample, plan.accept));
  }

  // ---- Boxes to tick ---------------------------------------------------------------------------

  /// The number, and for a sample's first ones whose they are.
  [[nodiscard]] std::string name_of(int index) const {
    if (!sheet_.plan) {
      const batch::Testing usual = batch::usual_testing(sheet_.pouches, sheet_.helpers);
      if (index < usual.first_ones) {
        return words_.say({"leak-first-of", {{"number", index + 1}}});
      }
      return std::to_string(index - usual.first_ones + 1);
    }
    return std::to_string(index + 1);
  }

  /// Where every pouch has a box, its number tells the bundle.
  [[nodiscard]] std::string numbering() const {
    const std::string slip = words_.say({"leak-number", {{"bundle", sheet_.bundle}}});
    const bool all_tested = pouches_to_test(sheet_) == sheet_.pouches;
    if (!all_tested || sheet_.bundle < 2 || sheet_.bundle >= sheet_.pouches) return slip;
    return slip + " " +
           words_.say({"leak-bundles",
                       {{"bundle", sheet_.bundle},
                        {"next", sheet_.bundle + 1},
                        {"end", std::min(2 * sheet_.bundle, sheet_.pouches)}}});
  }

  void boxes() {
    std::vector<std::string> names;
    for (int i = 0; i < pouches_to_test(sheet_); ++i) names.push_back(name_of(i));
    Paragraphs told = which();
    told.push_back(heading(words_.say("leak-boxes")));
    if (sheet_.pouches > 1) told.push_back(text_paragraph(numbering()));
    add_boxes(pages_, names, told, words_, measure_);
    if (pouch::mending_of(pouch_) != pouch::Mending::never) {
      add_boxes_again(pages_, words_, measure_);
    }
  }

  const LeakSheet& sheet_;
  const Icons& icons_;
  const pouch::Pouch& pouch_;
  Mouth mouth_;
  pouch::Fill fill_;
  base::Voice words_;
  const TextMeasure& measure_;
  TextPages pages_;
};

}  // namespace

int pouches_to_test(const LeakSheet& sheet) {
  if (sheet.plan) return sheet.plan->test_all ? sheet.plan->lot : sheet.plan->sample;
  const batch::Testing usual = batch::usual_testing(sheet.pouches, sheet.helpers);
  return usual.every ? sheet.pouches : usual.first_ones + usual.sample;
}

std::vector<Drawing> leak_sheet(const LeakSheet& sheet, const Icons& icons,
                                const base::Voice& words, const TextMeasure& measure, Point room) {
  return LeakPages(sheet, icons, words, measure, room).drawn();
}

}  // namespace pouchwright::draw
