#include "desk/workers.h"

#include <algorithm>
#include <utility>

namespace pouchwright::desk {

Workers::Workers(std::size_t threads, const job::Data& like, std::size_t most_waiting)
    : most_waiting_(most_waiting) {
  for (std::size_t i = 0; i < threads; ++i) {
    data_.push_back(std::make_unique<job::Data>(like.folder(), like.words("en")));
    data_.back()->speak(like.language());
  }
  for (const auto& data : data_) threads_.emplace_back([this, &data] { run(*data); });
}

void Workers::stop() {
  {
    const std::lock_guard lock(mutex_);
    ending_ = true;
  }
  something_to_do_.notify_all();
  for (std::thread& thread : threads_) thread.join();
  threads_.clear();
  waiting_.clear();
}

bool Workers::take(Work work) {
  {
    const std::lock_guard lock(mutex_);
    if (waiting_.size() >= most_waiting_) {
      // Those who left make room.
      std::erase_if(waiting_, [](const Work& one) { return one.dropped->load(); });
    }
    if (waiting_.size() >= most_waiting_) return false;
    waiting_.push_back(std::move(work));
  }
  something_to_do_.notify_one();
  return true;
}

void Workers::run(const job::Data& data) {
  while (true) {
    Work work;
    {
      std::unique_lock lock(mutex_);
      something_to_do_.wait(lock, [this] { return ending_ || !waiting_.empty(); });
      if (ending_) return;
      work = std::move(waiting_.front());
      waiting_.pop_front();
    }
    if (!work.dropped->load()) work.run(data);
  }
}

}  // namespace pouchwright::desk
