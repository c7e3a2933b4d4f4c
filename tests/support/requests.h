/// Requests and constructions for tests, made directly, without a file.
#pragma once

#include "pouch/request.h"

namespace pouchwright::test {

using base::Length;

inline Length mm(std::int64_t count) { return Length::whole_mm(count); }

inline pouch::SpanRule span(std::string name, std::vector<pouch::LinearForm::Term> terms) {
  return {std::move(name), {std::move(terms)}, {}};
}

inline pouch::Operation operation(std::string id, pouch::Action action) {
  pouch::Operation made;
  made.id = std::move(id);
  made.action = action;
  return made;
}

inline pouch::Operation finish(std::string id, pouch::Edge end) {
  pouch::Operation made = operation(std::move(id), pouch::Action::finish);
  made.end = end;
  return made;
}

inline pouch::Operation fold(std::string id, std::string a, std::string b, std::string turn) {
  pouch::Operation made = operation(std::move(id), pouch::Action::fold);
  made.between_a = std::move(a);
  made.between_b = std::move(b);
  made.turn = std::move(turn);
  return made;
}

inline pouch::Operation press(std::string id) {
  pouch::Operation made = operation(std::move(id), pouch::Action::press);
  made.edges = {{pouch::Edge::left, {}}, {pouch::Edge::right, {}}};
  return made;
}

/// The fold-over pouch: front, back, flap.
inline pouch::Construction foldover() {
  pouch::Construction made;
  made.name = "foldover";
  made.flap_law = pouch::FlapLaw::caught;
  for (const char* name : {"width", "depth", "flap", "lip_drop", "seam_allowance", "needle_reach",
                           "seal_width", "min_clear_seal"}) {
    made.sizes.push_back({name, {}, "", pouch::Zero::refused, {}});
  }
  made.panels.emplace_back();
  made.panels[0].name = "panel";
  made.panels[0].spans = {span("front", {{"depth", 1, 1, {}}, {"lip_drop", -1, 1, {}}}),
                          span("back", {{"depth", 1, 1, {}}}), span("flap", {{"flap", 1, 1, {}}})};
  made.bottom_a = "front";
  made.bottom_b = "back";
  made.spare = "flap";
  made.depth_span = "back";
  made.flap_span = "flap";
  made.compartments = {{"pocket", {{"front", {}}, {"back", {}}}, {}}};
  made.operations = {operation("pair", pouch::Action::pair),
                     finish("finish-start", pouch::Edge::start),
                     finish("finish-end", pouch::Edge::end),
                     operation("card-in", pouch::Action::lay_card),
                     fold("fold-front", "front", "back", "front"),
                     press("press-sides"),
                     operation("card-out", pouch::Action::take_card),
                     operation("look", pouch::Action::look_inside),
                     fold("fold-flap", "back", "flap", "flap"),
                     operation("sew-sides", pouch::Action::sew),
                     operation("tails", pouch::Action::secure_tails),
                     operation("test", pouch::Action::test)};
  return made;
}

/// A bottom pleat between front and back.
inline pouch::Construction gusset() {
  pouch::Construction made = foldover();
  made.name = "gusset";
  made.sizes.push_back({"gusset", {}, "", pouch::Zero::refused, {}});
  auto& spans = made.panels.front().spans;
  spans.insert(spans.begin() + 1, {span("gusset-front", {{"gusset", 1, 2, {}}}),
                                   span("gusset-back", {{"gusset", 1, 2, {}}})});
  made.bottom_a = "gusset-back";
  made.compartments = {
      {"pocket", {{"front", {}}, {"gusset-front", {}}, {"gusset-back", {}}, {"back", {}}}, {}}};
  auto& operations = made.operations;
  operations[4] = fold("fold-front", "front", "gusset-front", "front");
  operations.insert(operations.begin() + 3,
                    {fold("fold-bottom", "gusset-back", "back", "gusset-back"),
                     fold("fold-pleat", "gusset-front", "gusset-back", "gusset-front")});
  return made;
}

/// The sizes of the pouch that was worked by hand: 190 x 150 mm, flap 70, lip drop 10, seam
/// allowance and needle reach 7, seal width 13, ends not finished.
inline pouch::Request hand_worked(pouch::Construction construction) {
  pouch::Request request;
  request.construction = std::move(construction);
  request.sizes = {
      {"width", {mm(190), {}}},     {"depth", {mm(150), {}}},        {"flap", {mm(70), {}}},
      {"lip_drop", {mm(10), {}}},   {"seam_allowance", {mm(7), {}}}, {"needle_reach", {mm(7), {}}},
      {"seal_width", {mm(13), {}}}, {"min_clear_seal", {mm(1), {}}}, {"gusset", {mm(50), {}}}};
  request.laminate.name = "laminate";
  request.laminate.width = mm(1500);
  request.laminate.thickness = Length::nm(350'000);
  return request;
}

/// The hand-worked pouch in two pieces, as a construction file could have it: the front laid on the
/// back, fused and sewn along the bottom as well.
inline pouch::Request two_pieces() {
  pouch::Construction made = foldover();
  const pouch::LinearForm::Term allowance{"seam_allowance", 1, 1, {}};
  made.panels[0].name = "back-panel";
  made.panels[0].spans = {span("back", {{"depth", 1, 1, {}}, allowance}),
                          span("flap", {{"flap", 1, 1, {}}})};
  made.panels.emplace_back();
  made.panels[1].name = "front-panel";
  made.panels[1].spans = {span("front", {{"depth", 1, 1, {}}, {"lip_drop", -1, 1, {}}, allowance})};
  pouch::Operation lays = operation("lay-front", pouch::Action::lay_panel);
  lays.panel = "front-panel";
  lays.film_up = false;
  lays.meets_a = "front";
  lays.meets_b = "back";
  lays.end = pouch::Edge::end;
  made.operations[4] = lays;
  made.operations[5].edges.push_back({pouch::Edge::bottom, {}});
  pouch::Operation sews = operation("sew-bottom", pouch::Action::sew);
  sews.edges = {{pouch::Edge::bottom, {}}};
  made.operations.insert(made.operations.begin() + 8, sews);
  return hand_worked(made);
}

}  // namespace pouchwright::test
