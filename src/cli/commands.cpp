#include "cli/commands.hpp"

#include <fmt/format.h>

#include <ostream>

#include "cli/case_input.hpp"
#include "cli/destination.hpp"
#include "cli/exit_code.hpp"
#include "cli/output_file.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/drawer.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"
#include "mendworth/shop.hpp"
#include "render/layout.hpp"

namespace mendworth::cli {

namespace {

// What is said about a file may hold bytes of the file.
void write_problems(const InputError& error, std::ostream& err) {
  for (const Diagnostic& problem : error.problems()) err << printable(problem.text()) << '\n';
  if (error.problems().size() > 1) err << fmt::format("{} problems\n", error.problems().size());
}

// The clock is asked only if the case has a guarantee and no date was stated.
std::optional<Date> today_for(const Case& c, const std::optional<Date>& stated,
                              const Surroundings& surroundings) {
  if (stated || !c.device.guarantee_until) return stated;
  return today(surroundings);
}

}  // namespace

bool colored(ColorChoice choice, const Surroundings& surroundings, bool to_standard_output) {
  if (choice != ColorChoice::automatic) return choice == ColorChoice::always;
  const bool unwanted = surroundings.no_color && !surroundings.no_color->empty();
  const bool dumb = surroundings.term && *surroundings.term == "dumb";
  return to_standard_output && surroundings.out_is_terminal && !unwanted && !dumb;
}

int weigh_command(const WeighOptions& options, const Streams& streams, const Surroundings& surroundings) {
  check_drawer_use(options.case_path, options.drawer_path, options.out_path);
  Destination out(options.out_path, "--out", options.case_path);

  const PageStyle style =
      page_style(options.page, weighing_sections(), surroundings, out.is_standard_output());
  const RateBook rates = rates_with(options.rates_directory);
  Case c = case_from(options.case_path, rates, options.overrides);
  const std::vector<std::string> drawer_notes = lay_out_drawer(options.drawer_path, c);
  WeighSettings settings = options.settings;
  settings.today = today_for(c, settings.today, surroundings);
  Weighing w = weigh(c, rates, settings);
  w.notes.insert(w.notes.end(), drawer_notes.begin(), drawer_notes.end());

  out.write(options.page.format == Format::json ? weighing_json(w) : weighing_page(w, style), streams);
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
  const std::string text = options.shop ? starter_shop() : starter_case(options.every_key);
  if (names_standard_output(options.path)) {
    streams.out << text;
  } else {
    write_new_file(*options.path, text);
    streams.err << fmt::format("{0}: written. Fill it in, then: mendworth {1} {0}\n", *options.path,
                               options.shop ? "quote CASE --shop" : "weigh");
  }
  return answered;
}

int rates_command(const RatesOptions& options, const Streams& streams, const Surroundings& surroundings) {
  const PageStyle style = page_style(options.page, rates_sections(), surroundings, true);
  const RateBook rates = rates_with(options.rates_directory);
  streams.out << (options.page.format == Format::json ? rates_json(rates) : rates_page(rates, style));
  return answered;
}

int schema_command(Schema schema, const Streams& streams) {
  switch (schema) {
    case Schema::weighing: streams.out << weighing_schema(); break;
    case Schema::buying: streams.out << buying_schema(); break;
    case Schema::bulk: streams.out << bulk_schema(); break;
    case Schema::lifetime: streams.out << lifetime_schema(); break;
    case Schema::drawer: streams.out << drawer_schema(); break;
    case Schema::quote: streams.out << quote_schema(); break;
    case Schema::quote_at_cost: streams.out << shop_schema(); break;
    case Schema::case_file: streams.out << case_file_schema(); break;
    case Schema::shop_file: streams.out << shop_file_schema(); break;
  }
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
  } catch (const UnknownName& error) {
    err << "mendworth: " << printable(error.what()) << '\n';
    return wrong_use;
  } catch (const std::exception& error) {
    err << "mendworth: internal error: " << printable(error.what()) << '\n';
    return internal_error;
  }
}

}  // namespace mendworth::cli
