/// A few threads that run what the page asks for, each with data of its own: fonts belong to one
/// thread. What waits is bounded, and what nobody waits for any more is not begun.
///
///     Workers workers(2, data, 64);
///     bool taken = workers.take({[](const job::Data& data) { … }, dropped});
#pragma once

#include <atomic>
#include <condition_variable>
#include <cstddef>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <thread>
#include <vector>

#include "job/data.h"

namespace pouchwright::desk {

/// Set by whoever asked, when the answer is not wanted any more.
using Dropped = std::shared_ptr<const std::atomic<bool>>;

struct Work {
  std::function<void(const job::Data&)> run;  ///< must not throw
  Dropped dropped;
};

class Workers {
 public:
  /// Every thread has the same data as `like`. Fails: throws base::Failure where they cannot be
  /// read.
  Workers(std::size_t threads, const job::Data& like, std::size_t most_waiting);
  Workers(const Workers&) = delete;
  Workers& operator=(const Workers&) = delete;
  ~Workers() { stop(); }

  /// False where too much waits already.
  [[nodiscard]] bool take(Work work);
  /// Waits for what is under way; what waits is not begun.
  void stop();

 private:
  void run(const job::Data& data);

  std::size_t most_waiting_;
  std::vector<std::unique_ptr<job::Data>> data_;
  std::mutex mutex_;
  std::condition_variable something_to_do_;
  std::deque<Work> waiting_;
  bool ending_ = false;
  std::vector<std::thread> threads_;
};

}  // namespace pouchwright::desk
