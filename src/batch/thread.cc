#include "batch/thread.h"

#include <algorithm>
#include <cmath>

namespace pouchwright::batch {
namespace {

using pouch::FinishKind;
using pouch::Pouch;

constexpr double kMmPerMetre = 1000;

/// A snap is punched; what is caught in a seam is sewn with it.
bool is_sewn_on(const Pouch& pouch, const pouch::Fixed& fixed) {
  return pouch.rule(fixed).kind != pouch::AttachmentKind::snap && !fixed.x.empty();
}

bool is_sewn_round(const Pouch& pouch, const pouch::Fixed& fixed) {
  return is_sewn_on(pouch, fixed) && fixed.width > Length() && fixed.y.size() > Length();
}

SeamEnds ends_of(const std::string& code, const ThreadRules& rules) {
  const Stitch* stitch = rules.stitch(code);
  return stitch ? stitch->ends : SeamEnds::chain;
}

/// What edges are sewn with, pass by pass: the sides as often as the job states passes, a bottom
/// seam once.
std::vector<std::string> codes_of(const pouch::does::Sew& work, const pouch::Request& request,
                                  const ThreadRules& rules) {
  if (request.passes.empty()) return {rules.sew};
  std::vector<std::string> codes;
  for (const pouch::SewingPass& pass : request.passes) {
    const std::string code = rules.code_of(pass.stitch.value);
    codes.push_back(code.empty() ? rules.sew : code);
  }
  if (!works_on(work.edges, pouch::Edge::bottom)) return codes;
  // Who has an overedger for the sides has it for the bottom; else the first pass is what closes.
  const bool has_overedge = std::any_of(codes.begin(), codes.end(), is_overedge);
  return {has_overedge ? rules.sew : codes.front()};
}

class SeamFinder {
 public:
  SeamFinder(const pouch::Pouch& pouch, const ThreadRules& rules) : pouch_(pouch), rules_(rules) {}

  std::vector<Seam> found() {
    const auto& operations = pouch_.construction().operations;
    for (std::size_t i = 0; i < operations.size(); ++i) {
      std::visit([&](const auto& work) { add(i, work); }, operations[i].work);
    }
    return std::move(seams_);
  }

 private:
  /// Most operations sew nothing.
  template <class Does>
  void add(std::size_t, const Does&) {}

  [[nodiscard]] Length panel_thickness() const {
    const pouch::Request& request = pouch_.request;
    return request.laminate.thickness + (request.outer ? request.outer->thickness : Length());
  }

  void add(std::size_t operation, const pouch::does::Finish& work) {
    const pouch::EndFinish& finish = finish_of(pouch_.request, work.end);
    if (finish.kind == FinishKind::none) return;
    const bool is_turned = finish.kind == FinishKind::turned;
    const std::string& code = is_turned                           ? rules_.finish_turned
                              : finish.kind == FinishKind::zigzag ? rules_.finish_zigzag
                                                                  : rules_.finish_overedge;
    seams_.push_back({operation, code, pouch_.sizes.cut_width,
                      panel_thickness() * (is_turned ? 2 : 1), 1,
                      ends_of(code, rules_) == SeamEnds::back_tack});
  }

  /// Both sides of a flap, turned in as far as it is long.
  void add(std::size_t operation, const pouch::does::Hem& work) {
    const pouch::Span& span = pouch_.sizes.span(cut_span(pouch_.sizes.panels, work.span));
    seams_.push_back({operation, rules_.finish_turned, span.to - span.from, panel_thickness() * 2,
                      2, ends_of(rules_.finish_turned, rules_) == SeamEnds::back_tack});
  }

  /// Round the edge of what covers a stated length and width; and the rows along what is made up.
  void add(std::size_t operation, const pouch::does::Attach&) {
    for (const pouch::Fixed& fixed : pouch_.fixed) {
      if (fixed.operation != operation || !is_sewn_round(pouch_, fixed)) continue;
      add_rows(operation, pouch_.rule(fixed));
      seams_.push_back({operation, rules_.attach, 2 * (fixed.y.size() + fixed.width),
                        panel_thickness(),
                        static_cast<int>(std::max<std::size_t>(1, fixed.x.size())),
                        ends_of(rules_.attach, rules_) == SeamEnds::back_tack});
    }
  }

  /// A piece that is folded and stitched along its length before it is fixed: in four layers.
  void add_rows(std::size_t operation, const pouch::Attachment& rule) {
    if (!rule.made_of) return;
    const pouch::PieceRule& piece = pouch_.construction().pieces[*rule.made_of];
    for (const pouch::CutPart& part : pouch_.sizes.parts) {
      if (part.piece != rule.made_of || piece.rows == 0) continue;
      constexpr int kFolded = 4;
      seams_.push_back({operation, rules_.attach, part.length, panel_thickness() * kFolded,
                        piece.rows * part.count,
                        ends_of(rules_.attach, rules_) == SeamEnds::back_tack});
    }
  }

