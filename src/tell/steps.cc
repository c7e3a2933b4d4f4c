#include "tell/steps.h"

#include <algorithm>
#include <utility>
#include <vector>

#include "base/length.h"
#include "base/number.h"
#include "base/text.h"
#include "pouch/questions.h"
#include "tell/attachments.h"
#include "tell/fill.h"
#include "tell/folding.h"
#include "tell/names.h"
#include "tell/seams.h"
#include "tell/upright.h"

namespace pouchwright::tell {
namespace {

using base::Length;
namespace does = pouch::does;

/// Does a snap stick out of what is worked on at the operation?
bool has_snap_by(const pouch::Pouch& pouch, std::size_t operation) {
  return std::any_of(pouch.fixed.begin(), pouch.fixed.end(), [&](const pouch::Fixed& one) {
    return one.span && one.operation < operation &&
           pouch.rule(one).kind == pouch::AttachmentKind::snap;
  });
}

class Speaker {
 public:
  Speaker(const pouch::Pouch& pouch, const AssemblyStep& step, const StepFacts& facts,
          const base::Voice& words)
      : pouch_(pouch), step_(step), facts_(facts), words_(words) {}

  std::vector<Said> said() {
    if (step_.moment.to_be_marked) {
      said_.push_back(mark_words(pouch_, words_));
      if (!pouch_.request.outer) tell_all(print_words(pouch_, words_));
    }
    for (const std::size_t index : step_.moment.operations) {
      std::visit([&](const auto& work) { say(index, work); }, pouch_.operation(index).work);
    }
    if (step_.moment.clipped) tell("steps-clips");
    return std::move(said_);
  }

 private:
  [[nodiscard]] bool uses_slip_card() const {
    return pouch_.request.cards != pouch::CardUse::on_top;
  }
  [[nodiscard]] std::ptrdiff_t slip_cards_inside() const {
    const auto& cards = step_.moment.cards;
    return std::count_if(cards.begin(), cards.end(), [&](const pouch::LyingCard& card) {
      return pouch_.cards[card.card].use == pouch::NamedCard::Use::slip;
    });
  }
  /// Does somebody's own card leave film above the opening edge bare?
  [[nodiscard]] bool lays_top_bar(pouch::CardKind kind) const {
    const pouch::Card& card = first_card(pouch_.cards, kind);
    return card.is_own && card.top > card.shoulder;
  }
  [[nodiscard]] bool uses_shield() const { return pouch_.request.cards != pouch::CardUse::inside; }

  void head(base::Message message) { said_.push_back({std::move(message), {}}); }
  void tell(base::Message message) { said_.back().sentences.push_back(std::move(message)); }
  void tell_all(std::vector<base::Message> messages) {
    for (base::Message& message : messages) tell(std::move(message));
  }
  [[nodiscard]] SeamToTell seam(std::size_t operation) const {
    return {pouch_, step_.moment, operation, facts_, words_};
  }

  void say(std::size_t, const does::LayPanel& work) {
    const pouch::PanelRule& panel = pouch_.construction().panels[work.panel];
    head({"steps-lay-panel", {{"panel", part_name(panel.name, words_)}}});
    tell(panel.cloth == pouch::ClothKind::lining ? "steps-lay-lining"
         : work.film_up                          ? "steps-lay-panel-film-up"
                                                 : "steps-lay-panel-film-down");
  }
  void say(std::size_t operation, const does::Hem& work) {
    head({"steps-hem", {{"span", span_of(work.span)}}});
    tell_all(hem_words(seam(operation)));
  }
  void say(std::size_t, const does::Pair&) {
    head("steps-pair");
    tell("steps-pair-how");
    tell_all(print_words(pouch_, words_));
  }
  void say(std::size_t, const does::LayCard& work) {
    card_head("steps-lay-card", "steps-lay-card-of", work.compartment);
    if (film_faces_down(pouch_, step_.moment, work.compartment)) {
      tell("steps-lay-card-underneath");
    }
    if (lays_top_bar(pouch::CardKind::slip)) tell("steps-top-bar");
    if (pouch_.construction().has_bottom_seam()) return tell("steps-lay-card-above-seam");
    tell({"steps-lay-card-how",
          {{"fold", fold_under_card(pouch_, step_.moment, work.compartment, words_)}}});
  }
  void say(std::size_t, const does::TakeCard& work) {
    card_head("steps-take-card", "steps-take-card-of", work.compartment);
    tell("steps-take-card-how");
  }
  void say(std::size_t, const does::LookInside&) {
    head("steps-look-inside");
    tell({"steps-look-inside-how", {{"cards", cards_of(pouch_)}}});
  }
  /// Of what has no fields: its name, and how.
  template <class Does>
  void say(std::size_t operation, const Does&) {
    const std::string key =
        key_of("steps-", pouch::kActionWords, pouch_.operation(operation).action());
    head(key);
    tell(key + "-how");
  }
  void say(std::size_t operation, const does::SecureTails&) {
    head("steps-tails");
    tell_all(tails_words(seam(operation)));
  }

