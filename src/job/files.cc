#include "job/files.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <cstring>
#include <string_view>

#include "base/diagnostic.h"

namespace pouchwright::job {

namespace fs = std::filesystem;

namespace {

/// An open file that closes itself.
class Descriptor {
 public:
  explicit Descriptor(int fd) : fd_(fd) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (fd_ >= 0) ::close(fd_);
  }
  [[nodiscard]] int get() const { return fd_; }
  /// Closes now; false where the disk only then refuses.
  [[nodiscard]] bool close_now() { return ::close(std::exchange(fd_, -1)) == 0; }

 private:
  int fd_;
};

[[noreturn]] void fail(const std::string& shown, const char* key, int error,
                       const std::string& hint) {
  throw base::Failure(shown, {key, {{"why", std::strerror(error)}}}, {{hint}});
}
[[noreturn]] void fail(const std::string& shown, const char* key, int error) {
  fail(shown, key, error, std::string(key) + "-hint");
}

void write_all(const Descriptor& file, const std::string& bytes, const std::string& shown) {
  std::size_t done = 0;
  while (done < bytes.size()) {
    const ssize_t count = ::write(file.get(), bytes.data() + done, bytes.size() - done);
    if (count < 0 && errno == EINTR) continue;
    if (count <= 0) fail(shown, "file-cannot-write", count < 0 ? errno : ENOSPC);
    done += static_cast<std::size_t>(count);
  }
}

void write_into(Descriptor& file, const std::string& bytes, const std::string& shown) {
  if (file.get() < 0) fail(shown, "file-cannot-write", errno);
  write_all(file, bytes, shown);
  if (!file.close_now()) fail(shown, "file-cannot-write", errno);
}

constexpr std::string_view kBesideStart = ".pouchwright-";
constexpr std::string_view kBesideEnd = ".part";

/// Names of this process's own, so that two runs into one folder do not meet. A number may have
/// been another's before, whose files lie there still: `attempt` finds a free name.
fs::path beside_of(const fs::path& path, std::size_t index, int attempt) {
  const std::string name = std::string(kBesideStart) + std::to_string(::getpid()) + "-" +
                           std::to_string(index) + "-" + std::to_string(attempt) +
                           std::string(kBesideEnd);
  return path.parent_path() / name;
}

/// Files written beside their goal; removes what is left of them.
class Beside {
 public:
  Beside() = default;
  Beside(const Beside&) = delete;
  Beside& operator=(const Beside&) = delete;
  ~Beside() {
    for (const auto& [beside, goal] : moves_) ::unlink(beside.c_str());
  }

  void write(const fs::path& goal, const std::string& bytes, const std::string& shown) {
    constexpr int kMostAttempts = 100;
    for (int attempt = 1;; ++attempt) {
      fs::path beside = beside_of(goal, moves_.size(), attempt);
      Descriptor file(::open(beside.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666));
      if (file.get() < 0 && errno == EEXIST && attempt < kMostAttempts) continue;
      if (file.get() >= 0) moves_.emplace_back(std::move(beside), goal);
      return write_into(file, bytes, shown);
    }
  }

  void rename_all() const {
    for (const auto& [beside, goal] : moves_) {
      if (std::rename(beside.c_str(), goal.c_str()) != 0) {
        fail(goal.string(), "file-cannot-write", errno);
      }
    }
  }

 private:
  std::vector<std::pair<fs::path, fs::path>> moves_;
};

/// The signal that is to end the process once a writing is over; 0 for none.
std::atomic<int> ends_by{0};
static_assert(std::atomic<int>::is_always_lock_free, "a signal's handler may write it");

extern "C" void remember_the_end(int signal) { ends_by = signal; }

/// While one lives, signals that would end the process wait. Only those: one that is ignored or
/// handled says nothing about how the run is to end. They are caught, not blocked: fontconfig and
/// Pango keep threads of their own, and a signal goes to any thread that does not block it. One
/// at a time: where two lived, the first to go would take the other's shelter.
class Undisturbed {
 public:
  Undisturbed() {
    for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
      struct sigaction action {};
      const bool ends = ::sigaction(signal, nullptr, &action) == 0 && action.sa_handler == SIG_DFL;
      if (!ends) continue;
      action.sa_handler = remember_the_end;
      action.sa_flags = SA_RESTART;
      ::sigaction(signal, &action, nullptr);
      caught_.push_back(signal);
    }
  }
  Undisturbed(const Undisturbed&) = delete;
  Undisturbed& operator=(const Undisturbed&) = delete;
  /// Ends the process here if a signal came in between.
  ~Undisturbed() {
    for (const int signal : caught_) ::signal(signal, SIG_DFL);
    if (const int signal = ends_by.exchange(0); signal != 0) ::raise(signal);
  }

  /// Did a signal come that ends the process as soon as this goes?
  [[nodiscard]] static bool is_to_end() { return ends_by != 0; }

 private:
  std::vector<int> caught_;
};

bool is_left_over(const fs::directory_entry& entry) {
  const std::string name = entry.path().filename().string();
  if (!name.starts_with(kBesideStart) || !name.ends_with(kBesideEnd)) return false;
  std::error_code error;
  const auto written = fs::last_write_time(entry.path(), error);
  return !error && fs::file_time_type::clock::now() - written > kLeftOverAfter;
}

