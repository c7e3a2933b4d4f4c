#include "job/commands/cloth_plans.h"

#include <algorithm>
#include <cstdint>
#include <filesystem>
#include <limits>
#include <numeric>

#include "base/length.h"
#include "base/text.h"
#include "job/day.h"
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
                material.price_per,     material.is_washed_first(), material.upright,
                material.print};
  made.request.cloth = {material.name, material.usable_width()};
  made.request.kinds = kinds_of(material, kind, pouch, settings.batch.pouches.value);
  made.request.cuts = settings.lay.cuts;
  if (settings.lay.table_length) made.request.longest = settings.lay.table_length->value;
  made.request.plies = settings.lay.plies_of(kind);
  for (const lay::Remnant& remnant : settings.lay.remnants) {
    if (remnant.material != kind || remnant.print != material.print) continue;
    const lay::Stock piece = as_it_lies(remnant, material);
    made.request.remnants.insert(made.request.remnants.end(),
                                 static_cast<std::size_t>(remnant.count), piece);
  }
  made.shares = {{&pouch, &settings, kind, {}, 0, made.request.kinds.size()}};
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

int pouches_of(const ClothShare& share) { return share.settings->batch.pouches.value; }

/// So many pouches more of the share the plan's own left-over places yield.
int pouches_yielded(const ClothPlan& cloth, const ClothShare& share) {
  int yielded = batch::kMostPouches;
  const lay::Lay& plan = cloth.plan.cloth;
  for (std::size_t k = share.first; k < share.first + share.kinds; ++k) {
    const int each = cloth.request.kinds[k].demand / pouches_of(share);
    const int spare = k < plan.spare.size() ? plan.spare[k] : 0;
    if (each > 0) yielded = std::min(yielded, spare / each);
  }
  return yielded;
}

/// Pouches whose pieces are cut behind the plan, of one share.
struct Behind {
  int first = 0;    ///< for the first pouches
  int spoiled = 0;  ///< for pieces that are spoiled
};

Behind behind_plan(const ClothPlan& cloth, const ClothShare& share) {
  const batch::Spares spares = batch::spares_of(share.settings->batch);
  const int all = std::max(0, spares.all() - pouches_yielded(cloth, share));
  const int spoiled = std::min(spares.spoiled, all);
  return {all - spoiled, spoiled};
}

/// The pieces of `more` pouches of each share alone, cut behind the plan: the first ones are cut
/// before the rest, and spoiled ones after it.
Length length_of_more(const ClothPlan& cloth, const std::vector<int>& more) {
  lay::Request asked = cloth.request;
  asked.remnants.clear();
  asked.by_products.clear();
  asked.kinds.clear();
  asked.work = kExtraWork;
  for (std::size_t i = 0; i < more.size(); ++i) {
    const ClothShare& share = cloth.shares[i];
    if (more[i] <= 0) continue;
    for (std::size_t k = share.first; k < share.first + share.kinds; ++k) {
      lay::Kind kind = cloth.request.kinds[k];
      kind.demand = kind.demand / pouches_of(share) * more[i];
      if (kind.demand > 0) asked.kinds.push_back(std::move(kind));
    }
  }
  return asked.kinds.empty() ? Length() : lay::least_length(asked).cloth_length;
}

void add_extra(ClothPlan& cloth) {
  using batch::More;
  const auto buy = [&](More what, Length length, int pouches = 0) {
    if (length > Length()) cloth.extra.push_back({what, length, pouches});
  };
  const base::Unit unit = cloth.shares.front().settings->style.unit;
  const bool is_one_pressed =
      std::any_of(cloth.shares.begin(), cloth.shares.end(),
                  [&](const ClothShare& share) { return is_pressed(cloth, *share.pouch); });
  if (is_one_pressed) {
    cloth.trial = trial_of(cloth, unit);
    buy(More::trial, strips_to_buy(*cloth.trial, cloth.request.cloth.width));
  }
  std::vector<int> first;
  std::vector<int> all;
  for (const ClothShare& share : cloth.shares) {
    const Behind behind = behind_plan(cloth, share);
    first.push_back(behind.first);
    all.push_back(behind.first + behind.spoiled);
  }
  const int first_pouches = std::accumulate(first.begin(), first.end(), 0);
  cloth.spare_pouches = std::accumulate(all.begin(), all.end(), 0);
  const Length of_first = length_of_more(cloth, first);
  buy(More::first_pouches, of_first, first_pouches);
  buy(More::spoiled, length_of_more(cloth, all) - of_first, cloth.spare_pouches - first_pouches);
  const bool is_bought = cloth.plan.cloth.length > Length() || !cloth.extra.empty();
  if (is_bought) buy(More::squaring, batch::to_square(unit));
}

/// Plans them, and what is bought beyond.
void plan_all(std::vector<ClothPlan>& plans, base::Diagnostics& diagnostics) {
  std::erase_if(plans, [&](ClothPlan& cloth) {
    return !planned(cloth, cloth.shares.front().pouch->request.place, diagnostics);
  });
  for (ClothPlan& cloth : plans) add_extra(cloth);
}

}  // namespace

std::vector<ClothPlan> cloth_plans(const pouch::Pouch& pouch, const input::JobSettings& settings,
                                   int bundle, base::Diagnostics& diagnostics) {
  std::vector<ClothPlan> plans = cloth_requests(pouch, settings);
  for (ClothPlan& cloth : plans) cloth.bundle = bundle;
  plan_all(plans, diagnostics);
  return plans;
}

std::vector<ClothPlan> cloth_plans(Run& run) {
  return cloth_plans(run.pouch(), run.settings(), work_table(run)->bundle, run.diagnostics());
}