  [[nodiscard]] std::string span_of(pouch::SpanRef ref) const {
    return span_name(pouch_.construction().span(ref).name, words_);
  }
  /// What `name_of` says of each operation of this step, all of which do the same.
  template <class Does, class NameOf>
  [[nodiscard]] std::string of_operations(NameOf name_of) const {
    return base::list_text(step_.moment.operations, ", ", [&](std::size_t index) {
      return name_of(*pouch_.operation(index).as<Does>());
    });
  }

  /// Of all that the step fixes, what goes on others after what it goes on.
  [[nodiscard]] std::string fixed_names() const {
    std::vector<const pouch::Attachment*> fixed;
    for (const std::size_t index : step_.moment.operations) {
      const auto& work = *pouch_.operation(index).as<does::Attach>();
      fixed.push_back(&pouch_.construction().attachments[work.attachment]);
    }
    std::stable_partition(fixed.begin(), fixed.end(),
                          [](const pouch::Attachment* one) { return !one->on_piece; });
    return base::list_text(
        fixed, ", ", [&](const pouch::Attachment* one) { return part_name(one->name, words_); });
  }
  /// Attachments that share a step are named together.
  void say(std::size_t, const does::Attach&) {
    if (!said_.empty()) return;
    head({"steps-attach", {{"names", fixed_names()}}});
    for (base::Message& message : attach_words(pouch_, step_.moment, words_)) {
      tell(std::move(message));
    }
  }

  /// Finishes that share a step are said once.
  void say(std::size_t operation, const does::Finish& work) {
    if (!said_.empty()) return;
    const std::string ends = of_operations<does::Finish>(
        [&](const does::Finish& one) { return end_name(pouch_, one, words_); });
    const pouch::FinishKind kind = finish_of(pouch_.request, work.end).kind;
    const char* key = kind == pouch::FinishKind::turned   ? "steps-turned"
                      : kind == pouch::FinishKind::zigzag ? "steps-zigzag"
                      : is_overedged(seam(operation))     ? "steps-overedge"
                                                          : "steps-finish";
    head({key, {{"ends", ends}}});
    tell_all(finish_words(seam(operation)));
  }

  /// Where there are several pockets, which one the card is for.
  void card_head(const char* key, const char* key_of_pocket, std::size_t compartment) {
    const auto& compartments = pouch_.construction().compartments;
    if (compartments.size() < 2) return head(key);
    head({key_of_pocket, {{"compartment", pocket_name(pouch_, compartment, words_)}}});
  }

  void say(std::size_t operation, const does::Fold&) {
    auto folding = fold_words(pouch_, step_.moment, operation, words_);
    if (folding) said_.push_back(std::move(*folding));
  }

