#include <ostream>

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
  AnswerOutput out(options.page, rates_sections(), {}, surroundings);
  out.write(rates_with(options.rates_directory), rates_page, rates_json, streams);
  return answered;
}

}  // namespace

RunCommand set_up_rates(OptionSet& set) {
  const auto options = std::make_shared<RatesOptions>();
  add_rates_option(set, options->rates_directory);
  add_page_options(set, options->page, rates_sections());
  add_out_option(set, options->page.out_path);
  return running(options, rates_command);
}

}  // namespace mendworth::cli
