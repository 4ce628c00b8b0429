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

RunCommand set_up_new(OptionSet& set) {
  const auto options = std::make_shared<NewOptions>();
  set.text({"file", "FILE", "File to create; without it, standard output"}, options->path);
  set.flag("--every-key", "Show every key there is", options->every_key);
  set.flag("--shop", "A shop file, for 'quote': it shows every key", options->shop);
  return [options](const Streams& streams, const Surroundings&) { return new_command(*options, streams); };
}

}  // namespace mendworth::cli
