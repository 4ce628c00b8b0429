#include "cli/commands.hpp"

#include <fmt/format.h>

#include <ostream>

#include "cli/exit_code.hpp"
#include "mendworth/diagnostic.hpp"
#include "render/layout.hpp"

namespace mendworth::cli {

namespace {

// What is said about a file may hold bytes of the file.
void write_problems(const InputError& error, std::ostream& err) {
  for (const Diagnostic& problem : error.problems()) err << printable(problem.text()) << '\n';
  if (error.problems().size() > 1) err << fmt::format("{} problems\n", error.problems().size());
}

}  // namespace

bool colored(ColorChoice choice, const Surroundings& surroundings, bool to_standard_output) {
  if (choice != ColorChoice::automatic) return choice == ColorChoice::always;
  const bool unwanted = surroundings.no_color && !surroundings.no_color->empty();
  const bool dumb = surroundings.term && *surroundings.term == "dumb";
  return to_standard_output && surroundings.out_is_terminal && !unwanted && !dumb;
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
  } catch (const std::exception& error) {
    err << "mendworth: internal error: " << printable(error.what()) << '\n';
    return internal_error;
  }
}

}  // namespace mendworth::cli
