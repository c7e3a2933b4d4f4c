#include "input/pouch_table.h"

#include <algorithm>

#include "base/text.h"
#include "input/fields.h"
#include "pouch/judge/content.h"

namespace pouchwright::input {

namespace {

using pouch::EndFinish;
using pouch::FinishKind;
using pouch::Request;
namespace size = pouch::size;

/// All words for a finish: those that files are written with, and what people call an overedge.
constexpr base::Named<FinishKind> kSaidFinishes[] = {
    {FinishKind::none, "none"},         {FinishKind::overedge, "overedge"},
    {FinishKind::overedge, "overlock"}, {FinishKind::overedge, "serge"},
    {FinishKind::overedge, "serger"},   {FinishKind::zigzag, "zigzag"},
    {FinishKind::turned, "turned"}};

/// What a job says of an end that it describes by a table.
struct StatedFinish {
  FinishKind kind;
  std::optional<Placed<Length>> takes, needle_reach;
};

StatedFinish finish_table(const Node& node, const std::string& path, FinishKind standard,
                          Context context) {
  TableReader table(node, path, context);
  StatedFinish stated{standard, {}, {}};
  table.require("finish");
  const auto kind = table.choice("finish", kSaidFinishes);
  if (kind) stated.kind = kind->value;
  stated.takes = table.length("takes", Zero::allowed);
  stated.needle_reach = table.length("needle_reach", Zero::allowed);
  table.finish();
  if (!kind || kind->value != FinishKind::none) return stated;
  for (const auto& unused : {stated.takes, stated.needle_reach}) {
    if (!unused) continue;
    context.diagnostics.error(unused->place, {"no-finish-takes", {{"key", base::FieldName{path}}}},
                              {{"no-finish-takes-hint"}});
  }
  return stated;
}

/// Its stitches lie on the edge, and no knife goes with it.
void check_zigzag(const StatedFinish& stated, const std::string& path, const Context& context) {
  const bool takes = stated.takes && stated.takes->value > Length();
  if (stated.kind != FinishKind::zigzag || !takes) return;
  context.diagnostics.error(
      stated.takes->place,
      {"zigzag-takes",
       {{"key", base::FieldName{path}}, {"takes", base::exact(stated.takes->value)}}},
      {{"zigzag-takes-hint"}});
}

EndFinish finish(TableReader& reader, const char* key, FinishKind standard) {
  StatedFinish stated{standard, {}, {}};
  const Node* node = reader.find(key);
  if (node && node->kind == Node::Kind::table) {
    stated = finish_table(*node, reader.path(key), standard, reader.context());
  } else if (const auto kind = reader.choice(key, kSaidFinishes)) {
    stated.kind = kind->value;
  }
  check_zigzag(stated, reader.path(key), reader.context());
  EndFinish made;
  made.kind = stated.kind;
  if (node) made.stated = node->place;
  if (made.kind == FinishKind::none) return made;
  const bool is_turned = made.kind == FinishKind::turned;
  const base::Unit units = reader.context().bare;
  if (is_turned) made.takes = pouch::kHem.of(units);
  if (stated.takes) made.takes = stated.takes->value;
  made.needle_reach = is_turned ? std::max(Length(), 2 * made.takes - pouch::kHemStitch.of(units))
                                : made.takes + pouch::kOveredgeReach.of(units);
  if (stated.needle_reach) made.needle_reach = stated.needle_reach->value;
  return made;
}

/// Does [panel] or [liners] work this size out where the job does not state it?
bool is_derived(const Request& request, bool has_panel, const std::string& name) {
  if (request.card && name == size::kWidth) return true;
  if (has_panel) return name == size::kWidth || name == size::kDepth || name == size::kFlap;
  const bool from_liners = request.liners && request.liners->count;
  return from_liners && pouch::follows_liners(request.construction, name);
}

void one_size(TableReader& reader, const pouch::SizeRule& rule, bool has_panel, Request& request) {
  auto& diagnostics = reader.context().diagnostics;
  const std::string path = reader.path(rule.name);
  const base::FieldName name{path};
  const Node* stated = reader.find(rule.name);
  const auto length = reader.length(rule.name, rule.zero);
  if (stated && has_panel && (rule.name == size::kWidth || rule.name == size::kDepth)) {
    diagnostics.add({.place = stated->key_place,
                     .message = {"panel-and-size", {{"size", name}}},
                     .hints = {{"panel-and-size-hint", {{"size", name}}}},
                     .remedy = base::Remedy{path}});
  }
  if (stated && request.panel && request.panel->folds &&
      (rule.name == size::kFlap || rule.name == size::kLipDrop)) {
    diagnostics.add({.place = stated->key_place,
                     .message = {"folds-and-size", {{"size", name}}},
                     .hints = {{"folds-and-size-hint", {{"size", name}}}},
                     .remedy = base::Remedy{path}});
  }
  if (length) {
    request.sizes[rule.name] = {length->value, length->place};
  } else if (stated || is_derived(request, has_panel, rule.name)) {
    return;
  } else if (const auto usual = rule.usual(request.units)) {
    request.sizes[rule.name] = {*usual, {}};
  } else if (rule.name == size::kMinClearSeal) {
    request.sizes[rule.name] = {kMinClearSeal.of(request.units), {}};
  } else if (rule.name != size::kNeedleReach) {
    diagnostics.add({.place = request.place,
                     .message = {"size-missing", {{"size", name}}},
                     .hints = {{"size-missing-hint", {{"size", rule.name}, {"field", name}}}},
                     .path = path,
                     .is_missing = true});
  }
}

void sizes(TableReader& reader, bool has_panel, Request& request) {
  for (const auto& rule : request.construction.sizes) one_size(reader, rule, has_panel, request);
  for (const pouch::CountRule& rule : request.construction.counts) {
    (void)reader.whole(rule.name, rule.least, rule.most);
  }
}

void closure(TableReader& reader, Request& request) {
  const auto& known = request.construction.closures;
  if (known.empty()) return;
  const auto chosen = reader.word("closure", known);
  const auto at = chosen ? std::find(known.begin(), known.end(), chosen->value) : known.begin();
  request.closure = static_cast<std::size_t>(at - known.begin());
  if (const auto through = reader.choice("closure_through", pouch::kThroughWords)) {
    request.closure_through = through->value;
  }
}

void flap_shape(TableReader& reader, Request& request) {
  if (!request.construction.flap_span) return;
  if (const auto shape = reader.choice("flap_shape", pouch::kFlapShapeWords)) {
    request.flap_shape = shape->value;
  }
  const auto corner = reader.length("flap_corner", Zero::refused);
  request.flap_corner = corner.value_or(Placed<Length>{pouch::kFlapCorner.of(request.units), {}});
  if (request.flap_shape == pouch::FlapShape::straight) request.flap_corner.value = Length();
}

/// `passes = [{ stitch = "overedge", at = "1 mm", width = "6 mm" }, …]`, along the sides.
void passes(TableReader& reader, const Library& library, Request& request) {
  for (const Node* node : reader.tables("passes")) {
    TableReader table(*node, reader.path("passes"), reader.context());
    pouch::SewingPass pass;
    table.require("stitch");
    auto stitch = table.code("stitch");
    check_stitch(stitch, library, reader.context().diagnostics);
    if (stitch) pass.stitch = *stitch;
    const std::string code =
        library.supplies ? library.supplies().thread.code_of(pass.stitch.value) : pass.stitch.value;
    if (const auto at = table.length("at", Zero::allowed)) pass.at = at->value;
    if (const auto width = table.length("width", Zero::allowed)) pass.width = width->value;
    pass.from_edge = pass.stitch.value == "overedge" || batch::is_overedge(code);
    table.finish();
    request.passes.push_back(pass);
  }
}

/// The knife cuts no seam off, and is stated once.
void check_knife(const Context& context, const Request& request) {
  const Placed<Length>& knife = request.knife;
  if (knife.value == Length()) return;
  const auto allowance = request.sizes.find(size::kSeamAllowance);
  if (allowance != request.sizes.end() && knife.value >= allowance->second.value) {
    context.diagnostics.add({.place = knife.place,
                             .message = {"knife-over-seam",
                                         {{"knife", base::exact(knife.value)},
                                          {"allowance", base::exact(allowance->second.value)}}},
                             .hints = {{"knife-over-seam-hint"}},
                             .remedy = base::Remedy{"pouch.knife"}});
  }
  const bool in_passes = std::any_of(request.passes.begin(), request.passes.end(),
                                     [](const pouch::SewingPass& pass) { return pass.from_edge; });
  if (in_passes) {
    context.diagnostics.add({.place = knife.place,
                             .message = {"knife-and-passes"},
                             .hints = {{"knife-and-passes-hint"}},
                             .remedy = base::Remedy{"pouch.knife"}});
  }
}

}  // namespace

void read_pouch(TableReader& root, const Library& library, Request& request) {
  static const Node kEmpty;
  const Node* node = root.table("pouch");
  TableReader reader(node ? *node : kEmpty, "pouch", root.context());
  request.start_finish = finish(reader, "start_finish", request.construction.start_standard);
  request.end_finish = finish(reader, "end_finish", request.construction.end_standard);
  request.turn_of_cloth = request.construction.turn_of_cloth;
  if (request.card) {
    const bool is_slip = request.card->kind == pouch::CardKind::slip;
    request.cards = is_slip ? pouch::CardUse::inside : pouch::CardUse::on_top;
  }
  read_fields(kPouchFields, reader, request);
  if (request.construction.panels.empty()) {
    // No construction was read. Which further sizes are known, only the construction says; the usual ones can be read.
    for (const char* name :
         {size::kWidth, size::kDepth, size::kFlap, size::kLipDrop, size::kSeamAllowance,
          size::kNeedleReach, size::kSealWidth, size::kMinClearSeal}) {
      (void)reader.length(name, Zero::allowed);
    }
    return;
  }
  const Node* panel = root.find("panel");
  sizes(reader, panel && panel->kind == Node::Kind::table, request);
  closure(reader, request);
  flap_shape(reader, request);
  passes(reader, library, request);
  check_knife(root.context(), request);
  const auto allowance = request.sizes.find(size::kSeamAllowance);
  if (allowance != request.sizes.end()) {
    request.sizes.try_emplace(size::kNeedleReach, allowance->second);
  }
  reader.finish();
}

void check_stitch(std::optional<Placed<std::string>>& stitch, const Library& library,
                  base::Diagnostics& diagnostics) {
  if (!stitch || !library.supplies) return;
  const std::vector<std::string> known = library.supplies().thread.known();
  if (std::find(known.begin(), known.end(), stitch->value) != known.end()) return;
  std::vector<base::Message> hints;
  const std::string near = base::nearest(stitch->value, known);
  if (!near.empty()) hints.push_back({"did-you-mean", {{"word", near}}});
  hints.push_back({"stitch-unknown-hint", {{"names", base::list_text(known)}}});
  diagnostics.error(stitch->place, {"stitch-unknown", {{"text", clipped(stitch->value)}}},
                    std::move(hints));
  stitch.reset();
}

}  // namespace pouchwright::input
