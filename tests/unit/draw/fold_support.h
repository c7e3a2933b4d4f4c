/// What the tests of fold pictures and steps share: words of about the real length, and a reader of
/// the side view.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "draw/folds/picture.h"
#include "unit/draw/full_size_support.h"

namespace pouchwright::test {

/// Lengths as in English; `longer` makes every text 40 % longer, as German words are.
enum class Tongue { english, longer };

inline base::Words step_words_table(Tongue tongue) {
  std::map<std::string, std::string, std::less<>> table{
      {"drawing-slip-card", "Slip card"},
      {"drawing-shield", "Shield"},
      {"drawing-span-start-hem", "hem"},
      {"drawing-span-end-hem", "hem"},
      {"steps-title", "Steps: {title}"},
      {"steps-views",
       "Each step: left, the pouch seen from above, mouth up; right, cut through and "
       "seen from the side, drawn much thicker than it is, the top layer on the left."},
      {"steps-line-film", "film"},
      {"steps-line-knit", "knit of the laminate"},
      {"steps-line-outer", "outer"},
      {"steps-line-film-up", "film looks up"},
      {"steps-line-fold", "a fold to come"},
      {"steps-line-hidden", "hidden, or where it lay before"},
      {"steps-line-press", "press here"},
      {"steps-line-clip", "clip"},
      {"steps-line-sew", "sew here"},
      {"steps-mark", "Mark the folds"},
      {"steps-mark-how",
       "Film side up, every panel the same way round, the end of the {start} towards you: the "
       "template's upper end. Mark the folds at the raw edges, {folds} from that end, with chalk, "
       "or snip no deeper than {notch}."},
      {"steps-clips", "Hold with clips. No pins inside the seam line."},
      {"steps-pair", "Pair laminate and outer"},
      {"steps-pair-how",
       "Laminate film side up; the outer under it, right side down, both the same "
       "way round."},
      {"steps-overedge", "Overedge (serge) the free ends: {ends}"},
      {"steps-turned", "Hem the free ends: {ends}"},
      {"steps-turned-how", "Turn the hem to the cloth side and stitch it."},
      {"steps-chain", "Leave a thread chain of {chain} between pieces."},
      {"steps-lay-card", "Lay the slip card on the film"},
      {"steps-lay-card-how",
       "Its foot on the bottom fold, its crossbar from raw edge to raw edge."},
      {"steps-fold-over", "Fold over: {turn}"},
      {"steps-fold-under", "Fold under: {turn}"},
      {"steps-fold-how", "On the marks between {before} and {after}, raw edges on raw edges."},
      {"steps-fold-together", "Take all layers together."},
      {"steps-fold-to-card", "The lip meets the shoulders of the slip card."},
      {"steps-press", "Fuse the hatched bands"},
      {"steps-press-slip-card", "The slip card stays inside."},
      {"steps-press-shield", "Lay the shield on and press over it."},
      {"steps-press-bands",
       "Take off any clip there. Press only the bands, never on bare film. Let them cool."},
      {"steps-press-from-back",
       "Turn the whole over first, cards and all, and press from the back."},
      {"steps-press-from-both",
       "Then turn the whole over, cards and all, and press from the back as well."},
      {"steps-press-try",
       "Set the iron as your trial on scraps showed: dots ___, steam yes / no, ___ s on each "
       "place. "
       "No middle setting and no steam without that trial."},
      {"steps-press-shield-over", "The shield goes on the side that is up."},
      {"steps-take-card", "Pull the slip card out"},
      {"steps-take-card-how", "Through the mouth, once it is cool."},
      {"steps-look", "Look inside"},
      {"steps-look-how",
       "Is every band closed, without a gap or a hole? If not, lay the cards as before and press "
       "again now."},
      {"steps-sew", "Sew on the dashed lines"},
      {"steps-sew-how",
       "{allowance} from the raw edges, through all layers. No stitch further in than {reach}."},
      {"steps-sew-flap", "Keep the flap down when you sew the second side."},
      {"steps-tails", "Secure the tails"},
      {"steps-tails-how",
       "Zigzag over the thread ends, or draw them back under the stitches, before they unravel."},
      {"steps-test", "Test with water"},
      {"steps-test-how",
       "Fill it to the wave, {level} above the bottom, and wait {minutes} minutes or longer. Look "
       "at the corners first. Dry it fully."},
      {"steps-lay-card-of", "Lay the slip card on the film: {compartment}"},
      {"steps-lay-card-above-seam",
       "Its foot just above the bottom band, its crossbar from raw edge to raw edge."},
      {"steps-take-card-of", "Pull the slip card out: {compartment}"},
      {"steps-press-set",
       "Set the iron as the trial showed: dots {dots}, {steam}, {seconds} s on each place. Another "
       "cloth or iron: test on scraps first."},
      {"steps-press-set-no-seconds",
       "Set the iron as the trial showed: dots {dots}, {steam}. Another cloth or iron: test on "
       "scraps first."},
      {"steps-stitch", "Stitch {code}: {name}."},
      {"steps-stitch-code", "Stitch {code}."},
      {"steps-back-tack", "Sew back and forth at both ends."},
      {"steps-test-of", "Test with water: {compartment}"},
      {"stitch-301", "lockstitch"},
      {"stitch-504", "three-thread overedge (serger, overlock)"},
      {"iron-steam", "with steam"},
      {"iron-no-steam", "no steam"},
      {"iron-never-steam", "never steam"},
      {"steps-test-no-line", "Fill it and wait {minutes} minutes or longer. Dry it fully."}};
  if (tongue == Tongue::longer) {
    // Longer words, not more of them: they break lines earlier.
    for (auto& [key, text] : table) {
      std::string longer;
      std::size_t letters = 0;
      bool in_hole = false;
      for (const char c : text) {
        longer += c;
        if (c == '{') in_hole = true;
        if (c == '}') in_hole = false;
        if (in_hole || c == ' ' || c == '}') continue;
        letters += 2;
        for (; letters >= 5; letters -= 5) longer += 'n';
      }
      text = longer;
    }
  }
  return base::Words(table);
}

/// Every shape of that name; there may be none.
inline std::vector<const ink::Shape*> named_shapes(const ink::Drawing& sheet,
                                                   std::string_view name) {
  std::vector<const ink::Shape*> result;
  for (const ink::Item& item : sheet.items) {
    const auto* shape = std::get_if<ink::Shape>(&item);
    if (shape != nullptr && shape->name == name) result.push_back(shape);
  }
  return result;
}

inline std::vector<const ink::Shape*> shapes_beginning(const ink::Drawing& sheet,
                                                       std::string_view begin) {
  std::vector<const ink::Shape*> result;
  for (const ink::Item& item : sheet.items) {
    const auto* shape = std::get_if<ink::Shape>(&item);
    if (shape != nullptr && shape->name.starts_with(begin)) result.push_back(shape);
  }
  return result;
}

/// The index of the first stage of that operation.
inline std::size_t stage_of(const pouch::Pouch& pouch, std::string_view id) {
  for (std::size_t i = 0; i < pouch.stages.size(); ++i) {
    if (pouch.construction().operations[pouch.stages[i].operation].id == id) return i;
  }
  FAIL("no such stage");
  return 0;
}

}  // namespace pouchwright::test
