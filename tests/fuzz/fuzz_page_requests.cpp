#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "page/requests.hpp"

// Any lines are requests of a page, each "METHOD PATH FIELDS", that are met or refused. Answers and quotes are left out:
// what is weighed is a checked case, and takes its time.

namespace {

using namespace mendworth;
using namespace mendworth::page;

std::string word_of(std::string_view& line) {
  const std::size_t end = line.find(' ');
  std::string word(line.substr(0, end));
  line = end == std::string_view::npos ? std::string_view() : line.substr(end + 1);
  return word;
}

bool weighs(std::string_view path) {
  return path.find("answer") != std::string_view::npos || path.find("quote") != std::string_view::npos ||
         path.find("pin") != std::string_view::npos;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  // Bytes are bytes: the fuzzer's are unsigned, a text's are not.
  std::string_view text(reinterpret_cast<const char*>(data), size);
  std::map<std::string, std::string> folder = {{"case.toml", "[device]\nname = \"d\"\n"}};
  Setup setup;
  setup.rates = built_in_rates();
  setup.settings.futures = 100;
  setup.settings.threads = 1;
  setup.today = [] { return Date{2026, 3, 1}; };
  setup.seconds = [] { return 0.0; };
  setup.files.list = [&] {
    std::vector<std::string> names;
    for (const auto& entry : folder) names.push_back(entry.first);
    return names;
  };
  setup.files.read = [&](const std::string& name) -> std::optional<std::string> {
    const auto found = folder.find(name);
    return found == folder.end() ? std::nullopt : std::optional(found->second);
  };
  setup.files.write = [&](const std::string& name, const std::string& written) {
    if (name.find('/') != std::string::npos || name.empty() || name.front() == '.') std::abort();
    folder[name] = written;
  };
  Session session(setup);
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    std::string_view line = text.substr(0, end);
    text = end == std::string_view::npos ? std::string_view() : text.substr(end + 1);
    Request request;
    request.method = word_of(line);
    request.path = word_of(line);
    request.fields = form_fields(line);
    int status = 200;
    const auto inside =
        admitted({.secret = "secret", .port = 8080}, {.path = request.path, .host = request.method}, status);
    if (!inside && status != 403 && status != 404) std::abort();
    if (weighs(request.path)) continue;
    const Response response = respond(session, request);
    if (response.status != 200 && (response.status < 400 || response.status > 499)) std::abort();
  }
  return 0;
}
