#pragma once

#include <map>
#include <string>
#include <string_view>

#include "page/session.hpp"

/// Requests of the page and what is sent back, apart from any socket.
namespace mendworth::page {

struct Request {
  std::string method;  ///< "GET" or "POST"
  std::string path;    ///< behind the secret: "", "page.js", "change"
  std::map<std::string, std::string> fields;
};

struct Response {
  int status = 200;
  std::string type = "application/json";
  std::string body{};
  std::string file_name{};  ///< to be kept by the browser under this name; empty: to be shown
  bool end = false;         ///< the page is done with: nothing more is served
};

/// What every request must say about where it comes from.
struct Gate {
  std::string secret;  ///< first step of every path
  int port = 0;
};
/// What a request said; the strings of headers that are not there are empty.
struct Caller {
  std::string path;  ///< "/SECRET/change"
  std::string host, origin, site;
};
/// The path behind the secret, if it comes from this page or from an address that was typed in; else nothing. `status`
/// is then what to send: 403, or 404 where the secret is not in it.
[[nodiscard]] std::optional<std::string> admitted(const Gate& gate, const Caller& caller, int& status);

/// "a=1&b=x%20y" by names; what is no such text, or has more than 16 fields, gives none.
[[nodiscard]] std::map<std::string, std::string> form_fields(std::string_view text);

/// Meets a request; what cannot be done is said in the body, with a status of 4xx.
[[nodiscard]] Response respond(Session& session, const Request& request);

}  // namespace mendworth::page
