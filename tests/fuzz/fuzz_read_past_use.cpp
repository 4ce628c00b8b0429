#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "mendworth/diagnostic.hpp"
#include "mendworth/past_use.hpp"

// Any bytes are a record within its limits, or an InputError, never anything else.

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace mendworth;
  // Bytes are bytes: the fuzzer's are unsigned, a text's are not.
  const std::string_view csv(reinterpret_cast<const char*>(data), size);
  try {
    const PastUse use = read_past_use(csv, "used.csv");
    if (use.entries.empty()) std::abort();
    for (const UseEntry& entry : use.entries) {
      if (entry.pieces < 0 || entry.pieces > most_used_pieces || entry.day.month < 1) std::abort();
    }
  } catch (const InputError& error) {
    if (error.problems().empty()) std::abort();
  }
  return 0;
}
