#include "support/brute_water.h"

#include <algorithm>
#include <map>
#include <set>

#include "support/requests.h"

namespace pouchwright::test {

namespace {

using pouch::Edge;
using pouch::FinishKind;
using pouch::Landing;
using pouch::SpanRef;
namespace does = pouch::does;

constexpr std::int64_t kNmInMm = 1'000'000;

std::int64_t in_mm(Length length) { return length.in_nm() / kNmInMm; }
bool is_whole(Length length) { return length.in_nm() % kNmInMm == 0; }

/// One millimetre of a panel's side, as it lies.
struct Point {
  std::size_t panel = 0;
  std::int64_t y = 0;  ///< on the flat panel
  std::string span;
  std::int64_t cell = 0;  ///< it lies between this height and the next millimetre
  bool rising = true;
  bool film_up = true;
  bool lies = false;
  bool pierced = false;
  bool stitched = false;  ///< by an end finish: its thread keeps films apart
  bool shut_off = false;  ///< rolled away after the sides were fused
  std::vector<std::size_t> bonds;
};

/// Two points fused at one distance from the raw edge.
struct Seal {
  std::size_t partner = 0;
  std::size_t column = 0;
  bool left = false;
  bool right = false;
  bool film_side = true;          ///< is it the point's film side, or film on its other face?
  bool partner_film_side = true;  ///< likewise
};

/// A stretch across within which nothing changes; `from` and `to` count from the raw edge.
struct Column {
  std::int64_t from = 0;
  std::int64_t to = 0;
};

/// What an attachment keeps apart.
struct Kept {
  std::size_t a = 0;
  std::size_t b = 0;
  bool left = true;
  bool right = true;
};

class Model {
 public:
  Model(const pouch::Request& request, const pouch::Sizes& sizes)
      : request_(request), sizes_(sizes) {}

  std::optional<std::vector<BrutePocket>> follow() {
    if (!lay_out()) return std::nullopt;
    for (const pouch::Operation& operation : request_.construction.operations) {
      const auto follow = [&](const auto& work) { return done(work); };
      if (!std::visit(follow, operation.work)) return std::nullopt;
    }
    if (!pressed_) note_lips();
    std::vector<BrutePocket> pockets;
    for (std::size_t i = 0; i < lips_.size(); ++i) pockets.push_back(pocket(i));
    return pockets;
  }

 private:
  using Cells = std::map<std::int64_t, std::vector<std::size_t>>;

  bool lay_out() {
    for (std::size_t panel = 0; panel < sizes_.panels.size(); ++panel) {
      first_.push_back(points_.size());
      for (const pouch::Span& span : sizes_.panels[panel].spans) {
        if (!is_whole(span.from) || !is_whole(span.to)) return false;
        for (std::int64_t y = in_mm(span.from); y < in_mm(span.to); ++y) {
          Point point;
          point.panel = panel;
          point.y = y;
          point.span = span.name;
          points_.push_back(std::move(point));
        }
      }
    }
    first_.push_back(points_.size());
    seals_.resize(points_.size());
    make_columns();
    place(0, -bottom(), true, true, Landing::on_top);
    return true;
  }

  void make_columns() {
    for (std::int64_t x = 0; x < in_mm(sizes_.seal_width); ++x) {
      bool changes = x == 0;
      for (const pouch::FlatPanel& panel : sizes_.panels) {
        changes = changes || in_mm(panel.inset) == x || in_mm(panel.outer_inset) == x;
      }
      if (changes) columns_.push_back({x, x});
      columns_.back().to = x + 1;
    }
  }

  /// The y of the main panel that lies at height 0.
  std::int64_t bottom() const {
    const auto& construction = request_.construction;
    const auto& spans = sizes_.panels.front().spans;
    const auto is_bottom = [&](const std::string& span) {
      return span == name(construction.bottom_a) || span == name(construction.bottom_b);
    };
    for (std::size_t i = 0; i + 1 < spans.size(); ++i) {
      if (is_bottom(spans[i].name) && is_bottom(spans[i + 1].name)) return in_mm(spans[i].to);
    }
    const std::int64_t allowance = in_mm(sizes_.seam_allowance);
    // Of the span that is joined there the end that no other span of the construction follows.
    const auto& rules = construction.panels.front().spans;
    if (is_bottom(rules.front().name)) {
      return points_[point_of(rules.front().name, false)].y + allowance;
    }
    return points_[point_of(rules.back().name, true)].y + 1 - allowance;
  }

