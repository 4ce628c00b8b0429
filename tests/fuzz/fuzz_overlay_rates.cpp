#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"

// Any bytes are rates that a case can be read with, or an InputError, never anything else.

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace mendworth;
  RateBook rates = built_in_rates();
  try {
    // Bytes are bytes: the fuzzer's are unsigned, a text's are not.
    overlay_rates(rates, std::string_view(reinterpret_cast<const char*>(data), size), "rates.toml");
    check(read_case(starter_case(false), "case.toml", rates));
  } catch (const InputError& error) {
    if (error.problems().empty()) std::abort();
  }
  return 0;
}
