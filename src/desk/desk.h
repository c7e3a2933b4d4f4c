/// The desk: the same tool as a page in the browser, on this machine only.
///
///     return desk::serve({.port = 0}, data, [](const std::string& text) { std::cout << text; });
///
/// An adapter over run_job: it turns requests into job::JobOptions and outcomes into answers, and
/// keeps nothing between two requests.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "job/data.h"
#include "job/job.h"

namespace pouchwright::desk {

/// The port that is tried first, where none is given; then the next ones.
inline constexpr int kFirstPort = 8460;
inline constexpr int kPortsToTry = 20;

struct Settings {
  std::optional<int> port;  ///< 0: any free port
  bool opens_browser = false;
};

/// Serves until the program is interrupted. `tell` is given the address once the desk is open, as
/// a line. Never throws for a machine at fault: the outcome tells.
[[nodiscard]] job::Outcome serve(const Settings& settings, const job::Data& data,
                                 const std::function<void(const std::string&)>& tell);

}  // namespace pouchwright::desk
