#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "mendworth/diagnostic.hpp"
#include "mendworth/history.hpp"

// Any bytes are a history of sound records or an InputError, never anything else. The first byte chooses the options.

namespace {

using namespace mendworth;

bool sound(const LifeRecord& r) {
  if (!(r.worked_at >= 0) || !std::isfinite(r.worked_at) || !(r.failed_by >= r.worked_at)) return false;
  if (!(r.first_seen >= 0) || !(r.weight > 0) || !std::isfinite(r.weight)) return false;
  return r.working() ? r.first_seen <= r.worked_at : r.failed_by > 0 && r.first_seen < r.failed_by;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  HistoryOptions options;
  options.decimal_comma = (data[0] & 1U) != 0;
  if ((data[0] & 2U) != 0) options.part = "p";
  if ((data[0] & 4U) != 0) options.group_column = "g";
  // Bytes are bytes: the fuzzer's are unsigned, a text's are not.
  const std::string_view csv(reinterpret_cast<const char*>(data + 1), size - 1);
  try {
    const History history = read_history(csv, "history.csv", options);
    if (history.groups.empty()) std::abort();
    for (const LifeGroup& group : history.groups) {
      if (group.records.empty()) std::abort();
      for (const LifeRecord& record : group.records) {
        if (!sound(record)) std::abort();
      }
    }
  } catch (const InputError& error) {
    if (error.problems().empty() || error.problems().size() > 101) std::abort();
  }
  return 0;
}
