#include <algorithm>
#include <ostream>

#include "cli/case_input.hpp"
#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "cli/problem_text.hpp"
#include "input/file_kind.hpp"
#include "mendworth/bulk.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/drawer.hpp"
#include "mendworth/history.hpp"
#include "mendworth/past_use.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"
#include "mendworth/shop.hpp"

namespace mendworth::cli {

namespace {

using input::FileKind;

void read_whatever(FileKind kind, const std::string& text, const std::string& path,
                   const CheckOptions& options, RateBook rates) {
  switch (kind) {
    case FileKind::shop: static_cast<void>(read_shop(text, path, rates)); return;
    case FileKind::rates: overlay_rates(rates, text, path); return;
    case FileKind::drawer: static_cast<void>(read_drawer(text, path)); return;
    case FileKind::past_use: static_cast<void>(read_past_use(text, path)); return;
    case FileKind::history: {
      HistoryOptions reading;
      reading.decimal_comma = options.decimal_comma;
      static_cast<void>(read_history(text, path, reading));
      return;
    }
    case FileKind::quotation: {
      QuotationOptions reading;
      if (options.decimal_comma) reading.decimal_comma = true;
      static_cast<void>(read_quotation(text, path, reading));
      return;
    }
    case FileKind::unknown:
      if (path.ends_with(".csv"))
        throw InputError(
            {{path, 0, 0, "", "its columns are those of no drawer, history, quotation or past use",
              "a table of devices goes to 'mendworth rows CASE TABLE'"}});
      [[fallthrough]];
    case FileKind::case_file: static_cast<void>(read_case(text, path, rates)); return;
  }
}

CheckedFile checked(const std::string& path, const CheckOptions& options, const RateBook& rates) {
  CheckedFile file{path, input::name_of(FileKind::unknown), {}, ""};
  try {
    const std::string text = read_text_file(path, std::max(largest_history, largest_drawer));
    const FileKind kind = input::kind_of(text);
    file.kind = input::name_of(kind);
    read_whatever(kind, text, path, options, rates);
  } catch (const InputError& error) {
    file.problems = error.problems();
  } catch (const FileError& error) {
    file.trouble = error.what();
  }
  return file;
}

int code_of(const CheckedFile& file) {
  return !file.trouble.empty() ? file_trouble : file.problems.empty() ? answered : bad_data;
}

}  // namespace

int check_command(const CheckOptions& options, const Streams& streams, const Surroundings& surroundings) {
  AnswerOutput out(options.page, check_sections(), {options.paths.begin(), options.paths.end()},
                   surroundings);
  const RateBook rates = rates_with(options.rates_directory);
  const int columns = message_columns(surroundings);
  std::vector<CheckedFile> files;
  int worst = answered;
  for (const std::string& path : options.paths) {
    const CheckedFile& file = files.emplace_back(checked(path, options, rates));
    worst = std::max(worst, code_of(file));
    if (out.is_json() || !out.style().is_usual_text()) continue;
    if (!file.trouble.empty()) streams.err << message_text("mendworth: " + file.trouble, columns);
    streams.err << problems_text(file.problems, columns);
  }
  out.write(files, check_page, check_json, streams);
  return worst;
}

RunCommand set_up_check(OptionSet& set) {
  const auto options = std::make_shared<CheckOptions>();
  set.examples("");
  set.required(
      {"files", "FILE",
       "Cases, shops, rates, drawers, histories, quotations\nor records of past use; - reads standard input"},
      options->paths);
  set.flag("--decimal-comma", "1,5 in a table is one and a half", options->decimal_comma);
  add_page_options(set, options->page, check_sections());
  add_rates_option(set, options->rates_directory);
  add_out_option(set, options->page.out_path);
  return running(options, check_command);
}

}  // namespace mendworth::cli
