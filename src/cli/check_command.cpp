#include <ostream>

#include "cli/case_input.hpp"
#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "mendworth/read_case.hpp"
#include "render/layout.hpp"

namespace mendworth::cli {

int check_command(const CheckOptions& options, const Streams& streams) {
  const RateBook rates = rates_with(options.rates_directory);
  int worst = answered;
  for (const std::string& path : options.case_paths) {
    const int code = guarded(
        [&] {
          static_cast<void>(read_case(read_text_file(path), path, rates));
          return static_cast<int>(answered);
        },
        streams.err);
    if (code == answered) streams.out << printable(path) << ": ok\n";
    if (code > worst) worst = code;
  }
  return worst;
}

}  // namespace mendworth::cli
