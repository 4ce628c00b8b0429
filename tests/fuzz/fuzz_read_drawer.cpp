#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

#include "mendworth/diagnostic.hpp"
#include "mendworth/drawer.hpp"

// Any bytes are a drawer that reads the same when it is written, or an InputError, never anything else.

namespace {

using namespace mendworth;

bool sound(const Drawer& drawer) {
  for (const DrawerEntry& entry : drawer.entries) {
    if (entry.candidate.empty() || entry.pieces < 0 || entry.pieces > most_drawer_pieces) return false;
  }
  return true;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  // Bytes are bytes: the fuzzer's are unsigned, a text's are not.
  const std::string_view csv(reinterpret_cast<const char*>(data), size);
  Drawer drawer;
  try {
    drawer = read_drawer(csv, "drawer.csv");
  } catch (const InputError& error) {
    if (error.problems().empty()) std::abort();
    return 0;
  }
  if (!sound(drawer)) std::abort();
  const std::string written = drawer_csv(drawer);
  const Drawer again = read_drawer(written, "drawer.csv");  // what it throws is a find
  if (drawer_csv(again) != written || again.entries.size() != drawer.entries.size()) std::abort();
  for (std::size_t i = 0; i < drawer.entries.size(); ++i) {
    const DrawerEntry& a = drawer.entries[i];
    const DrawerEntry& b = again.entries[i];
    if (a.candidate != b.candidate || a.pieces != b.pieces || a.note != b.note) std::abort();
  }
  return 0;
}