  void say(std::size_t operation, const does::Press& work) {
    head("steps-press");
    tell("steps-press-clips");
    if (uses_slip_card()) {
      tell(slip_cards_inside() > 1 ? "steps-press-slip-cards" : "steps-press-slip-card");
    }
    if (uses_shield()) {
      if (lays_top_bar(pouch::CardKind::shield)) tell("steps-top-bar");
      tell("steps-press-shield");
    }
    tell("steps-press-bands");
    if (has_snap_by(pouch_, operation)) tell("steps-press-snap");
    if (!straps_at_sides(pouch_, step_.moment.folded, pouch::StrapLies::outwards).empty()) {
      tell("steps-press-straps");
    }
    if (work.from == pouch::PressFrom::back) tell("steps-press-from-back");
    if (work.from == pouch::PressFrom::both) tell("steps-press-from-both");
    if (work.from != pouch::PressFrom::front && uses_shield()) tell("steps-press-shield-over");
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
             {"steam", base::Message(steam)},
             {"seconds", base::shortened(iron.seconds, 1)}}};
  }

  void say(std::size_t operation, const does::Sew&) {
    head("steps-sew");
    tell_all(sew_words(seam(operation)));
  }

  /// Read at the water table, and dry before it goes on.
  void say(std::size_t, const does::FillFirst&) {
    head(facts_.every_presser ? "steps-fill-each" : "steps-fill-one");
    const Length level = fill_read(pouch_, words_).test_level;
    const std::string pockets = wet_pockets(pouch_, words_);
    if (!pockets.empty()) tell({"steps-fill-pocket", {{"pockets", pockets}}});
    base::Message::Values values = {{"level", level}, {"minutes", pouch::kFirstFillMinutes}};
    tell({level > Length() ? "steps-fill-how" : "steps-fill-no-line", std::move(values)});
    if (facts_.dry_minutes > 0) {
      tell({"steps-fill-dry-minutes", {{"minutes", base::shortened(facts_.dry_minutes, 1)}}});
    } else {
      tell("steps-fill-dry");
    }
    tell({"steps-fill-leaks", {{"cards", cards_of(pouch_)}}});
  }

  /// Its raw ends lie where the side seam is the only stitching.
  void say(std::size_t, const does::Tag&) {
    head("steps-tag");
    const pouch::Tag& tag = *pouch_.request.tag;
    tell({"steps-tag-number", {{"width", tag.width}, {"length", tag.length}}});
    tell("steps-tag-how");
    tell("steps-tag-only-seam");
  }

  void say(std::size_t, const does::Dry&) {
    head("steps-dry");
    tell("steps-dry-label");
    if (facts_.warm_minutes > 0) {
      tell({"steps-dry-minutes", {{"minutes", base::shortened(facts_.warm_minutes, 1)}}});
    } else {
      tell("steps-dry-usual");
    }
  }

  /// Up to the same level as on the sheet of the leak test.
  void say(std::size_t, const does::Test&) {
    const base::Number minutes = base::shortened(facts_.test_minutes, 1);
    const std::string pockets = wet_pockets(pouch_, words_);
    if (pockets.empty()) {
      head("steps-test");
    } else {
      head({"steps-test-of", {{"compartment", pockets}}});
    }
    const Length level = fill_read(pouch_, words_).test_level;
    if (level > Length()) {
      tell({"steps-test-how", {{"level", level}, {"minutes", minutes}}});
    } else {
      tell({"steps-test-no-line", {{"minutes", minutes}}});
    }
  }

  const pouch::Pouch& pouch_;
  const AssemblyStep& step_;
  const StepFacts& facts_;
  base::Voice words_;
  std::vector<Said> said_;
};

}  // namespace

std::vector<Said> step_words(const pouch::Pouch& pouch, const AssemblyStep& step,
                             const StepFacts& facts, const base::Voice& words) {
  return Speaker(pouch, step, facts, words).said();
}

std::vector<StepText> steps_in_words(const pouch::Pouch& pouch, const StepFacts& facts,
                                     const base::Voice& words) {
  std::vector<StepText> result;
  for (const AssemblyStep& step : assembly_steps(pouch)) {
    StepText text;
    text.operations = step.moment.operations;
    std::vector<std::string> all;
    for (const Said& one : step_words(pouch, step, facts, words)) {
      all.push_back(words.say(one.head) + ".");
      for (const base::Message& sentence : one.sentences) all.push_back(words.say(sentence));
    }
    text.words = base::list_text(all, " ");
    result.push_back(std::move(text));
  }
  return result;
}

}  // namespace pouchwright::tell
