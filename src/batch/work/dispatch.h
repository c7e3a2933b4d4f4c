/// List scheduling: whenever a helper and a station are free, the most urgent step that can be
/// done is begun. Deterministic.
///
///     Dispatcher dispatcher(line);
///     const Dispatched& first = dispatcher.run(urgency, Time::longest());
///     const Dispatched& other = dispatcher.run(changed, cost(first));   // given up where it is
///     worse
///
/// Inside `batch` only, for schedule.cc.
#pragma once

#include <cstdint>
#include <vector>

#include "batch/work/plan.h"

namespace pouchwright::batch {

/// The task with the least `step[s] + per_bundle * bundle` is the most urgent, less `stay` if
/// somebody who did that step last is free; of equal ones that of the earlier step.
struct Urgency {
  std::vector<std::int64_t> step;
  std::int64_t per_bundle = 0;
  std::int64_t stay = 0;
};

struct Dispatched {
  std::vector<Task> tasks;  ///< in order of start
  Time finish{};
  int most_helpers = 0;   ///< so many worked at the same time at most, and no others did anything
  int moves = 0;          ///< how often somebody went to another step
  bool given_up = false;  ///< it would have cost more than it may; the rest tells how it began
};

/// A plan may be finished so much later for each time that somebody need not leave a step for
/// another one: people who stay where they are make fewer mistakes (common practice, no source).
inline constexpr Time kMove = base::Time::seconds(1);
[[nodiscard]] inline Time cost(const Dispatched& made) { return made.finish + kMove * made.moves; }

/// Whole numbers from 0 up, the least first.
class LeastFirst {
 public:
  /// Room for `count` numbers, none of them in it.
  void clear(std::size_t count);
  void push(std::size_t number) {
    words_[number / kBits] |= std::uint64_t{1} << (number % kBits);
    if (number / kBits < first_) first_ = number / kBits;
  }
  [[nodiscard]] bool empty() const { return first_ == words_.size(); }
  /// Requires: not empty, both.
  [[nodiscard]] std::size_t top() const;
  void pop();

 private:
  static constexpr std::size_t kBits = 64;
  std::vector<std::uint64_t> words_;
  std::size_t first_ = 0;  ///< the first word that has a number; their count where none has
};

/// Plans of one line under many urgencies; what they need is kept from one to the next.
class Dispatcher {
 public:
  /// Requires: as planned(); `line` outlives this.
  explicit Dispatcher(const Line& line);

  /// The plan; given up as soon as it is certain to cost more than `limit`. For every number of
  /// helpers that is not below `most_helpers` it goes the same way, and is given up alike. Valid
  /// until the next run.
  Dispatched& run(const Urgency& urgency, Time limit);

 private:
  struct Helper {
    bool busy = false;
    std::size_t last_step = static_cast<std::size_t>(-1);
    Time load{};
  };
  /// At `at`, the task's helper and station are free, or its bundle is ready for the next step.
  struct Event {
    enum class Kind { freed, ready };
    Time at{};
    Kind kind{};
    std::size_t task = 0;  ///< freed: index into the tasks; ready: step * bundles + bundle

    bool operator>(const Event& other) const;
  };

  void begin_anew();
  void add(const Event& event);
  void happen(const Event& event);
  void begin_what_can(Time now);
  [[nodiscard]] std::size_t most_urgent() const;
  [[nodiscard]] bool has_station(Station station) const;
  void begin(std::size_t index, Time now);
  int helper_for(std::size_t step);
  [[nodiscard]] Time tail_of(std::size_t step, std::size_t bundle) const;

  const Line& line_;
  const Urgency* urgency_ = nullptr;
  Time limit_{};
  std::size_t bundles_;
  std::vector<Time> takes_;  ///< by step * bundles + bundle
  std::vector<Time> tails_;  ///< likewise: the least time that passes after it
  std::vector<std::vector<std::size_t>> followers_;
  Dispatched made_;
  Time least_finish_{};  ///< that the tasks begun so far leave room for
  std::vector<Helper> helpers_;
  int busy_ = 0;
  std::array<LeastFirst, kStations.size()> free_stations_;
  std::vector<std::size_t> missing_;  ///< by step * bundles + bundle: needs not yet met
  std::vector<Time> ready_at_;
  std::vector<LeastFirst> ready_;  ///< by step: the bundles that wait for it
  std::vector<int> free_from_;     ///< by step: the free helpers who did it last
  std::vector<Event> events_;      ///< a heap, the next one first
};

}  // namespace pouchwright::batch
