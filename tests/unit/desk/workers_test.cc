#include "desk/workers.h"

#include <doctest/doctest.h>

#include <array>
#include <condition_variable>
#include <mutex>

using namespace pouchwright;

namespace {

const job::Data& data() {
  static const job::Data kData(POUCHWRIGHT_SOURCE);
  return kData;
}

std::shared_ptr<std::atomic<bool>> wanted() { return std::make_shared<std::atomic<bool>>(false); }

/// Holds those who wait at it until it is opened.
class Gate {
 public:
  void open() {
    {
      const std::lock_guard lock(mutex_);
      is_open_ = true;
    }
    opened_.notify_all();
  }
  void wait() {
    std::unique_lock lock(mutex_);
    opened_.wait(lock, [this] { return is_open_; });
  }

 private:
  std::mutex mutex_;
  std::condition_variable opened_;
  bool is_open_ = false;
};

}  // namespace

TEST_CASE("every thread has data of its own") {
  desk::Workers workers(2, data(), 8);
  Gate both;
  std::atomic<int> begun = 0;
  std::array<const job::Data*, 2> seen{};
  for (std::size_t i = 0; i < 2; ++i) {
    CHECK(workers.take({[&, i](const job::Data& own) {
                          seen[i] = &own;
                          if (++begun == 2) both.open();
                          both.wait();
                        },
                        wanted()}));
  }
  both.wait();
  workers.stop();
  CHECK(seen[0] != seen[1]);
  CHECK(seen[0] != &data());
  CHECK(seen[0]->words().table() == data().words().table());
}

TEST_CASE("what nobody waits for any more is not begun, and makes room") {
  desk::Workers workers(1, data(), 2);
  Gate begun;
  Gate held;
  std::atomic<int> done = 0;
  const auto count = [&](const job::Data&) { ++done; };
  CHECK(workers.take({[&](const job::Data&) {
                        begun.open();
                        held.wait();
                      },
                      wanted()}));
  begun.wait();
  const auto dropped = wanted();
  CHECK(workers.take({count, dropped}));
  CHECK(workers.take({count, wanted()}));
  CHECK_FALSE(workers.take({count, wanted()}));  // two wait already
  *dropped = true;
  Gate last;
  CHECK(workers.take({[&](const job::Data&) { last.open(); }, wanted()}));
  held.open();
  last.wait();
  CHECK(done == 1);
}

TEST_CASE("stopping ends what is under way and leaves the rest") {
  std::atomic<int> done = 0;
  desk::Workers workers(1, data(), 8);
  Gate begun;
  CHECK(workers.take({[&](const job::Data&) {
                        begun.open();
                        ++done;
                      },
                      wanted()}));
  begun.wait();
  workers.stop();
  CHECK(done == 1);
  CHECK(workers.take({[&](const job::Data&) { ++done; }, wanted()}));
  workers.stop();
  CHECK(done == 1);
}
