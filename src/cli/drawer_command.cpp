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

void write_answer(const DrawerOptions& options, const Drawer& drawer, const Streams& streams,
                  const Surroundings& surroundings) {
  const PageStyle style = page_style(options.page, drawer_sections(), surroundings, true);
  streams.out << (options.page.format == Format::json ? drawer_json(drawer) : drawer_page(drawer, style));
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

int change(const DrawerOptions& options, const Streams& streams, const Surroundings& surroundings) {
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
  if (options.page.format == Format::json) {
    write_answer(options, drawer, streams, surroundings);
  } else {
    streams.out << printable(said) << '\n';
  }
  return answered;
}

}  // namespace

int drawer_command(const DrawerOptions& options, const Streams& streams, const Surroundings& surroundings) {
  check_use(options);
  if (options.add || options.take) return change(options, streams, surroundings);
  write_answer(options, read_drawer(read_text_file(options.path, largest_drawer), options.path), streams,
               surroundings);
  return answered;
}

}  // namespace mendworth::cli
