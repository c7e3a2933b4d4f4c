#include "job/commands/cloth_plans.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <limits>

#include "base/length.h"
#include "base/text.h"
#include "input/reader.h"

namespace pouchwright::job {

using base::Length;

namespace {

/// Letters of a number that a message repeats.
constexpr std::size_t kMostShown = 60;

/// Where a part is cut from: a piece of an outer that the job has none of is cut from laminate.
bool is_cut_from(const pouch::CutPart& part, std::string_view material,
                 const pouch::Request& request) {
  switch (part.cloth) {
    case pouch::ClothKind::laminate:
      return material == "laminate";
    case pouch::ClothKind::outer:
      return material == (request.outer ? "outer" : "laminate");
    case pouch::ClothKind::lining:
      return material == "lining";
    case pouch::ClothKind::bought:
      return false;
  }
  return false;
}

/// All that one cloth gives for the batch. The main panel is "panel" in every construction; an
/// outer is named as the panel that it goes with.
std::vector<lay::Kind> kinds_of(const pouch::Material& material, std::string_view kind,
                                const pouch::Pouch& pouch, int pouches) {
  std::vector<lay::Kind> kinds;
  const auto add = [&](const pouch::CutPart& part, Length width, Length length) {
    const bool is_main = part.panel && *part.panel == 0;
    const std::int64_t demand = std::int64_t{pouches} * part.count;
    constexpr std::int64_t kMost = std::numeric_limits<int>::max();
    kinds.push_back({is_main ? "panel" : part.name, width, length,
                     static_cast<int>(std::min(demand, kMost)), material.turn, std::nullopt});
  };
  for (const pouch::CutPart& part : pouch.sizes.parts) {
    if (is_cut_from(part, kind, pouch.request)) add(part, part.width, part.length);
    if (kind == "outer" && part.outer) add(part, part.outer->width, part.outer->length);
  }
  return kinds;
}

ClothPlan plan_for(const pouch::Material& material, const char* kind, const pouch::Pouch& pouch,
                   const input::JobSettings& settings, bool takes_by_products) {
  ClothPlan made;
  made.material = kind;
  made.terms = {material.width, settings.lay.shop_step, material.shrink_length, material.price,
                material.price_per};
  made.request.cloth = {material.name, material.usable_width()};
  made.request.kinds = kinds_of(material, kind, pouch, settings.batch.pouches.value);
  made.request.cuts = settings.lay.cuts;
  if (settings.lay.table_length) made.request.longest = settings.lay.table_length->value;
  made.request.plies = settings.lay.plies;
  for (const lay::Remnant& remnant : settings.lay.remnants) {
    if (remnant.material != kind) continue;
    made.request.remnants.push_back({remnant.material, remnant.width, remnant.length});
  }
  if (takes_by_products) {
    for (const lay::ByProduct& piece : settings.lay.by_products) {
      made.request.by_products.push_back(
          {piece.name, piece.width, piece.length, piece.count, material.turn, std::nullopt});
    }
  }
  return made;
}

using What = lay::Fault::What;
constexpr base::Named<What> kFaultKeys[] = {
    {What::nothing_to_cut, "lay-nothing-to-cut"},
    {What::too_many_kinds, "lay-too-many-kinds"},
    {What::too_many_by_products, "lay-too-many-by-products"},
    {What::bad_size, "lay-bad-size"},
    {What::bad_demand, "lay-bad-demand"},
    {What::too_many_pieces, "lay-too-many-pieces"},
    {What::bad_cloth, "lay-bad-cloth"},
    {What::bad_longest, "lay-bad-longest"},
    {What::bad_plies, "lay-bad-plies"},
    {What::too_large, "lay-too-large"},
    {What::too_long_for_table, "lay-too-long-for-table"},
    {What::too_wide_folded, "lay-too-wide-folded"},
    {What::bad_by_product, "lay-bad-by-product"},
    {What::bad_remnant, "lay-bad-remnant"}};

void tell(const lay::Fault& fault, const ClothPlan& cloth, const base::Place& place,
          base::Diagnostics& diagnostics) {
  base::Message::Values values = {{"cloth", cloth.request.cloth.name},
                                  {"usable", base::exact(cloth.request.cloth.width)},
                                  {"most_kinds", lay::kMostKinds},
                                  {"most_pieces", lay::kMostPieces}};
  if (cloth.request.longest) values.emplace_back("table", base::exact(*cloth.request.longest));
  const auto index = static_cast<std::size_t>(fault.index);
  const bool about_kind =
      fault.what != lay::Fault::What::bad_by_product && fault.what != lay::Fault::What::bad_remnant;
  if (about_kind && index < cloth.request.kinds.size()) {
    const lay::Kind& kind = cloth.request.kinds[index];
    values.emplace_back("piece", kind.name);
    values.emplace_back("width", base::exact(kind.width));
    values.emplace_back("length", base::exact(kind.length));
    values.emplace_back("demand",
                        index < cloth.typed_demands.size()
                            ? base::Value(cloth.typed_demands[index].substr(0, kMostShown))
                            : base::Value(kind.demand));
  }
  const std::string key = word_of(kFaultKeys, fault.what);
  diagnostics.error(place, {key, std::move(values)}, {{key + "-hint"}});
}

}  // namespace

Length ClothPlan::to_buy() const {
  // Cut from cloth that was washed first: before washing it was longer by 1 / (1 - s), since ISO
  // 5077 counts what is lost from the length before.
  const double before = plan.cloth.cloth_length.in_mm() / (1 - terms.shrink_length);
  const Length exact =
      terms.shrink_length > 0 ? Length::mm(std::ceil(before * 1e6) / 1e6) : plan.cloth.cloth_length;
  return base::rounded_up(exact, terms.shop_step);
}

bool can_be_cut(const ClothPlan& cloth, const base::Place& place, base::Diagnostics& diagnostics) {
  const auto wrong = lay::faults(cloth.request);
  for (const lay::Fault& fault : wrong) tell(fault, cloth, place, diagnostics);
  return wrong.empty();
}

bool planned(ClothPlan& cloth, const base::Place& place, base::Diagnostics& diagnostics) {
  if (!can_be_cut(cloth, place, diagnostics)) return false;
  cloth.plan = lay::plan(cloth.request);
  return true;
}

std::vector<ClothPlan> cloth_requests(const pouch::Pouch& pouch,
                                      const input::JobSettings& settings) {
  const pouch::Request& request = pouch.request;
  std::vector<ClothPlan> plans;
  plans.push_back(plan_for(request.laminate, "laminate", pouch, settings, !request.outer));
  if (request.outer) plans.push_back(plan_for(*request.outer, "outer", pouch, settings, true));
  if (request.lining) {
    plans.push_back(plan_for(*request.lining, "lining", pouch, settings, false));
  }
  std::erase_if(plans, [](const ClothPlan& cloth) { return cloth.request.kinds.empty(); });
  return plans;
}

std::vector<ClothPlan> cloth_plans(const pouch::Pouch& pouch, const input::JobSettings& settings,
                                   base::Diagnostics& diagnostics) {
  std::vector<ClothPlan> plans = cloth_requests(pouch, settings);
  std::erase_if(
      plans, [&](ClothPlan& cloth) { return !planned(cloth, pouch.request.place, diagnostics); });
  return plans;
}

// ---- The quick form ----

namespace {

bool ends_in_a_unit(std::string_view text) {
  return !text.empty() && (text.back() < '0' || text.back() > '9');
}

struct Piece {
  lay::Kind kind;
  std::string typed_demand = "1";
};

/// `[NAME =] LENGTH x LENGTH [* COUNT]`; no unit at all cannot be read.
std::optional<Piece> piece_of(std::string_view text, std::size_t number) {
  Piece piece;
  lay::Kind& kind = piece.kind;
  kind.name = "piece " + std::to_string(number);
  const std::size_t equals = text.find('=');
  if (equals != std::string_view::npos) {
    kind.name = std::string(base::trimmed(text.substr(0, equals)));
    text.remove_prefix(equals + 1);
    if (kind.name.empty()) return std::nullopt;
  }
  const std::size_t star = text.find('*');
  if (star != std::string_view::npos) {
    const std::string_view count = base::trimmed(text.substr(star + 1));
    const auto read = std::from_chars(count.data(), count.data() + count.size(), kind.demand);
    if (read.ptr != count.data() + count.size()) return std::nullopt;
    // No int holds it, so it cannot be planned, and the plan says so.
    if (read.ec == std::errc::result_out_of_range)
      kind.demand = 0;
    else if (read.ec != std::errc())
      return std::nullopt;
    piece.typed_demand = count;
    text = text.substr(0, star);
  }
  text = base::trimmed(text);
  if (!ends_in_a_unit(text)) return std::nullopt;
  const auto sides = input::length_pair_of(text, base::Unit::mm);
  if (!sides) return std::nullopt;
  kind.width = sides->across;
  kind.length = sides->down;
  return piece;
}

std::optional<Length> quick_length(const std::string& text) {
  if (!ends_in_a_unit(base::trimmed(text))) return std::nullopt;
  const auto reading = base::read_length(text, base::Unit::mm);
  const auto* length = std::get_if<Length>(&reading);
  return length ? std::optional(*length) : std::nullopt;
}

std::optional<lay::Plies> plies_of(const std::string& text) {
  if (text == "folded 2") return lay::Plies{lay::Plies::Way::folded, 2};
  if (text == "folded 4") return lay::Plies{lay::Plies::Way::folded, 4};
  int count = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), count);
  if (read.ec != std::errc() || read.ptr != text.data() + text.size()) return std::nullopt;
  return lay::Plies{count == 1 ? lay::Plies::Way::single : lay::Plies::Way::stacked, count};
}

