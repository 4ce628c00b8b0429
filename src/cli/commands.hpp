#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "cli/case_input.hpp"
#include "cli/option_set.hpp"
#include "cli/shared_options.hpp"
#include "cli/surroundings.hpp"
#include "mendworth/curve.hpp"
#include "mendworth/history.hpp"
#include "mendworth/lifetime.hpp"
#include "mendworth/quote.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/weigh.hpp"

namespace mendworth::cli {

/// The commands. Each states its options and gives what runs it; the table in cli.cpp names them.
using RunCommand = std::function<int(const Streams&, const Surroundings&)>;
RunCommand set_up_ask(OptionSet& set);
RunCommand set_up_bulk(OptionSet& set);
RunCommand set_up_buy(OptionSet& set);
RunCommand set_up_check(OptionSet& set);
RunCommand set_up_drawer(OptionSet& set);
RunCommand set_up_lifetime(OptionSet& set);
RunCommand set_up_new(OptionSet& set);
RunCommand set_up_page(OptionSet& set);
RunCommand set_up_quote(OptionSet& set);
RunCommand set_up_rates(OptionSet& set);
RunCommand set_up_rows(OptionSet& set);
RunCommand set_up_schema(OptionSet& set);
RunCommand set_up_weigh(OptionSet& set);

/// What `schema` knows, by the word that it takes.
using Schema = std::pair<std::string, std::function<std::string()>>;
const std::vector<Schema>& schemas();

/// The run of a command whose options are kept as long as it.
template <class Options>
RunCommand running(std::shared_ptr<Options> options,
                   int (*run)(const Options&, const Streams&, const Surroundings&)) {
  return [options, run](const Streams& streams, const Surroundings& surroundings) {
    return run(*options, streams, surroundings);
  };
}

// What follows is shared by commands, or reached by tests. Commands throw InputError, FileError and UsageError;
// `guarded` turns these into messages and exit codes.

struct WeighOptions : CaseInput {
  std::vector<std::string> beside_paths{};  ///< further cases, shown beside it
  std::vector<VariedKey> vary{};            ///< a curve in place of the answer
  PageOptions page;
  WeighSettings settings;  ///< `today` only if stated
};
int weigh_command(const WeighOptions& options, const Streams& streams, const Surroundings& surroundings);
/// The same for cases that were read already; all but the first stand beside it, as do their what-ifs.
int weigh_cases(const std::vector<CaseRead>& read, const WeighOptions& options, AnswerOutput& out,
                const Streams& streams, const Surroundings& surroundings);

struct CheckOptions {
  std::vector<std::string> paths;  ///< of cases, shops, rates, drawers, histories, quotations
  std::optional<std::string> rates_directory;
  bool decimal_comma = false;  ///< in tables
  PageOptions page;
};
/// Reads every file, whatever happens to the others; 4 if one could not be read, else 3 if one is wrong, else 0.
int check_command(const CheckOptions& options, const Streams& streams, const Surroundings& surroundings);

struct NewOptions {
  std::optional<std::string> path;  ///< absent or "-": standard output
  bool every_key = false;
  bool shop = false;  ///< a shop file, which shows every key
};
int new_command(const NewOptions& options, const Streams& streams);

struct LifetimeOptions {
  std::string history_path;
  HistoryOptions reading;
  LifetimeSettings settings;
  PageOptions page;
  std::optional<std::string> plot_path;   ///< SVG
  std::optional<std::string> rates_path;  ///< an entry of each group for `weigh --rates`
  std::optional<std::string> rates_name;  ///< of the entry; default: the part's name
};
/// Nothing is written unless all that is asked for can be.
int lifetime_command(const LifetimeOptions& options, const Streams& streams,
                     const Surroundings& surroundings);

/// A name for the rates: letters and digits of `text`, in lower case, and hyphens for all between; may be empty.
[[nodiscard]] std::string rates_name_from(const std::string& text);

struct QuoteOptions : CaseInput {
  enum class Page { customer, shop };
  std::optional<std::string> shop_path;         ///< absent: the case's labour rate, parts at cost, no tax
  Page page = Page::customer;                   ///< which is written
  PageOptions looks;                            ///< of it
  std::optional<std::string> record_directory;  ///< a record is kept there
  QuoteSettings settings;                       ///< but for `date` and `declined`, which come from below
  std::optional<Date> date;                     ///< absent: today
  bool declined = false;                        ///< an invoice for the diagnosis
  std::optional<double> minutes_spent;          ///< with `declined` alone
  std::optional<std::string> again;             ///< a record to make anew; then no case is read
};
/// Prints a page and keeps a record, or neither: `refused` if the job must not be quoted, with the reasons as messages.
int quote_command(const QuoteOptions& options, const Streams& streams, const Surroundings& surroundings);

/// Runs a command; what it throws goes to `err` as messages of so many columns and comes back as an exit code.
int guarded(const std::function<int()>& command, std::ostream& err, int columns);

/// Whether results are emphasised: a stated choice wins, then NO_COLOR, TERM=dumb and the kind of output.
[[nodiscard]] bool colored(ColorChoice choice, const Surroundings& surroundings, bool to_standard_output);

}  // namespace mendworth::cli
