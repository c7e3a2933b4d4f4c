#include "tell/cut_plan.h"

#include <algorithm>
#include <map>
#include <utility>

#include "lay/spare.h"
#include "tell/names.h"

namespace pouchwright::tell {
namespace {

using base::Length;
using base::Message;

class Facts {
 public:
  Facts(const LaySaid& said, const base::Voice& words)
      : said_(said), lay_(*said.lay), words_(words) {}

  std::vector<Message> all() {
    for (std::size_t i = 0; i < said_.kinds->size(); ++i) yields(i);
    if (!said_.is_remnant) ready();
    if (lay_.sections.front().plies.way != lay::Plies::Way::single) opened_out();
    trial();
    if (said_.spare_pouches > 0) {
      say(said_.spare_pouches == 1 ? "lay-spare-cloth-one" : "lay-spare-cloth",
          {{"pouches", said_.spare_pouches}});
    }
    kept();
    stacked();
    return std::move(made_);
  }

 private:
  void say(const char* key, Message::Values values = {}) {
    made_.emplace_back(key, std::move(values));
  }

  /// How many, and which way they lie.
  void yields(std::size_t kind) {
    int count = 0;
    int across = 0;
    int over = 0;
    for (const lay::Placed& piece : lay_.pieces) {
      if (piece.by_product || static_cast<std::size_t>(piece.kind) != kind) continue;
      ++count;
      across += piece.turned ? 1 : 0;
      over += piece.spare ? 1 : 0;
    }
    if (count == 0) return;
    const lay::Kind& one = (*said_.kinds)[kind];
    const std::string name = piece_name(said_, static_cast<int>(kind), false, words_);
    const int spare = kind < lay_.spare.size() ? lay_.spare[kind] : 0;
    say(spare > 0 ? "lay-kind-spare" : "lay-kind", {{"count", count},
                                                    {"piece", name},
                                                    {"width", one.width},
                                                    {"length", one.length},
                                                    {"spare", spare}});
    if (over > 0) say("lay-over", {{"over", over}, {"piece", name}});
    if (across == count) say("lay-all-across", {{"piece", name}});
    if (across == 0 || across == count) return;
    are_grains_mixed_ = true;
    say(said_.is_paired ? "lay-mixed-pair" : "lay-mixed",
        {{"along", count - across}, {"across", across}, {"piece", name}});
  }

  /// Before the first cut.
  void ready() {
    if (said_.washed) {
      const bool narrower = said_.washed->left < said_.washed->bought;
      say(narrower ? "lay-wash" : "lay-wash-length",
          {{"bought", said_.washed->bought}, {"left", base::at_most(said_.washed->left)}});
    }
    const Length spare = lay::spare_across(lay_);
    say("lay-usable", {{"needed", across_said(lay_.width - spare, spare)}});
    if (spare < lay::kLittleSpare) {
      say(spare > Length() ? "lay-little-across" : "lay-nothing-across",
          {{"spare", base::at_most(spare)}});
    }
    if (said_.is_upright) say("lay-upright");
    if (said_.to_square > Length()) say("lay-square", {{"length", said_.to_square}});
  }

  /// Folded or stacked: what the same pieces take of the cloth laid open.
  void opened_out() {
    const lay::Plies& plies = lay_.sections.front().plies;
    const bool folded = plies.way == lay::Plies::Way::folded;
    const Length more = lay_.cloth_length - lay_.single_length;
    const std::string key = std::string(folded ? "lay-folded" : "lay-stacked");
    say(key.c_str(), {{"layers", plies.count}, {"all", lay_.cloth_length}});
    say(more > Length() ? "lay-opened-out-less" : "lay-opened-out",
        {{"single", lay_.single_length}, {"less", more}});
  }

  void trial() {
    if (!said_.trial) return;
    const TrialStrips& trial = *said_.trial;
    const Message::Values values = {
        {"count", trial.found.size()},
        {"wanted", trial.wanted},
        {"first", std::min<std::size_t>(trial.found.size(), batch::kStripsAtOnce)},
        {"width", trial.strip.width},
        {"length", trial.strip.length},
        {"more", trial.bought}};
    if (!trial.found.empty()) say("lay-trial", values);
    if (trial.bought == Length()) return;
    say(trial.found.empty() ? "lay-trial-none" : "lay-trial-few", values);
  }

