#include <fmt/core.h>

#include <algorithm>

#include "cli/case_input.hpp"
#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "input/suggest.hpp"
#include "mendworth/render.hpp"

namespace mendworth::cli {

namespace {

const char* const weigh_examples =
    "Examples:\n"
    "  mendworth weigh case.toml\n"
    "  mendworth weigh case.toml --show costs,sensitivity\n"
    "  mendworth weigh case.toml --table sensitivity --out sensitivity.csv\n"
    "  mendworth weigh case.toml --show all --format html --out answer.html\n"
    "  mendworth weigh case.toml --set labour.rate_per_hour=0\n"
    "  mendworth weigh case.toml --against device.age_years,replacement.1.price\n"
    "  mendworth weigh - --format json < case.toml\n\n";

// The clock is asked only if the case has a guarantee and no date was stated.
std::optional<Date> today_for(const Case& c, const std::optional<Date>& stated,
                              const Surroundings& surroundings) {
  if (stated || !c.device.guarantee_until) return stated;
  return today(surroundings);
}

// Said before the work of weighing begins.
void check_against(const Case& c, const std::vector<std::string>& keys) {
  if (keys.empty()) return;
  if (keys.size() != 2 || keys[0] == keys[1])
    throw UsageError("--against wants two different keys, as KEY,KEY");
  const std::vector<std::string> known = keys_against(c);
  for (const std::string& key : keys) {
    if (std::find(known.begin(), known.end(), key) != known.end()) continue;
    throw UsageError(fmt::format("--against: '{}' is no number of this case that could be turned; {}", key,
                                 input::suggestion(key, known)));
  }
}

}  // namespace

int weigh_case(const Case& c, const RateBook& rates, const WeighOptions& options,
               const std::vector<std::string>& notes, Destination& out, const Streams& streams,
               const Surroundings& surroundings) {
  const PageStyle style =
      page_style(options.page, weighing_sections(), surroundings, out.is_standard_output());
  check_against(c, options.settings.against);
  WeighSettings settings = options.settings;
  settings.today = today_for(c, settings.today, surroundings);
  Weighing w = weigh(c, rates, settings);
  w.notes.insert(w.notes.end(), notes.begin(), notes.end());
  out.write(options.page.format == Format::json ? weighing_json(w) : weighing_page(w, style), streams);
  return answered;
}

int weigh_command(const WeighOptions& options, const Streams& streams, const Surroundings& surroundings) {
  check_drawer_use(options.case_path, options.drawer_path, options.out_path);
  Destination out(options.out_path, "--out", options.case_path);

  const RateBook rates = rates_with(options.rates_directory);
  Case c = case_from(options.case_path, rates, options.overrides);
  const std::vector<std::string> drawer_notes = lay_out_drawer(options.drawer_path, c);
  return weigh_case(c, rates, options, drawer_notes, out, streams, surroundings);
}

RunCommand set_up_weigh(OptionSet& set) {
  const auto options = std::make_shared<WeighOptions>();
  set.examples(weigh_examples);
  add_case_argument(set, *options);
  add_page_options(set, options->page, weighing_sections());
  add_case_options(set, *options);
  add_drawer_option(set, *options);
  set.list({"--against", "KEY,KEY",
            "The saving over two numbers of the case, as a grid with the line where the answer turns"},
           options->settings.against);
  add_simulation_options(set, options->settings, "Futures to simulate (default 100000)");
  set.converted({"--date", "YYYY-MM-DD", "Today, for the guarantee (default: the clock)"},
                day_into(options->settings.today));
  add_out_option(set, options->out_path);
  return [options](const Streams& streams, const Surroundings& surroundings) {
    return weigh_command(*options, streams, surroundings);
  };
}

}  // namespace mendworth::cli