/// A file that cannot be removed stays for the next run: what this run writes does not depend on it.
void remove_left_overs(const fs::path& folder) {
  std::error_code error;
  for (fs::directory_iterator entry(folder, error), end; !error && entry != end;
       entry.increment(error)) {
    if (is_left_over(*entry)) ::unlink(entry->path().c_str());
  }
}

/// What is renamed on to: what a link leads to, so that it stays one.
fs::path goal_of(const fs::path& path) {
  std::error_code error;
  const fs::path goal = fs::canonical(path, error);
  return error || !fs::is_symlink(path, error) ? path : goal;
}

void make_folder_of(const fs::path& path) {
  if (path.parent_path().empty()) return;
  std::error_code error;
  fs::create_directories(path.parent_path(), error);
  if (error) fail(path.parent_path().string(), "folder-cannot-make", error.value());
}

/// A device or pipe: nothing that a rename should take away.
bool is_channel(const fs::path& path) {
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  return fs::is_other(status);
}

}  // namespace

std::string read_whole(const fs::path& path, const std::string& shown, std::size_t most,
                       const char* hint) {
  const bool is_input = path == "-";
  const Descriptor file(is_input ? ::dup(STDIN_FILENO)
                                 : ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK));
  if (file.get() < 0) fail(shown, "file-cannot-read", errno, hint);
  struct stat status {};
  if (::fstat(file.get(), &status) != 0) fail(shown, "file-cannot-read", errno, hint);
  if (!is_input && !S_ISREG(status.st_mode)) {
    throw base::Failure(shown, {S_ISDIR(status.st_mode) ? "file-is-a-folder" : "file-not-regular"},
                        {{hint}});
  }
  std::string bytes;
  // One byte more than the file has, so that the first read that is full is not taken for its end.
  std::size_t room = std::min(static_cast<std::size_t>(status.st_size), most) + 1;
  while (bytes.size() <= most) {
    const std::size_t had = bytes.size();
    bytes.resize(had + room);
    const ssize_t count = ::read(file.get(), bytes.data() + had, room);
    bytes.resize(had + (count > 0 ? static_cast<std::size_t>(count) : 0));
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) fail(shown, "file-cannot-read", errno, hint);
    if (count == 0) break;
    room = 4096;
  }
  return bytes;
}

void keep_what_is_there(const fs::path& path) {
  std::error_code ignored;
  if (!fs::is_regular_file(path, ignored)) return;
  throw base::Failure(path.string(), {"new-is-there"}, {{"new-is-there-hint"}});
}

std::optional<std::string> read_if_there(const fs::path& path, const std::string& shown,
                                         std::size_t most) {
  std::error_code ignored;
  if (!fs::exists(path, ignored)) return std::nullopt;
  return read_whole(path, shown, most);
}

void OutputFiles::add(fs::path path, std::string bytes) {
  files_.push_back({std::move(path), [kept = std::move(bytes)] { return kept; }});
}

void OutputFiles::add(fs::path path, std::function<std::string()> bytes) {
  files_.push_back({std::move(path), std::move(bytes)});
}

void OutputFiles::add_all(OutputFiles others) {
  for (Planned& one : others.files_) files_.push_back(std::move(one));
}

std::vector<fs::path> OutputFiles::paths() const {
  std::vector<fs::path> all;
  for (const Planned& file : files_) all.push_back(file.path);
  return all;
}

std::vector<MadeFile> OutputFiles::made(const std::function<bool(const fs::path&)>& wants) const {
  std::vector<MadeFile> all;
  for (const Planned& file : files_) {
    if (!wants || wants(file.path)) all.push_back({file.path, file.bytes()});
  }
  return all;
}

void write_whole(const std::vector<MadeFile>& files) {
  const Undisturbed undisturbed;
  Beside beside;
  fs::path tidied;
  for (const auto& [path, bytes] : files) {
    std::error_code error;
    if (fs::is_directory(path, error)) {
      throw base::Failure(path.string(), {"file-is-a-folder"}, {{"file-cannot-write-hint"}});
    }
    if (is_channel(path)) continue;
    make_folder_of(path);
    const fs::path goal = goal_of(path);
    const fs::path folder = goal.has_parent_path() ? goal.parent_path() : fs::path(".");
    if (folder != tidied) remove_left_overs(tidied = folder);
    beside.write(goal, bytes, path.string());
    if (Undisturbed::is_to_end()) return;  // and the process ends here
  }
  for (const auto& [path, bytes] : files) {
    if (!is_channel(path)) continue;
    Descriptor file(::open(path.c_str(), O_WRONLY | O_CLOEXEC));
    write_into(file, bytes, path.string());
  }
  beside.rename_all();
}

fs::path data_folder() {
  std::vector<fs::path> candidates;
  if (const char* named = std::getenv("POUCHWRIGHT_DATA")) candidates.emplace_back(named);
  std::error_code error;
  const fs::path program = fs::read_symlink("/proc/self/exe", error);
  if (!error) {
    candidates.push_back(program.parent_path().parent_path() / "share" / "pouchwright");
  }
  candidates.emplace_back(POUCHWRIGHT_SOURCE_FOLDER);
  for (const fs::path& candidate : candidates) {
    if (!candidate.empty() && fs::is_directory(candidate / "patterns", error)) return candidate;
  }
  throw base::Failure("", {"data-missing"}, {{"data-missing-hint"}});
}

}  // namespace pouchwright::job
