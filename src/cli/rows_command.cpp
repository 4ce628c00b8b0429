#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <filesystem>
#include <ostream>
#include <sstream>
#include <thread>

#include "cli/answer_output.hpp"
#include "cli/case_input.hpp"
#include "cli/commands.hpp"
#include "cli/destination.hpp"
#include "cli/exit_code.hpp"
#include "cli/line_source.hpp"
#include "cli/progress_line.hpp"
#include "cli/row_pool.hpp"
#include "mendworth/render.hpp"
#include "mendworth/row_answer.hpp"
#include "mendworth/rows.hpp"
#include "mendworth/shared_order.hpp"
#include "render/rows_page.hpp"

namespace mendworth::cli {

namespace {

namespace fs = std::filesystem;

const char* const rows_examples =
    "TABLE is CSV, a device on each line. A heading is a key of the case, or a word\n"
    "that the case's section [rows] maps to one; other columns are copied. What was\n"
    "read comes back with verdict, saving, its standard error, money now and the\n"
    "replacement's price at which both cost the same. A row that is wrong says why in\n"
    "its column 'problem'; the others go on, and the exit code is 3 in the end.\n\n"
    "With --order the devices also share one order: which of them to repair then, what\n"
    "to order and what each pays goes to a file, as 'mendworth buy' says it of several\n"
    "cases; of at most 500 rows. Rows that are wrong have no part in it.\n\n"
    "Examples:\n"
    "  mendworth rows case.toml devices.csv > answers.csv\n"
    "  mendworth rows case.toml devices.csv --order order.txt > answers.csv\n"
    "  mendworth rows case.toml devices.csv --format json | head -3\n"
    "  mendworth rows case.toml devices.csv --format html --out report.html\n"
    "  mendworth rows case.toml - --header serial,age < part-of-a-table.csv\n\n";

constexpr std::size_t most_report_rows = 2000;

enum class RowForm { csv, json, html };

struct RowsOptions : CaseInput {
  std::string table_path;
  RowTableOptions table;
  RowForm form = RowForm::csv;
  std::optional<std::string> out_path;
  std::optional<std::string> order_path;  ///< where the order that all devices share is written
  WeighSettings settings;
};

/// The devices of a table as jobs of one order.
class OrderOfRows {
 public:
  OrderOfRows(const RowsOptions& options, const Surroundings& surroundings) : table_(options.table_path) {
    if (!options.order_path) return;
    if (options.order_path == "-") throw UsageError("--order wants a file; standard output has the rows");
    out_.emplace(PageOptions{.format = options.form == RowForm::json   ? Format::json
                                       : options.form == RowForm::html ? Format::html
                                                                       : Format::text,
                             .out_path = options.order_path},
                 shared_order_sections(),
                 std::vector<std::optional<std::string>>{options.case_path, options.table_path},
                 surroundings);
  }

  [[nodiscard]] bool wanted() const { return out_.has_value(); }

  void add(const RowReader& reader, const std::string& line) {
    if (!out_) return;
    if (rows_ == most_rows) {
      throw UsageError(fmt::format("--order: one order is for at most {} rows; cut the table", most_rows));
    }
    ++rows_;
    TableRow row = reader.read(line);
    if (!row.c) return;
    row.c->source_name = fmt::format("{} row {}", table_, rows_);
    cases_.push_back(std::move(*row.c));
  }

  /// Nothing is written if no row is a device.
  void write(const RateBook& rates, const WeighSettings& settings, int threads, const Streams& streams) {
    if (!out_ || cases_.empty()) return;
    out_->write(
        shared_order(cases_, rates, {.seed = settings.seed, .futures = settings.futures, .threads = threads}),
        shared_order_page, shared_order_json, streams);
  }

