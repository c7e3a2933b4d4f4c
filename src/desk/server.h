/// HTTP on the loopback, by Boost.Beast: connections and their limits, and who may ask. What is
/// answered is decided in answer.h and site.h.
#pragma once

#include <chrono>
#include <cstddef>
#include <functional>

#include "base/voice.h"
#include "desk/site.h"
#include "desk/workers.h"

namespace pouchwright::desk {

struct Limits {
  std::size_t header = 16UL * 1024;  ///< bytes
  std::size_t body = 1024UL * 1024;  ///< bytes: a job, and a record of some months with it
  std::size_t connections = 32;
  std::chrono::seconds sending{5};  ///< for a whole request, from its first byte
  std::chrono::seconds idle{30};    ///< between two requests of one connection
  std::chrono::seconds taking{20};  ///< for a whole answer
  /// For working out one answer; above what any job within the program's limits takes.
  std::chrono::seconds working{10};
};

struct Serving {
  const Site& site;
  Workers& workers;
  base::Voice words;
  Limits limits;
};

/// Listens on 127.0.0.1 at the first free port of `first` … `last` (0: any), calls `open` with it,
/// and serves until the program is interrupted (SIGINT, SIGTERM).
/// Fails: throws base::Failure where no port is free or the machine refuses.
void listen(int first, int last, const Serving& serving, const std::function<void(int)>& open);

}  // namespace pouchwright::desk
