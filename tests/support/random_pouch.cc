#include "support/random_pouch.h"

#include <algorithm>
#include <random>

#include "support/requests.h"

namespace pouchwright::test {

namespace {

using pouch::Edge;
using pouch::FinishKind;
using pouch::Landing;

std::int64_t whole_mm(Length length) { return length.in_nm() / 1'000'000; }

/// Whole numbers from a seed, the same with every standard library.
class Random {
 public:
  explicit Random(std::uint64_t seed) : engine_(seed) {}
  std::int64_t between(std::int64_t least, std::int64_t most) {
    return least +
           static_cast<std::int64_t>(engine_() % static_cast<std::uint64_t>(most - least + 1));
  }
  bool in_hundred(std::int64_t chance) { return between(1, 100) <= chance; }

 private:
  std::mt19937_64 engine_;
};

void set_seals(pouch::Request& request, Random& random) {
  const std::int64_t allowance = random.between(3, 9);
  const std::int64_t needle = allowance + random.between(0, 3);
  request.sizes["seam_allowance"] = {mm(allowance), {}};
  request.sizes["needle_reach"] = {mm(needle), {}};
  request.sizes["seal_width"] = {mm(needle + random.between(2, 12)), {}};
  request.sizes["min_clear_seal"] = {mm(random.between(0, 2)), {}};
  request.tolerance.cut.value = mm(random.between(0, 1));
  request.tolerance.place.value = mm(random.between(0, 1));
  request.tolerance.sew.value = mm(0);
}

pouch::EndFinish random_finish(Random& random) {
  pouch::EndFinish made;
  if (random.in_hundred(50)) return made;
  made.kind = random.in_hundred(60) ? FinishKind::overedge : FinishKind::turned;
  const bool turned = made.kind == FinishKind::turned;
  const std::int64_t takes = turned ? random.between(6, 12) : random.between(0, 4);
  made.takes = mm(takes);
  made.needle_reach = mm(turned ? 2 * takes - 2 : takes + random.between(1, 9));
  return made;
}

void set_cloths(pouch::Request& request, Random& random) {
  request.laminate.name = "laminate";
  request.laminate.width = mm(3000);
  request.laminate.thickness = Length::nm(350'000);
  if (random.in_hundred(35)) request.laminate.film = pouch::FilmFaces::both;
  if (random.in_hundred(40)) {
    request.outer = request.laminate;
    request.outer->name = "outer";
    request.outer->kind = pouch::MaterialKind::outer;
  }
  request.start_finish = random_finish(random);
  request.end_finish = random_finish(random);
}

std::string span_name(std::size_t i) { return "span-" + std::to_string(i); }

/// Spans of random lengths, of which many are as long as an earlier one, or nearly.
void set_spans(pouch::Request& request, std::size_t count, Random& random) {
  pouch::PanelRule& panel = request.construction.panels.emplace_back();
  panel.name = "panel";
  std::vector<std::int64_t> lengths;
  for (std::size_t i = 0; i < count; ++i) {
    std::int64_t length = random.between(15, 70);
    if (i > 0 && random.in_hundred(50)) {
      const auto earlier =
          static_cast<std::size_t>(random.between(0, static_cast<std::int64_t>(i) - 1));
      length = lengths[earlier] + (random.in_hundred(50) ? 0 : random.between(-8, 8));
    }
    lengths.push_back(std::max<std::int64_t>(length, 8));
    const std::string name = span_name(i);
    request.sizes[name] = {mm(lengths.back()), {}};
    panel.spans.push_back(span(name, {{name, 1, 1}}));
  }
}

/// Lets the panel's outer stay behind at some of its edges.
void set_outer_inset(pouch::Request& request, pouch::PanelRule& panel, Random& random) {
  request.sizes["bare"] = {mm(random.between(1, 12)), {}};
  if (random.in_hundred(60)) panel.outer_inset.sides.terms = {{"bare", 1, 1}};
  if (random.in_hundred(40)) panel.outer_inset.start.terms = {{"bare", 1, 1}};
  if (random.in_hundred(40)) panel.outer_inset.end.terms = {{"bare", 1, 1}};
}

/// Makes a further panel up to `most` mm narrower on either side.
void set_narrower(pouch::Request& request, pouch::PanelRule& panel, std::int64_t most,
                  Random& random) {
  const std::string size = panel.name + "-less";
  request.sizes[size] = {mm(random.between(0, most)), {}};
  panel.width.terms = {{"width", 1, 1}, {"seam_allowance", 2, 1}, {size, -2, 1}};
}

/// A lining of one span, or of two that meet where two of the main panel do, laid somewhere between
/// `first` and `last` of the operations.
void add_lining(pouch::Request& request, std::size_t first, std::size_t last, Random& random) {
  request.lining = request.laminate;
  request.lining->name = "lining";
  pouch::Construction& made = request.construction;
  const auto hosts = static_cast<std::int64_t>(made.panels.front().spans.size());
  const auto host = static_cast<std::size_t>(random.between(0, hosts - 1));
  const pouch::SpanRule on = made.panels.front().spans[host];
  pouch::PanelRule lining;
  lining.name = "lining";
  lining.cloth = pouch::ClothKind::lining;
  request.sizes["lining-from"] = {mm(random.between(0, 14)), {}};
  request.sizes["lining-length"] = {mm(random.between(5, 45)), {}};
  if (random.in_hundred(30)) {
    pouch::SpanRule rest = on;  // what is left of the span that it lies on
    rest.name = "lining-rest";
    rest.length.terms.push_back({"lining-from", -1, 1});
    lining.spans.push_back(rest);
  }
  lining.spans.push_back(span("lining", {{"lining-length", 1, 1}}));
  if (random.in_hundred(70)) set_narrower(request, lining, 25, random);
  does::LayPanel lay;
  lay.panel = made.panels.size();
  lay.meets_a = {lay.panel, 0};
  lay.meets_b = {0, host};
  lay.offset.terms = {{"lining-from", 1, 1}};
  if (random.in_hundred(25)) lay.landing = Landing::underneath;
  made.panels.push_back(std::move(lining));
  const auto at = random.between(static_cast<std::int64_t>(first), static_cast<std::int64_t>(last));
  made.operations.insert(made.operations.begin() + at, operation("lay-lining", lay));
}

/// Folds in the order of a random shuffle, or one after the other from the end: pleats.
std::vector<pouch::Operation> random_folds(std::size_t spans, Random& random) {
  std::vector<std::size_t> lines;
  for (std::size_t i = 1; i < spans; ++i) lines.push_back(i);
  const bool pleats = random.in_hundred(50);
  std::reverse(lines.begin(), lines.end());
  for (std::size_t i = 0; !pleats && i + 1 < lines.size(); ++i) {
    const auto with =
        random.between(static_cast<std::int64_t>(i), static_cast<std::int64_t>(lines.size()) - 1);
    std::swap(lines[i], lines[static_cast<std::size_t>(with)]);
  }
  std::vector<pouch::Operation> folds;
  for (const std::size_t line : lines) {
    if (random.in_hundred(12)) continue;
    const bool turns_before = pleats || random.in_hundred(50);
    does::Fold work{{0, line - 1}, {0, line}, {0, turns_before ? line - 1 : line}};
    const std::int64_t underneath = pleats ? 8 : 35;
    if (random.in_hundred(underneath)) work.landing = Landing::underneath;
    folds.push_back(operation("fold-" + std::to_string(line), work));
  }
  return folds;
}

void insert_at_random(std::vector<pouch::Operation>& operations, pouch::Operation one,
                      std::int64_t least, Random& random) {
  const std::int64_t at =
      random.between(std::min(least, static_cast<std::int64_t>(operations.size())),
                     static_cast<std::int64_t>(operations.size()));
  operations.insert(operations.begin() + at, std::move(one));
}

does::Press random_press(Random& random) {
  does::Press made{{Edge::left, Edge::right}, pouch::PressFrom::both};
  if (random.in_hundred(8)) made.edges.pop_back();
  return made;
}

}  // namespace

namespace {

using Film = std::vector<pouch::SpanRef>;

void set_film(pouch::Construction& made, Film film, Random& random) {
  if (random.in_hundred(30)) std::reverse(film.begin(), film.end());
  made.compartments = {{"pocket", std::move(film)}};
}

/// The pocket is a stretch of the one panel round its bottom line.
void set_one_panel_pocket(pouch::Construction& made, Random& random) {
  const auto last = static_cast<std::int64_t>(made.panels.front().spans.size()) - 1;
  const std::int64_t bottom = random.between(1, last);
  made.bottom_a = {0, static_cast<std::size_t>(bottom) - 1};
  made.bottom_b = {0, static_cast<std::size_t>(bottom)};
  made.depth_span = made.bottom_b;
  const std::int64_t from = random.in_hundred(60) ? 0 : random.between(0, bottom - 1);
  const std::int64_t to = random.in_hundred(50) ? last : random.between(bottom, last);
  Film film;
  for (std::int64_t i = from; i <= to; ++i) film.push_back({0, static_cast<std::size_t>(i)});
  set_film(made, std::move(film), random);
}

/// A second panel whose end is joined to the first one's start, so that the bottom is a seam. Its
/// folds come after it is laid.
void add_second_panel(pouch::Request& request, Random& random) {
  pouch::Construction& made = request.construction;
  const std::size_t behind = made.panels.front().spans.size();
  pouch::PanelRule second;
  second.name = "second";
  const std::int64_t count = random.in_hundred(60) ? 1 : random.between(2, 3);
  const std::int64_t whole =
      whole_mm(request.sizes.at(made.panels.front().spans.front().name).value);
  for (std::int64_t i = 0; i < count; ++i) {
    const std::string name = "front-" + std::to_string(i);
    const std::int64_t length =
        i + 1 < count ? random.between(8, 40) : whole + random.between(-8, 8);
    request.sizes[name] = {mm(std::max<std::int64_t>(length, 8)), {}};
    second.spans.push_back(span(name, {{name, 1, 1}}));
  }
  if (random.in_hundred(60)) set_narrower(request, second, 5, random);
  Film film;
  for (std::size_t i = 0; i < second.spans.size(); ++i) film.push_back({1, i});
  made.bottom_a = film.back();
  made.bottom_b = made.depth_span = {0, 0};
  const auto more = static_cast<std::size_t>(random.between(1, static_cast<std::int64_t>(behind)));
  for (std::size_t i = 0; i < more; ++i) film.push_back({0, i});
  does::LayPanel lay;
  lay.panel = 1;
  lay.end = Edge::end;
  lay.meets_a = made.bottom_a;
  lay.meets_b = made.bottom_b;
  lay.film_up = random.in_hundred(15);
  if (random.in_hundred(20)) lay.landing = Landing::underneath;
  made.panels.push_back(second);
  set_film(made, std::move(film), random);
  const std::size_t folds = made.operations.size();
  if (random.in_hundred(75)) {
    made.operations.insert(made.operations.begin(), operation("lay-second", lay));
  } else {
    insert_at_random(made.operations, operation("lay-second", lay), 0, random);
  }
  if (folds == made.operations.size()) return;
  for (std::size_t i = 1; i < second.spans.size() && random.in_hundred(70); ++i) {
    does::Fold work{{1, i - 1}, {1, i}, {1, i - 1}};
    if (random.in_hundred(40)) work.landing = Landing::underneath;
    made.operations.push_back(operation("turn-" + std::to_string(i), work));
  }
}

}  // namespace

pouch::Request random_folding(std::uint64_t seed) {
  Random random(seed);
  pouch::Request request;
  pouch::Construction& made = request.construction;
  made.name = "random";
  request.sizes = {{"width", {mm(200), {}}}, {"depth", {mm(400), {}}}, {"lip_drop", {mm(0), {}}}};
  request.cards = pouch::CardUse::on_top;
  set_seals(request, random);
  set_cloths(request, random);
  const auto count = static_cast<std::size_t>(random.between(2, 6));
  set_spans(request, count, random);
  made.operations = random_folds(count, random);
  const bool has_two = random.in_hundred(30);
  if (has_two) {
    add_second_panel(request, random);
  } else {
    set_one_panel_pocket(made, random);
  }
  for (pouch::PanelRule& panel : made.panels) {
    if (random.in_hundred(30)) set_outer_inset(request, panel, random);
  }

  const bool late = random.in_hundred(50);
  does::Press first = random_press(random);
  if (has_two && random.in_hundred(80)) first.edges.push_back(Edge::bottom);
  insert_at_random(made.operations, operation("press", first),
                   late ? static_cast<std::int64_t>(made.operations.size()) : 1, random);
  if (random.in_hundred(35)) {
    insert_at_random(made.operations, operation("press-again", random_press(random)), 1, random);
  }
  if (random.in_hundred(30)) add_lining(request, 0, made.operations.size(), random);
  for (const Edge end : {Edge::start, Edge::end}) {
    does::Finish work{0, end};
    if (has_two && random.in_hundred(40)) work.panel = 1;
    const auto one = operation(end == Edge::start ? "finish-start" : "finish-end", work);
    if (random.in_hundred(80)) {
      made.operations.insert(made.operations.begin(), one);
    } else {
      insert_at_random(made.operations, one, 0, random);
    }
  }
  made.operations.insert(made.operations.begin(), operation("pair", does::Pair{}));
  if (random.in_hundred(60)) made.operations.push_back(operation("sew", does::Sew{}));
  return request;
}

pouch::Request random_sizes(const pouch::Construction& construction, std::uint64_t seed) {
  Random random(seed);
  pouch::Request request;
  request.construction = construction;
  request.construction.turn_of_cloth = false;  // it adds parts of a millimetre
  for (const pouch::SizeRule& rule : construction.sizes) {
    const std::int64_t standard = rule.standard ? whole_mm(*rule.standard) : 20;
    const std::int64_t half = std::max<std::int64_t>(standard / 2, 1);
    const std::int64_t size = half + random.between(-half / 3, half / 3);
    request.sizes[rule.name] = {mm(2 * std::max<std::int64_t>(size, 1)), {}};
  }
  set_seals(request, random);
  set_cloths(request, random);
  if (random.in_hundred(40)) {
    request.lining = request.laminate;
    request.lining->name = "lining";
  }
  pouch::Construction& made = request.construction;
  if (random.in_hundred(40)) {
    for (pouch::PanelRule& panel : made.panels) {
      if (panel.name != made.panels.front().name) set_narrower(request, panel, 6, random);
    }
  }
  if (random.in_hundred(30)) set_outer_inset(request, made.panels.front(), random);
  if (random.in_hundred(30)) {
    add_lining(request, 0, std::min<std::size_t>(made.operations.size(), 6), random);
  }
  request.cards = pouch::CardUse::inside;
  if (!construction.closures.empty()) {
    const auto last = static_cast<std::int64_t>(construction.closures.size()) - 1;
    request.closure = static_cast<std::size_t>(random.between(0, last));
  }
  if (random.in_hundred(50)) request.closure_through = pouch::Through::film;
  return request;
}

}  // namespace pouchwright::test
