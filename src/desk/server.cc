#include "desk/server.h"

#include <sys/socket.h>

#include <atomic>
#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/post.hpp>
#include <boost/asio/signal_set.hpp>
#include <boost/asio/write.hpp>
#include <boost/beast/core.hpp>
#include <boost/beast/http.hpp>
#include <cerrno>
#include <csignal>
#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>

#include "base/diagnostic.h"

namespace pouchwright::desk {

namespace {

namespace asio = boost::asio;
namespace beast = boost::beast;
namespace http = beast::http;
using asio::ip::tcp;
using boost::system::error_code;

/// How much of a refused request is still read, so that the sender sees the answer.
constexpr std::size_t kMostDrained = 1024UL * 1024;
constexpr std::chrono::seconds kDraining{2};
constexpr std::size_t kReadAtOnce = 4096;

/// Nothing from elsewhere, no script and no style but ours, no frame round the page; in a frame of
/// the page only what it made itself: a PDF that is to be printed.
constexpr const char* kContentPolicy =
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; "
    "frame-src blob:; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors "
    "'none'";

class Connection;

/// What all connections share. Lives on the one thread that serves, as connections do: a thread
/// that works knows a connection by its number only.
struct Desk {
  const Serving& serving;
  int port = 0;
  std::size_t connections = 0;
  std::uint64_t last_number = 0;
  std::map<std::uint64_t, std::shared_ptr<Connection>> at_work;  ///< what waits for an answer

  [[nodiscard]] Answer refusal(int status, const char* key) const {
    return desk::refusal(status, key, serving.words);
  }
};

// ---- Who may ask ----

/// `127.0.0.1:PORT` or `localhost:PORT`: another name that leads here is a foreign page's doing.
bool is_own_host(std::string_view host, int port) {
  const std::string ending = ":" + std::to_string(port);
  return host == "127.0.0.1" + ending || host == "localhost" + ending ||
         (port == 80 && (host == "127.0.0.1" || host == "localhost"));
}

bool is_own_origin(std::string_view origin, int port) {
  constexpr std::string_view kScheme = "http://";
  return origin.starts_with(kScheme) && is_own_host(origin.substr(kScheme.size()), port);
}

std::string_view text_of(beast::string_view text) { return {text.data(), text.size()}; }

using Header = http::request_header<http::fields>;

bool is_from_own_page(const Header& header, int port) {
  if (header.count(http::field::origin) > 1) return false;
  const auto origin = header.find(http::field::origin);
  if (origin != header.end() && !is_own_origin(text_of(origin->value()), port)) return false;
  // A link to the page may come from anywhere; what makes the desk work may not.
  const auto site = header.find("Sec-Fetch-Site");
  return site == header.end() || header.method() == http::verb::get ||
         site->value() == "same-origin" || site->value() == "none";
}

std::optional<Answer> refused(const Header& header, const Desk& desk) {
  if (header.count(http::field::host) != 1) return desk.refusal(400, "desk-bad-request");
  if (!is_own_host(text_of(header[http::field::host]), desk.port)) {
    return desk.refusal(421, "desk-foreign-host");
  }
  if (!is_from_own_page(header, desk.port)) return desk.refusal(403, "desk-foreign-origin");
  return std::nullopt;
}

/// RFC 9110, 12.5.3, as far as browsers use it: `gzip` stands there, and not as the refused `gzip;q=0`.
bool takes_gzip(const Header& header) {
  const std::string_view accepted = text_of(header[http::field::accept_encoding]);
  const std::size_t at = accepted.find("gzip");
  return at != std::string_view::npos && !accepted.substr(at).starts_with("gzip;q=0");
}

/// What is answered to bytes that are no request.
Answer unreadable(const error_code& error, const Desk& desk) {
  if (error == http::error::body_limit) return desk.refusal(413, "desk-body-limit");
  if (error == http::error::header_limit || error == http::error::buffer_overflow) {
    return desk.refusal(431, "desk-header-limit");
  }
  return desk.refusal(400, "desk-bad-request");
}

// ---- One connection ----

enum class After { go_on, close };

/// Reads a request, has it answered, writes the answer, and goes on with the next: requests that
/// come on one connection without waiting are answered one after the other, in order.
class Connection : public std::enable_shared_from_this<Connection> {
 public:
  Connection(tcp::socket socket, Desk& desk) : stream_(std::move(socket)), desk_(desk) {
    ++desk_.connections;
  }
  Connection(const Connection&) = delete;
  Connection& operator=(const Connection&) = delete;
  ~Connection() { --desk_.connections; }

