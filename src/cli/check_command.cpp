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
#include "render/layout.hpp"

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

/// Problems are messages; what is right is the answer.
std::string text_of(const CheckedFile& file, const Streams& streams) {
  if (!file.trouble.empty()) {
    streams.err << "mendworth: " << printable(file.trouble) << '\n';
  } else if (!file.problems.empty()) {
    streams.err << problems_text(file.problems);
  } else {
    return fmt::format("{}: ok ({})\n", printable(file.file), file.kind);
  }
  return {};
}

}  // namespace

int check_command(const CheckOptions& options, const Streams& streams) {
  Destination out(options.out_path, "--out", {options.paths.begin(), options.paths.end()});
  const RateBook rates = rates_with(options.rates_directory);
  std::vector<CheckedFile> files;
  std::string text;
  int worst = answered;
  for (const std::string& path : options.paths) {
    files.push_back(checked(path, options, rates));
    const CheckedFile& file = files.back();
    if (options.format == Format::text) text += text_of(file, streams);
    worst = std::max<int>(worst, !file.trouble.empty()   ? file_trouble
                                 : file.problems.empty() ? answered
                                                         : bad_data);
  }
  out.write(options.format == Format::json ? check_json(files) : text, streams);
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
  set.converted(
      {"--format", "FORMAT", "text (default) or json"},
      choice_into(options->format, Choices<Format>{{"text", Format::text}, {"json", Format::json}}));
  add_rates_option(set, options->rates_directory);
  add_out_option(set, options->out_path);
  return [options](const Streams& streams, const Surroundings&) { return check_command(*options, streams); };
}

}  // namespace mendworth::cli
