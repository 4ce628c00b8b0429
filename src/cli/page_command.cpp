#include <fcntl.h>
#include <fmt/format.h>
#include <spawn.h>
#include <sys/stat.h>
#include <sys/wait.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <csignal>
#include <filesystem>
#include <ostream>
#include <system_error>
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

/// While it lives, Ctrl-C, a request to end and a terminal that is closed are noted and end nothing: a thread of the server
/// may be saving.
class InterruptsNoted {
 public:
  InterruptsNoted() {
    interrupted = 0;
    struct sigaction noted {};
    noted.sa_handler = note_interrupt;
    for (std::size_t i = 0; i < signals.size(); ++i) ::sigaction(signals[i], &noted, &before_[i]);
  }
  ~InterruptsNoted() {
    for (std::size_t i = 0; i < signals.size(); ++i) ::sigaction(signals[i], &before_[i], nullptr);
  }
  InterruptsNoted(const InterruptsNoted&) = delete;
  InterruptsNoted& operator=(const InterruptsNoted&) = delete;

 private:
  static constexpr std::array signals = {SIGINT, SIGTERM, SIGHUP, SIGQUIT};
  std::array<struct sigaction, signals.size()> before_{};
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
    std::ranges::sort(names);
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

const char* const page_examples =
    "Without CASE it begins with the questions. The page is for this machine alone,\n"
    "at an address that nobody can guess. Nothing is written unless it is told to\n"
    "save, and then only into the directory that the command was started in.\n\n"
    "Examples:\n"
    "  mendworth page\n"
    "  mendworth page my-case.toml\n"
    "  mendworth page my-case.toml --shop shop.toml\n\n";

struct LivePageOptions {
  std::optional<std::string> case_path;    ///< absent: begins with the questions
  std::optional<std::string> shop_path;    ///< for the quote
  std::optional<std::string> drawer_path;  ///< spare parts on hand
  std::optional<std::string> rates_directory;
  WeighSettings settings;
  int port = 0;              ///< 0: any that is free
  int linger_seconds = 180;  ///< without a sign of life of the page
  bool no_browser = false;   ///< the address is printed alone
};

int page_command(const LivePageOptions& options, const Streams& streams, const Surroundings& surroundings) {
  std::error_code error;
  const fs::path here = fs::current_path(error);
  if (error) throw FileError("the directory of this command cannot be used: " + error.message());
  page::Setup setup;
  setup.rates = rates_with(options.rates_directory);
  setup.settings = options.settings;
  if (options.shop_path)
    setup.shop = read_shop(read_text_file(*options.shop_path), *options.shop_path, setup.rates);
  if (options.drawer_path)
    setup.drawer = read_drawer(read_text_file(*options.drawer_path, largest_drawer), *options.drawer_path);
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
    if (options.no_browser) return;
    if (!open_browser(address)) streams.err << "No browser could be opened: open the address in one.\n";
  };
  page::serve(session, serving);
  return answered;
}

}  // namespace

RunCommand set_up_page(OptionSet& set) {
  constexpr int first_free_port = 1024, last_port = 65535;
  constexpr int shortest_linger = 1, longest_linger = 86400;
  const auto options = std::make_shared<LivePageOptions>();
  set.examples(page_examples);
  set.text({"case", "CASE", "Case file; - reads standard input"}, options->case_path);
  set.text({"--shop", "SHOP", "How the shop charges: shows the quote too"}, options->shop_path);
  set.text({"--drawer", "FILE", "Spare parts on hand; see 'mendworth drawer'"}, options->drawer_path);
  set.flag("--no-browser", "Only print the address", options->no_browser);
  set.converted({"--port", "N", "Port (default: any that is free)"},
                number_into(options->port, first_free_port, last_port));
  set.converted({"--linger", "SECONDS", "End so long after the page was closed (180)"},
                number_into(options->linger_seconds, shortest_linger, longest_linger));
  add_rates_option(set, options->rates_directory);
  add_simulation_options(set, options->settings);
  return running(options, page_command);
}

}  // namespace mendworth::cli
