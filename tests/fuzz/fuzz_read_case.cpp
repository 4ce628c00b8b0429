#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>
#include <vector>

#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"

// Any bytes are a case or an InputError, never anything else. What stands after a line "--set" is taken as overrides,
// one a line.

namespace {

using namespace mendworth;

std::string_view cut_at(std::string_view& text, std::string_view mark) {
  const std::size_t at = text.find(mark);
  if (at == std::string_view::npos) return {};
  const std::string_view after = text.substr(at + mark.size());
  text = text.substr(0, at);
  return after;
}

std::vector<std::string> lines_of(std::string_view text) {
  std::vector<std::string> lines;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    lines.emplace_back(text.substr(0, end));
    if (end == std::string_view::npos) break;
    text.remove_prefix(end + 1);
  }
  return lines;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  // Bytes are bytes: the fuzzer's are unsigned, a text's are not.
  std::string_view text(reinterpret_cast<const char*>(data), size);
  const std::vector<std::string> overrides = lines_of(cut_at(text, "\n--set\n"));
  try {
    check(read_case(text, "case.toml", built_in_rates(),
                    overrides));  // what is read is sound, or this is never caught
  } catch (const InputError& error) {
    if (error.problems().empty()) std::abort();
  }
  return 0;
}
