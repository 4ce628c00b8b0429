#include "cli/commands.hpp"

#include <fmt/format.h>

#include <ostream>

#include "cli/destination.hpp"
#include "cli/exit_code.hpp"
#include "cli/output_file.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"
#include "render/layout.hpp"

namespace mendworth::cli {

namespace {

RateBook rates_with(const std::optional<std::string>& directory) {
  RateBook rates = built_in_rates();
  if (directory) overlay_rates_directory(rates, *directory);
  return rates;
}

// What is said about a file may hold bytes of the file.
void write_problems(const InputError& error, std::ostream& err) {
  for (const Diagnostic& problem : error.problems()) err << printable(problem.text()) << '\n';
  if (error.problems().size() > 1) err << fmt::format("{} problems\n", error.problems().size());
}

void require_key_value(const std::vector<std::string>& overrides) {
  for (const std::string& entry : overrides) {
    const std::size_t equals = entry.find('=');
    if (equals == std::string::npos || equals == 0) {
      throw UsageError(
          fmt::format("--set wants key=value, for instance --set labour.rate_per_hour=20, not '{}'", entry));
    }
  }
}

// The clock is asked only if the case has a guarantee and no date was stated.
std::optional<Date> today_for(const Case& c, const std::optional<Date>& stated,
                              const Surroundings& surroundings) {
  if (stated || !c.device.guarantee_until) return stated;
  if (!surroundings.source_date_epoch || surroundings.source_date_epoch->empty()) return surroundings.clock();
  const auto fixed = day_of_epoch_seconds(*surroundings.source_date_epoch);
  if (!fixed) {
    throw UsageError(
        fmt::format("SOURCE_DATE_EPOCH is not a count of seconds: '{}'", *surroundings.source_date_epoch));
  }
  return fixed;
}

}  // namespace

bool colored(ColorChoice choice, const Surroundings& surroundings, bool to_standard_output) {
  if (choice != ColorChoice::automatic) return choice == ColorChoice::always;
  const bool unwanted = surroundings.no_color && !surroundings.no_color->empty();
  const bool dumb = surroundings.term && *surroundings.term == "dumb";
  return to_standard_output && surroundings.out_is_terminal && !unwanted && !dumb;
}

int weigh_command(const WeighOptions& options, const Streams& streams, const Surroundings& surroundings) {
  require_key_value(options.overrides);
  Destination out(options.out_path, "--out", options.case_path);

  const RateBook rates = rates_with(options.rates_directory);
  const Case c = read_case(read_text_file(options.case_path), options.case_path, rates, options.overrides);
  WeighSettings settings = options.settings;
  settings.today = today_for(c, settings.today, surroundings);
  const Weighing w = weigh(c, rates, settings);

  const TextStyle style{.color = colored(options.color, surroundings, out.is_standard_output())};
  out.write(options.format == Format::json ? weighing_json(w) : weighing_text(w, style), streams);
  return answered;
}

int check_command(const CheckOptions& options, const Streams& streams) {
  const RateBook rates = rates_with(options.rates_directory);
  int worst = answered;
  for (const std::string& path : options.case_paths) {
    const int code = guarded(
        [&] {
          static_cast<void>(read_case(read_text_file(path), path, rates));
          return static_cast<int>(answered);
        },
        streams.err);
    if (code == answered) streams.out << printable(path) << ": ok\n";
    if (code > worst) worst = code;
  }
  return worst;
}

int new_command(const NewOptions& options, const Streams& streams) {
  const std::string text = starter_case(options.every_key);
  if (names_standard_output(options.path)) {
    streams.out << text;
  } else {
    write_new_file(*options.path, text);
    streams.err << fmt::format("{}: written. Fill it in, then: mendworth weigh {}\n", *options.path,
                               *options.path);
  }
  return answered;
}

int rates_command(const RatesOptions& options, const Streams& streams, const Surroundings& surroundings) {
  const RateBook rates = rates_with(options.rates_directory);
  const TextStyle style{.color = colored(options.color, surroundings, true)};
  streams.out << (options.format == Format::json ? rates_json(rates) : rates_text(rates, style));
  return answered;
}

int schema_command(Schema schema, const Streams& streams) {
  streams.out << (schema == Schema::lifetime ? lifetime_schema() : weighing_schema());
  return answered;
}

int guarded(const std::function<int()>& command, std::ostream& err) {
  try {
    return command();
  } catch (const InputError& error) {
    write_problems(error, err);
    return bad_data;
  } catch (const FileError& error) {
    err << "mendworth: " << printable(error.what()) << '\n';
    return file_trouble;
  } catch (const UsageError& error) {
    err << "mendworth: " << printable(error.what()) << '\n';
    return wrong_use;
  } catch (const std::exception& error) {
    err << "mendworth: internal error: " << printable(error.what()) << '\n';
    return internal_error;
  }
}

}  // namespace mendworth::cli
