#include "job/commands/have.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "base/text.h"
#include "draw/sheets/cut_plan.h"
#include "input/reader.h"
#include "job/commands/commands.h"
#include "job/report/reports.h"
#include "job/run.h"
#include "job/sheets.h"
#include "render/text.h"

namespace pouchwright::job {

using base::Length;

namespace {

// ---- The most that a cloth yields ----

/// Steps for a plan of which only is asked whether it fits.
constexpr std::int64_t kTryWork = lay::kWork / 10;

/// One cloth that is there: all but its largest piece are remnants of `cloth`, which is that piece.
struct OnHand {
  ClothPlan cloth;
  std::vector<int> each;  ///< of a kind, by pouch
  Length roll;            ///< the largest piece's length
};

std::int64_t area(const lay::Stock& piece) {
  constexpr std::int64_t kMicrometre = 1000;
  return piece.width.in_nm() / kMicrometre * (piece.length.in_nm() / kMicrometre);
}

OnHand on_hand(ClothPlan cloth, int pouches) {
  OnHand made{std::move(cloth), {}, {}};
  for (const lay::Kind& kind : made.cloth.request.kinds) made.each.push_back(kind.demand / pouches);
  auto& pieces = made.cloth.request.remnants;
  const auto largest = std::max_element(
      pieces.begin(), pieces.end(), [](const auto& a, const auto& b) { return area(a) < area(b); });
  made.roll = largest->length;
  made.cloth.request.cloth.width = made.cloth.terms.full_width = largest->width;
  made.cloth.terms.selvedge = Length();
  made.cloth.on_hand = made.roll;
  pieces.erase(largest);
  made.cloth.request.by_products.clear();
  return made;
}

lay::Request asked_for(const OnHand& stock, int pouches) {
  lay::Request asked = stock.cloth.request;
  for (std::size_t i = 0; i < asked.kinds.size(); ++i) {
    asked.kinds[i].demand = stock.each[i] * pouches;
  }
  return asked;
}

bool yields(const OnHand& stock, int pouches) {
  lay::Request asked = asked_for(stock, pouches);
  asked.work = kTryWork;
  return lay::faults(asked).empty() && lay::plan(asked).cloth.cloth_length <= stock.roll;
}

/// No more have room, and no plan has more pieces.
int most_by_area(const OnHand& stock) {
  double there = stock.cloth.request.cloth.width.in_mm() * stock.roll.in_mm();
  for (const lay::Stock& piece : stock.cloth.request.remnants) {
    there += piece.width.in_mm() * piece.length.in_mm();
  }
  double area = 0;
  int pieces = 0;
  for (std::size_t i = 0; i < stock.each.size(); ++i) {
    const lay::Kind& kind = stock.cloth.request.kinds[i];
    area += stock.each[i] * kind.width.in_mm() * kind.length.in_mm();
    pieces += stock.each[i];
  }
  const double most = std::min(there / area, 1.0 * lay::kMostPieces / pieces);
  return static_cast<int>(std::min<double>(most, batch::kMostPouches));
}

int most_of(const OnHand& stock) {
  int least = 0;
  int beyond = most_by_area(stock) + 1;
  while (beyond - least > 1) {
    const int between = least + (beyond - least) / 2;
    (yields(stock, between) ? least : beyond) = between;
  }
  return least;
}

void add_left(std::vector<LeftOver>& left, const ClothPlan& cloth, Length roll) {
  const lay::Lay& last = cloth.plan.cloth;
  const Length past = roll - last.cloth_length;
  if (past > Length()) left.push_back({cloth.material, cloth.request.cloth.width, past});
  for (std::size_t i = 0; i <= cloth.plan.remnants.size(); ++i) {
    for (const lay::Area& kept : lay_of(cloth, i).kept) {
      left.push_back({cloth.material, kept.width, kept.length});
    }
  }
}

}  // namespace

Yield yield_of(const pouch::Pouch& pouch, const input::JobSettings& settings,
               const std::vector<lay::Remnant>& stock) {
  input::JobSettings stocked = settings;
  stocked.lay.remnants = stock;
  const int asked = settings.batch.pouches.value;
  Yield made;
  std::vector<OnHand> limited;
  int most = batch::kMostPouches;
  for (ClothPlan& cloth : cloth_requests(pouch, stocked)) {
    if (cloth.request.remnants.empty()) continue;
    limited.push_back(on_hand(std::move(cloth), asked));
    const int here = most_of(limited.back());
    if (here >= most) continue;
    most = here;
    made.ends_first = limited.back().cloth.material;
  }
  made.pouches = most;
  if (most == 0) return made;
  stocked.batch.pouches.value = most;
  for (ClothPlan& cloth : cloth_requests(pouch, stocked)) {
    const auto held = std::find_if(limited.begin(), limited.end(), [&](const OnHand& one) {
      return one.cloth.material == cloth.material;
    });
    if (held != limited.end()) {
      cloth = held->cloth;
      cloth.request = asked_for(*held, most);
    }
    cloth.plan = lay::plan(cloth.request);
    if (held != limited.end()) add_left(made.left, cloth, held->roll);
    made.plans.push_back(std::move(cloth));
  }
  return made;
}

// ---- What an option says is there ----

namespace {

bool has_cloth(const pouch::Request& request, std::string_view name) {
  return name == "laminate" || (name == "outer" && request.outer) ||
         (name == "lining" && request.lining);
}

std::vector<std::string> cloths_of(const pouch::Request& request) {
  std::vector<std::string> names = {"laminate"};
  if (request.outer) names.emplace_back("outer");
  if (request.lining) names.emplace_back("lining");
  return names;
}

/// Width and length, or a length alone, which is no width; with a unit.
std::optional<input::LengthPair> sides_of(std::string_view text) {
  text = base::trimmed(text);
  if (text.empty() || (text.back() >= '0' && text.back() <= '9')) return std::nullopt;
  if (const auto both = input::length_pair_of(text, base::Unit::mm)) return both;
  const auto reading = base::read_length(std::string(text), base::Unit::mm);
  const auto* length = std::get_if<Length>(&reading);
  return length ? std::optional(input::LengthPair{Length(), *length}) : std::nullopt;
}

}  // namespace

namespace {

/// Can it be read but for a length that no cloth has?
bool is_too_long(std::string_view text) {
  const std::size_t equals = text.find('=');
  std::string_view rest = equals == std::string_view::npos ? text : text.substr(equals + 1);
  while (!rest.empty()) {
    const std::size_t end = std::min(rest.find_first_of("xX"), rest.size());
    const auto read =
        base::read_length(std::string(base::trimmed(rest.substr(0, end))), base::Unit::mm);
    const auto* fault = std::get_if<base::LengthFault>(&read);
    if (fault != nullptr && fault->kind == base::LengthFault::Kind::too_long) return true;
    rest.remove_prefix(std::min(end + 1, rest.size()));
  }
  return false;
}

}  // namespace

std::optional<lay::Remnant> piece_of(const std::string& text) {
  const std::size_t equals = text.find('=');
  const bool is_named = equals != std::string::npos;
  const std::string_view whole(text);
  const std::string_view lengths = is_named ? whole.substr(equals + 1) : whole;
  const auto sides = sides_of(lengths);
  if (!sides || !base::is_drawable(text)) return std::nullopt;
  lay::Remnant piece;
  piece.material = is_named ? std::string(base::trimmed(whole.substr(0, equals))) : "laminate";
  piece.length = sides->down;
  const bool is_roll = lengths.find_first_of("xX") == std::string_view::npos &&
                       lengths.find("×") == std::string_view::npos;
  if (!is_roll) piece.width = sides->across;
  return piece;
}

std::optional<lay::Remnant> stock_of(Run& run, const char* option, const std::string& text) {
  std::optional<lay::Remnant> piece = piece_of(text);
  const base::Place place{std::string(option) + " " + text, 0, 0, 0};
  if (!piece && is_too_long(text)) {
    run.diagnostics().error(
        place,
        {"have-too-long", {{"text", text.substr(0, 60)}, {"most", base::exact(base::kLongest)}}},
        {{"have-out-of-range-hint"}});
    return std::nullopt;
  }
  if (!piece) {
    throw UsageFault{{"usage-option", {{"option", option}, {"text", text.substr(0, 60)}}},
                     {{std::string("usage-option-hint") + option}}};
  }
  piece->place = place;
  const pouch::Request& request = run.pouch().request;
  if (!has_cloth(request, piece->material)) {
    run.diagnostics().error(piece->place, {"have-no-such-cloth", {{"cloth", piece->material}}},
                            {input::nearest_hint(piece->material, cloths_of(request))});
    return std::nullopt;
  }
  for (const Length side : {piece->width.value_or(piece->length), piece->length}) {
    if (side > Length() && side <= base::kLongest) continue;
    run.diagnostics().error(
        piece->place,
        {"have-out-of-range",
         {{"length", base::exact(side)}, {"most", base::exact(base::kLongest)}}},
        {{"have-out-of-range-hint"}});
    return std::nullopt;
  }
  return piece;
}

// ---- The answer ----

Cell yield_cell(const Yield& made) {
  Cell::List left;
  for (const LeftOver& one : made.left) {
    left.emplace_back(Cell::Fields{
        {"material", one.material}, {"width_mm", one.width}, {"length_mm", one.length}});
  }
  return Cell::Fields{{"pouches", made.pouches},
                      {"ends_first", made.ends_first.empty() ? Cell() : Cell(made.ends_first)},
                      {"left", std::move(left)}};
}

void say_yield(Report& report, const Yield& made) {
  const base::Message ends = made.ends_first.empty()
                                 ? base::Message("have-ends-nowhere")
                                 : base::Message("have-ends-" + made.ends_first);
  report.say({"have-pouches", {{"pouches", made.pouches}, {"ends", ends}}});
  for (const LeftOver& one : made.left) {
    report.say({"have-left",
                {{"cloth", base::Message("have-cloth-" + one.material)},
                 {"width", base::in_both(one.width)},
                 {"length", base::in_both(one.length)}}});
  }
}

Answer lay_from_stock(Run& run) {
  std::vector<lay::Remnant> named;
  for (const std::string& text : run.options().have) {
    if (auto piece = stock_of(run, "--have", text)) named.push_back(std::move(*piece));
  }
  if (run.diagnostics().has_errors()) return run.job_wrong();
  // What the job has of the same cloths is there as well.
  std::vector<lay::Remnant> stock;
  for (const lay::Remnant& piece : run.settings().lay.remnants) {
    const bool is_named = std::any_of(named.begin(), named.end(), [&](const lay::Remnant& one) {
      return one.material == piece.material;
    });
    if (is_named) stock.push_back(piece);
  }
  stock.insert(stock.end(), named.begin(), named.end());
  const Yield made = yield_of(run.pouch(), run.settings(), stock);
  Report report = lay_report(made.plans, run.settings().batch.currency, run.words());
  report.field("have", yield_cell(made));
  Report told;
  told.begin();
  say_yield(told, made);
  report.blocks.insert(report.blocks.begin(), told.blocks.begin(), told.blocks.end());
  Made answer{std::move(report)};
  answer.sheets = {"lay", [&run, plans = made.plans](ink::Breaks breaks) {
                     const render::FontMeasure measure(run.fonts());
                     return draw::lay_pictures(lays_to_draw(plans, run.paper_words()),
                                               run.paper_words(), measure, kSheetRoom, breaks);
                   }};
  return answer;
}

}  // namespace pouchwright::job
