#include <fmt/format.h>

#include <ostream>

#include "cli/commands.hpp"
#include "cli/destination.hpp"
#include "cli/exit_code.hpp"
#include "cli/output_file.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/shop.hpp"

namespace mendworth::cli {

int new_command(const NewOptions& options, const Streams& streams) {
  const std::string text = options.shop ? starter_shop() : starter_case(options.every_key);
  if (names_standard_output(options.path)) {
    streams.out << text;
  } else {
    write_new_file(*options.path, text);
    streams.err << fmt::format("{0}: written. Fill it in, then: mendworth {1} {0}\n", *options.path,
                               options.shop ? "quote CASE --shop" : "weigh");
  }
  return answered;
}

}  // namespace mendworth::cli
