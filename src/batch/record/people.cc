#include <algorithm>
#include <utility>

#include "batch/record/bundles.h"

namespace pouchwright::batch {

namespace {

/// What one person did of one operation: the bundles, by their index among those tested.
struct Own {
  std::string operation;
  std::string helper;
  std::vector<std::size_t> bundles;
  Tested of;
  Tested others;  ///< of the same operation, by other people
};

/// Of each operation who did bundles alone, and who took part in all.
struct Operation {
  std::map<std::string, Own> own;
  std::set<std::string> helpers;
};
using Operations = std::map<std::string, Operation>;

Operations operations_of(const Bundles& bundles) {
  Operations all;
  std::size_t index = 0;
  for (const auto& [name, bundle] : bundles) {
    if (!bundle.test) continue;
    for (const auto& [id, helpers] : bundle.helpers) {
      Operation& operation = all[id];
      operation.helpers.insert(helpers.begin(), helpers.end());
      // What two did together tells neither from the other.
      if (helpers.size() != 1) continue;
      Own& own = operation.own[*helpers.begin()];
      own.operation = id;
      own.helper = *helpers.begin();
      own.bundles.push_back(index);
      own.of += *bundle.test;
    }
    ++index;
  }
  return all;
}

/// Everyone who has bundles of their own at an operation where somebody else has, too.
std::vector<Own> compared(const Operations& operations) {
  std::vector<Own> all;
  for (const auto& [id, operation] : operations) {
    if (operation.own.size() < 2) continue;
    Tested sum;
    for (const auto& [helper, own] : operation.own) sum += own.of;
    for (const auto& [helper, own] : operation.own) {
      all.push_back(own);
      all.back().others = {sum.leaked - own.of.leaked, sum.tested - own.of.tested};
    }
  }
  return all;
}

void add_suspects(const std::vector<Own>& pairs, RecordFindings& found) {
  std::vector<double> chances;
  for (const Own& pair : pairs) chances.push_back(fisher_one_sided(pair.of, pair.others));
  const std::vector<double> corrected = holm(chances);
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    if (corrected[i] < kSuspicious) order.push_back(i);
  }
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return std::tie(chances[a], pairs[a].bundles) < std::tie(chances[b], pairs[b].bundles);
  });
  for (std::size_t i = 0; i < order.size(); ++i) {
    const Own& pair = pairs[order[i]];
    const bool again = i > 0 && pairs[order[i - 1]].bundles == pair.bundles;
    const int group = i == 0 ? 1 : found.suspects.back().group + (again ? 0 : 1);
    found.suspects.push_back(
        {{pair.operation, pair.helper, pair.of}, chances[order[i]], corrected[order[i]], group});
  }
}

/// Others are taken to leak as all do: what the one person's own leaks add to the sum is no part of it.
void add_what_would_show(const std::vector<Own>& pairs, double share, RecordFindings& found) {
  found.compared = static_cast<int>(pairs.size());
  if (pairs.empty()) return;
  const double least = kSuspicious / static_cast<double>(pairs.size());
  double most = 0;
  std::map<std::pair<int, int>, std::optional<double>> known;
  for (const Own& pair : pairs) {
    const auto key = std::pair(pair.of.tested, pair.others.tested);
    auto at = known.find(key);
    if (at == known.end()) {
      const int usual = static_cast<int>(share * pair.others.tested + 0.5);
      at = known.emplace(key, least_share_shown(key.first, {usual, key.second}, least)).first;
    }
    if (at->second) {
      most = std::max(most, *at->second);
    } else {
      ++found.unseen_pairs;
    }
  }
  if (found.unseen_pairs < found.compared) found.would_show = most;
}

/// With whom to change places: somebody who alone did another operation, else anybody else.
void add_cannot_tell(const Operations& operations, RecordFindings& found) {
  for (const auto& [id, operation] : operations) {
    if (operation.helpers.size() != 1) continue;
    CannotTell told{id, *operation.helpers.begin(), {}, {}};
    for (const bool alone : {true, false}) {
      for (const auto& [other_id, other] : operations) {
        if (!told.other.empty() || other_id == id) continue;
        if (alone && other.helpers.size() != 1) continue;
        for (const std::string& helper : other.helpers) {
          if (helper == told.helper || !told.other.empty()) continue;
          told.other = helper;
          told.other_operation = other_id;
        }
      }
    }
    found.cannot_tell.push_back(std::move(told));
  }
}

}  // namespace

void compare_people(const Bundles& bundles, RecordFindings& found) {
  const Operations operations = operations_of(bundles);
  for (const auto& [id, operation] : operations) {
    for (const auto& [helper, own] : operation.own) {
      found.by_station.push_back({id, helper, own.of});
    }
  }
  std::stable_sort(
      found.by_station.begin(), found.by_station.end(),
      [](const StationLeaks& a, const StationLeaks& b) { return a.of.share() > b.of.share(); });
  const std::vector<Own> pairs = compared(operations);
  add_suspects(pairs, found);
  add_what_would_show(pairs, found.total.share(), found);
  add_cannot_tell(operations, found);
}

}  // namespace pouchwright::batch
