#include "draw/views/view.h"

#include <algorithm>
#include <numbers>
#include <string>
#include <utility>

#include "draw/views/panel_faces.h"
#include "pouch/questions.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::FoldMoment;
using pouch::Layer;
using pouch::Pouch;
using pouch::SpanId;
namespace does = pouch::does;

/// Layers stay lower than this together, mm of paper.
constexpr double kHighest = 13;
/// How much of the depth a card is drawn out, to show that it comes out.
constexpr double kOut = 0.45;
/// A bend that is bent once more has only so many strips.
constexpr int kFewStrips = 2;
/// Below so much of its depth a pouch stays flat while its roll is bent; straps lie on each other by
/// so many mm to either side of the middle.
constexpr double kFlatShare = 0.15;
constexpr double kSnapped = 10;
/// A strap lies so much of a level over what it lies on.
constexpr double kOver = 0.3;

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

/// Is the card laid in by one of the moment's operations?
bool is_laid_in(const Pouch& pouch, const FoldMoment& moment, std::size_t card) {
  return std::any_of(moment.operations.begin(), moment.operations.end(), [&](std::size_t index) {
    const auto* lays = pouch.operation(index).as<does::LayCard>();
    return lays != nullptr && slip_card_of(pouch, index, lays->compartment) == card;
  });
}

std::vector<ViewCard> view_cards(const Pouch& pouch, const FoldMoment& moment,
                                 std::optional<double> done) {
  const double way = kOut * pouch.sizes.depth.in_mm();
  std::vector<ViewCard> cards;
  for (const pouch::LyingCard& card : moment.cards) {
    const bool comes_in = done && is_laid_in(pouch, moment, card.card);
    cards.push_back({card, comes_in ? (1 - *done) * way : 0});
  }
  if (auto pulled = pulled_card(pouch, moment)) {
    if (done) pulled->out = *done * way;
    cards.push_back(*pulled);
  }
  return cards;
}

/// The moment's turn, as far as the look has it done.
std::optional<Turning> turning_at(const Pouch& pouch, const FoldMoment& moment,
                                  std::optional<double> done) {
  auto turning = turning_of(pouch, moment);
  constexpr double kHalfTurn = 180;
  if (turning && done) turning->left_deg = kHalfTurn * (1 - *done);
  return turning;
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

}  // namespace

std::string face_of_card(const Pouch& pouch, std::size_t card) {
  const pouch::NamedCard& named = pouch.cards[card];
  if (named.use == pouch::NamedCard::Use::shield) return "shield";
  const auto& compartments = pouch.construction().compartments;
  return compartments.size() < 2 ? "slip card"
                                 : "slip card: " + compartments[named.compartment].name;
}

View view_of(const Pouch& pouch, const FoldMoment& moment, const ViewLook& look) {
  const Projection projection(look.angles, look.scale);
  const std::vector<ViewCard> cards = view_cards(pouch, moment, look.done);
  const Stack stack = stack_with(pouch, moment, cards);
  const PoseLook pose_look{.pitch = pitch_of(look, projection, stack.levels),
                           .bend_strips = look.held ? kFewStrips : PoseLook{}.bend_strips,
                           .turning = turning_at(pouch, moment, look.done),
                           .mouth = open_mouth_of(pouch, moment, look.mouth)};
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
