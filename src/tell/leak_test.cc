#include "tell/leak_test.h"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/length.h"
#include "base/text.h"
#include "ink/labels.h"
#include "pouch/questions.h"
#include "tell/operations.h"

namespace pouchwright::tell {
namespace {

using pouch::Action;

class Speaker {
 public:
  Speaker(const pouch::Pouch& pouch, const base::Voice& words)
      : pouch_(pouch), words_(words), operations_(pouch, words) {}

  [[nodiscard]] std::string order() const {
    const auto look = pouch::last_before_test(pouch_, Action::look_inside);
    const auto sewn = pouch::last_before_test(pouch_, Action::sew);
    const bool sewn_later = sewn && (!look || *sewn > *look);
    std::vector<std::string> parts;
    if (look)
      parts.push_back(of(sewn && !sewn_later ? "leak-look-sewn" : "leak-look-pressed", *look));
    if (sewn_later) parts.push_back(of("leak-look-seam", *sewn));
    parts.push_back(then_tested());
    return base::list_text(parts, " ");
  }

  [[nodiscard]] ink::Paragraphs failure() const {
    ink::Paragraphs made{ink::heading(words_.say("leak-failed")),
                         ink::text_paragraph(words_.say("leak-failed-mark"))};
    const auto pressed = pouch::last_before_test(pouch_, Action::press);
    const bool again = pressed && can_be_pressed_again(pouch_);
    if (again) {
      made.push_back(ink::text_paragraph(words_.say(cards_first()) + " " + press_again(*pressed) +
                                         " " + of("leak-mend-hole", *pressed)));
      made.push_back(ink::text_paragraph(words_.say("leak-failed-again")));
    } else {
      made.push_back(ink::text_paragraph(pressed ? of("leak-mend-never", *pressed)
                                                 : words_.say("leak-mend-unfused")));
    }
    made.push_back(ink::text_paragraph(words_.say("leak-failed-why")));
    return made;
  }

 private:
  /// With the step that shows the stage, and how far in a needle may be.
  [[nodiscard]] std::string of(const char* key, std::size_t stage) const {
    const std::size_t step = operations_.step(pouch::operation_at(pouch_, stage).id).value_or(0);
    const std::string reach =
        ink::kept_together(words_.text(base::at_most(pouch_.sizes.needle_reach)));
    return words_.say({key, {{"step", step}, {"reach", reach}}});
  }

  [[nodiscard]] std::string then_tested() const {
    std::vector<std::string> rest;
    for (std::size_t i = pouch::tested_at(pouch_) + 1; i < pouch_.stages.size(); ++i) {
      rest.push_back(pouch::operation_at(pouch_, i).id);
    }
    if (rest.empty()) return words_.say("leak-test-finished");
    return words_.say({"leak-test-before", {{"rest", operations_.listed(rest)}}});
  }

  [[nodiscard]] const char* cards_first() const {
    switch (pouch_.request.cards) {
      case pouch::CardUse::inside:
        return "leak-mend-slip-card";
      case pouch::CardUse::on_top:
        return "leak-mend-shield";
      case pouch::CardUse::both:
        break;
    }
    return "leak-mend-both-cards";
  }

  [[nodiscard]] std::string press_again(std::size_t pressed) const {
    return of(pouch_.request.outer ? "leak-mend-through-outer" : "leak-mend-through-knit", pressed);
  }

  const pouch::Pouch& pouch_;
  base::Voice words_;
  OperationWords operations_;
};

}  // namespace

std::string leak_order(const pouch::Pouch& pouch, const base::Voice& words) {
  return Speaker(pouch, words).order();
}

ink::Paragraphs leak_failure(const pouch::Pouch& pouch, const base::Voice& words) {
  return Speaker(pouch, words).failure();
}

}  // namespace pouchwright::tell