  void add(std::size_t operation, const pouch::does::Sew& work) {
    for (const std::string& code : codes_of(work, pouch_.request, rules_)) {
      sewn_once(operation, static_cast<int>(work.edges.size()), code);
    }
  }

  void sewn_once(std::size_t operation, int edges, const std::string& code) {
    Seam seam{operation, code, {}, {}, edges, ends_of(code, rules_) == SeamEnds::back_tack};
    for (const pouch::SeamLayers& stretch : pouch_.layers_at_seams) {
      if (stretch.operation != operation) continue;
      seam.length += stretch.heights.size();
      seam.thickness = std::max(seam.thickness, stretch.thickness);
    }
    seams_.push_back(std::move(seam));
  }

  /// Two tails to every edge that was sewn with a chain so far.
  void add(std::size_t operation, const pouch::does::SecureTails&) {
    int count = 0;
    Length thickness;
    for (const Seam& seam : seams_) {
      const bool is_edge = pouch_.operation(seam.operation).as<pouch::does::Sew>() != nullptr;
      if (!is_edge || ends_of(seam.stitch, rules_) != SeamEnds::chain) continue;
      count += 2 * seam.per_pouch;
      thickness = std::max(thickness, seam.thickness);
    }
    if (count == 0) return;
    seams_.push_back({operation, rules_.secure_tails, rules_.tail, thickness, count, false});
  }