QuickFault unreadable(const char* option, const std::string& text) {
  return {{"usage-option", {{"option", option}, {"text", text.substr(0, 60)}}},
          {std::string("usage-option-hint") + option}};
}

bool in_inches(std::string_view text) {
  return text.find("in") != std::string_view::npos || text.find('"') != std::string_view::npos ||
         text.find("″") != std::string_view::npos || text.find("”") != std::string_view::npos ||
         text.find("yd") != std::string_view::npos;
}

}  // namespace

std::variant<ClothPlan, QuickFault> quick_request(const QuickLay& quick, base::LengthStyle& style) {
  ClothPlan made;
  made.material = "cloth";
  const auto width = quick_length(quick.cloth);
  if (!width) return unreadable("--cloth", quick.cloth);
  style = base::default_style(in_inches(quick.cloth) ? base::Unit::inch : base::Unit::mm);
  Length selvedge;
  if (quick.selvedge) {
    const auto read = quick_length(*quick.selvedge);
    if (!read || *read < Length()) return unreadable("--selvedge", *quick.selvedge);
    selvedge = *read;
  }
  made.terms.full_width = *width;
  made.terms.shop_step =
      style.unit == base::Unit::inch ? Length::nm(914'400'000 / 8) : Length::whole_mm(100);
  made.request.cloth = {"cloth", *width - 2 * selvedge};
  const auto plies = plies_of(quick.plies);
  if (!plies) return unreadable("--plies", quick.plies);
  made.request.plies = *plies;
  if (quick.table_length) {
    made.request.longest = quick_length(*quick.table_length);
    if (!made.request.longest) return unreadable("--table-length", *quick.table_length);
  }
  made.request.cuts = base::value_of(lay::kCutsWords, quick.cuts).value_or(lay::Cuts::straight);
  for (const std::string& text : quick.pieces) {
    const auto piece = piece_of(text, made.request.kinds.size() + 1);
    if (!piece || !base::is_drawable(text)) return unreadable("--piece", text);
    lay::Kind kind = piece->kind;
    kind.turn = base::value_of(base::kTurnWords, quick.turn).value_or(base::Turn::either);
    for (const lay::Kind& other : made.request.kinds) {
      if (other.name == kind.name)
        return QuickFault{{"usage-piece-twice", {{"name", kind.name}}}, {"usage-piece-twice-hint"}};
    }
    made.request.kinds.push_back(kind);
    made.typed_demands.push_back(piece->typed_demand);
  }
  return made;
}

