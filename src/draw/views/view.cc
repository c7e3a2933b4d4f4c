#include "draw/views/view.h"

#include <algorithm>
#include <numbers>
#include <string>
#include <utility>

#include "draw/views/panel_faces.h"
#include "pouch/judge/wrap.h"
#include "pouch/questions.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::FoldMoment;
using pouch::Layer;
using pouch::Pouch;
using pouch::SpanId;
namespace does = pouch::does;

/// A part that goes away from the reader is nearly down, so that its film is seen below it; one
/// that comes towards the reader has only been raised: in both the side that it will hide is seen.
constexpr double kLeftAway = 42;
constexpr double kLeftTowards = 112;
/// Layers stay lower than this together, mm of paper.
constexpr double kHighest = 13;
/// An open mouth gapes by so much of the width.
constexpr double kGape = 0.2;
/// Round what goes in it is so much wider.
constexpr double kRoomy = 1.1;
/// A floor opens to so much of its cloth.
constexpr double kOpenFloor = 0.8;
/// How much of the depth a card is drawn out, to show that it comes out.
constexpr double kOut = 0.45;
/// A bend that is bent once more has only so many strips.
constexpr int kFewStrips = 3;
/// Below so much of its depth a pouch stays flat while its roll is bent; straps lie on each other by
/// so many mm to either side of the middle.
constexpr double kFlatShare = 0.15;
constexpr double kSnapped = 10;
/// A strap lies so much of a level over what it lies on.
constexpr double kOver = 0.3;

// ---- What is where -----------------------------------------------------------------------------

std::optional<std::size_t> stage_of(const Pouch& pouch, std::size_t operation) {
  for (std::size_t i = 0; i < pouch.stages.size(); ++i) {
    if (pouch.stages[i].operation == operation) return i;
  }
  return std::nullopt;
}

template <class Does>
const Does* last_as(const Pouch& pouch, const FoldMoment& moment) {
  if (moment.operations.empty()) return nullptr;
  return pouch.operation(moment.operations.back()).as<Does>();
}

template <class Does>
bool does_any(const Pouch& pouch, const FoldMoment& moment) {
  return std::any_of(moment.operations.begin(), moment.operations.end(), [&](std::size_t index) {
    return pouch.operation(index).as<Does>() != nullptr;
  });
}

/// How all lay before the last of the moment's operations.
pouch::Folded before_last(const Pouch& pouch, const FoldMoment& moment) {
  if (moment.operations.size() == 1) return *moment.before;
  const auto stage = stage_of(pouch, moment.operations.back());
  if (!stage || *stage == 0) return *moment.before;
  return pouch.stages[*stage - 1].folded;
}

// ---- Cards -------------------------------------------------------------------------------------

/// A card of the moment, and how far it has been drawn out, mm.
struct ViewCard {
  pouch::LyingCard lies;
  double out = 0;
};

/// The one that is being pulled out, as it lay before.
std::optional<ViewCard> pulled_card(const Pouch& pouch, const FoldMoment& moment) {
  for (const std::size_t index : moment.operations) {
    const auto* takes = pouch.operation(index).as<does::TakeCard>();
    const auto stage = stage_of(pouch, index);
    if (takes == nullptr || !stage || *stage == 0) continue;
    const auto card = slip_card_of(pouch, index, takes->compartment);
    for (const pouch::LyingCard& lay : pouch::moment(pouch, *stage - 1, *stage - 1).cards) {
      if (card && lay.card == *card) return ViewCard{lay, kOut * pouch.sizes.depth.in_mm()};
    }
  }
  return std::nullopt;
}

std::vector<ViewCard> view_cards(const Pouch& pouch, const FoldMoment& moment) {
  std::vector<ViewCard> cards;
  for (const pouch::LyingCard& card : moment.cards) cards.push_back({card});
  if (const auto pulled = pulled_card(pouch, moment)) cards.push_back(*pulled);
  return cards;
}

