#pragma once

#include <sstream>
#include <string>
#include <vector>

#include "cli/cli.hpp"
#include "cli/commands.hpp"
#include "mendworth/case.hpp"

namespace mendworth::test {

/// What a command writes.
struct Captured {
  std::ostringstream out;
  std::ostringstream err;
  [[nodiscard]] cli::Streams streams() { return {out, err}; }
};

/// No terminal for results, and always the same day.
[[nodiscard]] inline cli::Surroundings on_first_of_march() {
  cli::Surroundings surroundings;
  surroundings.err_columns = 120;  // few messages are longer than a line
  surroundings.clock = [] { return Date{2026, 3, 1}; };
  return surroundings;
}

struct Run {
  int code = 0;
  std::string out;
  std::string err;
};

/// A whole command line, without the program's name.
[[nodiscard]] inline Run run(std::vector<const char*> words) {
  words.insert(words.begin(), "mendworth");
  Captured captured;
  Run result;
  result.code = cli::run_command_line(static_cast<int>(words.size()), words.data(), captured.streams(),
                                      on_first_of_march());
  result.out = captured.out.str();
  result.err = captured.err.str();
  return result;
}

}  // namespace mendworth::test