 private:
  static constexpr std::uint64_t most_rows = 500;
  std::string table_;
  std::optional<AnswerOutput> out_;
  std::vector<Case> cases_;
  std::uint64_t rows_ = 0;
};

int ended(std::uint64_t bad, std::uint64_t done, const Streams& streams) {
  if (!streams.out || bad == 0)
    return answered;  // of output that cannot be written main says what is the matter
  streams.err << fmt::format("mendworth: {} of {} rows have no answer; see their column 'problem'\n", bad,
                             done);
  return bad_data;
}

/// Answers row by row to where output goes; bad data in the end if a row was wrong.
int answer_rows(const RowsOptions& options, const Streams& streams, const Surroundings& surroundings) {
  if (options.case_path == "-") throw UsageError("the case is a file; standard input may be the table");
  require_key_value(options.overrides);
  OrderOfRows order(options, surroundings);
  const RateBook rates = rates_with(options.rates_directory);
  const std::string case_text = read_text_file(options.case_path);
  LineSource lines(options.table_path, surroundings.in);
  std::optional<std::string> line = lines.next(longest_row);
  if (!line && !options.table.header) {
    throw InputError(
        {{options.table_path, 0, 0, "", "the table is empty", "its first line has the headings"}});
  }
  const RowReader reader(case_text, options.case_path, rates, options.overrides, line.value_or(""),
                         options.table_path, options.table);
  if (!options.table.header) line = lines.next(longest_row);

  WeighSettings settings = options.settings;
  const int threads = settings.threads > 0
                          ? settings.threads
                          : std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
  settings.threads = 1;  // within a row; the rows are worked on side by side
  const RowAnswerer answer_of(rates, settings);
  std::atomic<std::uint64_t> bad = 0, done = 0;
  // A report and an order are of the whole table; one of too many rows is refused before any is answered.
  const bool is_report = options.form == RowForm::html;
  std::vector<std::string> all;
  for (; line && (is_report || order.wanted()); line = lines.next(longest_row)) {
    if (is_report && all.size() == most_report_rows) {
      throw UsageError(fmt::format("a report is of at most {} rows: --format csv or json takes any number",
                                   most_report_rows));
    }
    order.add(reader, *line);
    all.push_back(std::move(*line));
  }
  if (is_report) {
    std::vector<ReportRow> rows(all.size());
    const auto answered_row = [&](const std::string& number) {
      const std::size_t at = std::stoul(number);
      TableRow row = reader.read(all[at]);
      if (row.c) rows[at].answer = answer_of(*row.c);
      rows[at].fields = std::move(row.fields);
      rows[at].problem = std::move(row.problem);
      return std::string();
    };
    RowPool pool(threads, answered_row, [](const std::string&) { return true; });
    for (std::size_t at = 0; at < all.size() && pool.add(std::to_string(at)); ++at) continue;
    pool.finish();
    streams.out << rows_page(fs::path(options.table_path).filename().string(), reader.headings(), rows,
                             {.form = PageForm::html})
                << std::flush;
    for (const ReportRow& row : rows) bad += row.answer ? 0U : 1U;
    done = rows.size();
    if (streams.out) order.write(rates, settings, threads, streams);
    return ended(bad, done, streams);
  }
  const bool json = options.form == RowForm::json;
  const auto line_of = [&](const std::string& text) {
    TableRow row = reader.read(text);
    std::optional<RowAnswer> answer;
    if (row.c) answer = answer_of(*row.c);
    if (!answer) ++bad;
    ++done;
    return json ? row_json(reader.headings(), row, answer) : row_csv(row, answer);
  };
  if (!json && !options.table.header) streams.out << row_headings_csv(reader.headings()) << std::flush;
  {
    ProgressLine progress(surroundings.err_is_terminal && !surroundings.out_is_terminal, streams.err);
    const auto so_far = [&](double seconds) {
      const std::uint64_t rows = done;
      const auto rate = static_cast<double>(rows) / std::max(seconds, 1e-3);
      return fmt::format("{} rows, {:.0f} a second", rows, rate);
    };
    const auto share = [&]() -> std::optional<double> {
      if (!all.empty()) return static_cast<double>(done) / static_cast<double>(all.size());
      const auto size = lines.size().value_or(0);
      if (size == 0) return std::nullopt;
      return static_cast<double>(lines.bytes_read()) / static_cast<double>(size);
    };
    RowPool pool(threads, line_of, [&](const std::string& results) {
      return static_cast<bool>(streams.out << results << std::flush);
    });
    for (std::size_t at = 0; at < all.size() && pool.add(std::move(all[at])); ++at)
      progress.tell(share, so_far);
    while (line && pool.add(std::move(*line))) {
      line = lines.next(longest_row);
      progress.tell(share, so_far);
    }
    pool.finish();
  }
  if (streams.out) order.write(rates, settings, threads, streams);
  return ended(bad, done, streams);
}

int rows_command(const RowsOptions& options, const Streams& streams, const Surroundings& surroundings) {
  Destination out(options.out_path, "--out", {options.case_path, options.table_path});
  require_different_places(options.out_path, "--out", options.order_path, "--order");
  if (out.is_standard_output()) return answer_rows(options, streams, surroundings);
  std::ostringstream rows;  // a file is there whole or not at all
  const int code = answer_rows(options, {rows, streams.err}, surroundings);
  out.write(rows.str(), streams);
  return code;
}

}  // namespace

RunCommand set_up_rows(OptionSet& set) {
  const auto options = std::make_shared<RowsOptions>();
  set.examples(rows_examples);
  add_case_argument(set, *options);
  set.required({"table", "TABLE", "CSV file; - reads standard input"}, options->table_path);
  set.converted(
      {"--format", "FORMAT",
       "csv (default), json: one object a line, or html: a\nreport of at most 2000 rows"},
      choice_into(options->form,
                  Choices<RowForm>{{"csv", RowForm::csv}, {"json", RowForm::json}, {"html", RowForm::html}}));
  set.text({"--header", "LIST", "The headings, of a table that has none; nor has the\nanswer"},
           options->table.header);
  set.text(
      {"--order", "FILE", "One order for all devices, into FILE: text, or JSON\nor HTML as the rows are"},
      options->order_path);
  set.flag("--decimal-comma", "1,5 is one and a half", options->table.decimal_comma);
  add_case_options(set, *options);
  options->settings.precision_share = usual_row_precision;
  add_simulation_options(set, options->settings);
  add_out_option(set, options->out_path);
  return running(options, rows_command);
}

}  // namespace mendworth::cli
