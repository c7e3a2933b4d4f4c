/// Folding: panels as stacks of layers, folded along lines, one operation after the other.
///
///     Folded folded(panels, FilmFaces::one, bottom);  // lies flat, film side up
///     auto trouble = folded.fold({0, 0}, {0, 0}, Landing::on_top);
///     for (const Meeting& m : folded.film_contacts()) ...
///
/// A layer is one span of a panel. Heights are measured along the folding direction: 0 at the
/// bottom line, growing towards the panel's end while it lies flat. All arithmetic is exact.
/// Not for widths, seals or needles (see pouch.h).
#pragma once

#include <cstddef>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "base/length.h"
#include "pouch/construction.h"

namespace pouchwright::pouch {

/// A stretch of one dimension, `from` <= `to`.
struct Interval {
  Length from;
  Length to;

  [[nodiscard]] Length size() const { return to - from; }
  bool operator==(const Interval&) const = default;
};

/// What both intervals share, if it is more than a point.
[[nodiscard]] std::optional<Interval> shared(const Interval& a, const Interval& b);
/// The parts of `whole` that none of `holes` covers, in order.
[[nodiscard]] std::vector<Interval> without(const Interval& whole, std::vector<Interval> holes);
/// Touching and overlapping intervals joined; sorted.
[[nodiscard]] std::vector<Interval> joined(std::vector<Interval> parts);

/// A span of a flat panel: its name and where it lies, from the panel's start.
struct Span {
  std::string name;
  Length from;
  Length to;

  bool operator==(const Span&) const = default;
};

/// A panel as it is folded: spans in order, end to end. Insets count from the raw side edge of the
/// widest panel, in its middle line.
struct FlatPanel {
  std::string name;
  std::vector<Span> spans;
  bool has_film = true;           ///< a lining has none
  Length inset = Length();        ///< how far its sides stay inside
  std::optional<Interval> outer;  ///< along the panel, where an outer lies on the knit face
  Length outer_inset = Length();  ///< how far the outer's sides stay inside
  std::size_t hems_before = 0;    ///< 1: the first span is a hem that the job's start adds
  std::size_t hems_after = 0;     ///< 1: likewise the last, of the end

  [[nodiscard]] bool is_hem(std::size_t span) const {
    return span < hems_before || span + hems_after >= spans.size();
  }
};

/// Names one span of one panel as it is cut, hems among them.
struct SpanId {
  std::size_t panel = 0;
  std::size_t span = 0;

  auto operator<=>(const SpanId&) const = default;
};

/// The cut span that a span of the construction becomes, and back; a hem is none of its spans.
[[nodiscard]] SpanId cut_span(const std::vector<FlatPanel>& panels, SpanRef ref);
[[nodiscard]] std::optional<SpanRef> span_ref(const std::vector<FlatPanel>& panels, SpanId id);

/// What a layer shows to one side.
enum class Face { film, cloth };

/// One span as it lies: between two heights, one face up. `rising` says whether y on the flat panel
/// grows with the height.
struct Layer {
  SpanId id;
  Interval heights;
  bool rising = true;
  bool film_up = true;  ///< is the film side up? (the other side is cloth, or film as well)

  bool operator==(const Layer&) const = default;
};

/// Two neighbouring layers that meet film to film between two heights; `lower` lies below.
struct Meeting {
  SpanId lower;
  SpanId upper;
  Interval heights;

  bool operator==(const Meeting&) const = default;
};

/// Why a fold cannot be made flat.
struct FoldTrouble {
  enum class Kind {
    in_the_way,  ///< `other` lies where `span` would have to pass
    joined,      ///< `other` stays, but `span` is already fused or sewn to it
  };
  Kind kind{};
  SpanId span;
  SpanId other;
};

/// The panels as they lie now.
class Folded {
 public:
  /// Panel 0 lies flat and film side up, with height 0 at `bottom` (a y of that panel).
  /// The others are laid on later.
  Folded(const std::vector<FlatPanel>& panels, FilmFaces film, Length bottom);

