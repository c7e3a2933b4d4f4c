#include "input/fields.h"

#include <algorithm>
#include <type_traits>

#include "base/number.h"
#include "base/text.h"
#include "input/prices.h"

namespace pouchwright::input {

template <>
pouch::Liners usual_of(base::Unit unit) {
  pouch::Liners usual;
  usual.ease.value = pouch::kEase.of(unit);
  usual.overlap.value = pouch::kOverlap.of(unit);
  return usual;
}

template <>
pouch::Tolerances usual_of(base::Unit unit) {
  return pouch::usual_tolerances(unit);
}

template <>
lay::Settings usual_of(base::Unit unit) {
  lay::Settings usual;
  usual.shop_step = lay::kShopStep.of(unit);
  return usual;
}

template <>
paper::Margins usual_of(base::Unit unit) {
  const Length margin = paper::kMargin.of(unit);
  return {margin, margin, margin, margin};
}

namespace {

std::string in_quotes(const std::string& text) { return "\"" + text + "\""; }

// ---- A member's value as TOML; empty where it has none ----

std::string as_toml(const std::string& text, base::Unit /*unit*/) {
  return text.empty() ? "" : in_quotes(text);
}
std::string as_toml(Length length, base::Unit unit) {
  return in_quotes(base::exact_text(length, unit));
}
std::string as_toml(int number, base::Unit /*unit*/ = {}) { return std::to_string(number); }
std::string as_toml(double number, base::Unit /*unit*/) { return base::shortest(number, 3); }
std::string as_toml(bool truth, base::Unit /*unit*/) { return truth ? "true" : "false"; }
/// An absent value, or an enumeration's, whose words stand in a row of their own.
template <class Value>
std::string as_toml(const Value&, base::Unit /*unit*/) {
  return "";
}
template <class Value>
std::string as_toml(const Placed<Value>& placed, base::Unit unit) {
  return as_toml(placed.value, unit);
}

// ---- Rows ----

/// Puts what was read where it belongs, with its place where the member keeps one.
template <class Member, class Value>
bool put(Member& member, const std::optional<Placed<Value>>& read) {
  if (!read) return false;
  if constexpr (std::is_assignable_v<Member&, const Placed<Value>&>) {
    member = *read;
  } else {
    member = read->value;
  }
  return true;
}

template <class Owner, class Member, class Read>
Field<Owner> row(const char* key, FieldKind kind, Member Owner::*member, Read read) {
  Field<Owner> made;
  made.key = key;
  made.kind = kind;
  made.usual = as_toml(usual_of<Owner>(base::Unit::mm).*member, base::Unit::mm);
  made.usual_in = as_toml(usual_of<Owner>(base::Unit::inch).*member, base::Unit::inch);
  made.read = [=](TableReader& table, Owner& owner) { return put(owner.*member, read(table)); };
  return made;
}

template <class Owner, class Member>
Field<Owner> text(const char* key, Member Owner::*member) {
  return row(key, FieldKind::text, member, [=](TableReader& table) { return table.text(key); });
}

template <class Owner, class Member>
Field<Owner> length(const char* key, Member Owner::*member, Zero zero = Zero::refused) {
  return row(key, FieldKind::length, member,
             [=](TableReader& table) { return table.length(key, zero); });
}

template <class Owner, class Member>
Field<Owner> whole(const char* key, Member Owner::*member, int least, int most) {
  return row(key, FieldKind::number, member,
             [=](TableReader& table) { return table.whole(key, least, most); });
}

template <class Owner, class Member>
Field<Owner> number(const char* key, Member Owner::*member, double most,
                    Percent percent = Percent::unknown) {
  return row(key, FieldKind::number, member,
             [=](TableReader& table) { return table.number(key, 0, most, percent); });
}

template <class Owner>
Field<Owner> truth(const char* key, bool Owner::*member) {
  return row(key, FieldKind::choice, member, [=](TableReader& table) { return table.truth(key); })
      .among({"true", "false"});
}

template <class Owner, class Value, std::size_t kSize>
Field<Owner> choice(const char* key, Value Owner::*member,
                    const base::Named<Value> (&words)[kSize]) {
  return row(key, FieldKind::choice, member,
             [key, &words](TableReader& table) { return table.choice(key, words); })
      .as(in_quotes(word_of(words, Owner().*member)))
      .among(words_of(words));
}

template <class Owner>
Field<Owner> word(const char* key, std::string Owner::*member, std::vector<std::string> words) {
  return row(key, FieldKind::choice, member,
             [=](TableReader& table) { return table.word(key, words); })
      .among(words);
}

Field<batch::StatedStitches> stitch(const char* key,
                                    batch::StatedStitches::Stated batch::StatedStitches::*member,
                                    const char* meaning) {
  return row(key, FieldKind::text, member, [=](TableReader& table) { return table.code(key); })
      .called(meaning);
}

/// By the trial with the iron.
constexpr double kMostSeconds = 600;

/// Read by hand: its meaning takes more than one value, or more than its own row.
template <class Owner>
Field<Owner> by_hand(const char* key, FieldKind kind) {
  Field<Owner> made;
  made.key = key;
  made.kind = kind;
  return made;
}

bool read_price_of(TableReader& table, pouch::Material& material) {
  const auto price = read_price(table, "price");
  if (!price) return false;
  material.price = price->amount;
  material.price_currency = {price->currency, price->place};
  return true;
}

Field<pouch::CutPanel> fold_lines() {
  Field<pouch::CutPanel> made;
  made.key = "fold_at";
  made.kind = FieldKind::lengths;
  made.read = [](TableReader& table, pouch::CutPanel& panel) {
    const Node* node = table.find("fold_at");
    if (node) panel.folds = {table.lengths("fold_at"), node->place};
    return node != nullptr;
  };
  return std::move(made).like(R"(["140 mm", "290 mm"])", R"(["6 in", "12 in"])");
}

Fields<pouch::Material> fields_of_material(pouch::MaterialKind kind) {
  using pouch::Material;
  constexpr double kMostShrinkage = 0.5;
  const bool is_laminate = kind == pouch::MaterialKind::laminate;
  const Asked of_outer = is_laminate ? Asked::nowhere : Asked::on_page;
  Fields<Material> fields = {
      length("width", &Material::width).needed(),
      length("selvedge", &Material::selvedge, Zero::allowed),
      length("thickness", &Material::thickness).as(as_toml(usual_thickness(kind), base::Unit::mm)),
      choice("turn", &Material::turn, base::kTurnWords).at(of_outer),
      truth("frays", &Material::frays).at(of_outer),
      truth("upright", &Material::upright).at(of_outer),
      number("shrink_length", &Material::shrink_length, kMostShrinkage, Percent::of_one),
      number("shrink_width", &Material::shrink_width, kMostShrinkage, Percent::of_one)
          .at(Asked::nowhere),
      by_hand<Material>("price", FieldKind::number),
      word("per", &Material::price_per, {"m", "yd"}),
      text("print", &Material::print).at(Asked::nowhere)};
  constexpr std::size_t kPrice = 8;
  fields[kPrice].read = read_price_of;
  if (is_laminate) {
    fields.insert(fields.begin() + 3,
                  choice("film", &Material::film, pouch::kFilmFacesWords).at(Asked::nowhere));
  }
  for (auto& field : fields) {
    if (field.asked == Asked::everywhere) field.asked = Asked::on_page;
  }
  return fields;
}

using batch::IronTrial;
using batch::StatedStitches;
using lay::ByProduct;
using lay::Remnant;
using paper::Margins;
using paper::PageSetup;
using pouch::CutPanel;
using pouch::Liners;
using pouch::OwnCard;
using pouch::Tolerances;

}  // namespace

const Fields<CutPanel> kPanelFields = {
    length("width", &CutPanel::width).needed().like("\"204 mm\"", "\"8 1/2 in\""),
    length("length", &CutPanel::length).needed().like("\"360 mm\"", "\"15 in\""), fold_lines()};

const Fields<OwnCard> kCardFields = {
    choice("kind", &OwnCard::kind, pouch::kCardKindWords).needed().like("\"shield\""),
    length("width", &OwnCard::width).needed().like("\"172 mm\"", "\"7 1/4 in\""),
    length("length", &OwnCard::length).needed().like("\"150 mm\"", "\"5 1/2 in\""),
    truth("top_bar", &OwnCard::top_bar).as("true")};

const Fields<Liners> kLinerFields = {
    whole("count", &Liners::count, 1, pouch::kMostLiners),
    length("width", &Liners::width).needed(),
    length("length", &Liners::length).needed(),
    length("thickness", &Liners::thickness).needed(),
    whole("columns", &Liners::columns, 1, pouch::kMostLiners).like("1"),
    length("ease", &Liners::ease, Zero::allowed),
    length("overlap", &Liners::overlap, Zero::allowed),
    choice("turn", &Liners::turn, pouch::kLinerTurnWords)};

const Fields<pouch::Request> kPouchFields = {
    by_hand<pouch::Request>("start_finish", FieldKind::choice).among(words_of(pouch::kFinishWords)),
    by_hand<pouch::Request>("end_finish", FieldKind::choice).among(words_of(pouch::kFinishWords)),
    by_hand<pouch::Request>("closure", FieldKind::choice).at(Asked::on_page),
    by_hand<pouch::Request>("closure_through", FieldKind::choice)
        .among(words_of(pouch::kThroughWords))
        .at(Asked::on_page),
    by_hand<pouch::Request>("flap_shape", FieldKind::choice)
        .as(in_quotes(word_of(pouch::kFlapShapeWords, pouch::FlapShape::straight)))
        .among(words_of(pouch::kFlapShapeWords))
        .at(Asked::on_page),
    by_hand<pouch::Request>("flap_corner", FieldKind::length)
        .as(as_toml(pouch::kFlapCorner.mm, base::Unit::mm),
            as_toml(pouch::kFlapCorner.inch, base::Unit::inch))
        .at(Asked::on_page),
    choice("cards", &pouch::Request::cards, pouch::kCardUseWords),
    truth("turn_of_cloth", &pouch::Request::turn_of_cloth).at(Asked::on_page),
    length("knife", &pouch::Request::knife, Zero::allowed),
    truth("dryer", &pouch::Request::dryer).at(Asked::on_page)};

const Fields<Tolerances> kToleranceFields = {length("cut", &Tolerances::cut, Zero::allowed),
                                             length("place", &Tolerances::place, Zero::allowed),
                                             length("sew", &Tolerances::sew, Zero::allowed)};

// No machine is an answer as well: only the work plan needs one.
const Fields<batch::Settings> kBatchFields = {
    whole("pouches", &batch::Settings::pouches, 1, batch::kMostPouches),
    whole("helpers", &batch::Settings::helpers, 1, batch::kMostPeople),
    whole("machines", &batch::Settings::machines, 0, batch::kMostPeople),
    whole("overedge_machines", &batch::Settings::overedge_machines, 0, batch::kMostPeople),
    whole("irons", &batch::Settings::irons, 0, batch::kMostPeople),
    whole("bundle", &batch::Settings::bundle, 1, batch::kMostPouches).as("5").at(Asked::on_page),
    number("spoiled", &batch::Settings::spoiled, batch::kMostSpoiled, Percent::of_one)
        .at(Asked::on_page),
    number("aql", &batch::Settings::aql, 100, Percent::of_hundred).like("1.5"),
    choice("first_pouch", &batch::Settings::first_pouch, batch::kFirstPouchWords),
    by_hand<batch::Settings>("plan", FieldKind::choice)
        .among(words_of(batch::kPlanWords))
        .at(Asked::on_page),
    whole("changes", &batch::Settings::changes, 0, batch::kMostChanges).at(Asked::on_page),
    number("break_every", &batch::Settings::break_every, batch::kLongestBreakEvery)
        .at(Asked::on_page),
    number("break", &batch::Settings::break_lasts, batch::kLongestBreak).at(Asked::on_page),
    by_hand<batch::Settings>("currency", FieldKind::text).at(Asked::on_page)};

const Fields<StatedStitches> kStitchFields = {
    stitch("sides", &StatedStitches::sides, "new-stitches-sides"),
    stitch("ends", &StatedStitches::ends, "new-stitches-ends"),
    stitch("hems", &StatedStitches::hems, "new-stitches-hems"),
    stitch("tails", &StatedStitches::tails, "new-stitches-tails")};

const Fields<IronTrial> kIronFields = {
    whole("dots", &IronTrial::dots, 1, 3).needed().like("2"),
    truth("steam", &IronTrial::steam).like("true"),
    number("seconds", &IronTrial::seconds, kMostSeconds),
    by_hand<IronTrial>("sole", FieldKind::length).like("\"120 x 240 mm\"").at(Asked::on_page)};

const Fields<lay::Settings> kLayFields = {
    choice("cuts", &lay::Settings::cuts, lay::kCutsWords),
    length("table_length", &lay::Settings::table_length).like("\"1.5 m\""),
    by_hand<lay::Settings>("plies", FieldKind::length).as(as_toml(lay::Settings().plies.count)),
    length("shop_step", &lay::Settings::shop_step)};

const Fields<Remnant> kRemnantFields = {
    word("material", &Remnant::material, {"laminate", "outer", "lining"}).needed(),
    length("width", &Remnant::width),
    length("length", &Remnant::length).needed(),
    whole("count", &Remnant::count, 1, lay::kMostStock),
    truth("washed", &Remnant::washed),
    text("print", &Remnant::print)};

// Of a cloth that the program knows by name: what differs from roll to roll.
const Fields<pouch::Material> kPrintFields = {
    text("print", &pouch::Material::print),
    choice("turn", &pouch::Material::turn, base::kTurnWords),
    truth("upright", &pouch::Material::upright)};

const Fields<ByProduct> kByProductFields = {
    text("name", &ByProduct::name).needed(), length("width", &ByProduct::width).needed(),
    length("length", &ByProduct::length).needed(),
    whole("count", &ByProduct::count, 1, batch::kMostPouches),
    choice("use", &ByProduct::use, lay::kByProductUseWords)};

const Fields<PageSetup> kPaperFields = {
    by_hand<PageSetup>("size", FieldKind::name),
    by_hand<PageSetup>("margin", FieldKind::length)
        .as(as_toml(paper::kMargin.mm, base::Unit::mm),
            as_toml(paper::kMargin.inch, base::Unit::inch)),
    by_hand<PageSetup>("overlap", FieldKind::length).as(as_toml(paper::kOverlap, base::Unit::mm)),
    by_hand<PageSetup>("printed_square", FieldKind::length).as("\"50 x 50 mm\""),
    by_hand<PageSetup>("half", FieldKind::choice).among({"true", "false"}).at(Asked::on_page)};

const Fields<PacketSettings> kPacketFields = {
    choice("template", &PacketSettings::templates, kPacketTemplateWords).at(Asked::nowhere)};

const Fields<GroupSettings> kGroupFields = {
    text("page", &GroupSettings::page).like("\"https://example.org/pouches\"").at(Asked::on_page)};

const Fields<Margins> kMarginFields = {length("top", &Margins::top, Zero::allowed),
                                       length("right", &Margins::right, Zero::allowed),
                                       length("bottom", &Margins::bottom, Zero::allowed),
                                       length("left", &Margins::left, Zero::allowed)};

const Fields<pouch::Material>& material_fields(pouch::MaterialKind kind) {
  static const auto kLaminate = fields_of_material(pouch::MaterialKind::laminate);
  static const auto kOuter = fields_of_material(pouch::MaterialKind::outer);
  return kind == pouch::MaterialKind::laminate ? kLaminate : kOuter;
}

namespace {

template <class Owner>
void add(std::vector<FieldFacts>& all, const char* table, const Fields<Owner>& fields) {
  for (FieldFacts facts : fields) {
    facts.table = table;
    if (facts.word.empty()) facts.word = "desk-field-" + base::slug(facts.path());
    all.push_back(std::move(facts));
  }
}

std::vector<FieldFacts> all_fields() {
  std::vector<FieldFacts> all;
  add<pouch::Request>(
      all, "",
      {text("title", &pouch::Request::title),
       by_hand<pouch::Request>("units", FieldKind::choice).among(words_of(base::kUnitWords)),
       by_hand<pouch::Request>("ruler", FieldKind::length)});
  add(all, "liners", kLinerFields);
  add(all, "panel", kPanelFields);
  add(all, "card", kCardFields);
  add(all, "pouch", kPouchFields);
  add<pouch::Request>(all, "materials",
                      {by_hand<pouch::Request>("laminate", FieldKind::name),
                       by_hand<pouch::Request>("outer", FieldKind::name)});
  add(all, "materials.laminate", material_fields(pouch::MaterialKind::laminate));
  add(all, "materials.outer", material_fields(pouch::MaterialKind::outer));
  add(all, "batch", kBatchFields);
  add(all, "stitches", kStitchFields);
  add(all, "iron", kIronFields);
  add(all, "lay", kLayFields);
  add(all, "tolerance", kToleranceFields);
  add(all, "paper", kPaperFields);
  add(all, "packet", kPacketFields);
  add(all, "group", kGroupFields);
  return all;
}

}  // namespace

const std::vector<FieldFacts>& job_fields() {
  static const std::vector<FieldFacts> kAll = all_fields();
  return kAll;
}

const FieldFacts& field_at(std::string_view path) {
  const auto& all = job_fields();
  return *std::find_if(all.begin(), all.end(),
                       [&](const FieldFacts& field) { return field.path() == path; });
}

}  // namespace pouchwright::input
