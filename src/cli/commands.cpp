#include "cli/commands.hpp"

#include <fmt/format.h>

#include <new>
#include <ostream>
#include <system_error>

#include "cli/exit_code.hpp"
#include "cli/problem_text.hpp"
#include "mendworth/diagnostic.hpp"

namespace mendworth::cli {

bool colored(ColorChoice choice, const Surroundings& surroundings, bool to_standard_output) {
  if (choice != ColorChoice::automatic) return choice == ColorChoice::always;
  const bool unwanted = surroundings.no_color && !surroundings.no_color->empty();
  const bool dumb = surroundings.term && *surroundings.term == "dumb";
  return to_standard_output && surroundings.out_is_terminal && !unwanted && !dumb;
}

int guarded(const std::function<int()>& command, std::ostream& err, int columns) {
  const auto tell = [&](const std::string& words) { err << message_text("mendworth: " + words, columns); };
  try {
    return command();
  } catch (const InputError& error) {
    err << problems_text(error.problems(), columns);
    return bad_data;
  } catch (const FileError& error) {
    tell(error.what());
    return file_trouble;
  } catch (const UsageError& error) {
    tell(error.what());
    return wrong_use;
  } catch (const UnknownName& error) {
    tell(error.what());
    return wrong_use;
  } catch (const std::bad_alloc&) {
    tell("out of memory");
    return out_of_resources;
  } catch (const std::exception& error) {
    const auto* system = dynamic_cast<const std::system_error*>(&error);
    if (system != nullptr && system->code() == std::errc::resource_unavailable_try_again) {
      tell("the system has no more threads to give; --threads 1 needs none");
      return out_of_resources;
    }
    tell(std::string("internal error: ") + error.what());
    return internal_error;
  }
}

}  // namespace mendworth::cli
