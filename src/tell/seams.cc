#include "tell/seams.h"

#include <algorithm>
#include <string>

#include "base/length.h"
#include "pouch/questions.h"
#include "tell/names.h"

namespace pouchwright::tell {
namespace {

using base::Length;
using base::Message;
using Sentences = std::vector<Message>;
namespace does = pouch::does;

/// One for each pass of the needle; empty where nobody said which stitch it is.
std::vector<batch::Stitch> stitches_of(const SeamToTell& seam) {
  const auto* sews = seam.pouch.operation(seam.operation).as<does::Sew>();
  const bool has_passes = sews != nullptr && !works_on(sews->edges, pouch::Edge::bottom);
  if (has_passes && !seam.facts.passes.empty()) return seam.facts.passes;
  const auto known = seam.facts.stitches.find(seam.operation);
  if (known == seam.facts.stitches.end()) return {};
  return {known->second};
}

Message said_of(const batch::Stitch& stitch, const base::Voice& words) {
  const std::string name = "stitch-" + stitch.code;
  if (!words.has(name)) return {"steps-stitch-code", {{"code", stitch.code}}};
  return {"steps-stitch", {{"code", stitch.code}, {"name", Message(name)}}};
}

/// Where each pass runs, in the order of the job.
void add_passes(const SeamToTell& seam, const std::vector<batch::Stitch>& stitches,
                Sentences& all) {
  const auto& passes = seam.pouch.request.passes;
  for (std::size_t i = 0; i < std::min(stitches.size(), passes.size()); ++i) {
    const pouch::SewingPass& pass = passes[i];
    const char* key = pass.from_edge          ? "steps-pass-edge"
                      : pass.width > Length() ? "steps-pass-wide"
                                              : "steps-pass-line";
    all.push_back({key,
                   {{"number", i + 1},
                    {"stitch", said_of(stitches[i], seam.words)},
                    {"at", pass.at},
                    {"width", pass.width}}});
  }
}

void add_stitch(const SeamToTell& seam, Sentences& all) {
  const std::vector<batch::Stitch> stitches = stitches_of(seam);
  if (stitches.size() > 1) return add_passes(seam, stitches, all);
  if (!stitches.empty()) all.push_back(said_of(stitches.front(), seam.words));
}

/// What to do with the threads; `usual` where nobody said which stitch it is.
void add_ends(const SeamToTell& seam, batch::SeamEnds usual, Sentences& all) {
  const std::vector<batch::Stitch> stitches = stitches_of(seam);
  const auto has = [&](batch::SeamEnds ends) {
    if (stitches.empty()) return usual == ends;
    return std::any_of(stitches.begin(), stitches.end(),
                       [&](const batch::Stitch& one) { return one.ends == ends; });
  };
  if (has(batch::SeamEnds::back_tack)) all.push_back("steps-back-tack");
  if (has(batch::SeamEnds::chain)) all.push_back({"steps-chain", {{"chain", seam.facts.chain}}});
}

bool is_sewing(const pouch::Operation& operation) {
  return operation.as<does::Finish>() || operation.as<does::Hem>() || operation.as<does::Sew>();
}

/// Needle and feed are told where laminate first comes under a needle.
bool is_first(const SeamToTell& seam) {
  for (const pouch::Stage& stage : seam.pouch.stages) {
    if (is_sewing(seam.pouch.operation(stage.operation))) return stage.operation == seam.operation;
  }
  return false;
}

/// Machines are set in millimetres everywhere, so a stitch is said in them.
void add_needle(const SeamToTell& seam, Sentences& all) {
  const auto& length = seam.facts.stitch_length;
  if (is_first(seam)) {
    all.push_back("steps-needle");
    if (length) all.push_back({"steps-stitch-length", {{"length", base::exact(*length)}}});
    all.push_back("steps-feed");
  } else if (length && seam.pouch.operation(seam.operation).as<does::Sew>()) {
    all.push_back({"steps-stitch-length", {{"length", base::exact(*length)}}});
  }
}

/// How the knife stands, of which only an overedge has one.
void add_knife(const SeamToTell& seam, Sentences& all) {
  if (!is_overedged(seam)) return;
  const pouch::Sizes& sizes = seam.pouch.sizes;
  const Length knife = base::half(sizes.cut_width - sizes.overall_width);
  if (knife > Length()) {
    all.push_back({"steps-knife", {{"allowance", sizes.seam_allowance}, {"knife", knife}}});
  } else {
    all.push_back("steps-knife-skims");
  }
}

/// The hem that takes over where the side seam ends.
const does::Hem* next_hem(const SeamToTell& seam) {
  const auto& operations = seam.pouch.construction().operations;
  for (std::size_t i = seam.operation + 1; i < operations.size(); ++i) {
    if (const auto* hem = operations[i].as<does::Hem>()) return hem;
  }
  return nullptr;
}

std::string name_of(const SeamToTell& seam, pouch::SpanRef span) {
  return span_name(seam.pouch.construction().span(span).name, seam.words);
}

}  // namespace

bool is_overedged(const SeamToTell& seam) {
  const std::vector<batch::Stitch> stitches = stitches_of(seam);
  return stitches.empty() ||
         std::any_of(stitches.begin(), stitches.end(),
                     [](const batch::Stitch& one) { return batch::is_overedge(one.code); });
}

namespace {

/// One zigzag alone; where there are passes, each says where it runs.
bool is_zigzagged(const SeamToTell& seam) {
  const std::vector<batch::Stitch> stitches = stitches_of(seam);
  return stitches.size() == 1 && stitches.front().code == "304" &&
         seam.pouch.request.passes.empty();
}

}  // namespace

std::vector<Message> sew_words(const SeamToTell& seam) {
  const pouch::Sizes& sizes = seam.pouch.sizes;
  const bool is_limit = sizes.needle_reach == sizes.seam_allowance;
  Sentences all;
  if (const does::Hem* hem = next_hem(seam)) {
    // Before the machine reaches it: an overedger cannot stop where nothing is open yet.
    all.push_back(
        {"steps-hem-snip",
         {{"span", name_of(seam, hem->span)}, {"width", base::at_most(sizes.seam_allowance)}}});
  }
  all.push_back(
      {is_limit ? "steps-sew-limit" : "steps-sew-how",
       {{"allowance", sizes.seam_allowance}, {"reach", base::at_most(sizes.needle_reach)}}});
  add_knife(seam, all);
  if (is_zigzagged(seam)) all.push_back("steps-sew-zigzag");
  if (pouch::sews_flap(seam.pouch, seam.operation)) all.push_back("steps-sew-flap");
  if (const does::Hem* hem = next_hem(seam)) {
    all.push_back({"steps-sew-to-hem", {{"span", name_of(seam, hem->span)}}});
  }
  if (!straps_at_sides(seam.pouch, seam.moment.folded, pouch::StrapLies::outwards).empty()) {
    all.push_back("steps-sew-straps");
  }
  add_stitch(seam, all);
  add_needle(seam, all);
  add_ends(seam, batch::SeamEnds::chain, all);
  return all;
}

std::vector<Message> finish_words(const SeamToTell& seam) {
  const auto& finish = *seam.pouch.operation(seam.operation).as<does::Finish>();
  const bool turned = finish_of(seam.pouch.request, finish.end).kind == pouch::FinishKind::turned;
  Sentences all;
  if (turned) {
    const Length takes = finish_of(seam.pouch.request, finish.end).takes;
    all.push_back({"steps-turned-how", {{"takes", takes}}});
  }
  const pouch::EndFinish& made = finish_of(seam.pouch.request, finish.end);
  if (made.kind == pouch::FinishKind::zigzag) {
    all.push_back({"steps-zigzag-how", {{"reach", base::at_most(made.needle_reach)}}});
  }
  add_stitch(seam, all);
  add_needle(seam, all);
  add_ends(seam, turned ? batch::SeamEnds::back_tack : batch::SeamEnds::chain, all);
  return all;
}

std::vector<Message> hem_words(const SeamToTell& seam) {
  const auto& hem = *seam.pouch.operation(seam.operation).as<does::Hem>();
  const base::Message::Values values = {{"span", name_of(seam, hem.span)},
                                        {"width", base::at_most(seam.pouch.sizes.seam_allowance)}};
  Sentences all{{"steps-hem-how", values}};
  add_stitch(seam, all);
  add_needle(seam, all);
  add_ends(seam, batch::SeamEnds::back_tack, all);
  return all;
}

std::vector<Message> tails_words(const SeamToTell& seam) {
  Sentences all{"steps-tails-how",
                {"steps-tails-limit", {{"reach", base::at_most(seam.pouch.sizes.needle_reach)}}}};
  add_stitch(seam, all);
  return all;
}

}  // namespace pouchwright::tell