  void place(std::size_t panel, std::int64_t low, bool rising, bool film_up, Landing landing) {
    const std::int64_t size = in_mm(sizes_.panels[panel].spans.back().to);
    for (std::size_t i = first_[panel]; i < first_[panel + 1]; ++i) {
      Point& point = points_[i];
      point.cell = rising ? low + point.y : low + size - 1 - point.y;
      point.rising = rising;
      point.film_up = film_up;
      point.lies = true;
      std::vector<std::size_t>& stack = cells_[point.cell];
      stack.insert(landing == Landing::on_top ? stack.end() : stack.begin(), i);
    }
  }

  std::int64_t value(const pouch::LinearForm& form) const {
    std::int64_t sum = 0;
    for (const auto& term : form.terms) {
      const auto found = request_.sizes.find(term.size);
      if (found == request_.sizes.end()) continue;
      sum += in_mm(found->second.value) * term.numerator / term.denominator;
    }
    return sum;
  }

  const std::string& name(SpanRef ref) const { return request_.construction.span(ref).name; }

  /// The first or last point of a span.
  std::size_t point_of(const std::string& span, bool last) const {
    std::size_t found = points_.size();
    for (std::size_t i = 0; i < points_.size(); ++i) {
      if (points_[i].span != span) continue;
      found = i;
      if (!last) break;
    }
    return found;
  }

  /// The height of the border between a point and the next one along the panel, or the one before.
  std::int64_t border(std::size_t i, bool after) const {
    return points_[i].cell + (points_[i].rising == after ? 1 : 0);
  }

  template <class Does>
  bool done(const Does&) {
    return true;
  }
  bool done(const does::Pair&) {
    paired_ = true;
    return true;
  }
  bool done(const does::Sew&) {
    for (const auto& [cell, stack] : cells_) bond_neighbours(stack);
    return true;
  }

  void bond(std::size_t a, std::size_t b) {
    points_[a].bonds.push_back(b);
    points_[b].bonds.push_back(a);
  }

  void bond_neighbours(const std::vector<std::size_t>& stack) {
    std::vector<std::size_t> at_edge;
    for (const std::size_t i : stack) {
      if (sizes_.panels[points_[i].panel].inset <= Length()) at_edge.push_back(i);
    }
    for (std::size_t k = 0; k + 1 < at_edge.size(); ++k) bond(at_edge[k], at_edge[k + 1]);
  }

  bool done(const does::Attach& work) {
    const pouch::Attachment& one = request_.construction.attachments[work.attachment];
    if (one.on_piece) return true;  // a snap on a strap is no hole in the pouch
    if (one.closure && one.closure != request_.closure) return true;
    if (work.through && *work.through != request_.closure_through) return true;
    const std::size_t start = point_of(name(one.span), false);
    const std::size_t end = point_of(name(one.span), true) + 1;
    const auto distance = static_cast<std::size_t>(value(one.distance));
    const auto extent = static_cast<std::size_t>(value(one.extent));
    const std::size_t from = one.from == Edge::start ? start + distance : end - distance - extent;
    if (one.between) {
      keep_apart(one, from, from + extent);
    } else if (!request_.outer || paired_) {
      pierce(points_[start].panel, from, from + extent, static_cast<std::size_t>(value(one.reach)));
    }
    return true;
  }

  void pierce(std::size_t panel, std::size_t from, std::size_t to, std::size_t reach) {
    const std::size_t first = std::max(first_[panel] + reach, from) - reach;
    const std::size_t last = std::min(first_[panel + 1], std::max(to + reach, from + 1));
    for (std::size_t i = first; i < last; ++i) points_[i].pierced = true;
  }

  void keep_apart(const pouch::Attachment& one, std::size_t from, std::size_t to) {
    using pouch::Across;
    const bool both = one.across == Across::sides || one.across == Across::middle;
    for (std::size_t i = from; i < to; ++i) {
      Kept kept{0, 0, both || one.across == Across::left, both || one.across == Across::right};
      int found = 0;
      for (const std::size_t k : cells_[points_[i].cell]) {
        if (points_[k].span == name(one.between->first)) kept.a = k, ++found;
        if (points_[k].span == name(one.between->second)) kept.b = k, ++found;
      }
      if (found == 2) kept_.push_back(kept);
    }
  }

