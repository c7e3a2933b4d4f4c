#include "tell/steps.h"

#include <algorithm>
#include <iterator>
#include <utility>
#include <vector>

#include "base/length.h"
#include "base/number.h"
#include "base/text.h"
#include "pouch/judge/fill.h"
#include "pouch/questions.h"
#include "tell/attachments.h"
#include "tell/names.h"

namespace pouchwright::tell {
namespace {

using base::Length;
using pouch::Action;
using pouch::Operation;

class Speaker {
 public:
  Speaker(const pouch::Pouch& pouch, const AssemblyStep& step, const StepFacts& facts,
          const base::Voice& words)
      : pouch_(pouch), step_(step), facts_(facts), words_(words) {}

  ink::Block said() {
    if (step_.moment.to_be_marked) mark_folds();
    const auto& all = pouch_.construction().operations;
    for (const std::size_t index : step_.moment.operations) say(all[index]);
    if (step_.moment.clipped) tell("steps-clips");
    return std::move(block_);
  }

 private:
  [[nodiscard]] std::string shown(Length length) const {
    return ink::kept_together(words_.text(length));
  }
  [[nodiscard]] std::string at_most(Length length) const {
    return ink::kept_together(words_.text(base::at_most(length)));
  }
  [[nodiscard]] bool uses_slip_card() const {
    return pouch_.request.cards != pouch::CardUse::on_top;
  }
  [[nodiscard]] std::ptrdiff_t slip_cards_inside() const {
    const auto& cards = step_.moment.cards;
    return std::count_if(cards.begin(), cards.end(), [&](const pouch::LyingCard& card) {
      return pouch_.cards[card.card].use == pouch::NamedCard::Use::slip;
    });
  }
  [[nodiscard]] bool uses_shield() const { return pouch_.request.cards != pouch::CardUse::inside; }

  void head(const base::Message& message) {
    block_.push_back({.words = words_.say(message),
                      .size = ink::kLabelSize,
                      .weight = ink::Weight::bold,
                      .space_before = 1.2});
  }
  /// Sentences to one heading run on.
  void tell(const base::Message& message) {
    const bool runs_on = !block_.empty() && block_.back().weight == ink::Weight::regular;
    if (runs_on) {
      block_.back().words += " " + words_.say(message);
    } else {
      block_.push_back({.words = words_.say(message), .space_before = 0.4});
    }
  }

  void say(const Operation& operation) {
    switch (operation.action) {
      case Action::attach:
        attach();
        return;
      case Action::lay_panel:
        head({"steps-lay-panel", {{"panel", part_name(operation.panel, words_)}}});
        tell(is_lining(operation) ? "steps-lay-lining"
             : operation.film_up  ? "steps-lay-panel-film-up"
                                  : "steps-lay-panel-film-down");
        return;
      case Action::hem:
        head({"steps-hem", {{"span", span_name(operation.span, words_)}}});
        tell("steps-hem-how");
        return;
      case Action::pair:
        head("steps-pair");
        tell("steps-pair-how");
        return;
      case Action::finish:
        finish(operation);
        return;
      case Action::lay_card:
        card_head("steps-lay-card", "steps-lay-card-of", operation);
        tell(has_bottom_seam() ? "steps-lay-card-above-seam" : "steps-lay-card-how");
        return;
      case Action::fold:
        fold(operation);
        return;
      case Action::press:
        press(operation);
        return;
      case Action::take_card:
        card_head("steps-take-card", "steps-take-card-of", operation);
        tell("steps-take-card-how");
        return;
      case Action::look_inside:
        head("steps-look");
        tell("steps-look-how");
        return;
      case Action::sew:
        sew(operation);
        return;
      case Action::secure_tails:
        head("steps-tails");
        tell("steps-tails-how");
        return;
      case Action::test:
        test();
        return;
    }
  }

  [[nodiscard]] bool has_bottom_seam() const { return pouch_.construction().has_bottom_seam(); }

  /// Measured from the end that lies towards whoever marks, which is the template's upper one.
  void mark_folds() {
    const auto at = [&](const pouch::FoldLine& fold) { return shown(fold.at); };
    head("steps-mark");
    tell({"steps-mark-how",
          {{"start", span_name(end_span(pouch_.sizes.panel, pouch::Edge::start).name, words_)},
           {"folds", base::list_text(pouch_.sizes.folds, ", ", at)},
           {"notch", shown(pouch::notch_length(pouch_.sizes.seam_allowance))}}});
  }

