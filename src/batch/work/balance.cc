#include "batch/work/balance.h"

#include <algorithm>
#include <map>
#include <optional>

namespace pouchwright::batch {
namespace {

using base::Time;
using Set = std::uint64_t;

constexpr Set bit(std::size_t index) { return Set{1} << index; }

/// Whether all find room in places of one size.
class Rooms {
 public:
  Rooms(const std::vector<Time>& times, const std::vector<Set>& needs, int places, Time size,
        std::int64_t work)
      : times_(times), needs_(needs), size_(size), places_(places), left_(work) {
    for (const Time time : times) sum_ += time;
  }

  /// Absent: they do not, or it would take too much work to know.
  std::optional<std::vector<int>> found() {
    place_.assign(times_.size(), 0);
    if (!fill(0, 0, sum_)) return std::nullopt;
    return place_;
  }
  [[nodiscard]] bool gave_up() const { return left_ <= 0; }

 private:
  [[nodiscard]] Set all() const {
    return times_.size() == kMostBalanced ? ~Set{0} : bit(times_.size()) - 1;
  }

  bool fill(Set done, int place, Time rest) {
    if (done == all()) return true;
    if (rest > size_ * (places_ - place)) return false;
    const auto [seen, is_new] = failed_at_.try_emplace(done, place);
    // It failed from here with as many places left, or more.
    if (!is_new && seen->second <= place) return false;
    seen->second = place;
    if (--left_ <= 0) return false;
    return load(done, place, rest, 0, size_);
  }

  /// Adds operations from `from` on to the place; where none fits any more, goes on to the next.
  bool load(Set done, int place, Time rest, std::size_t from, Time room) {
    bool is_full = true;
    for (std::size_t i = 0; i < times_.size(); ++i) {
      if ((done & bit(i)) != 0 || (needs_[i] & ~done) != 0 || times_[i] > room) continue;
      is_full = false;
      // An operation that only now can be done may stand before those chosen already.
      if (i < from && !became_free_[i]) continue;
      place_[i] = place;
      const auto before = became_free_;
      for (std::size_t k = 0; k < times_.size(); ++k) {
        became_free_[k] = became_free_[k] || ((needs_[k] & bit(i)) != 0);
      }
      if (load(done | bit(i), place, rest - times_[i], i + 1, room - times_[i])) return true;
      became_free_ = before;
      if (left_ <= 0) return false;
    }
    if (!is_full) return false;
    const auto before = became_free_;
    became_free_.assign(times_.size(), false);
    const bool fits = fill(done, place + 1, rest);
    became_free_ = before;
    return fits;
  }

  const std::vector<Time>& times_;
  const std::vector<Set>& needs_;
  Time size_;
  int places_;
  std::int64_t left_;
  Time sum_{};
  std::vector<int> place_;
  std::vector<bool> became_free_ = std::vector<bool>(kMostBalanced, false);
  std::map<Set, int> failed_at_;
};

/// Every place is filled in the order of the operations, to Σt / n or just above.
Balance greedy(const std::vector<Time>& times, int places) {
  Balance made{std::vector<int>(times.size()), {}, false};
  Time sum{};
  for (const Time time : times) sum += time;
  Time before{};
  std::vector<Time> full(static_cast<std::size_t>(places));
  for (std::size_t i = 0; i < times.size(); ++i) {
    const std::int64_t middle = 2 * before.in_ms() + times[i].in_ms();
    const std::int64_t whole = std::max<std::int64_t>(1, 2 * sum.in_ms());
    const auto place = std::min<std::int64_t>(places - 1, middle * places / whole);
    made.place[i] = static_cast<int>(place);
    full[static_cast<std::size_t>(place)] += times[i];
    before += times[i];
  }
  made.fullest = *std::max_element(full.begin(), full.end());
  return made;
}

Time fullest_of(const std::vector<Time>& times, const std::vector<int>& place, int places) {
  std::vector<Time> full(static_cast<std::size_t>(places));
  for (std::size_t i = 0; i < times.size(); ++i)
    full[static_cast<std::size_t>(place[i])] += times[i];
  return *std::max_element(full.begin(), full.end());
}

}  // namespace

Balance balanced(const std::vector<Time>& times, const std::vector<std::vector<std::size_t>>& needs,
                 int places, std::int64_t work) {
  if (times.empty()) return {{}, {}, true};
  std::vector<Set> sets(times.size(), 0);
  for (std::size_t i = 0; i < needs.size(); ++i) {
    for (const std::size_t need : needs[i]) sets[i] |= bit(need);
  }
  Balance best = greedy(times, places);
  Time sum{};
  for (const Time time : times) sum += time;
  std::int64_t none =
      std::max(sum.shared_out(places), *std::max_element(times.begin(), times.end())).in_ms() - 1;
  best.proved = true;
  while (best.fullest.in_ms() > none + 1) {
    const std::int64_t size = none + (best.fullest.in_ms() - none) / 2;
    Rooms rooms(times, sets, places, Time::ms(size), work);
    if (const auto found = rooms.found()) {
      best.place = *found;
      best.fullest = fullest_of(times, *found, places);
    } else {
      best.proved = best.proved && !rooms.gave_up();
      none = size;
    }
  }
  return best;
}

}  // namespace pouchwright::batch
