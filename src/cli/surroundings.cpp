#include "cli/surroundings.hpp"

#include <fmt/format.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <ctime>
#include <iostream>

#include "cli/values.hpp"
#include "input/day_text.hpp"

namespace mendworth::cli {

namespace {

std::optional<std::string> environment(const char* name) {
  const char* value = std::getenv(name);
  if (value == nullptr) return std::nullopt;
  return std::string(value);
}

// The first of these that says anything decides, as POSIX has it.
bool locale_is_utf8() {
  for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
    const auto value = environment(name);
    if (!value || value->empty()) continue;
    return value->find("UTF-8") != std::string::npos || value->find("utf8") != std::string::npos;
  }
  return false;
}

std::optional<int> terminal_columns(int descriptor) {
  winsize size{};
  if (ioctl(descriptor, TIOCGWINSZ, &size) != 0 || size.ws_col == 0) return std::nullopt;
  return size.ws_col;
}

int readable(std::optional<int> columns) {
  constexpr int narrowest = 60, usual = 80, widest = 120;
  return std::clamp(columns.value_or(usual), narrowest, widest);
}

Date local_today() {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  localtime_r(&now, &local);
  return {local.tm_year + 1900, local.tm_mon + 1, local.tm_mday};
}

}  // namespace

Surroundings process_surroundings() {
  return {.in = &std::cin,
          .out_is_terminal = isatty(STDOUT_FILENO) == 1,
          .out_columns = terminal_columns(STDOUT_FILENO),
          .err_is_terminal = isatty(STDERR_FILENO) == 1,
          .err_columns = terminal_columns(STDERR_FILENO),
          .unicode = locale_is_utf8(),
          .no_color = environment("NO_COLOR"),
          .term = environment("TERM"),
          .source_date_epoch = environment("SOURCE_DATE_EPOCH"),
          .clock = local_today};
}

int text_columns(const Surroundings& surroundings) { return readable(surroundings.out_columns); }

int message_columns(const Surroundings& surroundings) { return readable(surroundings.err_columns); }

Date today(const Surroundings& surroundings) {
  const auto& epoch = surroundings.source_date_epoch;
  if (!epoch || epoch->empty()) {
    const Date day = surroundings.clock();
    // What is written with it must be read again.
    if (!input::day_of(input::day_text(day)))
      throw UsageError(fmt::format(
          "the clock says that it is the year {}: set the clock, or SOURCE_DATE_EPOCH", day.year));
    return day;
  }
  const auto fixed = day_of_epoch_seconds(*epoch);
  if (!fixed) throw UsageError(fmt::format("SOURCE_DATE_EPOCH is not a count of seconds: '{}'", *epoch));
  return *fixed;
}

}  // namespace mendworth::cli
