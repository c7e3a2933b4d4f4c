#include "job/commands/cloth_plans.h"

#include <algorithm>
#include <cstdint>
#include <limits>

#include "base/length.h"
#include "base/text.h"
#include "job/run.h"
#include "job/step_facts.h"
#include "lay/spare.h"

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
  const auto cut = [&](const pouch::CutPart& part, Length width, Length length) {
    const bool is_main = part.panel && *part.panel == 0;
    const std::int64_t demand = std::int64_t{pouches} * part.count;
    constexpr std::int64_t kMost = std::numeric_limits<int>::max();
    kinds.push_back({is_main ? "panel" : part.name, width, length,
                     static_cast<int>(std::min(demand, kMost)), material.turn, std::nullopt});
  };
  for (const pouch::CutPart& part : pouch.sizes.parts) {
    if (is_cut_from(part, kind, pouch.request)) cut(part, part.width, part.length);
    if (kind == "outer" && part.outer) cut(part, part.outer->width, part.outer->length);
  }
  return kinds;
}

/// What is there, as it lies once it is washed.
lay::Stock as_it_lies(const lay::Remnant& remnant, const pouch::Material& material) {
  const auto left = [&](Length length, double lost) {
    return remnant.washed ? length : pouch::washed(length, lost);
  };
  return {remnant.material,
          remnant.width ? left(*remnant.width, material.shrink_width) : material.usable_width(),
          left(remnant.length, material.shrink_length)};
}

