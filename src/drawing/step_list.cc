#include "drawing/step_list.h"

#include <algorithm>
#include <string>
#include <utility>

#include "drawing/cutting_template.h"
#include "drawing/panel_words.h"
#include "units/length.h"

namespace pouchwright::drawing {
namespace {

using pouch::Action;
using pouch::Operation;
using units::Length;

const Operation& operation_at(const pouch::Pouch& pouch, std::size_t stage) {
  return pouch.construction().operations[pouch.stages[stage].operation];
}

/// Does `next` only go on with what `done` began, so that one picture shows both?
bool goes_on(Action done, Action next) {
  switch (next) {
    case Action::finish:
      return done == Action::finish;
    case Action::look_inside:
      return done == Action::take_card;
    case Action::secure_tails:
      return done == Action::sew;
    case Action::attach:
      return done == Action::attach;
    case Action::pair:
    case Action::lay_panel:
    case Action::lay_card:
    case Action::fold:
    case Action::press:
    case Action::take_card:
    case Action::hem:
    case Action::sew:
    case Action::test:
      return false;
  }
  return false;
}

const pouch::EndFinish& finish_of(const pouch::Pouch& pouch, const Operation& operation) {
  return operation.end == pouch::Edge::start ? pouch.request.start_finish
                                             : pouch.request.end_finish;
}

bool same_kind(const pouch::Pouch& pouch, const Operation& a, const Operation& b) {
  if (a.action != Action::finish) return true;
  return finish_of(pouch, a).kind == finish_of(pouch, b).kind;
}

/// The flap lies over the mouth and is sewn in.
bool sews_flap(const pouch::Pouch& pouch) {
  return pouch.construction().flap_law == pouch::FlapLaw::caught;
}

/// What is said to one step.
class Speaker {
 public:
  Speaker(const pouch::Pouch& pouch, const AssemblyStep& step, const diag::Words& words)
      : pouch_(pouch), step_(step), words_(words) {}

  Block said() {
    if (step_.moment.to_be_marked) {
      const Length notch = notch_length(pouch_.sizes.seam_allowance);
      head("steps-mark");
      tell({"steps-mark-how", {{"notch", shown(notch)}}});
    }
    const auto& all = pouch_.construction().operations;
    for (const std::size_t index : step_.moment.operations) say(all[index]);
    if (step_.moment.clipped) tell("steps-clips");
    return std::move(block_);
  }

 private:
  [[nodiscard]] std::string shown(Length length) const {
    return kept_together(units::text(length, pouch_.request.style));
  }

  void head(const diag::Message& message) {
    block_.push_back({.words = words_.say(message),
                      .size = kLabelSize,
                      .weight = Weight::bold,
                      .space_before = 1.2});
  }
  /// Sentences to one heading run on.
  void tell(const diag::Message& message) {
    const bool runs_on = !block_.empty() && block_.back().weight == Weight::regular;
    if (runs_on) {
      block_.back().words += " " + words_.say(message);
    } else {
      block_.push_back({.words = words_.say(message), .space_before = 0.4});
    }
  }

