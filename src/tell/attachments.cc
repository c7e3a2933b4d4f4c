#include "tell/attachments.h"

#include <algorithm>
#include <optional>
#include <string>
#include <utility>

#include "base/length.h"
#include "pouch/questions.h"
#include "tell/names.h"

namespace pouchwright::tell {
namespace {

using base::Length;
using pouch::Attachment;
using pouch::Face;
using pouch::Fixed;
using pouch::Through;

class Teller {
 public:
  Teller(const pouch::Pouch& pouch, const pouch::FoldMoment& moment, const base::Voice& words)
      : pouch_(pouch), moment_(moment), words_(words) {
    for (const Fixed& one : pouch.fixed) {
      if (is_here(one)) here_.push_back(&one);
    }
  }

  std::vector<base::Message> told() {
    prepare_pieces();
    pierced();
    for (const Fixed* one : here_) how_fixed(*one);
    for (const std::size_t index : moment_.operations) caught(index);
    return std::move(messages_);
  }

 private:
  void tell(base::Message message) { messages_.push_back(std::move(message)); }

  /// Is it fixed at this moment?
  [[nodiscard]] bool is_here(const Fixed& one) const {
    const auto& done = moment_.operations;
    return std::find(done.begin(), done.end(), one.operation) != done.end();
  }
  [[nodiscard]] std::string name_of(const Fixed& fixed) const {
    return part_name(pouch_.rule(fixed).name, words_);
  }
  [[nodiscard]] std::string piece_name(std::size_t piece) const {
    return part_name(pouch_.construction().pieces[piece].name, words_);
  }
  [[nodiscard]] std::string span_of(pouch::SpanRef ref) const {
    return span_name(pouch_.construction().span(ref).name, words_);
  }
  /// What is done with each piece before something is fixed to it, or before it is fixed itself.
  void prepare_pieces() {
    const auto& pieces = pouch_.construction().pieces;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      if (pieces[i].how.empty() || !is_first_with(i)) continue;
      tell({"steps-piece-how", {{"piece", piece_name(i)}, {"how", pieces[i].how}}});
    }
  }

  /// Is the piece in somebody's hands now for the first time?
  [[nodiscard]] bool is_first_with(std::size_t piece) const {
    for (const Fixed& one : pouch_.fixed) {
      const Attachment& rule = pouch_.rule(one);
      if (rule.on_piece != piece && rule.made_of != piece) continue;
      return is_here(one);
    }
    return false;
  }

  /// Said once for all that a step fixes.
  void pierced() {
    const auto any = [&](Through through, bool holds_water) {
      return std::any_of(here_.begin(), here_.end(), [&](const Fixed* one) {
        return one->span && one->caught.empty() && one->through == through &&
               (through == Through::outer || pouch::is_wall(pouch_, *one->span) == holds_water);
      });
    };
    if (any(Through::film, true)) tell({"steps-attach-film"});
    if (any(Through::film, false)) tell({"steps-attach-above"});
    if (any(Through::outer, true)) tell({"steps-attach-outer"});
  }

  /// On what it is fixed, and which way it looks.
  void how_fixed(const Fixed& one) {
    if (one.piece) {
      tell({"steps-attach-piece", {{"name", name_of(one)}, {"piece", piece_name(*one.piece)}}});
      const bool is_pair = pouch_.construction().pieces[*one.piece].count == 2;
      if (is_pair && pouch_.rule(one).kind == pouch::AttachmentKind::snap) {
        tell({"steps-attach-halves", {{"piece", piece_name(*one.piece)}}});
      }
      return;
    }
    const Attachment& rule = pouch_.rule(one);
    if (one.x.empty()) return;
    const bool at_side = rule.across != pouch::Across::middle;
    if (rule.kind == pouch::AttachmentKind::strap && at_side && one.width > Length()) {
      tell({"steps-attach-strap",
            {{"piece", rule.made_of ? piece_name(*rule.made_of) : ""},
             {"length", base::mark(one.width)},
             {"from", base::mark(one.x.front() - base::half(one.width))}}});
    }
    const auto face = face_that_meets(one);
    if (face && rule.kind == pouch::AttachmentKind::snap) {
      snap_half(one, *face);
    } else if (face) {
      const bool film = *face == Face::film;
      tell({film ? "steps-attach-shows-film" : "steps-attach-shows-cloth",
            {{"name", name_of(one)}}});
    }
  }

  /// Which half it is, and which face it clicks on; each has a cap behind it.
  void snap_half(const Fixed& one, Face face) {
    const char* half = pouch_.rule(one).half_of ? "snap-stud" : "snap-socket";
    const char* key = face == Face::film              ? "steps-attach-snap-film"
                      : one.through == Through::outer ? "steps-attach-snap-outer"
                                                      : "steps-attach-snap-cloth";
    tell({key, {{"name", name_of(one)}, {"half", base::Message(half)}}});
  }

  /// The face of its span that lies towards its other half, once all is folded.
  [[nodiscard]] std::optional<Face> face_that_meets(const Fixed& one) const {
    const pouch::Folded& last = pouch_.stages.back().folded;
    const auto own = place_of(last, one.span);
    if (!own) return std::nullopt;
    for (const Fixed& other : pouch_.fixed) {
      const bool is_half = pouch_.rule(one).half_of == other.attachment ||
                           pouch_.rule(other).half_of == one.attachment;
      if (!is_half) continue;
      const auto its = place_of(last, other.span);
      if (!its) continue;
      const pouch::Layer& layer = last.layers()[*own];
      return *own < *its ? last.face_up(layer) : last.face_down(layer);
    }
    return std::nullopt;
  }

  /// Where a span lies among the layers, from below.
  [[nodiscard]] static std::optional<std::size_t> place_of(const pouch::Folded& folded,
                                                           std::optional<pouch::SpanId> span) {
    for (std::size_t i = 0; i < folded.layers().size(); ++i) {
      if (folded.layers()[i].id == span) return i;
    }
    return std::nullopt;
  }

  /// Between which spans a loop is laid.
  void caught(std::size_t operation) {
    const auto* work = pouch_.operation(operation).as<pouch::does::Attach>();
    if (work == nullptr) return;
    const Attachment& rule = pouch_.construction().attachments[work->attachment];
    if (!rule.between) return;
    tell({"steps-attach-caught",
          {{"a", span_of(rule.between->first)}, {"b", span_of(rule.between->second)}}});
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