// ---- The picture ----

namespace {

/// Helpers know what a cloth is for before they know its name.
std::string cloth_shown(const ClothPlan& cloth, const base::Voice& words) {
  const std::string& name = cloth.request.cloth.name;
  const std::string key = "lay-cloth-" + cloth.material;
  return words.has(key) ? words.say({key, {{"cloth", name}}}) : name;
}

}  // namespace

std::vector<draw::LayToDraw> lays_to_draw(const std::vector<ClothPlan>& plans,
                                          const base::Voice& words) {
  std::vector<draw::LayToDraw> drawn;
  const auto add = [&](const ClothPlan& cloth, const lay::Lay& lay, const char* key) {
    draw::LayToDraw one;
    one.lay = &lay;
    one.title = words.say({key,
                           {{"cloth", cloth_shown(cloth, words)},
                            {"usable", lay.width},
                            {"width", lay.width},
                            {"length", lay.length}}});
    for (const lay::Kind& kind : cloth.request.kinds) one.kinds.push_back(kind.name);
    for (const lay::Kind& kind : cloth.request.by_products) one.by_products.push_back(kind.name);
    drawn.push_back(std::move(one));
  };
  for (const ClothPlan& cloth : plans) {
    for (const lay::Lay& remnant : cloth.plan.remnants) add(cloth, remnant, "lay-remnant-head");
    add(cloth, cloth.plan.cloth, "lay-picture-head");
  }
  return drawn;
}

}  // namespace pouchwright::job
