#include "tell/leak_test.h"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/length.h"
#include "pouch/questions.h"
#include "tell/operations.h"

namespace pouchwright::tell {
namespace {

using pouch::Action;

class Speaker {
 public:
  Speaker(const pouch::Pouch& pouch, const base::Voice& words)
      : pouch_(pouch), operations_(pouch, words) {}

  [[nodiscard]] Sentences order() const {
    const auto look = pouch::last_before_test(pouch_, Action::look_inside);
    const auto sewn = pouch::last_before_test(pouch_, Action::sew);
    const bool sewn_later = sewn && (!look || *sewn > *look);
    Sentences parts;
    if (look)
      parts.push_back(of(sewn && !sewn_later ? "leak-look-sewn" : "leak-look-pressed", *look));
    if (const auto filled = pouch::last_before_test(pouch_, Action::fill_first)) {
      parts.push_back(of("leak-first", *filled));
    }
    if (sewn_later) parts.push_back(of("leak-look-seam", *sewn));
    parts.push_back(then_tested());
    return parts;
  }

  [[nodiscard]] std::vector<Sentences> failure() const {
    std::vector<Sentences> made{{"leak-failed-mark"}};
    const auto pressed = pouch::last_before_test(pouch_, Action::press);
    const pouch::Mending mending = pouch::mending_of(pouch_);
    if (mending != pouch::Mending::never) {
      const bool is_closed = mending == pouch::Mending::under_shield;
      made.push_back({is_closed ? closed_under_shield() : cards_first(), press_again(*pressed),
                      of("leak-mend-hole", *pressed)});
      if (has_things_to_spare()) made.back().push_back("leak-mend-snaps");
      made.push_back({"leak-failed-again"});
    } else {
      made.push_back({pressed ? of("leak-mend-never", *pressed) : "leak-mend-unfused"});
    }
    made.push_back({"leak-failed-why"});
    return made;
  }

 private:
  /// With the step that shows the stage, and how far in a needle may be.
  [[nodiscard]] base::Message of(const char* key, std::size_t stage) const {
    const std::size_t step = operations_.step(pouch_.stages[stage].operation).value_or(0);
    return {key, {{"step", step}, {"reach", base::at_most(pouch_.sizes.needle_reach)}}};
  }

  [[nodiscard]] base::Message then_tested() const {
    std::vector<std::size_t> rest;
    for (std::size_t i = pouch::tested_at(pouch_) + 1; i < pouch_.stages.size(); ++i) {
      rest.push_back(pouch_.stages[i].operation);
    }
    if (rest.empty()) return "leak-test-finished";
    return {"leak-test-before", {{"rest", operations_.listed(rest)}}};
  }

  /// By then all of them are on.
  [[nodiscard]] bool has_things_to_spare() const {
    return std::any_of(pouch_.fixed.begin(), pouch_.fixed.end(), [&](const pouch::Fixed& one) {
      const pouch::AttachmentKind kind = pouch_.rule(one).kind;
      return kind == pouch::AttachmentKind::snap || kind == pouch::AttachmentKind::strap;
    });
  }

  /// Where there is a slip card as well, it stays out.
  [[nodiscard]] const char* closed_under_shield() const {
    return pouch_.request.cards == pouch::CardUse::both ? "leak-mend-closed"
                                                        : "leak-mend-closed-shield";
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

  [[nodiscard]] base::Message press_again(std::size_t pressed) const {
    return of(pouch_.request.outer ? "leak-mend-through-outer" : "leak-mend-through-knit", pressed);
  }

  const pouch::Pouch& pouch_;
  OperationWords operations_;
};

}  // namespace

Sentences leak_order(const pouch::Pouch& pouch, const base::Voice& words) {
  return Speaker(pouch, words).order();
}

std::vector<Sentences> leak_failure(const pouch::Pouch& pouch, const base::Voice& words) {
  return Speaker(pouch, words).failure();
}

}  // namespace pouchwright::tell