/// The layers with the cards between them, each called by its number.
Stack stack_with(const Pouch& pouch, const FoldMoment& moment, const std::vector<ViewCard>& cards) {
  std::vector<CutCard> cut;
  for (std::size_t i = 0; i < cards.size(); ++i) {
    const pouch::Card& card = pouch.cards[cards[i].lies.card].card;
    Length low = card.top;
    for (const pouch::Corner& corner : card.outline) low = std::min(low, corner.y);
    const Length out = Length::mm(cards[i].out);
    cut.push_back({std::to_string(i), {low + out, card.top + out}, cards[i].lies.layers_below});
  }
  return stacked(moment.folded, cut);
}

void add_cards(View& view, const Pouch& pouch, const std::vector<ViewCard>& cards) {
  for (const StackedLayer& layer : view.pose.stack().layers) {
    if (layer.id) continue;
    for (std::size_t i = 0; i < cards.size(); ++i) {
      if (layer.name != std::to_string(i)) continue;
      const pouch::NamedCard& named = pouch.cards[cards[i].lies.card];
      const double z = view.pose.z(static_cast<double>(layer.level));
      view.cards.push_back({cards[i].lies.card, z, cards[i].out});
      add_card_faces(view.faces, named.card, z, cards[i].out,
                     face_of_card(pouch, cards[i].lies.card));
    }
  }
}

// ---- Straps ------------------------------------------------------------------------------------

std::optional<SpanId> span_of(const Pouch& pouch, std::size_t attachment) {
  for (const pouch::Fixed& fixed : pouch.fixed) {
    if (fixed.attachment == attachment && fixed.span) return fixed.span;
  }
  return std::nullopt;
}

/// As they are sewn, their free ends inwards, or out as they are used.
void add_straps(std::vector<ViewFace>& faces, const Pouch& pouch, const FoldMoment& moment,
                const Pose& pose) {
  std::optional<std::size_t> sewn;
  for (const std::size_t index : moment.operations) {
    if (const auto* work = pouch.operation(index).as<does::Attach>()) sewn = work->attachment;
  }
  if (!sewn && !moment.straps_out) return;
  for (const pouch::LyingStrap& strap : straps_at_sides(
           pouch, moment.folded,
           moment.straps_out ? pouch::StrapLies::outwards : pouch::StrapLies::inwards)) {
    if (!moment.straps_out && strap.attachment != *sewn) continue;
    const auto span = span_of(pouch, strap.attachment);
    if (!span) continue;
    const double over = pose.over_cloth(*span, kOver);
    const auto corner = [&](Length x, Length height) {
      return pose.beside(*span, x.in_mm(), height, over);
    };
    faces.push_back(
        {.face =
             quad(corner(strap.x.from, strap.heights.from), corner(strap.x.to, strap.heights.from),
                  corner(strap.x.to, strap.heights.to), corner(strap.x.from, strap.heights.to),
                  {kRawEdge, kRawEdge, kRawEdge, kRawEdge}),
         .front = Skin::lining,
         .back = Skin::lining,
         .name =
             "strap: " + pouch.construction().attachments[strap.attachment].name +
             (2 * strap.x.from < pouch.sizes.cut_width - strap.x.size() ? ", left" : ", right")});
  }
}

/// Bends the ends of a rolled mouth together, until the straps' snaps lie on each other.
void hold_roll(View& view, const Pouch& pouch, const FoldMoment& moment) {
  double reach = 0;
  double height = 0;
  Length low = extent_of(moment.folded.layers()).to;
  const double centre = pouch.sizes.cut_width.in_mm() / 2;
  for (const pouch::LyingStrap& strap :
       straps_at_sides(pouch, moment.folded, pouch::StrapLies::outwards)) {
    reach = std::max(reach, strap.x.to.in_mm() - centre);
    if (const auto span = span_of(pouch, strap.attachment)) {
      const double over = view.pose.over_cloth(*span, kOver);
      height = view.pose.beside(*span, centre, middle(strap.heights), over).z;
    }
    low = std::min(low, strap.heights.from);
  }
  if (reach <= 0 || !moment.straps_out) return;
  const double top = low.in_mm();
  view.curl = Curl{.from = kFlatShare * top,
                   .to = top,
                   .centre = centre,
                   .radius = (reach - kSnapped) / std::numbers::pi,
                   .height = height};
  curl_up(view.faces, *view.curl, view.projection);
}

