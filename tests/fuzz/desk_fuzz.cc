/// Bytes that somebody sends to the desk. They go the whole way, over a loopback connection to the
/// server as it is; and, since who leaves early is not answered, what can be read of them as
/// requests is answered once more without the server. A port of 8460 stands for the server's own.
///
/// Sources of the rules: RFC 9112 (an answer's first line), RFC 8259 (reports are JSON), and the
/// desk's own statuses; a job from a browser is never the machine's fault and never ours.

#include <arpa/inet.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <boost/beast/http.hpp>
#include <condition_variable>
#include <mutex>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <thread>

#include "desk/answer.h"
#include "desk/server.h"
#include "desk/site.h"
#include "desk/workers.h"
#include "fuzz/fuzz.h"

namespace {

using namespace pouchwright;
namespace http = boost::beast::http;

constexpr std::string_view kWrittenPort = "8460";
/// How often a run may ask whether it goes on: a count, so that every machine does the same.
constexpr int kMostParts = 40;
/// Requests that come together are read up to this number.
constexpr int kMostRequests = 4;
constexpr std::size_t kMostRead = 1UL << 22U;
constexpr int kAliveEach = 32;

// ---- What is answered ----

void hold_to_rules(const desk::Answer& answer) {
  const auto known = {200, 400, 404, 422, 503};
  fuzz::hold(std::find(known.begin(), known.end(), answer.status) != known.end(),
             "a known status, not " + std::to_string(answer.status) + ": " + answer.body);
  const bool is_markup =
      answer.type.starts_with("text/html") || answer.type.starts_with("image/svg");
  fuzz::hold(!is_markup || answer.body.find("<script") == std::string::npos, "no script in markup");
  for (const std::string& header : {answer.type, answer.save_as, answer.allow}) {
    fuzz::hold(header.find_first_of("\r\n\"") == std::string::npos, "headers are plain");
  }
  if (answer.type != "application/json") return;
  const auto report = nlohmann::json::parse(answer.body, nullptr, false);
  fuzz::hold(!report.is_discarded(), "a report is JSON");
  if (!report.is_object() || !report.contains("errors")) return;  // a file of the job
  fuzz::hold(report["errors"].empty() == (answer.status == 200), "422 where there are errors");
}

void answer_without_server(const std::string& bytes, const job::Data& data) {
  std::string_view rest = bytes;
  for (int i = 0; i < kMostRequests && !rest.empty(); ++i) {
    http::request_parser<http::string_body> parser;
    parser.eager(true);
    parser.header_limit(static_cast<std::uint32_t>(desk::Limits().header));
    parser.body_limit(desk::Limits().body);
    boost::system::error_code error;
    const std::size_t used = parser.put(boost::asio::buffer(rest.data(), rest.size()), error);
    if (error || !parser.is_done()) return;
    rest.remove_prefix(used);
    const auto& sent = parser.get();
    if (sent.method() != http::verb::post) continue;
    int parts = 0;
    hold_to_rules(
        desk::worked({std::string(sent.method_string()), std::string(sent.target()), sent.body()},
                     data, [&] { return ++parts <= kMostParts; }));
  }
}

// ---- The server ----

/// A desk that serves until the process ends.
class Server {
 public:
  explicit Server(const job::Data& data)
      : data_(data), site_(data), workers_(1, data, 64), thread_([this] { serve(); }) {
    std::unique_lock lock(mutex_);
    is_open_.wait(lock, [this] { return port_ != 0; });
  }

  [[nodiscard]] std::string port() const { return std::to_string(port_); }

  /// All that is answered to `bytes` until the desk closes; nothing where it does not.
  [[nodiscard]] std::optional<std::string> ask(const std::string& bytes) const {
    const int socket = connected();
    // A desk that closes early is no signal here.
    (void)::send(socket, bytes.data(), bytes.size(), MSG_NOSIGNAL);
    ::shutdown(socket, SHUT_WR);
    std::string got;
    std::string part(65536, '\0');
    ssize_t count = 0;
    while ((count = ::recv(socket, part.data(), part.size(), 0)) > 0 && got.size() < kMostRead) {
      got.append(part, 0, static_cast<std::size_t>(count));
    }
    const bool is_late = count < 0 && (errno == EAGAIN || errno == EWOULDBLOCK);
    ::close(socket);
    if (is_late) return std::nullopt;
    return got;
  }

 private:
  void serve() {
    desk::listen(0, 0, {site_, workers_, data_.words(), {}}, [this](int port) {
      const std::lock_guard lock(mutex_);
      port_ = port;
      is_open_.notify_all();
    });
  }

  [[nodiscard]] int connected() const {
    const int socket = ::socket(AF_INET, SOCK_STREAM, 0);
    const timeval patience{15, 0};
    ::setsockopt(socket, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
    sockaddr_in place{};
    place.sin_family = AF_INET;
    place.sin_port = htons(static_cast<std::uint16_t>(port_));
    place.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    // The kernel's interface takes every kind of address by this type.
    const bool is_there =
        ::connect(socket, reinterpret_cast<const sockaddr*>(&place), sizeof place) == 0;
    fuzz::hold(is_there, "the desk takes a connection");
    return socket;
  }

  const job::Data& data_;
  desk::Site site_;
  desk::Workers workers_;
  std::mutex mutex_;
  std::condition_variable is_open_;
  int port_ = 0;
  std::thread thread_;
};

std::string with_own_port(std::string bytes, const std::string& port) {
  for (std::size_t at = bytes.find(kWrittenPort); at != std::string::npos;
       at = bytes.find(kWrittenPort, at + port.size())) {
    bytes.replace(at, kWrittenPort.size(), port);
  }
  return bytes;
}

void hold_to_http(const Server& server, const std::string& bytes) {
  const auto got = server.ask(bytes);
  fuzz::hold(got.has_value(), "the desk answers or closes");
  if (got->empty()) return;
  fuzz::hold(got->starts_with("HTTP/1.1 "), "an answer begins with its version");
  const std::string_view head = std::string_view(*got).substr(0, got->find("\r\n\r\n"));
  if (head.starts_with("HTTP/1.1 100")) return;
  fuzz::hold(!head.starts_with("HTTP/1.1 500"), "nothing is ours or the machine's fault");
  fuzz::hold(head.find("Content-Security-Policy: default-src 'none'") != std::string_view::npos,
             "every answer carries the policy");
}

void hold_alive(const Server& server) {
  const std::string ask = "GET /icon.svg HTTP/1.1\r\nHost: 127.0.0.1:" + server.port() +
                          "\r\nConnection: close\r\n\r\n";
  const auto got = server.ask(ask);
  fuzz::hold(got && got->starts_with("HTTP/1.1 200"), "the desk goes on serving");
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  static const job::Data kData{std::filesystem::path(POUCHWRIGHT_SOURCE)};
  // Left to the process's end: its threads go on until then.
  static const Server& server = *new Server(kData);
  static int runs = 0;
  const std::string sent = fuzz::text_of(bytes, size);
  answer_without_server(sent, kData);
  hold_to_http(server, with_own_port(sent, server.port()));
  if (++runs % kAliveEach == 0) hold_alive(server);
  return 0;
}
