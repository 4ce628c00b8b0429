#include <fmt/format.h>

#include <limits>
#include <memory>
#include <optional>
#include <set>
#include <stdexcept>
#include <string>

#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"

namespace mendworth::cli {

namespace {

constexpr double largest_age = 1e12;
constexpr double least_shape = 0.1, largest_shape = 20;

const char* const lifetime_examples =
    "HISTORY is CSV with a header row. Columns: age_cycles, age_hours or age_years;\n"
    "state (failed, working); if known worked_at (age at the last look at which it\n"
    "worked), first_seen (age when it came under watch), count (pieces), part.\n"
    "Others are left alone.\n\n"
    "Examples:\n"
    "  mendworth lifetime history.csv --part relay --at 20000 --at 50000\n"
    "  mendworth lifetime history.csv --part relay --group supplier\n"
    "  mendworth lifetime history.csv --part relay --plot relay.svg\n"
    "  mendworth lifetime history.csv --part relay --rates-out my-rates/relay.toml\n"
    "  mendworth weigh case.toml --rates my-rates\n\n";

bool is_letter_or_digit(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
}

bool is_rates_name(const std::string& name) {
  for (const char c : name) {
    if (!is_letter_or_digit(c) && c != '-') return false;
  }
  return !name.empty();
}

void check_use(const LifetimeOptions& options) {
  if (options.rates_name && !options.rates_path) throw UsageError("--rates-name goes with --rates-out");
  if (options.rates_name && !is_rates_name(*options.rates_name)) {
    throw UsageError(
        fmt::format("--rates-name wants letters, digits and hyphens, not '{}'", *options.rates_name));
  }
  const std::string standard = "-";
  const std::optional<std::string> out = options.page.out_path.value_or(standard);
  require_different_places(out, "--out", options.plot_path, "--plot");
  require_different_places(out, "--out", options.rates_path, "--rates-out");
  require_different_places(options.plot_path, "--plot", options.rates_path, "--rates-out");
}

std::string rates_name(const LifetimeOptions& options, const Lifetime& lifetime) {
  if (options.rates_name) return *options.rates_name;
  if (lifetime.parts.size() > 1) {
    throw UsageError(
        fmt::format("--rates-out wants one part, and the history has {}: choose one with --part, for "
                    "instance --part '{}', or add --rates-name",
                    lifetime.parts.size(), lifetime.parts.front()));
  }
  std::string name = lifetime.parts.empty() ? "" : rates_name_from(lifetime.parts.front());
  if (name.empty()) throw UsageError("--rates-out wants a name for the entry: add --rates-name");
  return name;
}

std::string entry_of(const GroupLifetime& group, const Lifetime& lifetime, const std::string& name) {
  const auto fail = [&](const std::string& why) {
    throw InputError({{lifetime.source_name, 0, 0, "",
                       fmt::format("{}there is no law to write as rates: {}",
                                   group.name.empty() ? "" : fmt::format("group '{}': ", group.name), why),
                       "leave --rates-out away"}});
  };
  if (!group.fit) fail(group.no_fit_reason);
  try {
    return rates_entry(group, lifetime, name);
  } catch (const std::invalid_argument& error) {
    fail(error.what());
  }
  return {};
}

// An entry for each group: "encoder", or "encoder-open" and "encoder-sealed".
std::string entries_of(const LifetimeOptions& options, const Lifetime& lifetime) {
  const std::string base = rates_name(options, lifetime);
  std::set<std::string> names;
  std::string text;
  for (const GroupLifetime& group : lifetime.groups) {
    const std::string suffix = rates_name_from(group.name);
    std::string name = base;
    if (!group.name.empty()) name.append("-").append(suffix);
    if ((suffix.empty() && !group.name.empty()) || !names.insert(name).second) {
      throw UsageError(fmt::format("--rates-out cannot name an entry after the group '{}': leave --group out",
                                   group.name));
    }
    text += (text.empty() ? "" : "\n") + entry_of(group, lifetime, name);
  }
  return text;
}

/// Opened before the work begins; absent if it is not asked for.
std::unique_ptr<Destination> opened(const std::optional<std::string>& path, const char* option,
                                    const std::string& input) {
  return path ? std::make_unique<Destination>(path, option, std::vector{std::optional(input)}) : nullptr;
}

}  // namespace

std::string rates_name_from(const std::string& text) {
  std::string name;
  for (const char c : text) {
    if (is_letter_or_digit(c)) {
      name += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    } else if (!name.empty() && name.back() != '-') {
      name += '-';
    }
  }
  if (!name.empty() && name.back() == '-') name.pop_back();
  return name;
}

int lifetime_command(const LifetimeOptions& options, const Streams& streams,
                     const Surroundings& surroundings) {
  check_use(options);
  AnswerOutput out(options.page, lifetime_sections(), {options.history_path}, surroundings);
  const auto plot = opened(options.plot_path, "--plot", options.history_path);
  const auto rates = opened(options.rates_path, "--rates-out", options.history_path);

  const History history = read_history(read_text_file(options.history_path, largest_history),
                                       options.history_path, options.reading);
  const Lifetime lifetime = lifetime_of(history, options.settings);

  const std::string entry = rates ? entries_of(options, lifetime) : std::string();
  out.write(lifetime, lifetime_page, lifetime_json, streams);
  if (plot) plot->write(lifetime_svg(lifetime), streams);
  if (rates) rates->write(entry, streams);
  return answered;
}

RunCommand set_up_lifetime(OptionSet& set) {
  const auto options = std::make_shared<LifetimeOptions>();
  LifetimeSettings& settings = options->settings;
  set.examples(lifetime_examples);
  set.required({"history", "HISTORY", "CSV file; - reads standard input"}, options->history_path);
  set.text({"--part", "NAME", "Only rows whose column 'part' says NAME"}, options->reading.part);
  set.text({"--group", "COLUMN", "Compare the values of this column"}, options->reading.group_column);
  set.flag("--decimal-comma", "1,5 is one and a half", options->reading.decimal_comma);
  set.converted({"--confidence", "C", "Of the limits, as a fraction (default 0.95)"},
                decimal_into([&settings](double c) { settings.confidence = c; }, 0.5, 0.999,
                             "a fraction from 0.5 to 0.999"));
  set.repeatable({"--at", "AGE", "Share still working at AGE; may be repeated"},
                 decimal_into([&settings](double age) { settings.times.push_back(age); },
                              std::numeric_limits<double>::min(), largest_age, "an age above 0"));
  set.converted({"--assumed-shape", "B", "Weibull shape where nothing failed (default 2)"},
                decimal_into([&settings](double shape) { settings.assumed_shape = shape; }, least_shape,
                             largest_shape, "a shape from 0.1 to 20"));
  add_page_options(set, options->page, lifetime_sections());
  set.text({"--plot", "FILE", "Draw Weibull paper into FILE, as SVG"}, options->plot_path);
  set.text({"--rates-out", "FILE", "Write rates with an entry for each group"}, options->rates_path);
  set.text({"--rates-name", "NAME", "Name of the entry (default: the part's)"}, options->rates_name);
  add_out_option(set, options->page.out_path);
  return running(options, lifetime_command);
}

}  // namespace mendworth::cli
