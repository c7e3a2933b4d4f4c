#include "job/files.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstdlib>
#include <cstring>

#include "diag/diagnostic.h"

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

[[noreturn]] void fail(const std::string& shown, const char* key, int error) {
  throw diag::Failure(shown, {key, {{"why", std::strerror(error)}}},
                      {{std::string(key) + "-hint"}});
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

void write_beside(const fs::path& beside, const std::string& bytes, const std::string& shown) {
  Descriptor file(::open(beside.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666));
  if (file.get() < 0) fail(shown, "file-cannot-write", errno);
  write_all(file, bytes, shown);
  if (!file.close_now()) fail(shown, "file-cannot-write", errno);
}

/// A name of this process's own, so that two runs into one folder do not meet.
fs::path beside_of(const fs::path& path, std::size_t index) {
  const std::string name =
      ".pouchwright-" + std::to_string(::getpid()) + "-" + std::to_string(index) + ".part";
  return path.parent_path() / name;
}

/// Files written beside their goal; removes what is left of them.
class Beside {
 public:
  Beside() = default;
  Beside(const Beside&) = delete;
  Beside& operator=(const Beside&) = delete;
  ~Beside() {
    for (const fs::path& path : paths_) ::unlink(path.c_str());
  }
  void add(fs::path path) { paths_.push_back(std::move(path)); }

 private:
  std::vector<fs::path> paths_;
};

}  // namespace

std::string read_whole(const fs::path& path, const std::string& shown, std::size_t most) {
  const bool is_input = path == "-";
  const Descriptor file(is_input ? ::dup(STDIN_FILENO)
                                 : ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK));
  if (file.get() < 0) fail(shown, "file-cannot-read", errno);
  struct stat status {};
  if (::fstat(file.get(), &status) != 0) fail(shown, "file-cannot-read", errno);
  if (!is_input && !S_ISREG(status.st_mode)) {
    throw diag::Failure(shown, {S_ISDIR(status.st_mode) ? "file-is-a-folder" : "file-not-regular"},
                        {{"file-cannot-read-hint"}});
  }
  std::string bytes;
  std::array<char, 65536> buffer{};
  while (bytes.size() <= most) {
    const ssize_t count = ::read(file.get(), buffer.data(), buffer.size());
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) fail(shown, "file-cannot-read", errno);
    if (count == 0) break;
    bytes.append(buffer.data(), static_cast<std::size_t>(count));
  }
  return bytes;
}

std::optional<std::string> read_if_there(const fs::path& path, const std::string& shown,
                                         std::size_t most) {
  std::error_code ignored;
  if (!fs::exists(path, ignored)) return std::nullopt;
  return read_whole(path, shown, most);
}

void OutputFiles::add(fs::path path, std::string bytes) {
  files_.push_back({std::move(path), std::move(bytes)});
}

void OutputFiles::write() const {
  Beside beside;
  for (std::size_t i = 0; i < files_.size(); ++i) {
    const fs::path& path = files_[i].path;
    std::error_code error;
    if (!path.parent_path().empty()) fs::create_directories(path.parent_path(), error);
    if (error) fail(path.parent_path().string(), "folder-cannot-make", error.value());
    if (fs::is_directory(path, error)) {
      throw diag::Failure(path.string(), {"file-is-a-folder"}, {{"file-cannot-write-hint"}});
    }
    beside.add(beside_of(path, i));
    write_beside(beside_of(path, i), files_[i].bytes, path.string());
  }
  for (std::size_t i = 0; i < files_.size(); ++i) {
    const fs::path& path = files_[i].path;
    if (std::rename(beside_of(path, i).c_str(), path.c_str()) != 0) {
      fail(path.string(), "file-cannot-write", errno);
    }
  }
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
  throw diag::Failure("", {"data-missing"}, {{"data-missing-hint"}});
}

}  // namespace pouchwright::job