ClothPlan plan_for(const pouch::Material& material, const char* kind, const pouch::Pouch& pouch,
                   const input::JobSettings& settings, bool takes_by_products) {
  ClothPlan made;
  made.material = kind;
  made.terms = {material.width,         material.washed_width(),    material.selvedge,
                settings.lay.shop_step, material.shrink_length,     material.price,
                material.price_per,     material.is_washed_first(), material.upright};
  made.request.cloth = {material.name, material.usable_width()};
  made.request.kinds = kinds_of(material, kind, pouch, settings.batch.pouches.value);
  made.request.cuts = settings.lay.cuts;
  if (settings.lay.table_length) made.request.longest = settings.lay.table_length->value;
  made.request.plies = settings.lay.plies_of(kind);
  for (const lay::Remnant& remnant : settings.lay.remnants) {
    if (remnant.material != kind) continue;
    const lay::Stock piece = as_it_lies(remnant, material);
    made.request.remnants.insert(made.request.remnants.end(),
                                 static_cast<std::size_t>(remnant.count), piece);
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

Length ClothPlan::unwashed_length() const {
  return pouch::unwashed(plan.cloth.cloth_length, terms.shrink_length);
}

Length ClothPlan::pieces_to_buy() const {
  if (on_hand) return {};
  return base::rounded_up(unwashed_length(), terms.shop_step);
}

Length ClothPlan::needed() const {
  Length all = plan.cloth.cloth_length;
  for (const batch::ClothExtra& more : extra) all += more.length;
  return pouch::unwashed(all, terms.shrink_length);
}

Length ClothPlan::to_buy() const {
  return on_hand ? Length() : base::rounded_up(needed(), terms.shop_step);
}

Length ClothPlan::extra_for(batch::More what) const {
  Length sum;
  for (const batch::ClothExtra& more : extra) {
    if (more.what == what) sum += more.length;
  }
  return sum;
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
  for (ClothPlan& cloth : plans) {
    cloth.is_paired = request.outer.has_value() && cloth.material != "lining";
  }
  std::erase_if(plans, [](const ClothPlan& cloth) { return cloth.request.kinds.empty(); });
  return plans;
}

// ---- What is bought beyond the plan ----

namespace {

/// Steps for a plan whose length alone is asked for.
constexpr std::int64_t kExtraWork = lay::kWork / 10;

/// Both cloths that the iron fuses through; a lining lies loose.
bool is_pressed(const ClothPlan& cloth, const pouch::Pouch& pouch) {
  return cloth.material != "lining" && !pouch.seal_zones.empty();
}

TrialPlan trial_of(const ClothPlan& cloth, base::Unit unit) {
  TrialPlan made{batch::trial_strip(unit), batch::kStripsForTrial, {}};
  int left = made.wanted;
  for (std::size_t i = 0; i <= cloth.plan.remnants.size(); ++i) {
    made.in_waste.push_back(
        lay::in_waste(lay_of(cloth, i), made.strip.width, made.strip.length, left));
    left -= static_cast<int>(made.in_waste.back().size());
  }
  return made;
}

/// Rows of strips across the cloth, for those that no waste yields.
Length strips_to_buy(const TrialPlan& trial, Length width) {
  std::int64_t left = trial.wanted;
  for (const auto& found : trial.in_waste) left -= static_cast<std::int64_t>(found.size());
  const std::int64_t in_a_row =
      std::max<std::int64_t>(1, width.in_nm() / trial.strip.width.in_nm());
  return (left + in_a_row - 1) / in_a_row * trial.strip.length;
}

/// So many pouches more the plan's own left-over places yield.
int pouches_yielded(const ClothPlan& cloth, int pouches) {
  int yielded = batch::kMostPouches;
  const lay::Lay& plan = cloth.plan.cloth;
  for (std::size_t k = 0; k < cloth.request.kinds.size(); ++k) {
    const int each = cloth.request.kinds[k].demand / pouches;
    const int spare = k < plan.spare.size() ? plan.spare[k] : 0;
    if (each > 0) yielded = std::min(yielded, spare / each);
  }
  return yielded;
}

/// The pieces of `more` pouches alone, cut behind the plan: the first ones are cut before the rest,
/// and spoiled ones after it.
Length length_of_more(const ClothPlan& cloth, int pouches, int more) {
  if (more <= 0) return {};
  lay::Request asked = cloth.request;
  asked.remnants.clear();
  asked.by_products.clear();
  asked.work = kExtraWork;
  for (lay::Kind& kind : asked.kinds) kind.demand = kind.demand / pouches * more;
  return lay::least_length(asked).cloth_length;
}

void add_extra(ClothPlan& cloth, const pouch::Pouch& pouch, const input::JobSettings& settings) {
  using batch::More;
  const auto buy = [&](More what, Length length, int pouches = 0) {
    if (length > Length()) cloth.extra.push_back({what, length, pouches});
  };
  const base::Unit unit = settings.style.unit;
  if (is_pressed(cloth, pouch)) {
    cloth.trial = trial_of(cloth, unit);
    buy(More::trial, strips_to_buy(*cloth.trial, cloth.request.cloth.width));
  }
  const batch::Spares spares = batch::spares_of(settings.batch);
  const int pouches = settings.batch.pouches.value;
  cloth.spare_pouches = std::max(0, spares.all() - pouches_yielded(cloth, pouches));
  const int spoiled = std::min(spares.spoiled, cloth.spare_pouches);
  const int first = cloth.spare_pouches - spoiled;
  const Length of_first = length_of_more(cloth, pouches, first);
  buy(More::first_pouches, of_first, first);
  buy(More::spoiled, length_of_more(cloth, pouches, cloth.spare_pouches) - of_first, spoiled);
  const bool is_bought = cloth.plan.cloth.length > Length() || !cloth.extra.empty();
  if (is_bought) buy(More::squaring, batch::to_square(unit));
}

}  // namespace

std::vector<ClothPlan> cloth_plans(const pouch::Pouch& pouch, const input::JobSettings& settings,
                                   int bundle, base::Diagnostics& diagnostics) {
  std::vector<ClothPlan> plans = cloth_requests(pouch, settings);
  std::erase_if(
      plans, [&](ClothPlan& cloth) { return !planned(cloth, pouch.request.place, diagnostics); });
  for (ClothPlan& cloth : plans) {
    cloth.bundle = bundle;
    add_extra(cloth, pouch, settings);
  }
  return plans;
}

std::vector<ClothPlan> cloth_plans(Run& run) {
  return cloth_plans(run.pouch(), run.settings(), work_table(run)->bundle, run.diagnostics());
}

// ---- What is said of it ----

const lay::Lay& lay_of(const ClothPlan& cloth, std::size_t lay) {
  return lay < cloth.plan.remnants.size() ? cloth.plan.remnants[lay] : cloth.plan.cloth;
}

tell::LaySaid said_of(const ClothPlan& cloth, std::size_t lay) {
  tell::LaySaid said;
  said.lay = &lay_of(cloth, lay);
  said.kinds = &cloth.request.kinds;
  said.by_products = &cloth.request.by_products;
  said.material = cloth.material;
  said.is_remnant = lay < cloth.plan.remnants.size();
  const ClothTerms& terms = cloth.terms;
  said.is_upright = terms.is_upright;
  if (terms.is_washed_first) said.washed = {terms.bought_width, terms.full_width};
  said.to_square = cloth.extra_for(batch::More::squaring);
  said.bundle = cloth.bundle;
  said.is_paired = cloth.is_paired;
  if (!said.is_remnant) said.spare_pouches = cloth.spare_pouches;
  if (!cloth.trial) return said;
  said.trial = {cloth.trial->strip, cloth.trial->wanted, cloth.trial->in_waste[lay], Length()};
  // What the waste lacks is cut off the roll.
  if (!said.is_remnant) said.trial->bought = cloth.extra_for(batch::More::trial);
  return said;
}

// ---- The picture ----

namespace {

/// With what it is for, since helpers at the table do not know it by the name it was bought under.
base::Message cloth_shown(const ClothPlan& cloth, const base::Voice& words) {
  std::string name = tell::cloth_name(cloth.request.cloth.name, words);
  const std::string key = "lay-cloth-" + cloth.material;
  // A table in the job has no name of its own.
  const bool is_named = name != cloth.material && words.has(key);
  return {is_named ? key : "lay-cloth-unnamed", {{"cloth", std::move(name)}}};
}

/// All that the picture says in words.
draw::LayToDraw lay_to_draw(const ClothPlan& cloth, std::size_t index, const base::Voice& words) {
  const tell::LaySaid said = said_of(cloth, index);
  const lay::Lay& lay = *said.lay;
  draw::LayToDraw one;
  one.lay = &lay;
  one.title = words.say({said.is_remnant ? "lay-remnant-head" : "lay-picture-head",
                         {{"cloth", cloth_shown(cloth, words)},
                          {"usable", base::at_most(lay.width)},
                          {"width", lay.width},
                          {"length", base::at_least(lay.length)}}});
  for (std::size_t i = 0; i < cloth.request.kinds.size(); ++i) {
    one.kinds.push_back(tell::piece_name(said, static_cast<int>(i), false, words));
  }
  for (std::size_t i = 0; i < cloth.request.by_products.size(); ++i) {
    one.by_products.push_back(tell::piece_name(said, static_cast<int>(i), true, words));
  }
  if (lay.pieces.empty()) {
    one.facts.push_back(words.say(said.is_remnant ? "lay-yields-nothing" : "lay-from-remnants"));
    return one;
  }
  for (const base::Message& fact : tell::lay_facts(said, words)) {
    const bool is_yield = fact.key == "lay-kind" || fact.key == "lay-kind-spare";
    (is_yield ? one.yields : one.facts).push_back(words.say(fact));
  }
  for (const lay::Step& step : lay.steps) {
    one.gives.push_back(words.say(tell::step_gives(said, step, words)));
  }
  if (said.trial) one.trial = said.trial->found;
  if (!said.is_remnant) {
    one.selvedge = cloth.terms.selvedge;
    one.end = draw::LayToDraw::End::crooked;
  }
  return one;
}

}  // namespace

std::vector<draw::LayToDraw> lays_to_draw(const std::vector<ClothPlan>& plans,
                                          const base::Voice& words) {
  std::vector<draw::LayToDraw> drawn;
  for (const ClothPlan& cloth : plans) {
    for (std::size_t i = 0; i <= cloth.plan.remnants.size(); ++i) {
      drawn.push_back(lay_to_draw(cloth, i, words));
    }
  }
  return drawn;
}

}  // namespace pouchwright::job
