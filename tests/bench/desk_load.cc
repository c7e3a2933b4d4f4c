/// The desk under load: so many connections at once ask for what the page shows after an edit, as
/// pages do while people type, and in between come requests that are none. Prints edits a second,
/// how long they took, and the desk's memory; leaves with 1 where an answer was lost, wrong or
/// refused, or memory grew.
///
///     desk_load build/src/pouchwright 10 1 8 31
///
/// ten seconds each with 1, 8 and 31 connections; without a number, with 31. A connection has a
/// thread each; one more sends malformed requests.

#include <arpa/inet.h>
#include <netinet/in.h>
#include <spawn.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <charconv>
#include <chrono>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <optional>
#include <string>
#include <string_view>
#include <thread>
#include <vector>

namespace {

using Clock = std::chrono::steady_clock;

constexpr int kMostConnections = 31;  // the desk serves 32; one is for what is malformed
constexpr double kMostSeconds = 60;

// ---- The desk as a process ----

struct Desk {
  pid_t process = 0;
  int port = 0;
};

/// Starts `program desk --port 0` and reads its address.
std::optional<Desk> started(const char* program) {
  std::array<int, 2> ends{};
  if (::pipe(ends.data()) != 0) return std::nullopt;
  posix_spawn_file_actions_t files;
  posix_spawn_file_actions_init(&files);
  posix_spawn_file_actions_adddup2(&files, ends[1], STDOUT_FILENO);
  posix_spawn_file_actions_addclose(&files, ends[0]);
  std::array<std::string, 4> words = {program, "desk", "--port", "0"};
  std::array<char*, 5> arguments = {words[0].data(), words[1].data(), words[2].data(),
                                    words[3].data(), nullptr};
  Desk desk;
  const int refused =
      ::posix_spawn(&desk.process, program, &files, nullptr, arguments.data(), environ);
  posix_spawn_file_actions_destroy(&files);
  ::close(ends[1]);
  if (refused != 0) return std::nullopt;
  std::array<char, 100> line{};
  const ssize_t count = ::read(ends[0], line.data(), line.size());
  const std::string_view text(line.data(), count > 0 ? static_cast<std::size_t>(count) : 0);
  const std::size_t colon = text.rfind(':');
  if (colon == std::string_view::npos) return std::nullopt;
  std::from_chars(text.data() + colon + 1, text.data() + text.size(), desk.port);
  return desk;
}

/// Resident memory in MiB.
double memory_of(pid_t process) {
  std::ifstream status("/proc/" + std::to_string(process) + "/status");
  std::string word;
  while (status >> word) {
    if (word != "VmRSS:") continue;
    double kib = 0;
    status >> kib;
    return kib / 1024;
  }
  return 0;
}

// ---- One connection ----

class Connection {
 public:
  explicit Connection(int port) : socket_(::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
    sockaddr_in place{};
    place.sin_family = AF_INET;
    place.sin_port = htons(static_cast<std::uint16_t>(port));
    place.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    open_ = ::connect(socket_, reinterpret_cast<const sockaddr*>(&place), sizeof place) == 0;
  }
  Connection(const Connection&) = delete;
  Connection& operator=(const Connection&) = delete;
  ~Connection() { ::close(socket_); }

  [[nodiscard]] bool send(std::string_view data) const {
    while (open_ && !data.empty()) {
      const ssize_t count = ::send(socket_, data.data(), data.size(), MSG_NOSIGNAL);
      if (count <= 0) return false;
      data.remove_prefix(static_cast<std::size_t>(count));
    }
    return open_;
  }

  /// Status and size of the next answer, or nothing where the other end has closed.
  [[nodiscard]] std::optional<std::pair<int, std::size_t>> answer() {
    std::size_t head = 0;
    while ((head = waiting_.find("\r\n\r\n")) == std::string::npos) {
      if (!more()) return std::nullopt;
    }
    constexpr std::string_view kLength = "Content-Length: ";
    std::size_t body = 0;
    const std::size_t length = waiting_.find(kLength);
    if (length < head) {
      std::from_chars(waiting_.data() + length + kLength.size(), waiting_.data() + head, body);
    }
    while (waiting_.size() < head + 4 + body) {
      if (!more()) return std::nullopt;
    }
    const int status = std::atoi(waiting_.c_str() + std::string_view("HTTP/1.1 ").size());
    waiting_.erase(0, head + 4 + body);
    return std::pair{status, body};
  }

 private:
  bool more() {
    std::array<char, 65536> buffer{};
    const ssize_t count = ::recv(socket_, buffer.data(), buffer.size(), 0);
    if (count > 0) waiting_.append(buffer.data(), static_cast<std::size_t>(count));
    return count > 0;
  }

