#include <ostream>

#include "cli/case_input.hpp"
#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "mendworth/render.hpp"

namespace mendworth::cli {

int rates_command(const RatesOptions& options, const Streams& streams, const Surroundings& surroundings) {
  const RateBook rates = rates_with(options.rates_directory);
  const TextStyle style{.color = colored(options.color, surroundings, true)};
  streams.out << (options.format == Format::json ? rates_json(rates) : rates_text(rates, style));
  return answered;
}

}  // namespace mendworth::cli
