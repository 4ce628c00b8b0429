#include <fmt/format.h>

#include <algorithm>

#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "cli/vary.hpp"
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
    if (std::ranges::find(known, key) != known.end()) continue;
    throw UsageError(
        fmt::format("--against: '{}' is no number of this case that could be turned; {}", key,
                    input::suggestion(key, known, fmt::format("for instance '{}'", known.front()))));
  }
}

}  // namespace

int weigh_cases(const std::vector<CaseRead>& read, const WeighOptions& options, AnswerOutput& out,
                const Streams& streams, const Surroundings& surroundings) {
  const CaseRead& first = read.front();
  check_against(first.c, options.settings.against);
  const auto answer_of = [&](const CaseRead& source, const Case& c) {
    WeighSettings settings = options.settings;
    settings.today = today_for(c, settings.today, surroundings);
    // A table of cases shows nothing of what break-evens say.
    if (&c != &first.c) settings.what_ifs = out.is_json();
    Weighing w = weigh(c, source.rates, settings);
    w.notes.insert(w.notes.end(), source.notes.begin(), source.notes.end());
    return w;
  };
  out.write(compared_answers(read, answer_of), streams);
  return answered;
}

int weigh_command(const WeighOptions& options, const Streams& streams, const Surroundings& surroundings) {
  if (!options.vary.empty()) {
    if (!options.beside_paths.empty()) throw UsageError("--vary goes with one case");
    WeighSettings settings = options.settings;
    settings.what_ifs = false;
    const auto answer_of = [&](const Case& c, const RateBook& rates) {
      settings.today = today_for(c, options.settings.today, surroundings);
      return weigh(c, rates, settings);
    };
    write_curve(options, curve_of("weigh", "saving", settings, options.vary), options.page, answer_of,
                streams, surroundings);
    return answered;
  }
  std::vector<std::optional<std::string>> inputs{options.case_path, options.drawer_path};
  inputs.insert(inputs.end(), options.beside_paths.begin(), options.beside_paths.end());
  AnswerOutput out(options.page, weighing_sections(), inputs, surroundings);
  const std::vector<CaseRead> read = cases_from(options, options.beside_paths);
  return weigh_cases(read, options, out, streams, surroundings);
}

RunCommand set_up_weigh(OptionSet& set) {
  const auto options = std::make_shared<WeighOptions>();
  set.examples(weigh_examples);
  add_case_argument(set, *options);
  set.texts({"beside", "CASE", "Further cases, shown beside the first"}, options->beside_paths);
  add_page_options(set, options->page, weighing_sections());
  add_case_options(set, *options);
  add_drawer_option(set, *options);
  set.list({"--against", "KEY,KEY",
            "The saving over two numbers of the case, as a grid\nwith the line where the answer turns"},
           options->settings.against);
  add_simulation_options(set, options->settings);
  set.converted({"--date", "YYYY-MM-DD", "Today, for the guarantee (default: the clock)"},
                day_into(options->settings.today));
  add_vary_option(set, options->vary);
  add_out_option(set, options->page.out_path);
  return running(options, weigh_command);
}

}  // namespace mendworth::cli
