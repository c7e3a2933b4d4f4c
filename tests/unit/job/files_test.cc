// A run's end while its files are written (signal(7): a signal to a process reaches any thread that
// does not block it; pipe(7): a write of more than the pipe holds waits for its reader).
#include "job/files.h"

#include <doctest/doctest.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <thread>

using namespace pouchwright::job;
namespace fs = std::filesystem;

namespace {

/// A folder of its own that goes with it.
class Folder {
 public:
  Folder() : path_(fs::temp_directory_path() / "pouchwright-files-XXXXXX") {
    std::string name = path_.string();
    REQUIRE(::mkdtemp(name.data()) != nullptr);
    path_ = name;
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { fs::remove_all(path_); }
  [[nodiscard]] fs::path of(const char* name) const { return path_ / name; }
  [[nodiscard]] std::ptrdiff_t count() const {
    return std::distance(fs::directory_iterator(path_), {});
  }

 private:
  fs::path path_;
};

std::string text_of(const fs::path& path) {
  std::ifstream file(path);
  return {std::istreambuf_iterator<char>(file), {}};
}

constexpr std::array kEnding = {SIGTERM, SIGINT, SIGHUP};
const std::string kMoreThanAPipeHolds(1 << 20, 'x');

/// Writes a file and a pipe in a process of its own, in which a second thread does nothing, as those
/// of a library would.
pid_t writing(const Folder& folder) {
  const pid_t child = ::fork();
  if (child != 0) return child;
  for (const int signal : kEnding) std::signal(signal, SIG_DFL);  // doctest catches some of them
  std::thread([] { std::this_thread::sleep_for(std::chrono::minutes(5)); }).detach();
  write_whole({{folder.of("sheet"), "new"}, {folder.of("pipe"), kMoreThanAPipeHolds}});
  ::_exit(0);
}

/// Reads the pipe to its end; `then` runs when its writer has come.
std::size_t read_pipe(const fs::path& path, const auto& then) {
  const int pipe = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  REQUIRE(pipe >= 0);
  then();
  std::array<char, 65536> bytes{};
  std::size_t all = 0;
  for (ssize_t count = 1; count > 0; all += static_cast<std::size_t>(std::max<ssize_t>(count, 0))) {
    count = ::read(pipe, bytes.data(), bytes.size());
  }
  ::close(pipe);
  return all;
}

}  // namespace

TEST_CASE("a signal waits until all files are written, whichever thread it reaches") {
  for (const int signal : kEnding) {
    CAPTURE(signal);
    const Folder folder;
    std::ofstream(folder.of("sheet")) << "old";
    REQUIRE(::mkfifo(folder.of("pipe").c_str(), 0600) == 0);
    const pid_t child = writing(folder);
    REQUIRE(child > 0);
    const std::size_t piped = read_pipe(folder.of("pipe"), [&] { ::kill(child, signal); });
    int status = 0;
    REQUIRE(::waitpid(child, &status, 0) == child);
    CHECK(WIFSIGNALED(status));
    CHECK(WTERMSIG(status) == signal);
    CHECK(piped == kMoreThanAPipeHolds.size());
    CHECK(text_of(folder.of("sheet")) == "new");
    CHECK(folder.count() == 2);
  }
}
