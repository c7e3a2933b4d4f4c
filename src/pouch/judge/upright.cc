#include "pouch/judge/upright.h"

#include <algorithm>
#include <set>

#include "pouch/questions.h"

namespace pouchwright::pouch {
namespace {

/// The outermost layers of those that `counts`, at every height, where they show cloth.
template <class Counts>
void add_seen(const Folded& folded, Counts counts, std::set<SpanId>& seen) {
  const std::vector<Length> breaks = folded.breaks();
  for (std::size_t i = 0; i + 1 < breaks.size(); ++i) {
    std::vector<Layer> there = folded.layers_over({breaks[i], breaks[i + 1]});
    std::erase_if(there, [&](const Layer& layer) { return !counts(layer); });
    if (there.empty()) continue;
    if (folded.face_up(there.back()) == Face::cloth) seen.insert(there.back().id);
    if (folded.face_down(there.front()) == Face::cloth) seen.insert(there.front().id);
  }
}

bool is_of_cloth(const Folded& folded, const Layer& layer) {
  const FlatPanel& panel = folded.panels()[layer.id.panel];
  return panel.has_film && !panel.is_hem(layer.id.span);
}

/// What is seen of the closed pouch, and the walls under its flap.
std::set<SpanId> seen_from_outside(const Pouch& pouch, const Folded& folded) {
  std::set<SpanId> seen;
  const auto any = [&](const Layer& layer) { return is_of_cloth(folded, layer); };
  const auto walls = [&](const Layer& layer) {
    return is_of_cloth(folded, layer) && is_wall(pouch, layer.id);
  };
  add_seen(folded, any, seen);
  add_seen(folded, walls, seen);
  return seen;
}

}  // namespace

std::vector<Standing> standing_of(const Pouch& pouch) {
  std::vector<Standing> all;
  if (pouch.stages.empty()) return all;
  const Folded& folded = pouch.stages.back().folded;
  const std::set<SpanId> seen = seen_from_outside(pouch, folded);
  for (std::size_t panel = 0; panel < folded.panels().size(); ++panel) {
    std::vector<SpanId> own;
    std::copy_if(seen.begin(), seen.end(), std::back_inserter(own),
                 [&](SpanId id) { return id.panel == panel; });
    if (own.empty()) continue;
    const auto wall =
        std::find_if(own.begin(), own.end(), [&](SpanId id) { return is_wall(pouch, id); });
    const bool rising = folded.layer(wall == own.end() ? own.front() : *wall).rising;
    Standing made{panel, rising ? Edge::end : Edge::start, {}, {}, false};
    for (const SpanId id : own) {
      const bool is_upright = folded.layer(id).rising == rising;
      (is_upright ? made.upright : made.on_head).push_back(id);
      if (!is_upright && is_wall(pouch, id)) made.walls_differ = true;
    }
    all.push_back(std::move(made));
  }
  return all;
}

bool takes_upright_print(const Pouch& pouch) {
  const std::vector<Standing> all = standing_of(pouch);
  return std::none_of(all.begin(), all.end(), [](const Standing& one) { return one.walls_differ; });
}

bool has_upright_print(const Request& request) {
  return request.outer ? request.outer->upright : request.laminate.upright;
}

}  // namespace pouchwright::pouch
