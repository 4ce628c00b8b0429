#include <fmt/format.h>

#include <ostream>
#include <string>

#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "cli/locked_file.hpp"
#include "input/drawer_columns.hpp"
#include "input/utf8.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/drawer.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"
#include "render/layout.hpp"

namespace mendworth::cli {

namespace {

const char* const drawer_examples =
    "FILE is CSV with a header row. Columns: candidate (its name in a case, or the\n"
    "part's where the part has offers of its own), pieces, since, note. Others are\n"
    "kept. The first --add makes the file. Commands may run at the same time: each\n"
    "waits for its turn at FILE.lock, which stays. If there are too few to take,\n"
    "nothing is changed, and the exit code is 3.\n\n"
    "Examples:\n"
    "  mendworth drawer drawer.csv\n"
    "  mendworth drawer drawer.csv --add \"button 6x6\" --pieces 10\n"
    "  mendworth drawer drawer.csv --take \"button 6x6\" --pieces 2\n"
    "  mendworth weigh case.toml --drawer drawer.csv\n\n";

struct DrawerOptions {
  std::string path;
  std::optional<std::string> add;   ///< a candidate's name; with `take` absent
  std::optional<std::string> take;  ///< neither: list
  std::optional<int> pieces;        ///< 1..most_drawer_pieces; absent: one
  std::optional<Date> since;        ///< absent: today
  std::optional<std::string> note;
  PageOptions page;
};

void require_text(const std::string& option, const std::string& text) {
  if (input::find_bad_byte(text)) throw UsageError(fmt::format("{} is no UTF-8 text", option));
}

void require_name(const std::string& option, const std::string& name) {
  require_text(option, name);
  if (input::trimmed(name).empty()) {
    throw UsageError(fmt::format("{} wants the name of a candidate, as a case gives it", option));
  }
}

void check_use(const DrawerOptions& options) {
  if (options.add && options.take) throw UsageError("--add and --take are two commands: one at a time");
  if (options.add) require_name("--add", *options.add);
  if (options.take) require_name("--take", *options.take);
  if (options.note) require_text("--note", *options.note);
  if (options.pieces && !options.add && !options.take) throw UsageError("--pieces goes with --add or --take");
  if (options.since && !options.add) throw UsageError("--since goes with --add");
  if (options.note && !options.add) throw UsageError("--note goes with --add");
  if ((options.add || options.take) && options.path == "-") {
    throw UsageError("standard input cannot be changed: name the drawer's file");
  }
}

std::string pieces_text(int pieces) { return pieces == 1 ? "1 piece" : fmt::format("{} pieces", pieces); }

/// Adds or takes, and says so.
std::string changed(Drawer& drawer, const DrawerOptions& options, const Surroundings& surroundings) {
  const std::string& name = options.add ? *options.add : *options.take;
  const int pieces = options.pieces.value_or(1);
  if (options.add) {
    const Date since = options.since ? *options.since : today(surroundings);
    add_pieces(drawer, name, pieces, since, options.note.value_or(""));
  } else {
    take_pieces(drawer, name, pieces);
  }
  return fmt::format("{}: {} of '{}' {}; {} there now.", options.path, pieces_text(pieces),
                     input::trimmed(name), options.add ? "added" : "taken", pieces_of(drawer, name));
}

int change(const DrawerOptions& options, AnswerOutput& out, const Streams& streams,
           const Surroundings& surroundings) {
  const LockedFile file(options.path, options.add ? IfMissing::make_it : IfMissing::fail);
  Drawer drawer;
  drawer.source_name = options.path;
  if (options.take || file.exists()) drawer = read_drawer(file.read(largest_drawer), options.path);
  const std::string said = changed(drawer, options, surroundings);
  const std::string csv = drawer_csv(drawer);
  if (csv.size() > largest_drawer) {
    throw InputError(
        {{options.path, 0, 0, "", fmt::format("would be larger than {} bytes", largest_drawer), ""}});
  }
  file.replace(csv);
  const auto page = [&said](const Drawer&, const PageStyle&) { return printable(said) + '\n'; };
  out.write(drawer, page, drawer_json, streams);
  return answered;
}

/// Lists the drawer, or changes its file: under a lock, whole or not at all.
int drawer_command(const DrawerOptions& options, const Streams& streams, const Surroundings& surroundings) {
  check_use(options);
  AnswerOutput out(options.page, drawer_sections(), {options.path}, surroundings);
  if (options.add || options.take) return change(options, out, streams, surroundings);
  const Drawer drawer = read_drawer(read_text_file(options.path, largest_drawer), options.path);
  out.write(drawer, drawer_page, drawer_json, streams);
  return answered;
}

}  // namespace

RunCommand set_up_drawer(OptionSet& set) {
  const auto options = std::make_shared<DrawerOptions>();
  set.examples(drawer_examples);
  set.required({"file", "FILE", "CSV file; to list, - reads standard input"}, options->path);
  set.text({"--add", "NAME", "Put pieces of this candidate in"}, options->add);
  set.text({"--take", "NAME", "Take pieces of it out, the oldest first"}, options->take);
  set.converted({"--pieces", "N", "How many to add or take (default 1)"},
                number_into(options->pieces, 1, most_drawer_pieces));
  set.converted({"--since", "YYYY-MM-DD", "When the added came in (default: today)"},
                day_into(options->since));
  set.text({"--note", "TEXT", "A note on the added pieces"}, options->note);
  add_page_options(set, options->page, drawer_sections());
  add_out_option(set, options->page.out_path);
  return running(options, drawer_command);
}

}  // namespace mendworth::cli