  /// Equal left-overs in one line, the largest first.
  void kept() {
    std::vector<std::pair<lay::Area, int>> sizes;
    for (const lay::Area& area : lay_.kept) {
      if (yields_strips(area)) continue;
      const auto same = std::find_if(sizes.begin(), sizes.end(), [&](const auto& one) {
        return one.first.width == area.width && one.first.length == area.length;
      });
      if (same == sizes.end()) {
        sizes.emplace_back(area, 1);
      } else {
        ++same->second;
      }
    }
    for (const auto& [area, count] : sizes) {
      say(count == 1 ? "lay-kept" : "lay-kept-many", {{"count", count},
                                                      {"width", base::at_most(area.width)},
                                                      {"length", base::at_most(area.length)}});
    }
  }

  /// What strips for the trial are cut out of is no longer whole.
  [[nodiscard]] bool yields_strips(const lay::Area& area) const {
    if (!said_.trial) return false;
    return std::any_of(said_.trial->found.begin(), said_.trial->found.end(),
                       [&](const lay::Area& strip) {
                         return strip.x >= area.x && strip.x < area.x + area.width &&
                                strip.y >= area.y && strip.y < area.y + area.length;
                       });
  }

  void stacked() {
    const std::string key = "lay-stack-" + said_.material;
    const Message face = words_.has(key) ? key : std::string("lay-stack-cloth");
    made_.push_back(face);
    if (said_.bundle <= 1 || lay_.pieces.size() <= 1) return;
    say(are_grains_mixed_ ? "lay-bundles-grains" : "lay-bundles", {{"bundle", said_.bundle}});
  }

  const LaySaid& said_;
  const lay::Lay& lay_;
  const base::Voice& words_;
  std::vector<Message> made_;
  bool are_grains_mixed_ = false;  ///< of a kind of pieces
};

/// What comes off and is no finished piece yet.
const char* parts_key(lay::Cut cut, bool is_one) {
  switch (cut) {
    case lay::Cut::off:
      return is_one ? "lay-gives-length" : "lay-gives-lengths";
    case lay::Cut::strip:
      return is_one ? "lay-gives-strip" : "lay-gives-strips";
    case lay::Cut::cross:
    case lay::Cut::around:
      break;
    case lay::Cut::slit:
      return is_one ? "lay-gives-fold" : "lay-gives-folds";
  }
  return is_one ? "lay-gives-part" : "lay-gives-parts";
}

}  // namespace

std::string piece_name(const LaySaid& said, int kind, bool by_product, const base::Voice& words) {
  const auto& kinds = by_product ? *said.by_products : *said.kinds;
  const auto index = static_cast<std::size_t>(kind);
  std::string name = part_name(kinds[index].name, words);
  if (by_product || said.makes == nullptr || index >= said.makes->size()) return name;
  return words.say({"lay-piece-of", {{"piece", std::move(name)}, {"make", (*said.makes)[index]}}});
}

std::vector<Message> lay_facts(const LaySaid& said, const base::Voice& words) {
  return Facts(said, words).all();
}

Message step_gives(const LaySaid& said, const lay::Step& step, const base::Voice& words) {
  const int layers = lay::layers_under(*said.lay, step);
  const auto pieces = [&](int kind, bool by_product, int count) -> Message {
    return {"lay-gives-pieces",
            {{"count", count * layers}, {"piece", piece_name(said, kind, by_product, words)}}};
  };
  const Message gives =
      step.kind >= 0 ? pieces(step.kind, step.by_product, step.count)
                     : Message(parts_key(step.cut, step.count == 1), {{"count", step.count}});
  if (!step.rest) return gives;
  return {"lay-gives-rest",
          {{"gives", gives},
           {"rest", pieces(step.rest->kind, step.rest->by_product, step.rest->count)}}};
}

std::string cloth_name(const std::string& name, const std::string& print,
                       const base::Voice& words) {
  const std::string key = "material-" + name;
  std::string said = words.has(key) ? words.say(key) : name;
  if (print.empty()) return said;
  return words.say({"lay-cloth-print", {{"cloth", std::move(said)}, {"print", print}}});
}

}  // namespace pouchwright::tell
