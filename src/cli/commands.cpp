#include "cli/commands.hpp"

#include <fmt/format.h>

#include <new>
#include <ostream>
#include <system_error>

#include "cli/exit_code.hpp"
#include "cli/problem_text.hpp"
#include "mendworth/diagnostic.hpp"
#include "render/layout.hpp"

namespace mendworth::cli {

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
    err << problems_text(error.problems());
    return bad_data;
  } catch (const FileError& error) {
    err << "mendworth: " << printable(error.what()) << '\n';
    return file_trouble;
  } catch (const UsageError& error) {
    err << "mendworth: " << printable(error.what()) << '\n';
    return wrong_use;
  } catch (const UnknownName& error) {
    err << "mendworth: " << printable(error.what()) << '\n';
    return wrong_use;
  } catch (const std::bad_alloc&) {
    err << "mendworth: out of memory\n";
    return out_of_resources;
  } catch (const std::exception& error) {
    const auto* system = dynamic_cast<const std::system_error*>(&error);
    if (system != nullptr && system->code() == std::errc::resource_unavailable_try_again) {
      err << "mendworth: the system has no more threads to give; --threads 1 needs none\n";
      return out_of_resources;
    }
    err << "mendworth: internal error: " << printable(error.what()) << '\n';
    return internal_error;
  }
}

}  // namespace mendworth::cli
