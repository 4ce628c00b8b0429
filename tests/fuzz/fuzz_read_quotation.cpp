#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "mendworth/bulk.hpp"
#include "mendworth/diagnostic.hpp"

// Any bytes are a quotation of sound ladders or an InputError, never anything else. The first byte chooses the options.

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace mendworth;
  if (size == 0) return 0;
  QuotationOptions options;
  if ((data[0] & 1U) != 0) options.decimal_comma = (data[0] & 2U) != 0;
  // Bytes are bytes: the fuzzer's are unsigned, a text's are not.
  const std::string_view csv(reinterpret_cast<const char*>(data + 1), size - 1);
  try {
    for (const QuotedLadder& ladder : read_quotation(csv, "quotation.csv", options)) {
      if (ladder.candidate.empty() || ladder.prices.empty()) std::abort();
      for (const QuotedLadder::Step& price : ladder.prices) {
        if (price.from < 1 || !(price.each >= 0) || !std::isfinite(price.each)) std::abort();
      }
    }
  } catch (const InputError& error) {
    if (error.problems().empty()) std::abort();
  }
  return 0;
}