  void say(const Operation& operation) {
    switch (operation.action) {
      case Action::attach:
        attach(operation);
        return;
      case Action::lay_panel:
        head({"steps-lay-panel", {{"panel", span_name(operation.panel, words_)}}});
        tell(operation.film_up ? "steps-lay-panel-film-up" : "steps-lay-panel-film-down");
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
        head("steps-lay-card");
        tell("steps-lay-card-how");
        return;
      case Action::fold:
        fold(operation);
        return;
      case Action::press:
        press(operation);
        return;
      case Action::take_card:
        head("steps-take-card");
        tell("steps-take-card-how");
        return;
      case Action::look_inside:
        head("steps-look");
        tell("steps-look-how");
        return;
      case Action::sew:
        sew();
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

  /// Attachments that share a step are named together.
  void attach(const Operation& operation) {
    if (!block_.empty()) return;
    std::string names;
    for (const std::size_t index : step_.moment.operations) {
      const std::string& name = pouch_.construction().operations[index].attachment;
      names += (names.empty() ? "" : ", ") + name;
    }
    const bool film = !operation.through || *operation.through == pouch::Through::film;
    const bool on_outer = pouch_.request.outer && !film;
    head({"steps-attach", {{"names", names}}});
    tell(on_outer ? "steps-attach-outer" : "steps-attach-film");
  }

  /// Finishes that share a step are said once.
  void finish(const Operation& operation) {
    if (!block_.empty()) return;
    std::string ends;
    for (const std::size_t index : step_.moment.operations) {
      const Operation& one = pouch_.construction().operations[index];
      ends += (ends.empty() ? "" : ", ") + end_name(one.end);
    }
    const bool turned = finish_of(pouch_, operation).kind == pouch::FinishKind::turned;
    head({turned ? "steps-turned" : "steps-overedge", {{"ends", ends}}});
    if (turned) tell("steps-turned-how");
    tell({"steps-chain", {{"chain", shown(kThreadChain)}}});
  }

  /// The span whose end it is; a hem is part of its neighbour.
  [[nodiscard]] std::string end_name(pouch::Edge end) const {
    const auto& spans = pouch_.sizes.panel.spans;
    const bool at_start = end == pouch::Edge::start;
    const pouch::Span* span = at_start ? &spans.front() : &spans.back();
    if (span->name == pouch::kStartHem && spans.size() > 1) span = &spans[1];
    if (span->name == pouch::kEndHem && spans.size() > 1) span = &spans[spans.size() - 2];
    return span_name(span->name, words_);
  }

  void fold(const Operation& operation) {
    const bool over = operation.landing == pouch::Landing::on_top;
    head({over ? "steps-fold-over" : "steps-fold-under",
          {{"turn", span_name(operation.turn, words_)}}});
    tell({"steps-fold-how",
          {{"before", span_name(operation.between_a, words_)},
           {"after", span_name(operation.between_b, words_)}}});
    if (lip_meets_card()) tell("steps-fold-to-card");
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
    if (pouch_.request.cards != pouch::CardUse::on_top) tell("steps-press-slip-card");
    if (pouch_.request.cards != pouch::CardUse::inside) tell("steps-press-shield");
    tell("steps-press-bands");
    if (operation.from == pouch::PressFrom::back) tell("steps-press-from-back");
    if (operation.from == pouch::PressFrom::both) tell("steps-press-from-both");
    tell("steps-press-try");
  }

  void sew() {
    head("steps-sew");
    tell({"steps-sew-how", {{"allowance", shown(pouch_.sizes.seam_allowance)}}});
    if (sews_flap(pouch_)) tell("steps-sew-flap");
    tell({"steps-chain", {{"chain", shown(kThreadChain)}}});
  }

  void test() {
    const std::string minutes = std::to_string(kTestMinutes);
    head("steps-test");
    if (pouch_.water_line > Length()) {
      tell({"steps-test-how", {{"line", shown(pouch_.water_line)}, {"minutes", minutes}}});
    } else {
      tell({"steps-test-no-line", {{"minutes", minutes}}});
    }
  }

  const pouch::Pouch& pouch_;
  const AssemblyStep& step_;
  const diag::Words& words_;
  Block block_;
};

void add_icons(const pouch::Pouch& pouch, const Operation& operation,
               std::vector<StepIcon>& icons) {
  switch (operation.action) {
    case Action::attach:
    case Action::hem:
      if (icons.empty()) icons.push_back({Icon::needle});
      return;
    case Action::lay_panel:
      icons.push_back({Icon::same_way});
      return;
    case Action::pair:
      icons.insert(icons.end(), {{Icon::film_up}, {Icon::same_way}});
      return;
    case Action::finish:
      if (icons.empty()) icons.insert(icons.end(), {{Icon::needle}, {Icon::chain}});
      return;
    case Action::lay_card:
      icons.push_back({Icon::card});
      return;
    case Action::fold:
      icons.push_back({Icon::turn});
      return;
    case Action::press:
      icons.insert(icons.end(), {{Icon::scrap_test}, {Icon::steam}, {Icon::hot_film, true}});
      return;
    case Action::take_card:
      icons.push_back({Icon::card});
      return;
    case Action::look_inside:
      icons.push_back({Icon::eye});
      return;
    case Action::sew:
      icons.push_back({Icon::needle});
      if (sews_flap(pouch)) icons.push_back({Icon::flap_down});
      icons.push_back({Icon::chain});
      return;
    case Action::secure_tails:
      icons.push_back({Icon::tail});
      return;
    case Action::test:
      icons.insert(icons.end(), {{Icon::drop}, {Icon::clock}});
      return;
  }
}

}  // namespace

std::vector<AssemblyStep> assembly_steps(const pouch::Pouch& pouch) {
  std::vector<AssemblyStep> steps;
  if (!pouch.sizes.folds.empty()) steps.push_back({cut_panel(pouch)});
  std::size_t first = 0;
  for (std::size_t i = 0; i < pouch.stages.size(); ++i) {
    const bool last = i + 1 == pouch.stages.size();
    if (!last) {
      const Operation& done = operation_at(pouch, i);
      const Operation& next = operation_at(pouch, i + 1);
      if (goes_on(done.action, next.action) && same_kind(pouch, done, next)) continue;
    }
    steps.push_back({moment(pouch, first, i)});
    first = i + 1;
  }
  return steps;
}

Block step_words(const pouch::Pouch& pouch, const AssemblyStep& step, const diag::Words& words) {
  return Speaker(pouch, step, words).said();
}

std::vector<StepIcon> step_icons(const pouch::Pouch& pouch, const AssemblyStep& step) {
  std::vector<StepIcon> icons;
  if (step.moment.to_be_marked) {
    icons = {{Icon::film_up}, {Icon::same_way}};
  }
  for (const std::size_t index : step.moment.operations) {
    add_icons(pouch, pouch.construction().operations[index], icons);
  }
  if (step.moment.clipped) icons.insert(icons.end(), {{Icon::clip}, {Icon::pin, true}});
  return icons;
}

}  // namespace pouchwright::drawing