  bool done(const does::LayPanel& work) {
    const std::size_t panel = work.panel;
    const auto& rule = request_.construction.panels[panel];
    const bool is_lining = rule.cloth == pouch::ClothKind::lining;
    if (is_lining && !request_.lining) return true;
    const bool a_is_new = points_[point_of(name(work.meets_a), false)].panel == panel;
    const std::string& there = name(a_is_new ? work.meets_b : work.meets_a);
    if (is_lining) {
      const std::size_t start = point_of(there, false);
      const bool rising = points_[start].rising;
      // The lining may begin beyond the span that it is measured from.
      const std::int64_t height = border(start, false) + (rising ? 1 : -1) * value(work.offset);
      const std::int64_t size = in_mm(sizes_.panels[panel].spans.back().to);
      place(panel, rising ? height : height - size, rising, false, work.landing);
      for (std::size_t i = first_[panel]; i < first_[panel + 1]; ++i) {
        for (const std::size_t k : cells_[points_[i].cell]) {
          if (points_[k].panel != panel) bond(i, k);
        }
      }
      return true;
    }
    const std::size_t start = point_of(there, false);
    const std::size_t end = point_of(there, true);
    const std::size_t main = points_[start].panel;
    std::int64_t low = start == first_[main] ? border(start, false) : border(end, true);
    if (start == first_[main] && end + 1 == first_[main + 1]) {
      low = std::min(border(start, false), border(end, true));
    }
    place(panel, low, work.end != Edge::end, work.film_up, work.landing);
    for (const does::Finish& earlier : apart_) {
      if (earlier.panel == panel) (void)turn_hem(earlier);
    }
    return true;
  }

  const pouch::EndFinish& finish_of(const does::Finish& work) const {
    return work.end == Edge::start ? request_.start_finish : request_.end_finish;
  }

  bool done(const does::Finish& work) {
    const pouch::EndFinish& made = finish_of(work);
    if (made.kind == FinishKind::none) return true;
    const std::size_t panel = work.panel;
    std::int64_t reach = in_mm(made.needle_reach);
    // An overedge's knife has trimmed what it takes before its needles reach in from there.
    if (work.end == Edge::end && made.kind != FinishKind::turned) reach -= in_mm(made.takes);
    const std::int64_t size = in_mm(sizes_.panels[panel].spans.back().to);
    for (std::size_t i = first_[panel]; i < first_[panel + 1]; ++i) {
      const std::int64_t y = points_[i].y;
      const bool reached = work.end == Edge::start ? y < reach : y >= size - reach;
      points_[i].stitched = points_[i].stitched || reached;
    }
    if (points_[first_[panel]].lies) return turn_hem(work);
    apart_.push_back(work);
    return true;
  }

  /// Turns the hem to the cloth side; its stitching holds it to what it lies on.
  bool turn_hem(const does::Finish& work) {
    const std::size_t panel = work.panel;
    const pouch::EndFinish& made = finish_of(work);
    if (made.kind != FinishKind::turned || made.takes <= Length()) return true;
    const bool at_start = work.end == Edge::start;
    const auto takes = static_cast<std::size_t>(in_mm(made.takes));
    const std::size_t line = at_start ? first_[panel] + takes : first_[panel + 1] - takes;
    const std::size_t hem = at_start ? line - 1 : line;
    const Landing landing = points_[hem].film_up ? Landing::underneath : Landing::on_top;
    if (!turn_over(line, hem, landing)) return false;
    for (std::size_t k = 0; k < takes; ++k) {
      const std::size_t other = at_start ? line + k : line - 1 - k;
      const std::size_t on = at_start ? line - 1 - k : line + k;
      if (other >= points_.size()) continue;  // the hem is wider than what it is turned on
      if (points_[other].panel == panel && points_[other].cell == points_[on].cell) bond(on, other);
    }
    return true;
  }

  bool done(const does::Fold& work) {
    const std::size_t a = point_of(name(work.between_a), false);
    const std::size_t b = point_of(name(work.between_b), false);
    const std::size_t line = std::max(a, b);
    const bool turns_after = name(work.turn) == points_[line].span;
    const std::string before = points_[line - 1].span;
    const std::string after = points_[line].span;
    const std::int64_t height = border(line, false);
    const bool rolls = is_sealed(before) && is_sealed(after);
    rolling_ = rolls;
    if (!turn_over(line, turns_after ? line : line - 1, work.landing)) return false;
    rolling_ = false;
    if (pressed_) late_folds_.push_back({before, after, height});
    return true;
  }