  /// Only `panel` lies, film side up, from height 0 on: it is worked on apart from the others.
  [[nodiscard]] static Folded apart(const std::vector<FlatPanel>& panels, FilmFaces film,
                                    std::size_t panel, bool rising);

  /// Turns every span of `panel` on one side of the line between `span_before` and the next span
  /// over that line, with all that is joined to them and ends at that line as well. `turned_span`
  /// is one of the two at the line. Changes nothing where it returns trouble.
  [[nodiscard]] std::optional<FoldTrouble> fold(SpanId span_before, SpanId turned_span,
                                                Landing landing);

  /// Lays a further panel on all that lies (or under it): its start at height `low`, or its end
  /// where `rising` is false. Requires: the panel does not lie yet.
  void lay(std::size_t panel, Length low, bool rising, bool film_up, Landing landing);
  [[nodiscard]] bool lies(std::size_t panel) const;

  /// From now on the two move together.
  void join(SpanId a, SpanId b);
  [[nodiscard]] bool are_joined(SpanId a, SpanId b) const;

  /// All layers from bottom to top.
  [[nodiscard]] const std::vector<Layer>& layers() const { return layers_; }
  [[nodiscard]] const Layer& layer(SpanId id) const;
  /// The layers at heights that include `probe` (a stretch without a layer's end inside), bottom
  /// first.
  [[nodiscard]] std::vector<Layer> layers_over(const Interval& probe) const;
  /// Of these, the ones that reach out to `inset` from the widest panel's raw side edge.
  [[nodiscard]] std::vector<Layer> layers_over(const Interval& probe, Length inset) const;
  /// Heights at which any layer begins or ends, sorted, each once.
  [[nodiscard]] std::vector<Length> breaks() const;

  /// Every film contact between neighbours; stretches of one pair that touch are joined. Sorted by
  /// height, then from the bottom up.
  [[nodiscard]] std::vector<Meeting> film_contacts() const { return film_contacts(Length()); }
  /// The same, seen at `inset` from the raw side edge, where narrower panels and outers may lie
  /// between.
  [[nodiscard]] std::vector<Meeting> film_contacts(Length inset) const;
  /// Heights at which the top layer's film looks up, or the bottom layer's looks down; joined.
  [[nodiscard]] std::vector<Interval> film_on_top() const;
  [[nodiscard]] std::vector<Interval> film_below() const;

  /// What a layer shows there: between two heights, at `inset` from the raw side edge.
  [[nodiscard]] Face face_up(const Layer& layer, const Interval& heights, Length inset) const;
  [[nodiscard]] Face face_down(const Layer& layer, const Interval& heights, Length inset) const;
  /// Over the middle of the whole layer.
  [[nodiscard]] Face face_up(const Layer& layer) const;
  [[nodiscard]] Face face_down(const Layer& layer) const;
  /// Does an outer lie on the layer's knit face there?
  [[nodiscard]] bool has_outer(const Layer& layer, const Interval& heights, Length inset) const;

  /// The height of a point of a flat panel, and back.
  [[nodiscard]] Length height_of(SpanId id, Length y) const;
  [[nodiscard]] Interval on_panel(SpanId id, const Interval& heights) const;

  [[nodiscard]] const std::vector<FlatPanel>& panels() const { return panels_; }
  [[nodiscard]] SpanId id(SpanRef ref) const { return cut_span(panels_, ref); }
  [[nodiscard]] const std::string& name(SpanId id) const {
    return panels_[id.panel].spans[id.span].name;
  }

 private:
  [[nodiscard]] std::optional<FoldTrouble> gather(std::set<SpanId>& moving, SpanId stays,
                                                  Length line) const;
  [[nodiscard]] std::optional<FoldTrouble> way_is_free(const std::set<SpanId>& moving, Length line,
                                                       bool far_is_above, Landing landing) const;
  [[nodiscard]] Face other_face(const Layer& layer, const Interval& heights, Length inset) const;

  std::vector<FlatPanel> panels_;
  FilmFaces film_;
  std::vector<Layer> layers_;
  std::vector<std::pair<SpanId, SpanId>> joins_;
};

}  // namespace pouchwright::pouch
