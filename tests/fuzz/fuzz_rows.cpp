#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/row_answer.hpp"
#include "mendworth/rows.hpp"

// Any lines are a table of devices: an InputError for its headings, or for each line a checked case or a problem. The
// first case is answered, finitely or with an InputError.

namespace {

using namespace mendworth;

std::string_view line_of(std::string_view& text) {
  const std::size_t end = text.find('\n');
  const std::string_view line = text.substr(0, end);
  text = end == std::string_view::npos ? std::string_view() : text.substr(end + 1);
  return line;
}

void answer(const Case& c) {
  const RowAnswer a = RowAnswerer(built_in_rates(), {.futures = 100, .threads = 1, .what_ifs = false})(c);
  if (!std::isfinite(a.money_now) || (a.verdict.saving && !std::isfinite(*a.verdict.saving)) ||
      (a.turning_price && !std::isfinite(*a.turning_price))) {
    std::abort();
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const std::string text = starter_case(false);
  // Bytes are bytes: the fuzzer's are unsigned, a text's are not.
  std::string_view table(reinterpret_cast<const char*>(data), size);
  try {
    RowTableOptions options;
    options.decimal_comma = size % 2 == 1;
    const RowReader reader(text, "case.toml", built_in_rates(), {}, line_of(table), "table.csv", options);
    for (bool answered = false; !table.empty();) {
      const TableRow row = reader.read(line_of(table));
      if (row.c.has_value() != row.problem.empty()) std::abort();
      if (!row.c) continue;
      check(*row.c);
      if (!answered) answer(*row.c);
      answered = true;
    }
  } catch (const InputError& error) {
    if (error.problems().empty()) std::abort();
  }
  return 0;
}