  bool is_sealed(const std::string& span) const {
    for (std::size_t i = 0; i < points_.size(); ++i) {
      if (points_[i].span == span && (!seals_[i].empty() || end_sealed_.contains(i))) return true;
    }
    return false;
  }

  /// Turns all points of one panel from `line` on, or up to it, with what is fused or sewn to them.
  bool turn_over(std::size_t line, std::size_t turned, Landing landing) {
    const std::int64_t height = border(line, false);
    const std::size_t panel = points_[line].panel;
    std::vector<bool> moves(points_.size(), false);
    std::vector<std::size_t> todo;
    for (std::size_t i = first_[panel]; i < first_[panel + 1]; ++i) {
      if ((i >= line) == (turned >= line)) todo.push_back(i);
    }
    while (!todo.empty()) {
      const std::size_t i = todo.back();
      todo.pop_back();
      if (moves[i]) continue;
      moves[i] = true;
      for (const std::size_t k : points_[i].bonds) todo.push_back(k);
      const Point& point = points_[i];
      if (i + 1 < first_[point.panel + 1] && !may_bend(i, i + 1, height)) todo.push_back(i + 1);
      if (i > first_[point.panel] && !may_bend(i - 1, i, height)) todo.push_back(i - 1);
    }
    // Where what stays would have to move as well, this is no fold.
    if (moves[turned >= line ? line - 1 : line]) return false;
    move(moves, height, landing);
    return true;
  }

  /// Cloth bends at a line that is to be folded, where a span ends.
  bool may_bend(std::size_t a, std::size_t b, std::int64_t height) const {
    return points_[a].span != points_[b].span && border(a, true) == height;
  }

  void move(const std::vector<bool>& moves, std::int64_t height, Landing landing) {
    Cells staying;
    Cells turned;
    for (const auto& [cell, stack] : cells_) {
      for (const std::size_t i : stack) {
        if (!moves[i]) {
          staying[cell].push_back(i);
          continue;
        }
        Point& point = points_[i];
        point.cell = 2 * height - 1 - cell;
        point.rising = !point.rising;
        point.film_up = !point.film_up;
        point.shut_off = point.shut_off || rolling_;
        std::vector<std::size_t>& there = turned[point.cell];
        there.insert(there.begin(), i);
      }
    }
    for (const auto& [cell, stack] : turned) {
      std::vector<std::size_t>& there = staying[cell];
      there.insert(landing == Landing::on_top ? there.end() : there.begin(), stack.begin(),
                   stack.end());
    }
    cells_ = std::move(staying);
  }

  /// Does the point show film to this side, at this distance from the raw edge?
  bool shows_film(const Point& point, bool up, std::int64_t x) const {
    const pouch::FlatPanel& panel = sizes_.panels[point.panel];
    if (!panel.has_film) return false;
    if (point.film_up == up) return true;
    if (request_.laminate.film != pouch::FilmFaces::both) return false;
    const bool has_outer = panel.outer && x >= in_mm(panel.outer_inset) &&
                           point.y >= in_mm(panel.outer->from) && point.y < in_mm(panel.outer->to);
    return !has_outer;
  }

  /// The points that reach out to that distance from the raw edge, from the bottom up.
  std::vector<std::size_t> seen_at(const std::vector<std::size_t>& stack, std::int64_t x) const {
    std::vector<std::size_t> seen;
    for (const std::size_t i : stack) {
      if (in_mm(sizes_.panels[points_[i].panel].inset) <= x) seen.push_back(i);
    }
    return seen;
  }

  bool done(const does::Press& work) {
    const auto has = [&](Edge edge) { return works_on(work.edges, edge); };
    for (const auto& [cell, stack] : cells_) {
      for (std::size_t column = 0; column < columns_.size(); ++column) {
        press_cell(stack, column, has(Edge::left), has(Edge::right));
      }
    }
    if (has(Edge::bottom)) press_bottom();
    pressed_ = true;
    note_lips();
    return true;
  }

