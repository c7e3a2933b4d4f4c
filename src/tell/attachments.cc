#include "tell/attachments.h"

#include <algorithm>
#include <optional>
#include <string>
#include <utility>

#include "base/length.h"
#include "ink/canvas.h"
#include "pouch/questions.h"
#include "tell/names.h"

namespace pouchwright::tell {
namespace {

using base::Length;
using pouch::Attachment;
using pouch::Face;
using pouch::Fixed;
using pouch::Operation;
using pouch::Through;

class Teller {
 public:
  Teller(const pouch::Pouch& pouch, const pouch::FoldMoment& moment, const base::Voice& words)
      : pouch_(pouch), moment_(moment), words_(words) {
    for (const Fixed& one : pouch.fixed) {
      const bool here =
          std::any_of(moment.operations.begin(), moment.operations.end(),
                      [&](std::size_t index) { return operation(index).id == one.operation; });
      if (here) here_.push_back(&one);
    }
  }

  std::vector<base::Message> told() {
    prepare_pieces();
    pierced();
    for (const Fixed* one : here_) how_fixed(*one);
    for (const std::size_t index : moment_.operations) caught(operation(index));
    return std::move(messages_);
  }

 private:
  void tell(base::Message message) { messages_.push_back(std::move(message)); }

  [[nodiscard]] const Operation& operation(std::size_t index) const {
    return pouch_.construction().operations[index];
  }
  [[nodiscard]] const Attachment* rule_of(const std::string& attachment) const {
    return pouch_.construction().attachment(attachment);
  }
  [[nodiscard]] std::string shown(Length length) const {
    return ink::kept_together(words_.text(length));
  }

  /// What is done with each piece before something is fixed to it, or before it is fixed itself.
  void prepare_pieces() {
    for (const pouch::PieceRule& piece : pouch_.construction().pieces) {
      if (piece.how.empty() || !is_first_with(piece.name)) continue;
      tell({"steps-piece-how", {{"piece", part_name(piece.name, words_)}, {"how", piece.how}}});
    }
  }

  /// Is the piece in somebody's hands now for the first time?
  [[nodiscard]] bool is_first_with(const std::string& piece) const {
    for (const Fixed& one : pouch_.fixed) {
      const Attachment* rule = rule_of(one.name);
      if (rule == nullptr || (rule->on != piece && rule->piece != piece)) continue;
      return std::find(here_.begin(), here_.end(), &one) != here_.end();
    }
    return false;
  }

  /// Said once for all that a step fixes.
  void pierced() {
    const auto any = [&](Through through, bool holds_water) {
      return std::any_of(here_.begin(), here_.end(), [&](const Fixed* one) {
        return one->piece.empty() && one->caught.empty() && one->through == through &&
               (through == Through::outer || pouch::is_wall(pouch_, one->span) == holds_water);
      });
    };
    if (any(Through::film, true)) tell({"steps-attach-film"});
    if (any(Through::film, false)) tell({"steps-attach-above"});
    if (any(Through::outer, true)) tell({"steps-attach-outer"});
  }

  /// On what it is fixed, and which way it looks.
  void how_fixed(const Fixed& one) {
    if (!one.piece.empty()) {
      tell({"steps-attach-piece",
            {{"name", part_name(one.name, words_)}, {"piece", part_name(one.piece, words_)}}});
      return;
    }
    const Attachment* rule = rule_of(one.name);
    if (rule == nullptr || one.x.empty()) return;
    const bool at_side = rule->across != pouch::Across::middle;
    if (one.kind == pouch::AttachmentKind::strap && at_side && one.width > Length()) {
      tell({"steps-attach-strap",
            {{"piece", part_name(rule->piece, words_)},
             {"length", shown(one.width)},
             {"from", shown(one.x.front() - base::half(one.width))}}});
    }
    if (const auto face = face_that_meets(one, *rule)) {
      const bool film = *face == Face::film;
      tell({film ? "steps-attach-shows-film" : "steps-attach-shows-cloth",
            {{"name", part_name(one.name, words_)}}});
    }
  }

  /// The face of its span that lies towards its other half, once all is folded.
  [[nodiscard]] std::optional<Face> face_that_meets(const Fixed& one,
                                                    const Attachment& rule) const {
    const pouch::Folded& last = pouch_.stages.back().folded;
    const auto own = place_of(last, one.span);
    if (!own) return std::nullopt;
    for (const Fixed& other : pouch_.fixed) {
      const Attachment* half = rule_of(other.name);
      if (half == nullptr || (rule.half_of != other.name && half->half_of != one.name)) continue;
      const auto its = place_of(last, other.span);
      if (!its) continue;
      const pouch::Layer& layer = last.layers()[*own];
      return *own < *its ? last.face_up(layer) : last.face_down(layer);
    }
    return std::nullopt;
  }

  /// Where a span lies among the layers, from below.
  [[nodiscard]] static std::optional<std::size_t> place_of(const pouch::Folded& folded,
                                                           const std::string& span) {
    for (std::size_t i = 0; i < folded.layers().size(); ++i) {
      if (folded.name(folded.layers()[i].id) == span) return i;
    }
    return std::nullopt;
  }

  /// Between which spans a loop is laid.
  void caught(const Operation& done) {
    const Attachment* rule = rule_of(done.attachment);
    if (rule == nullptr || !rule->between) return;
    tell({"steps-attach-caught",
          {{"a", span_name(rule->between->first, words_)},
           {"b", span_name(rule->between->second, words_)}}});
  }

  const pouch::Pouch& pouch_;
  const pouch::FoldMoment& moment_;
  base::Voice words_;
  std::vector<const Fixed*> here_;
  std::vector<base::Message> messages_;
};

}  // namespace

std::vector<base::Message> attach_words(const pouch::Pouch& pouch, const pouch::FoldMoment& moment,
                                        const base::Voice& words) {
  return Teller(pouch, moment, words).told();
}

}  // namespace pouchwright::tell
