#include "job/commands/cloth_plans.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <limits>

#include "base/length.h"
#include "base/number.h"
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

bool planned(ClothPlan& cloth, const base::Place& place, base::Diagnostics& diagnostics) {
  const auto wrong = lay::faults(cloth.request);
  for (const lay::Fault& fault : wrong) tell(fault, cloth, place, diagnostics);
  if (!wrong.empty()) return false;
  cloth.plan = lay::plan(cloth.request);
  return true;
}

std::vector<ClothPlan> cloth_plans(const pouch::Pouch& pouch, const input::JobSettings& settings,
                                   base::Diagnostics& diagnostics) {
  const pouch::Request& request = pouch.request;
  std::vector<ClothPlan> plans;
  plans.push_back(plan_for(request.laminate, "laminate", pouch, settings, !request.outer));
  if (request.outer) plans.push_back(plan_for(*request.outer, "outer", pouch, settings, true));
  if (request.lining) {
    plans.push_back(plan_for(*request.lining, "lining", pouch, settings, false));
  }
  std::erase_if(plans, [](const ClothPlan& cloth) { return cloth.request.kinds.empty(); });
  std::erase_if(plans,
                [&](ClothPlan& cloth) { return !planned(cloth, request.place, diagnostics); });
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

// ---- Reports ----

namespace {

const lay::Kind& kind_of(const ClothPlan& cloth, const lay::Placed& piece) {
  const auto& kinds = piece.by_product ? cloth.request.by_products : cloth.request.kinds;
  return kinds[static_cast<std::size_t>(piece.kind)];
}

Json piece_report(const ClothPlan& cloth, const lay::Placed& piece, bool is_stacked) {
  Json report = {{"kind", kind_of(cloth, piece).name},     {"x_mm", piece.area.x.in_mm()},
                 {"y_mm", piece.area.y.in_mm()},           {"width_mm", piece.area.width.in_mm()},
                 {"height_mm", piece.area.length.in_mm()}, {"turned", piece.turned}};
  if (piece.by_product) report["by_product"] = true;
  if (piece.spare) report["spare"] = true;
  if (is_stacked) report["layer"] = piece.layer;
  return report;
}

Json step_report(const ClothPlan& cloth, const lay::Step& step) {
  Json report = {{"cut", word_of(lay::kCutWords, step.cut)}, {"at_mm", step.at.in_mm()}};
  report["lines"] = Json::array();
  for (const lay::Line& line : step.lines) {
    report["lines"].push_back(
        Json::array({line.x0.in_mm(), line.y0.in_mm(), line.x1.in_mm(), line.y1.in_mm()}));
  }
  report["length_number"] = step.cut_off + 1;
  report["piece"] = nullptr;
  if (step.kind >= 0) {
    const auto& kinds = step.by_product ? cloth.request.by_products : cloth.request.kinds;
    report["piece"] = kinds[static_cast<std::size_t>(step.kind)].name;
  }
  return report;
}

Json area_report(const lay::Area& area) {
  return {{"x_mm", area.x.in_mm()},
          {"y_mm", area.y.in_mm()},
          {"width_mm", area.width.in_mm()},
          {"height_mm", area.length.in_mm()}};
}

Json lay_report(const ClothPlan& cloth, const lay::Lay& lay, bool is_remnant) {
  const bool is_stacked = cloth.request.plies.way == lay::Plies::Way::stacked;
  Json report;
  report["material"] = cloth.material;
  report["cloth"] = cloth.request.cloth.name;
  report["remnant"] = is_remnant;
  report["width_mm"] = (is_remnant ? lay.width : cloth.terms.full_width).in_mm();
  report["usable_width_mm"] = lay.width.in_mm();
  report["length_mm"] = lay.length.in_mm();
  report["bound_mm"] = lay.bound.in_mm();
  report["optimal"] = lay.optimal;
  report["cuts"] = lay.cuts == lay::Cuts::straight ? "straight" : "free";
  report["layers"] = lay.layers;
  report["waste_fraction"] = lay.waste_fraction;
  report["pieces_per_metre"] = lay.pieces_per_metre;
  report["cuts_made"] = lay.cuts_made;
  report["pieces"] = Json::array();
  std::vector<lay::Placed> pieces = lay.pieces;
  std::stable_sort(pieces.begin(), pieces.end(), [](const lay::Placed& a, const lay::Placed& b) {
    return std::pair(a.area.y, a.area.x) < std::pair(b.area.y, b.area.x);
  });
  for (const lay::Placed& piece : pieces) {
    report["pieces"].push_back(piece_report(cloth, piece, is_stacked));
  }
  report["steps"] = Json::array();
  for (const lay::Step& step : lay.steps) report["steps"].push_back(step_report(cloth, step));
  report["kept"] = Json::array();
  for (const lay::Area& area : lay.kept) report["kept"].push_back(area_report(area));
  report["spare"] = Json::array();
  for (std::size_t i = 0; i < lay.spare.size(); ++i) {
    report["spare"].push_back({{"kind", cloth.request.kinds[i].name}, {"pieces", lay.spare[i]}});
  }
  if (!is_remnant) report["to_buy_mm"] = cloth.to_buy().in_mm();
  return report;
}

/// The table of one lay, as lines.
class LayTable {
 public:
  LayTable(const ClothPlan& cloth, const lay::Lay& lay, const base::Voice& words)
      : cloth_(cloth), lay_(lay), words_(words) {}

  std::string text(bool is_remnant, const std::string& currency) {
    if (is_remnant) {
      say("lay-remnant-head",
          {{"width", lay_.width}, {"length", lay_.length}, {"cloth", cloth_.request.cloth.name}});
    } else {
      say("lay-cloth-head", {{"cloth", cloth_.request.cloth.name}, {"usable", lay_.width}});
      if (lay_.length == Length()) {
        say("lay-from-remnants", {});
        return text_;
      }
      lengths(currency);
    }
    if (lay_.pieces.empty()) {
      say("lay-yields-nothing", {});
      return text_;
    }
    pieces();
    orders();
    leftovers();
    return text_;
  }

 private:
  void say(const char* key, base::Message::Values values) {
    text_ += words_.say({key, std::move(values)}) + "\n";
  }

  void lengths(const std::string& currency) {
    say("lay-length", {{"length", base::in_both(lay_.length)}});
    if (lay_.layers > 1) {
      say("lay-layers", {{"layers", lay_.layers}, {"all", base::in_both(lay_.cloth_length)}});
    }
    if (lay_.optimal) {
      say("lay-optimal", {});
    } else {
      const double gap = lay_.length == Length()
                             ? 0
                             : 100 * (lay_.length - lay_.bound).in_mm() / lay_.length.in_mm();
      say(lay_.work_ended ? "lay-gap-work" : "lay-gap",
          {{"bound", lay_.bound}, {"gap", base::fixed(gap, 1)}});
    }
    say(cloth_.terms.shrink_length > 0 ? "lay-buy-shrinking" : "lay-buy",
        {{"buy", base::in_both(cloth_.to_buy())},
         {"shrink", base::shortened(100 * cloth_.terms.shrink_length, 1)}});
    if (cloth_.terms.price) {
      const double per = cloth_.terms.price_per == "yd" ? 914.4 : 1000;
      const double cost = cloth_.to_buy().in_mm() / per * *cloth_.terms.price;
      say("lay-cost", {{"cost", base::fixed(cost, 2)}, {"currency", currency}});
    }
    say("lay-waste", {{"waste", base::fixed(100 * lay_.waste_fraction, 1)},
                      {"per_metre", base::fixed(lay_.pieces_per_metre, 1)},
                      {"cuts", lay_.cuts_made}});
  }

  void pieces() {
    for (std::size_t i = 0; i < cloth_.request.kinds.size(); ++i) {
      const lay::Kind& kind = cloth_.request.kinds[i];
      std::size_t cut = 0;
      std::size_t turned = 0;
      for (const lay::Placed& piece : lay_.pieces) {
        if (piece.by_product || static_cast<std::size_t>(piece.kind) != i) continue;
        ++cut;
        turned += piece.turned ? 1 : 0;
      }
      if (cut == 0) continue;
      const int spare = i < lay_.spare.size() ? lay_.spare[i] : 0;
      say(spare > 0 ? "lay-kind-spare" : "lay-kind", {{"count", cut},
                                                      {"piece", kind.name},
                                                      {"width", kind.width},
                                                      {"length", kind.length},
                                                      {"spare", spare}});
      if (turned > 0 && turned < cut) {
        say("lay-mixed", {{"along", cut - turned}, {"across", turned}, {"piece", kind.name}});
      }
    }
    say("lay-bundles", {});
  }

  void orders() {
    say("lay-orders", {});
    std::size_t number = 0;
    for (const lay::Step& step : lay_.steps) {
      const std::string key =
          key_of("lay-step-", lay::kCutWords, step.cut) + (step.lines.size() == 1 ? "" : "-many");
      std::string piece;
      if (step.kind >= 0) {
        const auto& kinds = step.by_product ? cloth_.request.by_products : cloth_.request.kinds;
        piece = words_.say(
            {"lay-step-gives", {{"piece", kinds[static_cast<std::size_t>(step.kind)].name}}});
      }
      say(key.c_str(),
          {{"number", ++number}, {"at", step.at}, {"times", step.lines.size()}, {"piece", piece}});
    }
  }

  void leftovers() {
    for (const lay::Area& area : lay_.kept) {
      say("lay-kept", {{"width", area.width}, {"length", area.length}});
    }
  }

  const ClothPlan& cloth_;
  const lay::Lay& lay_;
  base::Voice words_;
  std::string text_;
};

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

Json lays_report(const std::vector<ClothPlan>& plans) {
  Json lays = Json::array();
  for (const ClothPlan& cloth : plans) {
    for (const lay::Lay& remnant : cloth.plan.remnants) {
      lays.push_back(lay_report(cloth, remnant, true));
    }
    lays.push_back(lay_report(cloth, cloth.plan.cloth, false));
  }
  return lays;
}

std::string lays_table(const std::vector<ClothPlan>& plans, const std::string& currency,
                       const base::Voice& words) {
  std::string text;
  const auto add = [&](const ClothPlan& cloth, const lay::Lay& lay, bool is_remnant) {
    if (!text.empty()) text += "\n";
    text += LayTable(cloth, lay, words).text(is_remnant, currency);
  };
  for (const ClothPlan& cloth : plans) {
    for (const lay::Lay& remnant : cloth.plan.remnants) add(cloth, remnant, true);
    add(cloth, cloth.plan.cloth, false);
  }
  return text;
}

std::string lays_csv(const std::vector<ClothPlan>& plans) {
  std::string text = "material,kind,x_mm,y_mm,width_mm,height_mm,turned,layer\n";
  for (const ClothPlan& cloth : plans) {
    for (const lay::Placed& piece : cloth.plan.cloth.pieces) {
      text += cloth.material + "," + base::csv_cell(kind_of(cloth, piece).name);
      for (const Length length :
           {piece.area.x, piece.area.y, piece.area.width, piece.area.length}) {
        text += "," + base::decimal_mm(length);
      }
      text += std::string(piece.turned ? ",yes," : ",no,") + std::to_string(piece.layer) + "\n";
    }
  }
  return text;
}

}  // namespace pouchwright::job