  const pouch::Pouch& pouch_;
  const ThreadRules& rules_;
  std::vector<Seam> seams_;
};

/// The length that takes thread, in mm: seams, what is sewn twice at their ends, chains where the
/// stitch leaves them.
double length_with_ends(const Seam& seam, int pouches, const ThreadRules& rules) {
  const double count = static_cast<double>(seam.per_pouch) * pouches;
  // Back and forth again at both ends.
  const double back_tacks = seam.has_back_tacks ? 4 * rules.back_tack.in_mm() : 0;
  const bool has_chains = ends_of(seam.stitch, rules) == SeamEnds::chain;
  const double chains = has_chains ? (count + 1) * rules.chain.in_mm() : 0;
  return count * (seam.length.in_mm() + back_tacks) + chains;
}

int packages_for(double metres, const Package& package) {
  // A metre too much by rounding is no reason for another cone.
  return std::max(1, static_cast<int>(std::ceil(metres / package.metres - 1e-9)));
}

/// However unevenly `threads` threads share, their last packages are the only ones begun for less.
int packages_of_threads(double metres, int threads, const Package& package) {
  return packages_for(metres, package) + threads - 1;
}

void divide(ThreadNeed& need, const Stitch& stitch) {
  double weights = 0;
  for (const ThreadShare& share : stitch.shares) weights += share.weight;
  for (const ThreadShare& share : stitch.shares) {
    const double part = share.weight / weights;
    need.parts.push_back({share.part, need.metres * part});
    need.packages += packages_for(need.most_metres * part, need.package);
  }
  need.threads = need.package.each_thread ? stitch.threads : 1;
  if (stitch.shares.empty() || need.threads == 1) {
    need.packages = packages_of_threads(need.most_metres, need.threads, need.package);
  }
}

}  // namespace

const Stitch* ThreadRules::stitch(std::string_view code) const {
  const auto found = std::find_if(stitches.begin(), stitches.end(),
                                  [&](const Stitch& one) { return one.code == code; });
  return found == stitches.end() ? nullptr : &*found;
}

const Package* ThreadRules::package(std::string_view name) const {
  const auto found = std::find_if(packages.begin(), packages.end(),
                                  [&](const Package& one) { return one.name == name; });
  return found == packages.end() ? nullptr : &*found;
}

std::string ThreadRules::code_of(std::string_view text) const {
  if (const Stitch* found = stitch(text)) return found->code;
  const auto word = words.find(text);
  return word == words.end() ? std::string() : word->second;
}

std::vector<std::string> ThreadRules::known() const {
  std::vector<std::string> all;
  for (const Stitch& one : stitches) all.push_back(one.code);
  for (const auto& [word, code] : words) all.push_back(word);
  return all;
}

void use(const StatedStitches& stated, ThreadRules& rules) {
  const auto lay_over = [&](const StatedStitches::Stated& one, std::string& code) {
    const std::string known = one ? rules.code_of(one->value) : std::string();
    if (!known.empty()) code = known;
  };
  lay_over(stated.sides, rules.sew);
  lay_over(stated.ends, rules.finish_overedge);
  lay_over(stated.hems, rules.finish_turned);
  lay_over(stated.tails, rules.secure_tails);
}

bool leaves_chains(const pouch::Request& request, const StatedStitches& stated,
                   const ThreadRules& rules) {
  ThreadRules used = rules;
  use(stated, used);
  bool any = false;
  for (const pouch::Operation& operation : request.construction.operations) {
    const auto* sews = operation.as<pouch::does::Sew>();
    if (sews == nullptr) continue;
    any = true;
    for (const std::string& code : codes_of(*sews, request, used)) {
      if (ends_of(code, used) == SeamEnds::chain) return true;
    }
  }
  return !any;
}

bool ends_leave_chains(const StatedStitches& stated, const ThreadRules& rules) {
  ThreadRules used = rules;
  use(stated, used);
  return ends_of(used.finish_overedge, used) == SeamEnds::chain;
}

std::vector<Seam> seams_of(const pouch::Pouch& pouch, const ThreadRules& rules) {
  return SeamFinder(pouch, rules).found();
}

std::vector<std::string> uncounted_seams(const pouch::Pouch& pouch) {
  std::vector<std::string> names;
  for (const pouch::Fixed& fixed : pouch.fixed) {
    if (!is_sewn_on(pouch, fixed)) continue;
    const pouch::Attachment& rule = pouch.rule(fixed);
    const auto& pieces = pouch.construction().pieces;
    const bool is_made_up =
        rule.made_of && !pieces[*rule.made_of].how.empty() && pieces[*rule.made_of].rows == 0;
    if (is_sewn_round(pouch, fixed) && !is_made_up) continue;
    if (std::find(names.begin(), names.end(), rule.name) == names.end()) {
      names.push_back(rule.name);
    }
  }
  return names;
}

std::vector<ThreadNeed> thread_needs(const std::vector<Seam>& seams, int pouches,
                                     const ThreadRules& rules) {
  return thread_needs({{&seams, pouches}}, rules);
}

std::vector<ThreadNeed> thread_needs(const std::vector<BatchSeams>& batches,
                                     const ThreadRules& rules) {
  std::map<std::string, ThreadNeed> by_code;
  for (const auto& [seams, pouches] : batches) {
    for (const Seam& seam : *seams) {
      const Stitch* stitch = rules.stitch(seam.stitch);
      if (stitch == nullptr || seam.per_pouch == 0) continue;
      ThreadNeed& need = by_code[seam.stitch];
      need.stitch = seam.stitch;
      need.seam_metres += seam.length.in_mm() * seam.per_pouch * pouches / kMmPerMetre;
      const double metres = length_with_ends(seam, pouches, rules) / kMmPerMetre;
      const double usual = stitch->ratio * (1 + rules.waste);
      need.metres += metres * usual;
      need.most_metres +=
          metres * std::max(usual, ratio_by_geometry(*stitch, seam.thickness).value_or(0));
    }
  }
  std::vector<ThreadNeed> needs;
  for (auto& [code, need] : by_code) {
    const Stitch* stitch = rules.stitch(code);
    if (const Package* package = rules.package(stitch->package)) need.package = *package;
    divide(need, *stitch);
    needs.push_back(std::move(need));
  }
  return needs;
}

std::vector<PackageNeed> packages_needed(const std::vector<ThreadNeed>& needs,
                                         const ThreadRules& rules) {
  std::vector<PackageNeed> all;
  for (const Package& package : rules.packages) {
    PackageNeed made{package, 0, 1, 0};
    int stitches = 0;
    for (const ThreadNeed& need : needs) {
      if (need.package.name != package.name) continue;
      ++stitches;
      made.metres += need.most_metres;
      made.threads = std::max(made.threads, need.threads);
      made.count = need.packages;
    }
    if (stitches == 0) continue;
    if (stitches > 1) made.count = packages_of_threads(made.metres, made.threads, package);
    all.push_back(std::move(made));
  }
  return all;
}

double lockstitch_ratio(Length thickness, Length stitch_length) {
  return 2 + 2 * thickness.in_mm() / stitch_length.in_mm();
}

double overedge_ratio(Length width, Length thickness, Length stitch_length) {
  return 3 + 4 * (width + thickness).in_mm() / stitch_length.in_mm();
}

double four_thread_ratio(Length width, Length thickness, Length stitch_length) {
  return 5 + 2 * (3 * thickness.in_mm() + 2 * width.in_mm()) / stitch_length.in_mm();
}

bool is_overedge(std::string_view code) { return code.starts_with('5'); }

std::optional<Length> least_reach(const Stitch& stitch) {
  return is_overedge(stitch.code) ? stitch.least_width : std::nullopt;
}

std::optional<double> ratio_by_geometry(const Stitch& stitch, Length thickness) {
  if (!stitch.stitch_length) return std::nullopt;
  if (stitch.code == "301") return lockstitch_ratio(thickness, *stitch.stitch_length);
  if (stitch.code == "504" && stitch.width) {
    return overedge_ratio(*stitch.width, thickness, *stitch.stitch_length);
  }
  if (stitch.code == "514" && stitch.width) {
    return four_thread_ratio(*stitch.width, thickness, *stitch.stitch_length);
  }
  return std::nullopt;
}

}  // namespace pouchwright::batch
