#pragma once

#include <functional>
#include <iosfwd>
#include <optional>
#include <stdexcept>
#include <string>

#include "mendworth/case.hpp"

/// What a command needs of the world, handed in so that a test can make it up.
namespace mendworth::cli {

struct Streams {
  std::ostream& out;  ///< results
  std::ostream& err;  ///< everything else
};

struct Surroundings {
  std::istream* in = nullptr;  ///< answers to questions
  bool out_is_terminal = false;
  std::optional<int> out_columns{};  ///< of that terminal
  bool err_is_terminal = false;
  std::optional<int> err_columns{};
  bool unicode = false;                          ///< the locale writes UTF-8
  std::optional<std::string> no_color;           ///< NO_COLOR
  std::optional<std::string> term;               ///< TERM
  std::optional<std::string> source_date_epoch;  ///< SOURCE_DATE_EPOCH: seconds since 1970, UTC
  std::function<Date()> clock;                   ///< today, where the user is
};

/// Of this process.
[[nodiscard]] Surroundings process_surroundings();

/// Columns for text: those of the terminal, from 60 to 120, else 80.
[[nodiscard]] int text_columns(const Surroundings& surroundings);
/// The same of the messages.
[[nodiscard]] int message_columns(const Surroundings& surroundings);

/// SOURCE_DATE_EPOCH if that is set, else the clock's day. Throws UsageError if it is set to no count of seconds, or if
/// the clock's day is none that could be stated: before 1583 or after 9999.
[[nodiscard]] Date today(const Surroundings& surroundings);

/// A command line that makes no sense. The command exits with 2.
class UsageError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

}  // namespace mendworth::cli