  /// What `name_of` says of each operation of this step.
  template <class NameOf>
  [[nodiscard]] std::string of_operations(NameOf name_of) const {
    return base::list_text(step_.moment.operations, ", ", [&](std::size_t index) {
      return name_of(pouch_.construction().operations[index]);
    });
  }

  /// Attachments that share a step are named together.
  void attach() {
    if (!block_.empty()) return;
    const std::string names =
        of_operations([&](const Operation& one) { return part_name(one.attachment, words_); });
    head({"steps-attach", {{"names", names}}});
    for (const base::Message& message : attach_words(pouch_, step_.moment, words_)) tell(message);
  }

  [[nodiscard]] bool is_lining(const Operation& operation) const {
    const pouch::PanelRule* panel = pouch_.construction().panel(operation.panel);
    return panel != nullptr && panel->cloth == pouch::ClothKind::lining;
  }

  /// Finishes that share a step are said once.
  void finish(const Operation& operation) {
    if (!block_.empty()) return;
    const std::string ends =
        of_operations([&](const Operation& one) { return end_name(pouch_, one, words_); });
    const bool turned = finish_of(pouch_.request, operation).kind == pouch::FinishKind::turned;
    head({turned ? "steps-turned" : "steps-overedge", {{"ends", ends}}});
    if (turned) tell("steps-turned-how");
    stitch(operation, turned ? batch::SeamEnds::back_tack : batch::SeamEnds::chain);
  }

  /// With which stitch, and what to do with the threads at a seam's ends; `usual` is what they do
  /// where nobody said which stitch it is.
  void stitch(const Operation& operation, batch::SeamEnds usual) {
    batch::SeamEnds ends = usual;
    const auto known = facts_.stitches.find(operation.id);
    if (known != facts_.stitches.end()) {
      const std::string& code = known->second.code;
      const std::string name = "stitch-" + code;
      if (words_.has(name)) {
        tell({"steps-stitch", {{"code", code}, {"name", words_.say(name)}}});
      } else {
        tell({"steps-stitch-code", {{"code", code}}});
      }
      ends = known->second.ends;
    }
    if (ends == batch::SeamEnds::chain) {
      tell({"steps-chain", {{"chain", shown(facts_.chain)}}});
    } else {
      tell("steps-back-tack");
    }
  }

  /// Where there are several pockets, which one the card is for.
  void card_head(const char* key, const char* key_of_pocket, const Operation& operation) {
    const auto& compartments = pouch_.construction().compartments;
    if (compartments.size() < 2) {
      head(key);
      return;
    }
    const std::string& name =
        compartments[pouch::compartment_of(pouch_.construction(), operation)].name;
    head({key_of_pocket, {{"compartment", name}}});
  }

  void fold(const Operation& operation) {
    const bool over = operation.landing == pouch::Landing::on_top;
    head({over ? "steps-fold-over" : "steps-fold-under",
          {{"turn", span_name(operation.turn, words_)}}});
    tell({"steps-fold-how",
          {{"before", span_name(operation.between_a, words_)},
           {"after", span_name(operation.between_b, words_)}}});
    if (turns_several()) tell("steps-fold-together");
    if (lip_meets_card()) tell("steps-fold-to-card");
    if (&operation == &pouch_.construction().operations.back()) closed();
  }

  /// Do walls of a pocket that lie on each other turn together?
  [[nodiscard]] bool turns_several() const {
    if (!step_.moment.before) return false;
    std::vector<pouch::Layer> all;
    for (const pouch::Turned& part : turned(*step_.moment.before, step_.moment.folded)) {
      std::copy_if(part.begin(), part.end(), std::back_inserter(all), [&](const auto& layer) {
        return is_wall(pouch_, step_.moment.folded.name(layer.id));
      });
    }
    for (std::size_t i = 0; i < all.size(); ++i) {
      for (std::size_t k = i + 1; k < all.size(); ++k) {
        if (shared(all[i].heights, all[k].heights)) return true;
      }
    }
    return false;
  }

  /// How the pouch is closed, where it has something to close it by.
  void closed() {
    const auto closure = pouch::closure_of(pouch_);
    if (!closure) return;
    tell({closure->on_straps ? "steps-close-straps" : "steps-close",
          {{"closure", words_.say(kind_key(closure->kind))}}});
  }