  void press_cell(const std::vector<std::size_t>& stack, std::size_t column, bool left,
                  bool right) {
    const std::int64_t x = columns_[column].from;
    const std::vector<std::size_t> seen = seen_at(stack, x);
    for (std::size_t k = 0; k + 1 < seen.size(); ++k) {
      const std::size_t a = seen[k];
      const std::size_t b = seen[k + 1];
      if (!shows_film(points_[a], true, x) || !shows_film(points_[b], false, x)) continue;
      if (points_[a].stitched || points_[b].stitched) continue;
      bool fuses_left = left;
      bool fuses_right = right;
      for (const Kept& kept : kept_) {
        if (std::minmax(kept.a, kept.b) != std::minmax(a, b)) continue;
        fuses_left = fuses_left && !kept.left;
        fuses_right = fuses_right && !kept.right;
      }
      if (!fuses_left && !fuses_right) continue;
      const bool side_a = points_[a].film_up;
      const bool side_b = !points_[b].film_up;
      seals_[a].push_back({b, column, fuses_left, fuses_right, side_a, side_b});
      seals_[b].push_back({a, column, fuses_left, fuses_right, side_b, side_a});
      bond(a, b);
    }
  }

  /// From the raw ends up, pressed all across: how many millimetres of each pair fuse.
  void press_bottom() {
    const std::int64_t raw = -in_mm(sizes_.seam_allowance);
    std::map<std::pair<std::string, std::string>, std::int64_t> reached;
    for (std::int64_t k = 0; k < in_mm(sizes_.seal_width); ++k) {
      const std::vector<std::size_t>& stack = cells_[raw + k];
      for (std::size_t i = 0; i + 1 < stack.size(); ++i) {
        const Point& lower = points_[stack[i]];
        const Point& upper = points_[stack[i + 1]];
        const std::int64_t inside = in_mm(base::kLongest);
        if (!shows_film(lower, true, inside) || !shows_film(upper, false, inside)) continue;
        std::int64_t& width = reached[std::minmax(lower.span, upper.span)];
        if (width != k) continue;
        ++width;
        bond(stack[i], stack[i + 1]);
        end_sealed_.insert(stack[i]);
        end_sealed_.insert(stack[i + 1]);
      }
    }
    for (const auto& [pair, width] : reached) {
      end_width_[pair] = std::max(end_width_[pair], width);
    }
  }

  void note_lips() {
    lips_.clear();
    for (const auto& compartment : request_.construction.compartments) {
      lips_.push_back(top_of(name(compartment.film.front())));
    }
  }

  std::int64_t top_of(const std::string& span) const {
    return std::max(points_[point_of(span, false)].cell, points_[point_of(span, true)].cell) + 1;
  }

  bool is_shut_off(const std::string& span) const {
    return points_[point_of(span, false)].shut_off;
  }

  /// Where the mouth ends up; of a rolled one where it was, at most the lowest line of the roll.
  std::int64_t lip(std::size_t index, const std::set<std::string>& film) const {
    const std::string& mouth = name(request_.construction.compartments[index].film.front());
    std::int64_t height = is_shut_off(mouth) ? lips_[index] : top_of(mouth);
    for (const LateFold& fold : late_folds_) {
      const bool rolls = is_shut_off(fold.before) || is_shut_off(fold.after);
      if (!rolls || !film.contains(fold.before) || !film.contains(fold.after)) continue;
      height = std::min(height, fold.height);
    }
    return height;
  }

  bool is_wide(std::int64_t from, std::int64_t to) const {
    const std::int64_t clear = to - std::max(from, in_mm(sizes_.needle_reach));
    return clear - in_mm(request_.tolerance.sum()) >= in_mm(sizes_.min_clear_seal);
  }

  /// Is the point fused on that side, in one band that is wide enough, to this compartment's film?
  /// Water stands on one face of the film: `film_side`, or the other where that has film too.
  bool is_tight(std::size_t i, bool left, const std::set<std::string>& film, bool film_side) const {
    std::map<std::size_t, std::set<std::size_t>> columns;
    for (const Seal& seal : seals_[i]) {
      if (!(left ? seal.left : seal.right) || !film.contains(points_[seal.partner].span)) continue;
      if (seal.film_side != film_side || seal.partner_film_side != film_side) continue;
      columns[seal.partner].insert(seal.column);
    }
    for (const auto& [partner, which] : columns) {
      for (const std::size_t first : which) {
        std::size_t last = first;
        while (which.contains(last + 1)) ++last;
        if (is_wide(columns_[first].from, columns_[last].to)) return true;
      }
    }
    return false;
  }