  void start() { wait_for_request(limits().sending); }

  void refuse(const Answer& answer) { write(answer, After::close); }

  /// What was asked for is worked out.
  void finish_work(const Answer& answer) {
    error_code ignored;
    stream_.socket().cancel(ignored);
    write(answer, after_work_);
  }

 private:
  using Response = http::response<http::string_body>;

  [[nodiscard]] const Limits& limits() const { return desk_.serving.limits; }

  void wait_for_request(std::chrono::seconds at_most) {
    // A request that came together with the last one is at hand.
    if (buffer_.size() > 0) return read_header();
    stream_.expires_after(at_most);
    stream_.async_read_some(buffer_.prepare(kReadAtOnce),
                            [self = shared_from_this()](error_code error, std::size_t count) {
                              if (error) return;
                              self->buffer_.commit(count);
                              self->read_header();
                            });
  }

  void read_header() {
    parser_.emplace();
    parser_->header_limit(static_cast<std::uint32_t>(limits().header));
    parser_->body_limit(limits().body);
    stream_.expires_after(limits().sending);
    http::async_read_header(stream_, buffer_, *parser_,
                            [self = shared_from_this()](error_code error, std::size_t) {
                              if (error) return self->stop_reading(error);
                              self->read_body();
                            });
  }

  void read_body() {
    if (const auto refusal = refused(parser_->get(), desk_)) return write(*refusal, After::close);
    if (beast::iequals(parser_->get()[http::field::expect], "100-continue")) return go_ahead();
    http::async_read(stream_, buffer_, *parser_,
                     [self = shared_from_this()](error_code error, std::size_t) {
                       if (error) return self->stop_reading(error);
                       self->answer();
                     });
  }

  /// The sender waits for a word before it sends the body.
  void go_ahead() {
    static constexpr std::string_view kGoAhead = "HTTP/1.1 100 Continue\r\n\r\n";
    parser_->get().erase(http::field::expect);
    asio::async_write(stream_, asio::buffer(kGoAhead.data(), kGoAhead.size()),
                      [self = shared_from_this()](error_code error, std::size_t) {
                        if (!error) self->read_body();
                      });
  }

  void stop_reading(const error_code& error) {
    if (error == beast::error::timeout || error == http::error::end_of_stream ||
        error == asio::error::operation_aborted || error == asio::error::connection_reset) {
      return;
    }
    write(unreadable(error, desk_), After::close);
  }

  // ---- Answering ----

  void answer() {
    const auto& sent = parser_->get();
    const After after = sent.keep_alive() ? After::go_on : After::close;
    const bool is_read = sent.method() == http::verb::get || sent.method() == http::verb::head;
    if (!is_read && sent.method() != http::verb::post) {
      return write_not_allowed("GET, HEAD, POST", after);
    }
    const std::string_view target = text_of(sent.target());
    const Answer* known = known_answer(sent, target);
    if (known != nullptr) {
      return is_read ? write(*known, after) : write_not_allowed("GET, HEAD", after);
    }
    if (!is_read) return work(after);
    const bool is_work = target.starts_with("/api/") || target == "/print";
    if (is_work) return write_not_allowed("POST", after);
    write(desk_.refusal(404, "desk-not-found"), after);
  }

  /// The page is in the language that its address names, else in the browser's.
  template <class Sent>
  const Answer* known_answer(const Sent& sent, std::string_view target) const {
    constexpr std::string_view kPageIn = "/?language=";
    const Site& site = desk_.serving.site;
    const std::string_view path = target.substr(0, target.find('?'));
    if (path != "/") return site.find(path, takes_gzip(sent));
    const std::string_view wanted = target.starts_with(kPageIn)
                                        ? target.substr(kPageIn.size())
                                        : text_of(sent[http::field::accept_language]);
    return &site.page_for(wanted.substr(0, wanted.find('&')), takes_gzip(sent));
  }