  /// The fold brings the lip to the shoulders of the slip card.
  [[nodiscard]] bool lip_meets_card() const {
    if (step_.moment.cards.empty() || !step_.moment.before) return false;
    const std::string& lip = pouch_.construction().compartments.front().film.front().value;
    const auto film_up = [&lip](const pouch::Folded& folded) {
      for (const pouch::Layer& layer : folded.layers()) {
        if (folded.name(layer.id) == lip) return layer.film_up;
      }
      return true;
    };
    return film_up(*step_.moment.before) && !film_up(step_.moment.folded);
  }

  void press(const Operation& operation) {
    head("steps-press");
    if (uses_slip_card()) {
      tell(slip_cards_inside() > 1 ? "steps-press-slip-cards" : "steps-press-slip-card");
    }
    if (uses_shield()) tell("steps-press-shield");
    tell("steps-press-bands");
    if (operation.from == pouch::PressFrom::back) tell("steps-press-from-back");
    if (operation.from == pouch::PressFrom::both) tell("steps-press-from-both");
    if (operation.from != pouch::PressFrom::front && uses_shield()) tell("steps-press-shield-over");
    if (facts_.iron) {
      tell(setting_of(*facts_.iron));
    } else {
      tell("steps-press-try");
    }
  }

  [[nodiscard]] base::Message setting_of(const batch::IronTrial& iron) const {
    const char* steam = iron.steam       ? "iron-steam"
                        : iron.dots == 1 ? "iron-never-steam"
                                         : "iron-no-steam";
    return {iron.seconds > 0 ? "steps-press-set" : "steps-press-set-no-seconds",
            {{"dots", iron.dots},
             {"steam", words_.say(steam)},
             {"seconds", base::shortened(iron.seconds, 1)}}};
  }

  void sew(const Operation& operation) {
    head("steps-sew");
    tell({"steps-sew-how",
          {{"allowance", shown(pouch_.sizes.seam_allowance)},
           {"reach", at_most(pouch_.sizes.needle_reach)}}});
    if (pouch::sews_flap(pouch_, operation)) tell("steps-sew-flap");
    if (!straps_at_sides(pouch_, step_.moment.folded, pouch::StrapLies::outwards).empty()) {
      tell("steps-sew-straps");
    }
    stitch(operation, batch::SeamEnds::chain);
  }

  /// Up to the same level as on the sheet of the leak test.
  void test() {
    const std::string minutes = base::shortest(facts_.test_minutes, 1);
    const std::string pockets = wet_pockets(pouch_);
    if (pockets.empty()) {
      head("steps-test");
    } else {
      head({"steps-test-of", {{"compartment", pockets}}});
    }
    const Length level = pouch::fill_of(pouch_, words_.style()).test_level;
    if (level > Length()) {
      tell({"steps-test-how", {{"level", shown(level)}, {"minutes", minutes}}});
    } else {
      tell({"steps-test-no-line", {{"minutes", minutes}}});
    }
  }

  const pouch::Pouch& pouch_;
  const AssemblyStep& step_;
  const StepFacts& facts_;
  base::Voice words_;
  ink::Block block_;
};

}  // namespace

ink::Block step_words(const pouch::Pouch& pouch, const AssemblyStep& step, const StepFacts& facts,
                      const base::Voice& words) {
  return Speaker(pouch, step, facts, words).said();
}

namespace {

/// Words laid out for paper hold blanks at which no line breaks.
std::string with_plain_blanks(std::string words) {
  const std::string no_break = ink::kept_together(" ");
  for (std::size_t at = words.find(no_break); at != std::string::npos; at = words.find(no_break)) {
    words.replace(at, no_break.size(), " ");
  }
  return words;
}

}  // namespace

std::vector<StepText> steps_in_words(const pouch::Pouch& pouch, const StepFacts& facts,
                                     const base::Voice& words) {
  std::vector<StepText> result;
  for (const AssemblyStep& step : assembly_steps(pouch)) {
    StepText text;
    for (const std::size_t index : step.moment.operations) {
      text.operations.push_back(pouch.construction().operations[index].id);
    }
    for (const ink::Row& row : step_words(pouch, step, facts, words)) {
      const bool is_heading = row.weight == ink::Weight::bold;
      if (!text.words.empty()) text.words += ' ';
      text.words += with_plain_blanks(row.words) + (is_heading ? "." : "");
    }
    result.push_back(std::move(text));
  }
  return result;
}

}  // namespace pouchwright::tell