  BrutePocket pocket(std::size_t index) const {
    const auto& compartment = request_.construction.compartments[index];
    std::set<std::string> film;
    for (const SpanRef span : compartment.film) film.insert(name(span));
    BrutePocket made{compartment.name, lip(index, film), 0};
    const std::int64_t wet = std::max(lowest_leak(film, true), lowest_leak(film, false));
    const std::int64_t leak = bottom_is_tight(compartment) ? wet : 0;
    made.water = std::max<std::int64_t>(std::min(made.lip, leak), 0);
    return made;
  }

  bool bottom_is_tight(const pouch::Compartment& compartment) const {
    if (!is_wide(0, in_mm(sizes_.seal_width))) return false;
    for (std::size_t i = 0; i + 1 < compartment.film.size(); ++i) {
      const std::string& a = name(compartment.film[i]);
      const std::string& b = name(compartment.film[i + 1]);
      if (points_[point_of(a, false)].panel == points_[point_of(b, false)].panel) continue;
      const auto found = end_width_.find(std::minmax(a, b));
      if (found == end_width_.end() || !is_wide(0, found->second)) return false;
    }
    return true;
  }

  /// Water rises millimetre by millimetre and wets the film of the compartment; the lowest wet
  /// point that lets it out.
  std::int64_t lowest_leak(const std::set<std::string>& film, bool film_side) const {
    for (const auto& [cell, stack] : cells_) {
      for (const std::size_t i : stack) {
        const Point& point = points_[i];
        if (point.shut_off || !film.contains(point.span)) continue;
        const bool is_open =
            !is_tight(i, true, film, film_side) || !is_tight(i, false, film, film_side);
        if (is_open || point.pierced || point.stitched) return cell;
      }
    }
    return in_mm(base::kLongest);
  }

  struct LateFold {
    std::string before, after;
    std::int64_t height = 0;
  };

  const pouch::Request& request_;
  const pouch::Sizes& sizes_;
  std::vector<Point> points_;
  std::vector<std::size_t> first_;  ///< of each panel, and the end
  Cells cells_;                     ///< from the bottom up
  std::vector<std::vector<Seal>> seals_;
  std::vector<Column> columns_;
  std::vector<Kept> kept_;
  std::vector<does::Finish> apart_;
  std::map<std::pair<std::string, std::string>, std::int64_t> end_width_;
  std::set<std::size_t> end_sealed_;
  std::vector<LateFold> late_folds_;
  std::vector<std::int64_t> lips_;
  bool paired_ = false;
  bool pressed_ = false;
  bool rolling_ = false;
};

}  // namespace

std::optional<std::vector<BrutePocket>> brute_water(const pouch::Request& request,
                                                    const pouch::Sizes& sizes) {
  return Model(request, sizes).follow();
}

Compared compare_water(const pouch::Request& request) {
  Compared result;
  base::Diagnostics diagnostics;
  const auto pouch = pouch::derive(request, diagnostics);
  if (!pouch || diagnostics.has_errors()) return result;
  const auto pockets = brute_water(request, pouch->sizes);
  if (!pockets) return result;
  result.accepted = true;
  for (std::size_t i = 0; i < pockets->size(); ++i) {
    const pouch::CompartmentWater& engine = pouch->compartments[i];
    const BrutePocket& model = (*pockets)[i];
    result.holds = result.holds || model.water > 0;
    result.below_lip = result.below_lip || (model.water > 0 && model.water < model.lip);
    // A hole without a reach goes a nanometre beyond the attachment.
    const auto differs = [](Length a, std::int64_t b) {
      return a > mm(b) || a + Length::nm(1) < mm(b);
    };
    if (!differs(engine.water_line, model.water) && !differs(engine.lip_height, model.lip)) {
      continue;
    }
    result.wrong += model.name + ": engine " + std::to_string(engine.water_line.in_mm()) + " of " +
                    std::to_string(engine.lip_height.in_mm()) + " (" +
                    pouch->compartments[i].because.key + "), model " + std::to_string(model.water) +
                    " of " + std::to_string(model.lip) + "; ";
  }
  return result;
}

}  // namespace pouchwright::test
