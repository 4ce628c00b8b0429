#include "page/requests.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cstdint>
#include <functional>

#include "mendworth/diagnostic.hpp"
#include "mendworth/render.hpp"
#include "page/page_files.hpp"
#include "render/document.hpp"
#include "render/json_value.hpp"

namespace mendworth::page {

namespace {

constexpr std::size_t most_fields = 16;

constexpr int status_ok = 200;

Response problem(int status, const std::string& words) {
  Json out = Json::object();
  out.add("problem", words);
  return {.status = status, .body = out.text()};
}

std::string field(const Request& request, const char* name) {
  const auto found = request.fields.find(name);
  return found == request.fields.end() ? "" : found->second;
}

long long number_field(const Request& request, const char* name) {
  const std::string text = field(request, name);
  long long value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc{} && end == text.data() + text.size() ? value : -1;
}

std::optional<long long> known_revision(const Request& request) {
  const long long known = number_field(request, "revision");
  return known < 0 ? std::nullopt : std::optional(known);
}

std::string without_ending(const std::string& name) { return name.substr(0, name.rfind('.')); }

/// The same length of work whatever differs.
bool same(std::string_view a, std::string_view b) {
  if (a.size() != b.size()) return false;
  unsigned differing = 0;
  for (std::size_t i = 0; i < a.size(); ++i) differing |= static_cast<unsigned char>(a[i] ^ b[i]);
  return differing == 0;
}

Response show(Session& session, const Request& request) {
  const std::string& path = request.path;
  if (path.empty()) return {.type = "text/html; charset=utf-8", .body = std::string(page_html())};
  if (path == "page.js") return {.type = "text/javascript; charset=utf-8", .body = std::string(page_js())};
  if (path == "page.css")
    return {.type = "text/css; charset=utf-8", .body = document_style_rules() + std::string(page_css())};
  if (path == "state") return {.body = session.state_json(field(request, "shape"), known_revision(request))};
  if (path == "answer") return {.body = session.answer_json(number_field(request, "revision"))};
  if (path == "quote")
    return {.body = session.quote_json(number_field(request, "revision"), field(request, "shop") == "1")};
  if (path == "files") return {.body = session.files_json()};
  const std::string stem = without_ending(session.name());
  if (path == "answer.json") {
    return {.body = weighing_json(*session.weighing()), .file_name = stem + ".json"};
  }
  const bool csv = path == "answer.csv";
  if (csv || path == "report.html") {
    const PageStyle style{.form = csv ? PageForm::csv : PageForm::html};
    return {.type = csv ? "text/csv; charset=utf-8" : "text/html; charset=utf-8",
            .body = weighing_page(*session.weighing(), style),
            .file_name = stem + (csv ? ".csv" : ".html")};
  }
  return problem(404, "there is nothing of that name");
}

Response act(Session& session, const Request& request) {
  const std::string& path = request.path;
  const std::string key = field(request, "key");
  // What changes the values of fields that are there sends the form anew, whatever its shape.
  std::string shape = field(request, "shape");
  if (path == "end") return {.body = "{}", .end = true};
  if (path == "alive") {
    Json out = Json::object();
    out.add("revision", std::int64_t{session.revision()});
    return {.body = out.text()};
  }
  if (path == "change") {
    session.change(key, field(request, "value"), std::max(0LL, number_field(request, "gesture")));
  } else if (path == "add") {
    session.add_item(key);
  } else if (path == "remove") {
    session.remove_item(key);
  } else if (path == "undo") {
    session.undo();
    shape.clear();
  } else if (path == "redo") {
    session.redo();
    shape.clear();
  } else if (path == "open") {
    session.open(field(request, "name"));
    shape.clear();
  } else if (path == "save") {
    session.save(field(request, "name"), field(request, "as-it-is") == "1");
  } else if (path == "pin") {
    session.pin(number_field(request, "revision"));
  } else if (path == "unpin") {
    session.unpin();
  } else {
    return problem(404, "there is nothing of that name");
  }
  return {.body = session.state_json(shape, known_revision(request))};
}

}  // namespace

std::optional<std::string> admitted(const Gate& gate, const Caller& caller, int& status) {
  status = 403;
  const auto is_here = [&](std::string_view place) {
    return place == fmt::format("127.0.0.1:{}", gate.port) || place == fmt::format("localhost:{}", gate.port);
  };
  // Another name for this machine may be one that a page from elsewhere has been given.
  if (!is_here(caller.host)) return std::nullopt;
  constexpr std::string_view scheme = "http://";
  const std::string_view origin = caller.origin;
  if (!origin.empty() && (!origin.starts_with(scheme) || !is_here(origin.substr(scheme.size()))))
    return std::nullopt;
  if (!caller.site.empty() && caller.site != "same-origin" && caller.site != "none") return std::nullopt;
  status = 404;
  const std::string_view path = caller.path;
  const std::size_t end = path.find('/', 1);
  if (!path.starts_with('/') || end == std::string_view::npos) return std::nullopt;
  if (!same(path.substr(1, end - 1), gate.secret)) return std::nullopt;
  status = status_ok;
  return std::string(path.substr(end + 1));
}

std::map<std::string, std::string> form_fields(std::string_view text) {
  std::map<std::string, std::string> fields;
  std::string name, value;
  bool in_value = false;
  const auto keep = [&] {
    if (!name.empty()) fields[name] = value;
    name.clear();
    value.clear();
    in_value = false;
  };
  for (std::size_t i = 0; i < text.size(); ++i) {
    char c = text[i];
    if (c == '&') {
      keep();
      if (fields.size() > most_fields) return {};
      continue;
    }
    if (c == '=' && !in_value) {
      in_value = true;
      continue;
    }
    if (c == '+') c = ' ';
    if (c == '%') {
      unsigned byte = 0;
      const std::string_view digits = text.substr(i + 1, 2);
      const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), byte, 16);
      if (digits.size() != 2 || error != std::errc{} || end != digits.data() + 2) return {};
      c = static_cast<char>(static_cast<unsigned char>(byte));
      i += 2;
    }
    (in_value ? value : name) += c;
  }
  keep();
  return fields;
}

Response respond(Session& session, const Request& request) {
  try {
    if (request.method == "GET") return show(session, request);
    if (request.method == "POST") return act(session, request);
    return problem(405, "only GET and POST are known here");
  } catch (const Superseded&) {
    return problem(409, "superseded");
  } catch (const Refused& refused) {
    return problem(422, refused.what());
  } catch (const FileError& error) {
    return problem(422, error.what());
  } catch (const InputError& error) {
    return problem(422, error.problems().front().text());
  }
}

}  // namespace mendworth::page
