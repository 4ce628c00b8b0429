#pragma once

#include "cli/surroundings.hpp"

namespace mendworth::cli {

/// Reads a command line, runs its command and returns the exit code. Throws nothing that `guarded` knows.
[[nodiscard]] int run_command_line(int argc, const char* const* argv, const Streams& streams,
                                   const Surroundings& surroundings);

}  // namespace mendworth::cli
