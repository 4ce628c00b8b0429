#pragma once

#include <sstream>

#include "cli/commands.hpp"
#include "mendworth/case.hpp"

namespace mendworth::test {

/// What a command writes.
struct Captured {
  std::ostringstream out;
  std::ostringstream err;
  [[nodiscard]] cli::Streams streams() { return {out, err}; }
};

/// No terminal, and always the same day.
[[nodiscard]] inline cli::Surroundings on_first_of_march() {
  cli::Surroundings surroundings;
  surroundings.clock = [] { return Date{2026, 3, 1}; };
  return surroundings;
}

}  // namespace mendworth::test