  int socket_;
  bool open_ = false;
  std::string waiting_;
};

std::string edit(int port, int width) {
  const std::string job = "construction = \"foldover\"\n[pouch]\nwidth = \"" +
                          std::to_string(width) + " mm\"\n[batch]\npouches = 40\n";
  return "POST /api/edit HTTP/1.1\r\nHost: 127.0.0.1:" + std::to_string(port) +
         "\r\nContent-Length: " + std::to_string(job.size()) + "\r\n\r\n" + job;
}

// ---- The load ----

struct Measured {
  std::vector<double> milliseconds;
  int wrong = 0;
};

/// Asks again as soon as it is answered, with another width each time, until `until`.
void ask(int port, int which, Clock::time_point until, Measured& measured) {
  Connection connection(port);
  for (int turn = which; Clock::now() < until; ++turn) {
    const auto begun = Clock::now();
    const bool sent = connection.send(edit(port, 150 + turn % 100));
    const auto answer = sent ? connection.answer() : std::nullopt;
    const std::chrono::duration<double, std::milli> taken = Clock::now() - begun;
    measured.milliseconds.push_back(taken.count());
    if (!answer || answer->first != 200 || answer->second == 0) ++measured.wrong;
    if (!answer) return;
  }
}

/// Requests that are none, one after the other: each must be refused or closed, never served.
void disturb(int port, Clock::time_point until, Measured& measured) {
  const std::string host = "Host: 127.0.0.1:" + std::to_string(port) + "\r\n";
  const std::array<std::string, 5> malformed = {
      "GET\r\n\r\n", std::string(200, '\0'),
      "POST /api/size HTTP/1.1\r\nHost: elsewhere.example\r\n\r\n",
      "POST /api/size HTTP/1.1\r\n" + host + "Content-Length: 99999999\r\n\r\n",
      "POST /api/size HTTP/1.1\r\n" + host + "Transfer-Encoding: chunked\r\n\r\nzz\r\n"};
  for (std::size_t turn = 0; Clock::now() < until; ++turn) {
    Connection connection(port);
    const bool sent = connection.send(malformed[turn % malformed.size()]);
    const auto answer = sent ? connection.answer() : std::nullopt;
    if (!answer || answer->first < 400) ++measured.wrong;
    measured.milliseconds.push_back(0);
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
  }
}

double at(const std::vector<double>& sorted, double share) {
  if (sorted.empty()) return 0;
  const auto index = static_cast<std::size_t>(share * static_cast<double>(sorted.size() - 1));
  return sorted[index];
}

struct Load {
  Measured edits;
  Measured malformed;
};

Load loaded(int port, int connections, double seconds) {
  const auto until = Clock::now() + std::chrono::duration_cast<Clock::duration>(
                                        std::chrono::duration<double>(seconds));
  std::vector<Measured> each(static_cast<std::size_t>(connections));
  Load all;
  std::vector<std::thread> threads;
  int which = 0;
  for (Measured& one : each) {
    threads.emplace_back([&one, port, which, until] { ask(port, which, until, one); });
    ++which;
  }
  threads.emplace_back([&] { disturb(port, until, all.malformed); });
  for (std::thread& thread : threads) thread.join();
  for (const Measured& one : each) {
    all.edits.wrong += one.wrong;
    all.edits.milliseconds.insert(all.edits.milliseconds.end(), one.milliseconds.begin(),
                                  one.milliseconds.end());
  }
  std::sort(all.edits.milliseconds.begin(), all.edits.milliseconds.end());
  return all;
}

/// As a row of a table. Is nothing lost?
bool told(const Load& load, int connections, double seconds) {
  const auto& times = load.edits.milliseconds;
  std::printf("| %d | %.0f | %.1f | %.1f | %.1f | %d |\n", connections,
              static_cast<double>(times.size()) / seconds, at(times, 0.5), at(times, 0.99),
              at(times, 1), load.edits.wrong + load.malformed.wrong);
  return load.edits.wrong == 0 && load.malformed.wrong == 0 && !times.empty() &&
         !load.malformed.milliseconds.empty();
}

bool measured(const Desk& desk, double seconds, const std::vector<int>& connections) {
  (void)loaded(desk.port, kMostConnections, 1);
  const double before = memory_of(desk.process);
  std::printf(
      "| connections | edits a second | half within, ms | 99 of 100 | all | lost or wrong |\n"
      "| ---: | ---: | ---: | ---: | ---: | ---: |\n");
  bool is_fine = true;
  for (const int count : connections) {
    is_fine = told(loaded(desk.port, count, seconds), count, seconds) && is_fine;
  }
  const double after = memory_of(desk.process);
  std::printf("\nmemory: %.1f MiB after warming up, %.1f MiB after the load\n", before, after);
  // What the allocator keeps for each thread settles soon; a leak of a kilobyte an edit would not.
  return is_fine && after < before + 24;
}

}  // namespace

int main(int argc, char** argv) {
  const double seconds = argc > 2 ? std::clamp(std::atof(argv[2]), 0.5, kMostSeconds) : 10;
  std::vector<int> connections;
  for (int i = 3; i < argc; ++i) {
    connections.push_back(std::clamp(std::atoi(argv[i]), 1, kMostConnections));
  }
  if (connections.empty()) connections = {kMostConnections};
  const auto desk = argc > 1 ? started(argv[1]) : std::nullopt;
  if (!desk) {
    std::fputs("usage: desk_load PROGRAM [SECONDS [CONNECTIONS ...]]\n", stderr);
    return 2;
  }
  const bool is_fine = measured(*desk, seconds, connections);
  ::kill(desk->process, SIGTERM);
  int status = 0;
  ::waitpid(desk->process, &status, 0);
  return is_fine && status == 0 ? 0 : 1;
}
