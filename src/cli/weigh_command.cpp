#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "cli/case_input.hpp"
#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "mendworth/render.hpp"

namespace mendworth::cli {

namespace {

// The clock is asked only if the case has a guarantee and no date was stated.
std::optional<Date> today_for(const Case& c, const std::optional<Date>& stated,
                              const Surroundings& surroundings) {
  if (stated || !c.device.guarantee_until) return stated;
  return today(surroundings);
}

}  // namespace

int weigh_case(Case c, std::vector<Case> others, const RateBook& rates, const WeighOptions& options,
               const std::vector<std::string>& notes, Destination& out, const Streams& streams,
               const Surroundings& surroundings) {
  const PageStyle style =
      page_style(options.page, weighing_sections(), surroundings, out.is_standard_output());
  WeighSettings settings = options.settings;
  settings.today = today_for(c, settings.today, surroundings);
  const bool all = options.page.format == Format::json;
  const auto weigh_beside = [&](const Case& other) {
    WeighSettings same = settings;
    same.today = today_for(other, settings.today, surroundings);
    // A table of cases shows nothing that break-evens say.
    same.what_ifs = all;
    return weigh(other, rates, same);
  };
  auto beside = answers_beside(c, weigh_beside);
  for (Case& other : others) {
    auto its_own = answers_beside(other, weigh_beside, other.source_name + ": ");
    beside.push_back({other.source_name, {}, weigh_beside(other)});
    std::move(its_own.begin(), its_own.end(), std::back_inserter(beside));
  }
  Weighing w = weigh(c, rates, settings);
  w.notes.insert(w.notes.end(), notes.begin(), notes.end());
  out.write(all ? weighing_json(w, beside) : weighing_page(w, style, beside), streams);
  return answered;
}

int weigh_command(const WeighOptions& options, const Streams& streams, const Surroundings& surroundings) {
  check_drawer_use(options.case_path, options.drawer_path, options.out_path);
  for (const std::string& path : options.beside_paths) require_not_read(options.out_path, "--out", path);
  if (!options.beside_paths.empty() && (options.drawer_path == "-" || options.case_path == "-"))
    throw UsageError("with several cases nothing is read from standard input");
  Destination out(options.out_path, "--out", options.case_path);

  const RateBook rates = rates_with(options.rates_directory);
  Case c = case_from(options.case_path, rates, options.overrides);
  const std::vector<std::string> drawer_notes = lay_out_drawer(options.drawer_path, c);
  std::vector<Case> others;
  for (const std::string& path : options.beside_paths) {
    others.push_back(case_from(path, rates, options.overrides));
    static_cast<void>(lay_out_drawer(options.drawer_path, others.back()));
    if (others.back().device.currency != c.device.currency) {
      throw UsageError(fmt::format("{} is in {}, {} in {}: side by side they need one currency",
                                   options.case_path, c.device.currency, path, others.back().device.currency));
    }
  }
  return weigh_case(std::move(c), std::move(others), rates, options, drawer_notes, out, streams, surroundings);
}

}  // namespace mendworth::cli
