#include "page/server.hpp"

#include <fmt/format.h>
#include <httplib.h>
#include <sys/random.h>

#include <array>
#include <atomic>
#include <charconv>
#include <chrono>
#include <cstdint>
#include <stdexcept>
#include <thread>

#include "mendworth/diagnostic.hpp"
#include "mendworth/read_case.hpp"
#include "page/requests.hpp"

// The only place of sockets and of the HTTP library. A connection serves one request, so that what is refused with its
// body unread ends with it.
namespace mendworth::page {

namespace {

constexpr std::size_t threads = 8;
constexpr std::size_t largest_body = largest_case_file + 4096;
constexpr std::size_t most_headers = 100;
constexpr std::size_t longest_path = 200;
constexpr int seconds_to_read = 5, seconds_to_write = 5, seconds_to_begin = 2;
constexpr const char* body_type = "application/x-fields";
constexpr auto look_every = std::chrono::milliseconds(100);

std::string random_secret() {
  std::array<std::uint8_t, 16> bytes{};
  if (::getrandom(bytes.data(), bytes.size(), 0) != static_cast<ssize_t>(bytes.size()))
    throw std::runtime_error("the system gives no random numbers");
  std::string text;
  for (const std::uint8_t byte : bytes) text += fmt::format("{:02x}", byte);
  return text;
}

double seconds_now() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

/// 0 if the size of what follows will do, else the status to refuse it with.
int body_trouble(const httplib::Request& request) {
  constexpr int length_required = 411, too_large = 413, unsupported = 415;
  if (request.has_header("Transfer-Encoding")) return length_required;
  const std::string length = request.get_header_value("Content-Length");
  std::size_t size = 0;
  if (!length.empty()) {
    const auto [end, error] = std::from_chars(length.data(), length.data() + length.size(), size);
    if (error != std::errc{} || end != length.data() + length.size() || size > largest_body) return too_large;
  }
  if (request.method == "POST") {
    if (length.empty()) return length_required;
    if (request.get_header_value("Content-Type") != body_type) return unsupported;
  } else if (size > 0) {
    return too_large;
  }
  return 0;
}

class PageServer {
 public:
  PageServer(Session& session, const ServeOptions& options) : session_(session), options_(options) {
    server_.set_address_family(AF_INET);
    // The library would let another program of the user listen at the same port.
    server_.set_socket_options([](socket_t socket) {
      const int yes = 1;
      ::setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
    });
    server_.new_task_queue = [] { return new httplib::ThreadPool(threads); };
    server_.set_keep_alive_max_count(1);
    server_.set_keep_alive_timeout(seconds_to_begin);
    server_.set_read_timeout(seconds_to_read);
    server_.set_write_timeout(seconds_to_write);
    server_.set_payload_max_length(largest_body);
    server_.set_default_headers({
        {"Content-Security-Policy",
         "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
         "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"},
        {"X-Content-Type-Options", "nosniff"},
        {"Referrer-Policy", "same-origin"},
        {"Cross-Origin-Resource-Policy", "same-origin"},
        {"Cross-Origin-Opener-Policy", "same-origin"},
        {"Cache-Control", "no-store"},
    });
    server_.set_pre_routing_handler([this](const httplib::Request& request, httplib::Response& response) {
      return check(request, response);
    });
    const auto meet = [this](const httplib::Request& request, httplib::Response& response) {
      this->meet(request, response);
    };
    server_.Get(".*", meet);
    server_.Post(".*", meet);
    server_.set_exception_handler(
        [](const httplib::Request&, httplib::Response& response, const std::exception_ptr&) {
          response.status = 500;
          response.set_content("{\"problem\": \"a fault of the program\"}", "application/json");
        });
  }

  void run() {
    const bool any = options_.port == 0;
    gate_.port = any ? server_.bind_to_any_port("127.0.0.1") : options_.port;
    if (gate_.port <= 0 || (!any && !server_.bind_to_port("127.0.0.1", gate_.port)))
      throw FileError(fmt::format("port {} of this machine cannot be had", options_.port));
    std::jthread listening([this] { server_.listen_after_bind(); });
    while (!server_.is_running()) std::this_thread::sleep_for(std::chrono::milliseconds(1));
    options_.ready(fmt::format("http://127.0.0.1:{}/{}/", gate_.port, gate_.secret));
    while (!ended_ && !options_.told_to_end()) {
      std::this_thread::sleep_for(look_every);
      const double seen = last_seen_;
      if (seen > 0 && seconds_now() - seen > options_.linger_seconds) break;
    }
    session_.end_work();
    server_.stop();
  }

 private:
  httplib::Server::HandlerResponse check(const httplib::Request& request, httplib::Response& response) const {
    constexpr int too_many_headers = 431, not_found = 404;
    int status = 0;
    if (request.headers.size() > most_headers) {
      status = too_many_headers;
    } else if (request.path.size() > longest_path) {
      status = not_found;
    } else {
      const auto path = admitted(gate_, caller_of(request), status);
      if (path) status = body_trouble(request);
    }
    if (status == 0) return httplib::Server::HandlerResponse::Unhandled;
    response.status = status;
    response.set_content("{\"problem\": \"refused\"}", "application/json");
    return httplib::Server::HandlerResponse::Handled;
  }

  static Caller caller_of(const httplib::Request& request) {
    // Of two Hosts none is to be believed.
    const bool one = request.get_header_value_count("Host") == 1;
    return {.path = request.path,
            .host = one ? request.get_header_value("Host") : "",
            .origin = request.get_header_value("Origin"),
            .site = request.get_header_value("Sec-Fetch-Site")};
  }

  void meet(const httplib::Request& request, httplib::Response& response) {
    last_seen_ = seconds_now();
    Request asked{
        .method = request.method, .path = request.path.substr(gate_.secret.size() + 2), .fields = {}};
    if (request.method == "POST") {
      asked.fields = form_fields(request.body);
    } else {
      for (const auto& [name, value] : request.params) asked.fields[name] = value;
    }
    const Response answer = respond(session_, asked);
    response.status = answer.status;
    if (!answer.file_name.empty()) {
      std::string name;
      for (const char c : answer.file_name) {
        const bool plain =
            (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.';
        name += plain ? c : '-';
      }
      response.set_header("Content-Disposition", "attachment; filename=\"" + name + "\"");
    }
    response.set_content(answer.body, answer.type);
    last_seen_ = seconds_now();
    if (answer.end) ended_ = true;
  }

  Session& session_;
  const ServeOptions& options_;
  Gate gate_{.secret = random_secret(), .port = 0};
  httplib::Server server_;
  std::atomic<double> last_seen_{0};
  std::atomic<bool> ended_{false};
};

}  // namespace

void serve(Session& session, const ServeOptions& options) { PageServer(session, options).run(); }

}  // namespace mendworth::page
