#include <fcntl.h>
#include <fmt/format.h>
#include <spawn.h>
#include <sys/stat.h>
#include <sys/wait.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <filesystem>
#include <ostream>
#include <thread>

#include "cli/case_input.hpp"
#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "cli/output_file.hpp"
#include "mendworth/diagnostic.hpp"
#include "page/server.hpp"

extern char** environ;

namespace mendworth::cli {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t most_files_listed = 500;

volatile std::sig_atomic_t interrupted = 0;
extern "C" void note_interrupt(int) { interrupted = 1; }

/// While it lives, Ctrl-C and a request to end are noted and end nothing.
class InterruptsNoted {
 public:
  InterruptsNoted() {
    interrupted = 0;
    struct sigaction noted {};
    noted.sa_handler = note_interrupt;
    ::sigaction(SIGINT, &noted, &interrupt_before_);
    ::sigaction(SIGTERM, &noted, &terminate_before_);
  }
  ~InterruptsNoted() {
    ::sigaction(SIGINT, &interrupt_before_, nullptr);
    ::sigaction(SIGTERM, &terminate_before_, nullptr);
  }
  InterruptsNoted(const InterruptsNoted&) = delete;
  InterruptsNoted& operator=(const InterruptsNoted&) = delete;

 private:
  struct sigaction interrupt_before_ {};
  struct sigaction terminate_before_ {};
};

/// A link may lead out of the folder.
bool is_plain_file(const fs::path& path) {
  std::error_code error;
  return fs::symlink_status(path, error).type() == fs::file_type::regular;
}

page::Files files_of(const fs::path& folder) {
  page::Files files;
  files.list = [folder] {
    std::vector<std::string> names;
    std::error_code error;
    for (fs::directory_iterator at(folder, error), end; !error && at != end; at.increment(error)) {
      if (at->path().extension() == ".toml" && is_plain_file(at->path()))
        names.push_back(at->path().filename().string());
    }
    std::sort(names.begin(), names.end());
    if (names.size() > most_files_listed) names.resize(most_files_listed);
    return names;
  };
  files.read = [folder](const std::string& name) -> std::optional<std::string> {
    std::error_code error;
    if (fs::symlink_status(folder / name, error).type() == fs::file_type::not_found) return std::nullopt;
    if (!is_plain_file(folder / name)) throw FileError(name + ": is no regular file");
    return read_text_file((folder / name).string());
  };
  files.write = [folder](const std::string& name, const std::string& text) {
    OutputFile((folder / name).string()).commit(text);
  };
  return files;
}

/// Whether there was a program that took it; what becomes of it is not waited for.
bool open_browser(const std::string& address) {
  posix_spawn_file_actions_t actions;
  ::posix_spawn_file_actions_init(&actions);
  for (const int stream : {STDOUT_FILENO, STDERR_FILENO})
    ::posix_spawn_file_actions_addopen(&actions, stream, "/dev/null", O_WRONLY, 0);
  std::string program = "xdg-open", argument = address;
  char* arguments[] = {program.data(), argument.data(), nullptr};
  pid_t child = 0;
  const bool begun = ::posix_spawnp(&child, "xdg-open", &actions, nullptr, arguments, environ) == 0;
  ::posix_spawn_file_actions_destroy(&actions);
  if (begun) std::thread([child] { ::waitpid(child, nullptr, 0); }).detach();
  return begun;
}

double steady_seconds() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

}  // namespace

int page_command(const PageServerOptions& options, const Streams& streams, const Surroundings& surroundings) {
  const fs::path here = fs::current_path();
  page::Setup setup;
  setup.rates = rates_with(options.rates_directory);
  setup.settings = options.settings;
  if (options.shop_path)
    setup.shop = read_shop(read_text_file(*options.shop_path), *options.shop_path, setup.rates);
  const Date day = today(surroundings);
  setup.today = [day] { return day; };
  setup.seconds = steady_seconds;
  setup.files = files_of(here);

  page::Session session(std::move(setup));
  if (options.case_path) {
    const fs::path path(*options.case_path);
    const bool lies_here = fs::absolute(path).lexically_normal().parent_path() == here.lexically_normal();
    session.open_text(path.filename().string(), read_text_file(*options.case_path),
                      lies_here && is_plain_file(path));
  }

  const InterruptsNoted noted;
  page::ServeOptions serving;
  serving.port = options.port;
  serving.linger_seconds = options.linger_seconds;
  serving.told_to_end = [] { return interrupted != 0; };
  serving.ready = [&](const std::string& address) {
    streams.out << address << std::endl;
    streams.err << "Ctrl-C, or the button on the page, ends it; nothing is written unless the page is told "
                   "to save.\n";
    if (!options.browser) return;
    if (!open_browser(address)) streams.err << "No browser could be opened: open the address in one.\n";
  };
  page::serve(session, serving);
  return answered;
}

}  // namespace mendworth::cli