// ---- Of a day ----

namespace {

const pouch::Material& material_of(const ClothPlan& cloth) {
  const pouch::Request& request = cloth.shares.front().pouch->request;
  if (cloth.material == "outer") return *request.outer;
  return cloth.material == "lining" ? *request.lining : request.laminate;
}

/// In all but the price and where it stands.
bool are_alike(const pouch::Material& a, const pouch::Material& b) {
  return a.kind == b.kind && a.width == b.width && a.selvedge == b.selvedge &&
         a.thickness == b.thickness && a.film == b.film && a.turn == b.turn && a.frays == b.frays &&
         a.upright == b.upright && a.shrink_length == b.shrink_length &&
         a.shrink_width == b.shrink_width && a.print == b.print;
}

/// One that the program knows by name; a table of a job is called by its key alone.
bool has_name(const pouch::Material& cloth) {
  return cloth.name != "laminate" && cloth.name != "outer" && cloth.name != "lining";
}

bool are_one(const ClothPlan& a, const ClothPlan& b, base::Diagnostics& diagnostics) {
  const pouch::Material& one = material_of(a);
  const pouch::Material& other = material_of(b);
  if (one.name != other.name || one.print != other.print) return false;
  if (are_alike(one, other)) return true;
  if (!has_name(one)) return false;
  diagnostics.error(other.place,
                    {"day-cloth-differs",
                     {{"cloth", one.name},
                      {"file", std::filesystem::path(one.place.file).filename().string()},
                      {"line", one.place.line}}},
                    {{"day-cloth-differs-hint"}});
  return true;
}

lay::Plies stricter(const lay::Plies& a, const lay::Plies& b) { return a == b ? a : lay::Plies(); }

bool are_one_stock(const lay::Remnant& a, const lay::Remnant& b) {
  return a.width == b.width && a.length == b.length && a.count == b.count && a.washed == b.washed;
}

/// The day's stock stands in every job, and two jobs may tell of one cupboard: what is alike is there
/// once, however often it is told.
void add_stock(ClothPlan& cloth, const ClothPlan& more, std::vector<lay::Remnant>& known) {
  const input::JobSettings& settings = *more.shares.front().settings;
  std::vector<bool> is_told(known.size(), false);  // by this job
  std::size_t at = 0;
  for (const lay::Remnant& remnant : settings.lay.remnants) {
    if (remnant.material != more.material || remnant.print != more.terms.print) continue;
    std::size_t same = 0;
    while (same < is_told.size() && (is_told[same] || !are_one_stock(known[same], remnant))) ++same;
    const bool is_known = same < is_told.size();
    if (is_known) {
      is_told[same] = true;
    } else {
      known.push_back(remnant);
    }
    for (int i = 0; i < remnant.count && at < more.request.remnants.size(); ++i, ++at) {
      if (!is_known) cloth.request.remnants.push_back(more.request.remnants[at]);
    }
  }
}

void add_share(ClothPlan& cloth, const ClothPlan& more) {
  ClothShare share = more.shares.front();
  share.first = cloth.request.kinds.size();
  for (const lay::Kind& kind : more.request.kinds) {
    cloth.request.kinds.push_back(kind);
    cloth.makes.push_back(share.make);
  }
  cloth.shares.push_back(std::move(share));
  for (const lay::Kind& piece : more.request.by_products)
    cloth.request.by_products.push_back(piece);
  if (more.request.cuts == lay::Cuts::straight) cloth.request.cuts = lay::Cuts::straight;
  cloth.request.plies = stricter(cloth.request.plies, more.request.plies);
  if (more.request.longest &&
      (!cloth.request.longest || *more.request.longest < *cloth.request.longest)) {
    cloth.request.longest = more.request.longest;
  }
  if (!cloth.terms.price) {
    cloth.terms.price = more.terms.price;
    cloth.terms.price_per = more.terms.price_per;
  }
  cloth.is_paired = cloth.is_paired || more.is_paired;
  if (cloth.bundle != more.bundle) cloth.bundle = 0;
}

}  // namespace

std::vector<ClothPlan> cloth_plans(Run& run, const Day& day) {
  std::vector<ClothPlan> plans;
  std::vector<std::vector<lay::Remnant>> stock;  // by plan: what it has
  for (const DayMake& make : day.makes) {
    for (ClothPlan& more : cloth_requests(make.run->pouch(), make.run->settings())) {
      more.shares.front().make = make.title;
      more.bundle = work_table(*make.run)->bundle;
      const auto same = std::find_if(plans.begin(), plans.end(), [&](const ClothPlan& one) {
        return are_one(one, more, run.diagnostics());
      });
      const auto index = static_cast<std::size_t>(same - plans.begin());
      if (same == plans.end()) {
        ClothPlan begun = more;
        begun.request.kinds.clear();
        begun.request.by_products.clear();
        begun.request.remnants.clear();
        begun.shares.clear();
        plans.push_back(std::move(begun));
        stock.emplace_back();
      }
      add_share(plans[index], more);
      add_stock(plans[index], more, stock[index]);
    }
  }
  if (run.diagnostics().has_errors()) return {};
  plan_all(plans, run.diagnostics());
  return plans;
}

std::string role_in(const ClothPlan& cloth, const pouch::Pouch& pouch) {
  for (const ClothShare& share : cloth.shares) {
    if (share.pouch == &pouch) return share.material;
  }
  return cloth.material;
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
  if (!cloth.makes.empty()) said.makes = &cloth.makes;
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
  std::string name = tell::cloth_name(cloth.request.cloth.name, cloth.terms.print, words);
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
