#include "pouch/fold/contacts.h"

#include <algorithm>

namespace pouchwright::pouch {

namespace {

/// Distances from the raw edge at which what lies there may change, from 0 to the seal width.
std::vector<Length> band_edges(const Folded& folded, Length seal_width) {
  std::vector<Length> edges = {Length(), seal_width};
  for (std::size_t i = 0; i < folded.panels().size(); ++i) {
    if (!folded.lies(i)) continue;
    const FlatPanel& panel = folded.panels()[i];
    edges.push_back(panel.inset);
    if (panel.outer) edges.push_back(panel.outer_inset);
  }
  std::sort(edges.begin(), edges.end());
  edges.erase(std::unique(edges.begin(), edges.end()), edges.end());
  std::erase_if(edges, [&](Length edge) { return edge > seal_width; });
  return edges;
}

}  // namespace

std::vector<EdgeMeeting> edge_meetings(const Folded& folded, Length seal_width) {
  std::vector<EdgeMeeting> all;
  const std::vector<Length> edges = band_edges(folded, seal_width);
  for (std::size_t i = 0; i + 1 < edges.size(); ++i) {
    for (const Meeting& meeting : folded.film_contacts(edges[i])) {
      const auto before = std::find_if(all.begin(), all.end(), [&](const EdgeMeeting& known) {
        return known.meeting == meeting && known.from_edge.to == edges[i];
      });
      if (before != all.end()) {
        before->from_edge.to = edges[i + 1];
      } else {
        all.push_back({meeting, {edges[i], edges[i + 1]}});
      }
    }
  }
  return all;
}

std::vector<TestPoint> corners(const Folded& folded, const std::vector<Meeting>& meetings) {
  std::vector<TestPoint> points;
  for (const Meeting& below : meetings) {
    const Length height = below.heights.to;
    std::set<SpanId> here;
    for (const Meeting& other : meetings) {
      if (other.heights.from == height || other.heights.to == height) {
        here.insert({other.lower, other.upper});
      }
    }
    const bool goes_on = std::any_of(meetings.begin(), meetings.end(), [&](const Meeting& above) {
      const bool shares = here.contains(above.lower) || here.contains(above.upper);
      return above.heights.from == height && shares;
    });
    TestPoint point{height, {}};
    for (const Layer& layer : folded.layers()) {
      if (here.contains(layer.id)) point.spans.push_back(layer.id);
    }
    const bool known = std::find(points.begin(), points.end(), point) != points.end();
    if (goes_on && here.size() > 2 && !known) points.push_back(std::move(point));
  }
  return points;
}

std::size_t layers_to_iron(const Folded& folded, const Meeting& meeting, PressFrom from) {
  const Length small = std::min(Length::nm(1), meeting.heights.size());
  const std::vector<Layer> stack =
      folded.layers_over({meeting.heights.from, meeting.heights.from + small}, Length());
  std::size_t below = 0;
  while (below < stack.size() && stack[below].id != meeting.lower) ++below;
  const std::size_t from_back = below + 1;
  const std::size_t from_front = stack.size() - below - 1;
  if (from == PressFrom::front) return from_front;
  if (from == PressFrom::back) return from_back;
  return std::min(from_front, from_back);
}

}  // namespace pouchwright::pouch
