#include <fmt/core.h>

#include <algorithm>

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

int weigh_case(const CaseRead& read, const WeighOptions& options, AnswerOutput& out, const Streams& streams,
               const Surroundings& surroundings) {
  check_against(read.c, options.settings.against);
  WeighSettings settings = options.settings;
  settings.today = today_for(read.c, settings.today, surroundings);
  Weighing w = weigh(read.c, read.rates, settings);
  w.notes.insert(w.notes.end(), read.notes.begin(), read.notes.end());
  out.write(w, weighing_page, weighing_json, streams);
  return answered;
}

int weigh_command(const WeighOptions& options, const Streams& streams, const Surroundings& surroundings) {
  AnswerOutput out(options.page, weighing_sections(), {options.case_path, options.drawer_path}, surroundings);
  return weigh_case(case_from(options), options, out, streams, surroundings);
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
  add_simulation_options(set, options->settings);
  set.converted({"--date", "YYYY-MM-DD", "Today, for the guarantee (default: the clock)"},
                day_into(options->settings.today));
  add_out_option(set, options->page.out_path);
  return running(options, weigh_command);
}

}  // namespace mendworth::cli
