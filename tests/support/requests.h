/// Requests and constructions for tests, made directly, without a file.
#pragma once

#include <algorithm>
#include <string_view>
#include <utility>

#include "pouch/request.h"

namespace pouchwright::test {

using base::Length;
namespace does = pouch::does;

inline Length mm(std::int64_t count) { return Length::whole_mm(count); }

inline pouch::SpanRule span(std::string name, std::vector<pouch::LinearForm::Term> terms) {
  return {std::move(name), {std::move(terms)}};
}

/// Requires: there is one.
inline pouch::SpanRef span_of(const pouch::Construction& construction, std::string_view name) {
  for (std::size_t panel = 0; panel < construction.panels.size(); ++panel) {
    const auto& spans = construction.panels[panel].spans;
    for (std::size_t i = 0; i < spans.size(); ++i) {
      if (spans[i].name == name) return {panel, i};
    }
  }
  return {construction.panels.size(), 0};
}

/// Requires: there is one.
inline std::size_t index_of(const pouch::Construction& construction, std::string_view operation) {
  const auto& all = construction.operations;
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const auto& one) { return one.id == operation; });
  return static_cast<std::size_t>(found - all.begin());
}

inline pouch::Operation operation(std::string id, pouch::Work work) {
  return {std::move(id), {}, std::move(work)};
}

inline pouch::Operation finish(std::string id, pouch::Edge end) {
  return operation(std::move(id), does::Finish{0, end});
}

inline pouch::Operation fold(std::string id, pouch::SpanRef a, pouch::SpanRef b,
                             pouch::SpanRef turn) {
  return operation(std::move(id), does::Fold{a, b, turn});
}

inline pouch::Operation press(std::string id) {
  return operation(std::move(id), does::Press{{pouch::Edge::left, pouch::Edge::right}});
}

/// What an operation does, to be changed. Requires: it does that.
template <class Does>
Does& work_of(pouch::Construction& construction, std::string_view operation) {
  return std::get<Does>(construction.operations[index_of(construction, operation)].work);
}

/// The fold-over pouch: front, back, flap.
inline pouch::Construction foldover() {
  constexpr pouch::SpanRef kFront{0, 0};
  constexpr pouch::SpanRef kBack{0, 1};
  constexpr pouch::SpanRef kFlap{0, 2};
  pouch::Construction made;
  made.name = "foldover";
  made.flap_law = pouch::FlapLaw::caught;
  for (const char* name : {"width", "depth", "flap", "lip_drop", "seam_allowance", "needle_reach",
                           "seal_width", "min_clear_seal"}) {
    made.sizes.push_back({.name = name});
  }
  made.panels.emplace_back();
  made.panels[0].name = "panel";
  made.panels[0].spans = {span("front", {{"depth", 1, 1}, {"lip_drop", -1, 1}}),
                          span("back", {{"depth", 1, 1}}), span("flap", {{"flap", 1, 1}})};
  made.bottom_a = kFront;
  made.bottom_b = kBack;
  made.spare = kFlap;
  made.depth_span = kBack;
  made.flap_span = kFlap;
  made.compartments = {{"pocket", {kFront, kBack}}};
  made.operations = {
      operation("pair", does::Pair{}),           finish("finish-start", pouch::Edge::start),
      finish("finish-end", pouch::Edge::end),    operation("card-in", does::LayCard{}),
      fold("fold-front", kFront, kBack, kFront), press("press-sides"),
      operation("card-out", does::TakeCard{}),   operation("look", does::LookInside{}),
      fold("fold-flap", kBack, kFlap, kFlap),    operation("sew-sides", does::Sew{}),
      operation("tails", does::SecureTails{}),   operation("test", does::Test{})};
  return made;
}

/// A bottom pleat between front and back.
inline pouch::Construction gusset() {
  pouch::Construction made = foldover();
  made.name = "gusset";
  made.sizes.push_back({.name = "gusset"});
  auto& spans = made.panels.front().spans;
  spans.insert(spans.begin() + 1,
               {span("gusset-front", {{"gusset", 1, 2}}), span("gusset-back", {{"gusset", 1, 2}})});
  made.bottom_a = {0, 2};
  made.bottom_b = made.depth_span = {0, 3};
  made.spare = {0, 4};
  made.flap_span = made.spare;
  made.compartments = {{"pocket", {{0, 0}, {0, 1}, {0, 2}, {0, 3}}}};
  auto& operations = made.operations;
  operations[4] = fold("fold-front", {0, 0}, {0, 1}, {0, 0});
  operations[8] = fold("fold-flap", {0, 3}, {0, 4}, {0, 4});
  operations.insert(operations.begin() + 3, {fold("fold-bottom", {0, 2}, {0, 3}, {0, 2}),
                                             fold("fold-pleat", {0, 1}, {0, 2}, {0, 1})});
  return made;
}

/// Both sides are sewn, not only what lies on each other there.
inline pouch::Construction with_sewn_sides(pouch::Construction construction) {
  for (pouch::Operation& one : construction.operations) {
    auto* sew = std::get_if<does::Sew>(&one.work);
    if (sew != nullptr) sew->edges = {pouch::Edge::left, pouch::Edge::right};
  }
  return construction;
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

/// The fold-over pouch in two pieces, the front laid on the back.
inline pouch::Construction in_two_panels() {
  pouch::Construction made = foldover();
  const pouch::LinearForm::Term allowance{"seam_allowance", 1, 1};
  made.panels[0].name = "back-panel";
  made.panels[0].spans = {span("back", {{"depth", 1, 1}, allowance}),
                          span("flap", {{"flap", 1, 1}})};
  made.panels.emplace_back();
  made.panels[1].name = "front-panel";
  made.panels[1].spans = {span("front", {{"depth", 1, 1}, {"lip_drop", -1, 1}, allowance})};
  made.bottom_a = {1, 0};
  made.bottom_b = made.depth_span = {0, 0};
  made.spare = {0, 1};
  made.flap_span = made.spare;
  made.compartments = {{"pocket", {made.bottom_a, made.bottom_b}}};
  does::LayPanel lays;
  lays.panel = 1;
  lays.meets_a = made.bottom_a;
  lays.meets_b = made.bottom_b;
  lays.end = pouch::Edge::end;
  made.operations[4] = operation("lay-front", lays);
  made.operations[8] = fold("fold-flap", {0, 0}, {0, 1}, {0, 1});
  work_of<does::Press>(made, "press-sides").edges.push_back(pouch::Edge::bottom);
  return made;
}

/// The same as a construction file could have it: fused and sewn along the bottom as well.
inline pouch::Request two_pieces() {
  pouch::Construction made = in_two_panels();
  made.operations.insert(made.operations.begin() + 8,
                         operation("sew-bottom", does::Sew{{pouch::Edge::bottom}}));
  return hand_worked(made);
}

}  // namespace pouchwright::test
