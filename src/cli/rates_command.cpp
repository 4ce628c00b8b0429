#include <ostream>

#include "cli/case_input.hpp"
#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "mendworth/render.hpp"

namespace mendworth::cli {

int rates_command(const RatesOptions& options, const Streams& streams, const Surroundings& surroundings) {
  const PageStyle style = page_style(options.page, rates_sections(), surroundings, true);
  const RateBook rates = rates_with(options.rates_directory);
  streams.out << (options.page.format == Format::json ? rates_json(rates) : rates_page(rates, style));
  return answered;
}

}  // namespace mendworth::cli