/// Between levels, mm of cloth: as the look has it, less where there are many. From straight above
/// nothing shows of it.
double pitch_of(const ViewLook& look, const Projection& projection, std::size_t levels) {
  if (projection.rise() <= 0) return look.pitch / look.scale;
  const double most = kHighest / static_cast<double>(std::max<std::size_t>(levels, 1));
  return std::min(look.pitch, most) / projection.rise();
}

/// Was anything pressed before, or with it, so that the sides hold?
bool sides_hold(const Pouch& pouch, const FoldMoment& moment) {
  if (moment.operations.empty()) return true;
  for (const pouch::Stage& stage : pouch.stages) {
    if (pouch.operation(stage.operation).as<does::Press>()) return true;
    if (stage.operation == moment.operations.back()) break;
  }
  return false;
}

/// The compartment whose mouth is worked in.
std::optional<std::size_t> worked_in(const Pouch& pouch, const FoldMoment& moment) {
  for (const std::size_t index : moment.operations) {
    if (const auto* takes = pouch.operation(index).as<does::TakeCard>()) return takes->compartment;
  }
  if (does_any<does::LookInside>(pouch, moment) || does_any<does::FillFirst>(pouch, moment) ||
      does_any<does::Test>(pouch, moment)) {
    return 0;
  }
  return std::nullopt;
}

/// The upper wall of a compartment's mouth: of its meetings the one that reaches highest.
std::optional<pouch::Meeting> mouth_of(const pouch::Folded& folded,
                                       const pouch::Compartment& compartment) {
  const auto bounds_it = [&](SpanId id) {
    const auto ref = span_ref(folded.panels(), id);
    return ref && std::find(compartment.film.begin(), compartment.film.end(), *ref) !=
                      compartment.film.end();
  };
  std::optional<pouch::Meeting> highest;
  for (const pouch::Meeting& meeting : folded.film_contacts()) {
    if (!bounds_it(meeting.lower) || !bounds_it(meeting.upper)) continue;
    if (!highest || meeting.heights.to > highest->heights.to) highest = meeting;
  }
  return highest;
}

/// Does another layer lie over the span's upper end?
bool is_covered(const pouch::Folded& folded, const pouch::Meeting& mouth) {
  bool above = false;
  for (const Layer& layer : folded.layers()) {
    if (above && layer.heights.from < mouth.heights.to && layer.heights.to >= mouth.heights.to) {
      return true;
    }
    above = above || layer.id == mouth.upper;
  }
  return false;
}

/// A pleat between the walls opens as wide as its cloth lets it, and no wider than the mouth.
void open_floor(OpenMouth& open, const Pouch& pouch, const pouch::Folded& folded) {
  Length cloth;
  for (const pouch::SpanRef ref : pouch::wrapped_spans(pouch.construction()).floor) {
    const SpanId id = folded.id(ref);
    if (!folded.lies(id.panel) || id == open.lower || id.panel != open.lower.panel) return;
    open.floor.push_back(id);
    cloth += folded.layer(id).heights.size();
  }
  std::sort(open.floor.begin(), open.floor.end());
  if (!open.floor.empty() && open.floor.front() < open.lower) {
    std::reverse(open.floor.begin(), open.floor.end());
  }
  open.floor_gap = std::min(kOpenFloor * cloth.in_mm(), open.gap);
}

}  // namespace

