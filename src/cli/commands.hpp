#pragma once

#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "cli/destination.hpp"
#include "cli/page_style.hpp"
#include "cli/surroundings.hpp"
#include "cli/values.hpp"
#include "mendworth/bulk.hpp"
#include "mendworth/buy.hpp"
#include "mendworth/history.hpp"
#include "mendworth/lifetime.hpp"
#include "mendworth/quote.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/rows.hpp"
#include "mendworth/weigh.hpp"

/// The commands, each from its options to an exit code. They throw InputError, FileError and UsageError;
/// `guarded` turns these into messages and exit codes.
namespace mendworth::cli {

struct WeighOptions {
  std::string case_path;
  std::vector<std::string> beside_paths{};  ///< further cases, shown beside it
  PageOptions page;
  std::vector<std::string> overrides;  ///< "key=value"
  std::optional<std::string> rates_directory;
  std::optional<std::string> drawer_path;  ///< spare parts on hand
  WeighSettings settings;                  ///< `today` only if stated
  std::optional<std::string> out_path;     ///< absent or "-": standard output
};
int weigh_command(const WeighOptions& options, const Streams& streams, const Surroundings& surroundings);
/// The same for a case that was read already; `notes` are shown with those of the answer. Its what-ifs and `others` stand
/// beside it.
int weigh_case(Case c, std::vector<Case> others, const RateBook& rates, const WeighOptions& options,
               const std::vector<std::string>& notes, Destination& out, const Streams& streams,
               const Surroundings& surroundings);

struct AskOptions {
  std::vector<std::pair<std::string, std::string>> answers;  ///< by the key of a question; each key once
  bool yes = false;                     ///< take what is usual for all that is not said, and ask nothing
  std::optional<std::string> case_out;  ///< a new file for the case
  WeighOptions weigh;                   ///< how it is weighed and shown: no path, overrides, drawer
};
/// Asks at `surroundings.in` for what the options leave open, makes a case of it, keeps that and weighs it. Throws
/// InputError if the answers end before the last question.
int ask_command(const AskOptions& options, const Streams& streams, const Surroundings& surroundings);

struct BuyOptions {
  std::string case_path;
  PageOptions page;
  std::vector<std::string> overrides;  ///< "key=value"
  std::vector<std::string> pieces;     ///< "PART=N"
  std::optional<std::string> rates_directory;
  std::optional<std::string> drawer_path;
  BuySettings settings;                 ///< `pieces` come from above
  std::optional<std::string> out_path;  ///< absent or "-": standard output
};
int buy_command(const BuyOptions& options, const Streams& streams, const Surroundings& surroundings);

struct CheckOptions {
  std::vector<std::string> paths;  ///< of cases, shops, rates, drawers, histories, quotations
  std::optional<std::string> rates_directory;
  bool decimal_comma = false;  ///< in tables
  Format format = Format::text;
};
/// Reads every file, whatever happens to the others; 4 if one could not be read, else 3 if one is wrong, else 0.
int check_command(const CheckOptions& options, const Streams& streams);

struct NewOptions {
  std::optional<std::string> path;  ///< absent or "-": standard output
  bool every_key = false;
  bool shop = false;  ///< a shop file, which shows every key
};
int new_command(const NewOptions& options, const Streams& streams);

struct RatesOptions {
  std::optional<std::string> rates_directory;
  PageOptions page;
};
int rates_command(const RatesOptions& options, const Streams& streams, const Surroundings& surroundings);

struct LifetimeOptions {
  std::string history_path;
  HistoryOptions reading;
  LifetimeSettings settings;
  PageOptions page;
  std::optional<std::string> out_path;    ///< absent or "-": standard output
  std::optional<std::string> plot_path;   ///< SVG
  std::optional<std::string> rates_path;  ///< an entry of each group for `weigh --rates`
  std::optional<std::string> rates_name;  ///< of the entry; default: the part's name
};
/// Nothing is written unless all that is asked for can be.
int lifetime_command(const LifetimeOptions& options, const Streams& streams,
                     const Surroundings& surroundings);

struct BulkOptions {
  std::string case_path;
  PageOptions page;
  std::vector<std::string> overrides;  ///< "key=value"
  std::optional<std::string> rates_directory;
  std::vector<std::string> quotation_paths;  ///< CSV
  QuotationOptions quotations;
  BulkSettings settings;                ///< quotations are read from the paths
  std::optional<std::string> out_path;  ///< absent or "-": standard output
};
int bulk_command(const BulkOptions& options, const Streams& streams, const Surroundings& surroundings);

struct RowsOptions {
  std::string case_path, table_path;
  RowTableOptions table;
  bool json = false;  ///< lines of JSON in place of CSV
  std::vector<std::string> overrides;  ///< "key=value"
  std::optional<std::string> rates_directory;
  WeighSettings settings{.futures = usual_row_futures};
};
/// Answers row by row to standard output; 3 in the end if a row was wrong.
int rows_command(const RowsOptions& options, const Streams& streams, const Surroundings& surroundings);

/// A name for the rates: letters and digits of `text`, in lower case, and hyphens for all between; may be empty.
[[nodiscard]] std::string rates_name_from(const std::string& text);

struct DrawerOptions {
  std::string path;
  std::optional<std::string> add;   ///< a candidate's name; with `take` absent
  std::optional<std::string> take;  ///< neither: list
  std::optional<int> pieces;        ///< 1..most_drawer_pieces; absent: one
  std::optional<Date> since;        ///< absent: today
  std::optional<std::string> note;
  PageOptions page;
};
/// Lists the drawer, or changes its file: under a lock, whole or not at all.
int drawer_command(const DrawerOptions& options, const Streams& streams, const Surroundings& surroundings);

struct QuoteOptions {
  enum class Page { customer, shop };
  std::string case_path;
  std::optional<std::string> shop_path;  ///< absent: the case's labour rate, parts at cost, no tax
  Page page = Page::customer;            ///< on standard output
  PageFormat format = PageFormat::text;
  std::optional<std::string> out_path;          ///< of the page; absent or "-": standard output
  std::optional<std::string> record_directory;  ///< a record is kept there
  std::vector<std::string> overrides;           ///< "key=value"
  std::optional<std::string> rates_directory;
  std::optional<std::string> drawer_path;
  QuoteSettings settings;               ///< but for `date` and `declined`, which come from below
  std::optional<Date> date;             ///< absent: today
  bool declined = false;                ///< an invoice for the diagnosis
  std::optional<double> minutes_spent;  ///< with `declined` alone
  std::optional<std::string> again;     ///< a record to make anew; then no case is read
  ColorChoice color = ColorChoice::automatic;
};
/// Prints a page and keeps a record, or neither: `refused` if the job must not be quoted, with the reasons as messages.
int quote_command(const QuoteOptions& options, const Streams& streams, const Surroundings& surroundings);

struct SchemaOptions {
  std::string command = "weigh";  ///< one of schema_names()
};
/// Commands whose answers have a JSON Schema, and "quote-at-cost" for the shop's page of a quote.
[[nodiscard]] std::vector<std::string> schema_names();
int schema_command(const SchemaOptions& options, const Streams& streams);

/// Runs a command; what it throws goes to `err` as messages and comes back as an exit code.
int guarded(const std::function<int()>& command, std::ostream& err);

/// Whether results are emphasised: a stated choice wins, then NO_COLOR, TERM=dumb and the kind of output.
[[nodiscard]] bool colored(ColorChoice choice, const Surroundings& surroundings, bool to_standard_output);

}  // namespace mendworth::cli