  void write_not_allowed(const char* methods, After after) {
    Answer answer = desk_.refusal(405, "desk-method");
    answer.allow = methods;
    write(answer, after);
  }

  void work(After after) {
    auto& sent = parser_->get();
    auto request = std::make_shared<Request>(Request{std::string(text_of(sent.method_string())),
                                                     std::string(text_of(sent.target())),
                                                     std::move(sent.body()), takes_gzip(sent)});
    const auto dropped = std::make_shared<std::atomic<bool>>(false);
    const std::uint64_t number = ++desk_.last_number;
    const bool taken = desk_.serving.workers.take(
        {[&desk = desk_, context = stream_.get_executor(), number, request,
          dropped](const job::Data& data) {
           const auto until = std::chrono::steady_clock::now() + desk.serving.limits.working;
           const auto goes_on = [&] {
             return !dropped->load() && std::chrono::steady_clock::now() < until;
           };
           auto answer = std::make_shared<Answer>(worked(*request, data, goes_on));
           asio::post(context, [&desk, number, answer] { hand_over(desk, number, *answer); });
         },
         dropped});
    if (!taken) return write(desk_.refusal(503, "desk-busy"), after);
    after_work_ = after;
    desk_.at_work.emplace(number, shared_from_this());
    stream_.expires_never();
    watch_for_leaving(number, dropped);
  }

  /// The answer to the connection of that number, if it is still there.
  static void hand_over(Desk& desk, std::uint64_t number, const Answer& answer) {
    const auto found = desk.at_work.find(number);
    if (found == desk.at_work.end()) return;
    const auto connection = found->second;
    desk.at_work.erase(found);
    connection->finish_work(answer);
  }

  /// A browser that is overtaken by the next edit closes the connection: what waits is dropped.
  void watch_for_leaving(std::uint64_t number, const std::shared_ptr<std::atomic<bool>>& dropped) {
    stream_.socket().async_wait(tcp::socket::wait_read,
                                [self = shared_from_this(), number, dropped](error_code error) {
                                  if (error || !self->has_left()) return;
                                  *dropped = true;
                                  self->desk_.at_work.erase(number);
                                });
  }

  /// Has the other end closed, or at least said that it sends no more (which looks the same)? What
  /// it has sent stays to be read.
  [[nodiscard]] bool has_left() {
    char next = 0;
    const int socket = stream_.socket().native_handle();
    const auto count = ::recv(socket, &next, 1, MSG_PEEK | MSG_DONTWAIT);
    return count == 0 || (count < 0 && errno != EAGAIN && errno != EINTR);
  }

  // ---- Writing ----

  void write(const Answer& answer, After after) {
    const bool is_head = parser_ && parser_->get().method() == http::verb::head;
    response_.emplace();
    response_->result(static_cast<unsigned>(answer.status));
    response_->keep_alive(after == After::go_on);
    set_headers(answer);
    response_->content_length(answer.body.size());
    if (!is_head) response_->body() = answer.body;
    serializer_.emplace(*response_);
    stream_.expires_after(limits().taking);
    if (is_head) {
      http::async_write_header(stream_, *serializer_, written(after));
    } else {
      http::async_write(stream_, *serializer_, written(after));
    }
  }

  void set_headers(const Answer& answer) {
    Response& response = *response_;
    response.set(http::field::content_type, answer.type);
    response.set(http::field::cache_control, "no-store");
    response.set("Content-Security-Policy", kContentPolicy);
    response.set("X-Content-Type-Options", "nosniff");
    // Not "no-referrer": that would take the origin off the page's own form, too.
    response.set("Referrer-Policy", "same-origin");
    response.set("Cross-Origin-Opener-Policy", "same-origin");
    response.set("Cross-Origin-Resource-Policy", "same-origin");
    response.set(http::field::vary, "Accept-Encoding, Accept-Language");
    if (!answer.encoding.empty()) response.set(http::field::content_encoding, answer.encoding);
    if (!answer.allow.empty()) response.set(http::field::allow, answer.allow);
    if (!answer.save_as.empty()) {
      response.set(http::field::content_disposition,
                   "attachment; filename=\"" + answer.save_as + "\"");
    }
  }

