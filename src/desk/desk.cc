#include "desk/desk.h"

#include <fcntl.h>
#include <spawn.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <thread>

#include "desk/server.h"
#include "desk/site.h"
#include "desk/workers.h"

namespace pouchwright::desk {

namespace {

constexpr std::size_t kMostWaiting = 64;
constexpr unsigned kMostThreads = 4;

/// Hands the address to the desktop's own opener; no shell reads it. False where there is none.
bool opened_browser(const std::string& address) {
  posix_spawn_file_actions_t files;
  if (posix_spawn_file_actions_init(&files) != 0) return false;
  // What a browser says is not the desk's to say.
  for (const int descriptor : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
    posix_spawn_file_actions_addopen(&files, descriptor, "/dev/null", O_RDWR, 0);
  }
  std::string program = "xdg-open";
  std::string argument = address;
  std::array<char*, 3> arguments = {program.data(), argument.data(), nullptr};
  pid_t child = 0;
  const int refused =
      posix_spawnp(&child, program.c_str(), &files, nullptr, arguments.data(), environ);
  posix_spawn_file_actions_destroy(&files);
  return refused == 0;
}

std::size_t thread_count() {
  return std::clamp(std::thread::hardware_concurrency(), 1U, kMostThreads);
}

}  // namespace

job::Outcome serve(const Settings& settings, const job::Data& data,
                   const std::function<void(const std::string&)>& tell) {
  try {
    const Site site(data);
    Workers workers(thread_count(), data, kMostWaiting);
    const int first = settings.port.value_or(kFirstPort);
    const int last = settings.port ? first : kFirstPort + kPortsToTry - 1;
    listen(first, last, {site, workers, data.words(), {}}, [&](int port) {
      const std::string address = "http://127.0.0.1:" + std::to_string(port) + "/";
      tell(address + "\n");
      if (settings.opens_browser && !opened_browser(address)) {
        tell(base::Voice(data.words()).say({"desk-no-browser"}) + "\n");
      }
    });
    return {};
  } catch (const std::exception& failure) {
    return job::refused(data.words(), failure);
  }
}

}  // namespace pouchwright::desk
