#include "tell/folding.h"

#include <algorithm>
#include <iterator>
#include <string>
#include <vector>

#include "base/length.h"
#include "pouch/judge/sizes.h"
#include "pouch/questions.h"
#include "tell/names.h"

namespace pouchwright::tell {
namespace {

using base::Length;
using base::Message;
using Sentences = std::vector<Message>;
namespace does = pouch::does;

std::string span_of(const pouch::Pouch& pouch, pouch::SpanRef ref, const base::Voice& words) {
  return span_name(pouch.construction().span(ref).name, words);
}

Message name_of_fold(const pouch::Pouch& pouch, const pouch::FoldLine& fold,
                     const base::Voice& words) {
  switch (pouch::role_of(pouch, 0, fold)) {
    case pouch::FoldRole::bottom:
      return "fold-bottom";
    case pouch::FoldRole::flap:
      return "fold-flap";
    case pouch::FoldRole::other:
      break;
  }
  const auto& spans = pouch.sizes.main_panel().spans;
  return {"fold-between",
          {{"before", span_name(spans[fold.before].name, words)},
           {"after", span_name(spans[fold.before + 1].name, words)}}};
}

Message fold_between(const pouch::Pouch& pouch, pouch::SpanRef a, pouch::SpanRef b,
                     const base::Voice& words) {
  for (const pouch::FoldLine& fold : folds_of(pouch.sizes.main_panel())) {
    const auto before = span_ref(pouch.sizes.panels, {0, fold.before});
    const auto after = span_ref(pouch.sizes.panels, {0, fold.before + 1});
    if ((before == a && after == b) || (before == b && after == a)) {
      return name_of_fold(pouch, fold, words);
    }
  }
  return {"fold-between",
          {{"before", span_of(pouch, a, words)}, {"after", span_of(pouch, b, words)}}};
}

/// How the pouch is closed, where it has something to close it by.
void add_closed(const pouch::Pouch& pouch, Sentences& all) {
  const auto closure = pouch::closure_of(pouch);
  if (!closure) return;
  all.push_back({closure->on_straps ? "steps-close-straps" : "steps-close",
                 {{"closure", Message(kind_key(closure->kind))}}});
}

/// The whole roll in one go.
Said roll_words(const pouch::Pouch& pouch, const std::vector<std::size_t>& rolls) {
  const auto& last = *pouch.operation(rolls.back()).as<does::Fold>();
  pouch::Values sizes;
  for (const auto& [name, stated] : pouch.request.sizes) sizes[name] = stated.value;
  const Length height = value_of(pouch.construction().span(last.turn).length, sizes);
  Said said{{"steps-roll", {{"rolls", rolls.size()}}}, {}};
  said.sentences.push_back(
      {last.landing == pouch::Landing::on_top ? "steps-roll-front" : "steps-roll-back",
       {{"height", base::mark(height)}}});
  add_closed(pouch, said.sentences);
  return said;
}

/// Do walls of a pocket that lie on each other turn together?
bool turns_several(const pouch::Pouch& pouch, const pouch::FoldMoment& moment) {
  if (!moment.before) return false;
  std::vector<pouch::Layer> all;
  for (const pouch::Turned& part : turned(*moment.before, moment.folded)) {
    std::copy_if(part.begin(), part.end(), std::back_inserter(all),
                 [&](const auto& layer) { return is_wall(pouch, layer.id); });
  }
  for (std::size_t i = 0; i < all.size(); ++i) {
    for (std::size_t k = i + 1; k < all.size(); ++k) {
      if (shared(all[i].heights, all[k].heights)) return true;
    }
  }
  return false;
}

/// The fold brings the lip to the shoulders of the slip card.
bool lip_meets_card(const pouch::Pouch& pouch, const pouch::FoldMoment& moment) {
  if (moment.cards.empty() || !moment.before) return false;
  const pouch::SpanRef lip = pouch.construction().compartments.front().film.front();
  const auto film_up = [&lip](const pouch::Folded& folded) {
    const auto layer = lying(folded, folded.id(lip));
    return !layer || layer->film_up;
  };
  return film_up(*moment.before) && !film_up(moment.folded);
}

/// Where no slip card's shoulder shows it: how far up the front comes to lie.
std::optional<Message> lip_against_flap(const pouch::Pouch& pouch, pouch::SpanRef turned) {
  const pouch::Construction& construction = pouch.construction();
  const bool has_shoulder = pouch.request.cards != pouch::CardUse::on_top;
  if (has_shoulder || !construction.flap_span || construction.compartments.size() > 1) return {};
  if (construction.compartments.front().film.front() != turned) return {};
  const Length drop = pouch.sizes.lip_drop;
  if (drop == Length()) return "steps-fold-lip-on";
  return Message{"steps-fold-lip-below", {{"drop", drop}}};
}

/// Hemmed sides have no raw edge any more.
bool has_hemmed_sides(const pouch::Pouch& pouch, std::size_t operation, pouch::SpanRef span) {
  const auto& all = pouch.construction().operations;
  return std::any_of(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(operation),
                     [&](const pouch::Operation& one) {
                       const auto* hem = one.as<does::Hem>();
                       return hem != nullptr && hem->span == span;
                     });
}

}  // namespace

Message fold_under_card(const pouch::Pouch& pouch, const pouch::FoldMoment& moment,
                        std::size_t compartment, const base::Voice& words) {
  const auto& film = pouch.construction().compartments[compartment].film;
  const auto is_film = [&](std::size_t span) {
    const auto ref = span_ref(pouch.sizes.panels, {0, span});
    return std::find(film.begin(), film.end(), ref) != film.end();
  };
  for (const pouch::FoldLine& fold : folds_of(pouch.sizes.main_panel())) {
    const pouch::Folded& folded = moment.folded;
    if (!folded.lies(0) || folded.height_of({0, fold.before}, fold.at) != Length()) continue;
    // Pockets back to back have bottoms of the same height.
    if (is_film(fold.before) || is_film(fold.before + 1)) return name_of_fold(pouch, fold, words);
  }
  return "fold-bottom";
}

bool film_faces_down(const pouch::Pouch& pouch, const pouch::FoldMoment& moment,
                     std::size_t compartment) {
  const auto& film = pouch.construction().compartments[compartment].film;
  return std::none_of(film.begin(), film.end(), [&](pouch::SpanRef ref) {
    const auto layer = lying(moment.folded, cut_span(pouch.sizes.panels, ref));
    return layer && layer->film_up;
  });
}

/// Measured from the end that lies towards whoever marks, which is the template's upper one.
Said mark_words(const pouch::Pouch& pouch, const base::Voice& words) {
  const pouch::FlatPanel& panel = pouch.sizes.main_panel();
  base::Value::List folds;
  for (const pouch::FoldLine& fold : folds_of(panel)) folds.push_back(base::mark(fold.at));
  return {"steps-mark",
          {{"steps-mark-how",
            {{"start", span_name(end_span(panel, pouch::Edge::start).name, words)},
             {"folds", folds},
             {"notch", base::at_most(pouch::notch_length(pouch.sizes.seam_allowance))}}}}};
}

std::optional<Said> fold_words(const pouch::Pouch& pouch, const pouch::FoldMoment& moment,
                               std::size_t operation, const base::Voice& words) {
  const std::vector<std::size_t> rolls = pouch::rolls_of(pouch);
  if (std::find(rolls.begin(), rolls.end(), operation) != rolls.end()) {
    if (operation != rolls.front()) return std::nullopt;
    return roll_words(pouch, rolls);
  }
  const auto& work = *pouch.operation(operation).as<does::Fold>();
  const bool over = work.landing == pouch::Landing::on_top;
  Said said{
      {over ? "steps-fold-over" : "steps-fold-under", {{"turn", span_of(pouch, work.turn, words)}}},
      {}};
  said.sentences.push_back(
      {has_hemmed_sides(pouch, operation, work.turn) ? "steps-fold-hemmed" : "steps-fold-how",
       {{"fold", fold_between(pouch, work.between_a, work.between_b, words)}}});
  if (turns_several(pouch, moment)) said.sentences.push_back("steps-fold-together");
  if (lip_meets_card(pouch, moment)) said.sentences.push_back("steps-fold-to-card");
  if (auto lip = lip_against_flap(pouch, work.turn)) said.sentences.push_back(std::move(*lip));
  if (operation + 1 == pouch.construction().operations.size()) add_closed(pouch, said.sentences);
  return said;
}

}  // namespace pouchwright::tell
