#include <ostream>

#include "cli/case_input.hpp"
#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "mendworth/render.hpp"

namespace mendworth::cli {

namespace {

struct RatesOptions {
  std::optional<std::string> rates_directory;
  PageOptions page;
};

int rates_command(const RatesOptions& options, const Streams& streams, const Surroundings& surroundings) {
  const PageStyle style = page_style(options.page, rates_sections(), surroundings, true);
  const RateBook rates = rates_with(options.rates_directory);
  streams.out << (options.page.format == Format::json ? rates_json(rates) : rates_page(rates, style));
  return answered;
}

}  // namespace

RunCommand set_up_rates(OptionSet& set) {
  const auto options = std::make_shared<RatesOptions>();
  add_rates_option(set, options->rates_directory);
  add_page_options(set, options->page, rates_sections());
  return [options](const Streams& streams, const Surroundings& surroundings) {
    return rates_command(*options, streams, surroundings);
  };
}

}  // namespace mendworth::cli
