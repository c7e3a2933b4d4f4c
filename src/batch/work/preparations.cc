#include "batch/work/preparations.h"

#include <algorithm>
#include <utility>

#include "base/text.h"

namespace pouchwright::batch {
namespace {

class Preparations {
 public:
  explicit Preparations(const Preparing& what) : what_(what) {}

  /// Which there are hangs on what the elements do; their indices are those among themselves.
  std::vector<Element> made_for(const std::vector<Element>& elements) {
    std::set<std::size_t> cloths;
    for (const Element& element : elements) {
      if (element.operation.kind != kCutting) continue;
      const std::string& cloth = element.operation.cloth;
      if (const auto at = add(kOpening, "open-" + cloth, 1, {})) {
        made_[*at].operation.cloth = cloth;
        cloths.insert(*at);
        opened_.emplace_back(cloth, *at);
      }
    }
    if (is_used(elements, Station::overedge)) {
      overedge_ =
          add(kThreadingOveredge, base::slug(kThreadingOveredge), count(Station::overedge), {});
    }
    if (is_used(elements, Station::machine)) {
      machine_ = add(kThreading, base::slug(kThreading), count(Station::machine), {});
    }
    if (!is_used(elements, Station::iron)) return std::move(made_);
    if (what_.cards > 0) {
      cards_ = add(kTracing, base::slug(kTracing), static_cast<int>(what_.cards), {});
    }
    const auto warm = add(kWarming, base::slug(kWarming), count(Station::iron), {});
    ironing_ = warm;
    if (what_.tries_iron) {
      if (warm) cloths.insert(*warm);
      const auto tried = add(kTrying, base::slug(kTrying), 1, cloths);
      if (tried) ironing_ = tried;
    }
    return std::move(made_);
  }

  /// What of them one element waits for.
  [[nodiscard]] std::set<std::size_t> for_element(const Element& element) const {
    std::set<std::size_t> needs;
    const auto take = [&needs](const std::optional<std::size_t>& at) {
      if (at) needs.insert(*at);
    };
    if (element.operation.kind == kCutting) {
      for (const auto& [cloth, at] : opened_) {
        if (cloth == element.operation.cloth) needs.insert(at);
      }
    }
    if (element.station == Station::overedge) take(overedge_);
    if (element.station == Station::machine) take(machine_);
    const bool takes_card = element.operation.kind == "lay card";
    if (element.station == Station::iron || takes_card) take(cards_);
    if (element.station == Station::iron) take(ironing_);
    return needs;
  }

 private:
  [[nodiscard]] static bool is_used(const std::vector<Element>& elements, Station station) {
    return std::any_of(elements.begin(), elements.end(),
                       [station](const Element& one) { return one.station == station; });
  }
  /// Of those that are there, as many as somebody can stand at.
  [[nodiscard]] int count(Station station) const {
    return std::min(what_.settings->helpers.value,
                    count_of(station, *what_.settings, *what_.table));
  }

  std::optional<std::size_t> add(const char* name, std::string id, int each,
                                 std::set<std::size_t> needs) {
    const WorkKind* kind = what_.table->kind(name);
    if (!kind) return std::nullopt;
    Amount amount;
    amount.each = each;
    Element made;
    made.operation = {
        std::move(id), kind->name, std::nullopt, 1, Time::minutes(minutes_a_piece(*kind, amount)),
        Time(),        ""};
    // A job without an overedge machine overedges on its others, which are threaded for that.
    made.station = kind->station;
    if (count_of(made.station, *what_.settings, *what_.table) == 0) made.station = Station::hands;
    made.waits = Time::minutes(kind->waits);
    made.needs = std::move(needs);
    made.firsts = 1;
    made.once = true;
    made_.push_back(std::move(made));
    return made_.size() - 1;
  }

  const Preparing& what_;
  std::vector<Element> made_;
  std::vector<std::pair<std::string, std::size_t>> opened_;
  std::optional<std::size_t> overedge_, machine_, cards_, ironing_;
};

}  // namespace

void prepare(std::vector<Element>& elements, const Preparing& what) {
  Preparations preparations(what);
  std::vector<Element> all = preparations.made_for(elements);
  const std::size_t before = all.size();
  for (Element& element : elements) {
    std::set<std::size_t> needs = preparations.for_element(element);
    for (const std::size_t need : element.needs) needs.insert(need + before);
    element.needs = std::move(needs);
    all.push_back(std::move(element));
  }
  elements = std::move(all);
}

}  // namespace pouchwright::batch
