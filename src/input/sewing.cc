#include "input/sewing.h"

#include <algorithm>
#include <string>

#include "batch/thread.h"
#include "input/fields.h"
#include "input/pouch_table.h"

namespace pouchwright::input {
namespace {

using pouch::EndFinish;
using pouch::FinishKind;
using pouch::Request;

/// The job's machines as the rules know them.
class Machines {
 public:
  Machines(Request& request, const batch::StatedStitches& stated, const batch::ThreadRules& rules,
           base::Diagnostics& diagnostics)
      : request_(request), stated_(stated), rules_(rules), diagnostics_(diagnostics) {
    batch::use(stated, rules_);
  }

  void settle() {
    zigzag_ends();
    check_ends();
    check_knife();
    ask_for_sides();
  }

 private:
  [[nodiscard]] bool any_end(FinishKind kind) const {
    return request_.start_finish.kind == kind || request_.end_finish.kind == kind;
  }
  [[nodiscard]] bool sides_are_overedged() const {
    if (request_.passes.empty()) return batch::is_overedge(rules_.sew);
    return std::any_of(request_.passes.begin(), request_.passes.end(),
                       [](const pouch::SewingPass& one) { return one.from_edge; });
  }

  void zigzag_ends() {
    if (!stated_.ends || rules_.finish_overedge != rules_.finish_zigzag) return;
    for (EndFinish* finish : {&request_.start_finish, &request_.end_finish}) {
      // What a knife takes is an overedge's, whatever it is sewn with.
      if (finish->kind != FinishKind::overedge || finish->takes > Length()) continue;
      finish->kind = FinishKind::zigzag;
    }
  }

  void check_ends() {
    if (!stated_.ends || any_end(FinishKind::overedge) || !any_end(FinishKind::zigzag)) return;
    if (rules_.finish_overedge == rules_.finish_zigzag) return;
    diagnostics_.error(stated_.ends->place,
                       {"ends-are-zigzagged", {{"text", clipped(stated_.ends->value)}}},
                       {{"ends-are-zigzagged-hint"}});
  }

  void check_knife() {
    const Placed<Length>& knife = request_.knife;
    if (knife.value == Length() || sides_are_overedged()) return;
    diagnostics_.add({.place = knife.place,
                      .message = {"knife-without-overedge", {{"knife", base::exact(knife.value)}}},
                      .hints = {{"knife-without-overedge-hint"}},
                      .remedy = base::Remedy{"pouch.knife"}});
  }

  /// Who zigzags the ends has hardly an overedger for the sides.
  void ask_for_sides() {
    if (stated_.sides || !any_end(FinishKind::zigzag) || !sides_are_overedged()) return;
    if (!request_.passes.empty()) return;
    const EndFinish& finish = request_.start_finish.kind == FinishKind::zigzag
                                  ? request_.start_finish
                                  : request_.end_finish;
    const auto allowance = request_.sizes.find(pouch::size::kSeamAllowance);
    if (allowance == request_.sizes.end()) return;
    const Length swing = pouch::kOveredgeReach.of(request_.units);
    diagnostics_.warning(finish.stated.value_or(request_.place),
                         {"sides-still-overedged", {{"stitch", rules_.sew}}},
                         {{"sides-still-overedged-hint"},
                          {"sides-in-passes-hint",
                           {{"allowance", base::exact(allowance->second.value)},
                            {"middle", base::exact(base::half(swing))},
                            {"swing", base::exact(swing)}}}});
  }

  Request& request_;
  const batch::StatedStitches& stated_;
  batch::ThreadRules rules_;
  base::Diagnostics& diagnostics_;
};

}  // namespace

void read_sewing(TableReader& root, const Library& library, Request& request,
                 batch::Settings& batch) {
  auto& diagnostics = root.context().diagnostics;
  if (const Node* node = root.table("stitches")) {
    TableReader reader(*node, "stitches", root.context());
    read_fields(kStitchFields, reader, batch.stitches);
    reader.finish();
  }
  batch::StatedStitches& read = batch.stitches;
  for (auto* stitch : {&read.sides, &read.ends, &read.hems, &read.tails}) {
    check_stitch(*stitch, library, diagnostics);
  }
  if (read.sides && !request.passes.empty()) {
    diagnostics.add({.place = read.sides->place,
                     .message = {"stitch-and-passes"},
                     .hints = {{"stitch-and-passes-hint"}},
                     .remedy = base::Remedy{"stitches.sides"}});
  }
  if (!library.supplies) return;
  Machines(request, read, library.supplies().thread, diagnostics).settle();
}

}  // namespace pouchwright::input