  std::function<void(error_code, std::size_t)> written(After after) {
    return [self = shared_from_this(), after](error_code error, std::size_t) {
      if (error) return;
      if (after == After::close) return self->close();
      self->parser_.reset();
      self->wait_for_request(self->limits().idle);
    };
  }

  // ---- Closing ----

  /// Closing over bytes that were not read would make the machine take the answer back.
  void close() {
    error_code ignored;
    stream_.socket().shutdown(tcp::socket::shutdown_send, ignored);
    stream_.expires_after(kDraining);
    drain();
  }

  void drain() {
    buffer_.clear();
    stream_.async_read_some(buffer_.prepare(kReadAtOnce),
                            [self = shared_from_this()](error_code error, std::size_t count) {
                              self->drained_ += count;
                              if (error || self->drained_ > kMostDrained) return;
                              self->drain();
                            });
  }

  beast::tcp_stream stream_;
  Desk& desk_;
  beast::flat_buffer buffer_;
  std::optional<http::request_parser<http::string_body>> parser_;
  std::optional<Response> response_;
  std::optional<http::response_serializer<http::string_body>> serializer_;
  std::size_t drained_ = 0;
  After after_work_ = After::close;
};

// ---- Listening ----

class Listener {
 public:
  Listener(asio::io_context& context, tcp::acceptor acceptor, Desk& desk)
      : context_(context), acceptor_(std::move(acceptor)), desk_(desk) {}

  void accept() {
    acceptor_.async_accept(context_, [this](error_code error, tcp::socket socket) {
      if (error == asio::error::operation_aborted) return;
      if (!error) take(std::move(socket));
      accept();
    });
  }

 private:
  void take(tcp::socket socket) {
    // So many at once that even a refusal would cost too much.
    if (desk_.connections >= 2 * desk_.serving.limits.connections) return;
    const bool is_full = desk_.connections >= desk_.serving.limits.connections;
    const auto connection = std::make_shared<Connection>(std::move(socket), desk_);
    if (is_full) {
      connection->refuse(desk_.refusal(503, "desk-busy"));
    } else {
      connection->start();
    }
  }

  asio::io_context& context_;
  tcp::acceptor acceptor_;
  Desk& desk_;
};

/// What is under way hands its answer to the context, so it ends before the context does.
class Ending {
 public:
  Ending(Workers& workers, Desk& desk) : workers_(workers), desk_(desk) {}
  Ending(const Ending&) = delete;
  Ending& operator=(const Ending&) = delete;
  ~Ending() {
    workers_.stop();
    desk_.at_work.clear();
  }

 private:
  Workers& workers_;
  Desk& desk_;
};

/// An acceptor at the first free port, or the machine's last reason.
tcp::acceptor open_acceptor(asio::io_context& context, int first, int last) {
  error_code error;
  for (int port = first; port <= last; ++port) {
    tcp::acceptor acceptor(context);
    const tcp::endpoint place(asio::ip::address_v4::loopback(), static_cast<std::uint16_t>(port));
    acceptor.open(place.protocol());
    acceptor.set_option(tcp::acceptor::reuse_address(true));
    acceptor.bind(place, error);
    if (!error) acceptor.listen(asio::socket_base::max_listen_connections, error);
    if (!error) return acceptor;
  }
  throw base::Failure("", {"desk-port", {{"port", last}, {"why", error.message()}}},
                      {{"desk-port-hint"}});
}

}  // namespace

void listen(int first, int last, const Serving& serving, const std::function<void(int)>& open) {
  // Goes after the context, whose last connections count themselves out.
  Desk desk{.serving = serving};
  asio::io_context context(1);
  const Ending ending(serving.workers, desk);
  tcp::acceptor acceptor = open_acceptor(context, first, last);
  desk.port = acceptor.local_endpoint().port();
  asio::signal_set interrupts(context, SIGINT, SIGTERM);
  interrupts.async_wait([&](error_code, int) { context.stop(); });
  Listener listener(context, std::move(acceptor), desk);
  listener.accept();
  open(desk.port);
  context.run();
}

}  // namespace pouchwright::desk