std::string face_of_card(const Pouch& pouch, std::size_t card) {
  const pouch::NamedCard& named = pouch.cards[card];
  if (named.use == pouch::NamedCard::Use::shield) return "shield";
  const auto& compartments = pouch.construction().compartments;
  return compartments.size() < 2 ? "slip card"
                                 : "slip card: " + compartments[named.compartment].name;
}

std::optional<Turning> turning_of(const Pouch& pouch, const FoldMoment& moment) {
  if (!moment.before || moment.operations.empty()) return std::nullopt;
  const pouch::Folded before = before_last(pouch, moment);
  const auto runs = pouch::turned(before, moment.folded);
  if (runs.empty()) return std::nullopt;
  const Layer& was = runs.front().front();
  const Layer& is = moment.folded.layer(was.id);
  const auto* fold = last_as<does::Fold>(pouch, moment);
  Turning turning{.spans = {},
                  .line = base::half(was.heights.from + is.heights.to),
                  .landing = fold != nullptr ? fold->landing : pouch::Landing::underneath};
  turning.left_deg = is.heights.from >= turning.line ? kLeftAway : kLeftTowards;
  for (const pouch::Turned& run : runs) {
    for (const Layer& layer : run) turning.spans.push_back(layer.id);
  }
  return turning;
}

bool mouth_is_free(const Pouch& pouch, const pouch::Folded& folded) {
  const auto mouth = mouth_of(folded, pouch.construction().compartments.front());
  return mouth && !is_covered(folded, *mouth);
}

std::optional<OpenMouth> open_mouth_of(const Pouch& pouch, const FoldMoment& moment,
                                       const ViewLook& look) {
  const auto compartment = look.open ? std::optional<std::size_t>(0) : worked_in(pouch, moment);
  if (!compartment) return std::nullopt;
  const pouch::Folded& folded = moment.folded;
  const auto mouth = mouth_of(folded, pouch.construction().compartments[*compartment]);
  if (!mouth || is_covered(folded, *mouth)) return std::nullopt;
  const Stack stack = stacked(folded, {});
  OpenMouth open{.spans = {},
                 .lower = mouth->lower,
                 .gap = kGape * pouch.sizes.cut_width.in_mm(),
                 .full = look.content > 0,
                 .sides_held = sides_hold(pouch, moment),
                 .left = pouch.sizes.seal_width.in_mm(),
                 .right = (pouch.sizes.cut_width - pouch.sizes.seal_width).in_mm()};
  if (open.full) open.gap = kRoomy * look.content;
  if (look.open) open_floor(open, pouch, folded);
  for (const Layer& layer : folded.layers()) {
    const bool flat_on = layer.id.panel == mouth->upper.panel &&
                         stack.of(layer.id).level == stack.of(mouth->upper).level &&
                         layer.rising == folded.layer(mouth->upper).rising;
    if (flat_on) open.spans.push_back(layer.id);
  }
  return open;
}

View view_of(const Pouch& pouch, const FoldMoment& moment, const ViewLook& look) {
  const Projection projection(look.angles, look.scale);
  const std::vector<ViewCard> cards = view_cards(pouch, moment);
  const Stack stack = stack_with(pouch, moment, cards);
  const PoseLook pose_look{.pitch = pitch_of(look, projection, stack.levels),
                           .bend_strips = look.held ? kFewStrips : PoseLook{}.bend_strips,
                           .turning = turning_of(pouch, moment),
                           .mouth = open_mouth_of(pouch, moment, look)};
  View view{projection, Pose(moment.folded, stack, pose_look), {}, {}, {}};
  add_panel_faces(view.faces, view.pose,
                  {.width = pouch.sizes.cut_width.in_mm(),
                   .outer = moment.outer,
                   .outer_alone = moment.outer_alone,
                   .shaped = shaped_end(pouch),
                   .towards_eye = projection.towards_eye()});
  add_cards(view, pouch, cards);
  add_straps(view.faces, pouch, moment, view.pose);
  if (look.held) hold_roll(view, pouch, moment);
  return view;
}

}  // namespace pouchwright::draw
