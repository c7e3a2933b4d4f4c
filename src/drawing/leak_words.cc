#include "drawing/leak_words.h"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "drawing/labels.h"
#include "drawing/leak_picture.h"
#include "drawing/operation_words.h"
#include "units/length.h"

namespace pouchwright::drawing {
namespace {

using pouch::Action;

const pouch::Operation& operation_at(const pouch::Pouch& pouch, std::size_t stage) {
  return pouch.construction().operations[pouch.stages[stage].operation];
}

/// The last stage before the test, or the test itself, that does so.
std::optional<std::size_t> last(const pouch::Pouch& pouch, Action action) {
  for (std::size_t i = tested_at(pouch) + 1; i-- > 0;) {
    if (operation_at(pouch, i).action == action) return i;
  }
  return std::nullopt;
}

class Speaker {
 public:
  Speaker(const pouch::Pouch& pouch, const diag::Words& words)
      : pouch_(pouch), words_(words), operations_(pouch, words) {}

  [[nodiscard]] std::string order() const {
    const auto look = last(pouch_, Action::look_inside);
    const auto sewn = last(pouch_, Action::sew);
    const bool sewn_later = sewn && (!look || *sewn > *look);
    std::vector<std::string> parts;
    if (look)
      parts.push_back(of(sewn && !sewn_later ? "leak-look-sewn" : "leak-look-pressed", *look));
    if (sewn_later) parts.push_back(of("leak-look-seam", *sewn));
    parts.push_back(then_tested());
    std::string text;
    for (const std::string& part : parts) text += (text.empty() ? "" : " ") + part;
    return text;
  }

  [[nodiscard]] Paragraphs failure() const {
    Paragraphs made{heading(words_.say("leak-failed")),
                    text_paragraph(words_.say("leak-failed-mark"))};
    const auto pressed = last(pouch_, Action::press);
    const bool again = pressed && can_be_pressed_again(pouch_);
    if (again) {
      made.push_back(text_paragraph(words_.say(cards_first()) + " " + press_again(*pressed) + " " +
                                    of("leak-mend-hole", *pressed)));
      made.push_back(text_paragraph(words_.say("leak-failed-again")));
    } else {
      made.push_back(text_paragraph(pressed ? of("leak-mend-never", *pressed)
                                            : words_.say("leak-mend-unfused")));
    }
    made.push_back(text_paragraph(words_.say("leak-failed-why")));
    return made;
  }

 private:
  /// With the step that shows the stage, and how far in a needle may be.
  [[nodiscard]] std::string of(const char* key, std::size_t stage) const {
    const std::size_t step = operations_.step(operation_at(pouch_, stage).id).value_or(0);
    const std::string reach =
        kept_together(units::text_at_most(pouch_.sizes.needle_reach, pouch_.request.style));
    return words_.say({key, {{"step", std::to_string(step)}, {"reach", reach}}});
  }

  [[nodiscard]] std::string then_tested() const {
    std::vector<std::string> rest;
    for (std::size_t i = tested_at(pouch_) + 1; i < pouch_.stages.size(); ++i) {
      rest.push_back(operation_at(pouch_, i).id);
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
  const diag::Words& words_;
  OperationWords operations_;
};

}  // namespace

std::string leak_order(const pouch::Pouch& pouch, const diag::Words& words) {
  return Speaker(pouch, words).order();
}

bool can_be_pressed_again(const pouch::Pouch& pouch) {
  const auto pressed = last(pouch, Action::press);
  if (!pressed) return false;
  bool folded = false;
  for (std::size_t i = *pressed + 1; i <= tested_at(pouch); ++i) {
    const Action action = operation_at(pouch, i).action;
    folded = folded || action == Action::fold || action == Action::lay_panel;
    if (folded && action == Action::sew) return false;
  }
  return true;
}

Paragraphs leak_failure(const pouch::Pouch& pouch, const diag::Words& words) {
  return Speaker(pouch, words).failure();
}

}  // namespace pouchwright::drawing
