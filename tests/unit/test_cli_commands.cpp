#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "cli/output_file.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/read_case.hpp"
#include "support/run_command.hpp"
#include "support/temporary_folder.hpp"

using namespace mendworth;
using namespace mendworth::cli;
using mendworth::test::Captured;
using mendworth::test::on_first_of_march;
using mendworth::test::run;
using mendworth::test::Run;
using Folder = mendworth::test::TemporaryFolder;

namespace {

void write(const std::string& path, const std::string& text) { std::ofstream(path) << text; }

std::string content(const std::string& path) {
  std::ostringstream text;
  text << std::ifstream(path).rdbuf();
  return text.str();
}

}  // namespace

TEST_CASE("colour follows a stated choice, then the surroundings") {
  Surroundings s = on_first_of_march();
  CHECK_FALSE(colored(ColorChoice::automatic, s, true));
  CHECK(colored(ColorChoice::always, s, true));
  s.out_is_terminal = true;
  CHECK(colored(ColorChoice::automatic, s, true));
  CHECK_FALSE(colored(ColorChoice::automatic, s, false));
  CHECK_FALSE(colored(ColorChoice::never, s, true));
  s.no_color = "";
  CHECK(colored(ColorChoice::automatic, s, true));
  s.no_color = "1";
  CHECK_FALSE(colored(ColorChoice::automatic, s, true));
  CHECK(colored(ColorChoice::always, s, true));
  s.no_color.reset();
  s.term = "dumb";
  CHECK_FALSE(colored(ColorChoice::automatic, s, true));
}

TEST_CASE("what a command throws becomes a message and an exit code") {
  Captured captured;
  CHECK(guarded([]() -> int { return 0; }, captured.err, 80) == answered);
  CHECK(guarded(
            []() -> int {
              throw InputError({{"c.toml", 3, 7, "k", "bad", ""}, {"c.toml", 9, 1, "k", "worse", ""}});
            },
            captured.err, 80) == bad_data);
  CHECK(captured.err.str().ends_with("\n2 problems\n"));
  captured.err.str("");
  CHECK(guarded([]() -> int { throw FileError("x.toml: is gone"); }, captured.err, 80) == file_trouble);
  CHECK(captured.err.str() == "mendworth: x.toml: is gone\n");
  captured.err.str("");
  CHECK(guarded([]() -> int { throw UsageError("no"); }, captured.err, 80) == wrong_use);
  CHECK(guarded([]() -> int { throw std::logic_error("broken\x1b[2J"); }, captured.err, 80) ==
        internal_error);
  CHECK(captured.err.str().ends_with("mendworth: internal error: broken\xEF\xBF\xBD[2J\n"));
}

TEST_CASE("an output file appears whole or not at all") {
  const Folder folder;
  const std::string path = folder.file("answer.txt");
  {
    OutputFile file(path);
    CHECK_FALSE(std::filesystem::exists(path));
  }
  CHECK(folder.entries() == 0);

  write(path, "old");
  std::filesystem::permissions(path, std::filesystem::perms(0640));
  {
    OutputFile file(path);
    CHECK(content(path) == "old");
    file.commit("new\n");
  }
  CHECK(content(path) == "new\n");
  CHECK(folder.entries() == 1);
  CHECK(std::filesystem::status(path).permissions() == std::filesystem::perms(0640));
  CHECK_THROWS_AS(OutputFile(folder.file("missing/answer.txt")), FileError);
  CHECK_THROWS_AS(OutputFile(folder.file(".")), FileError);
}

TEST_CASE("an output file goes where a link leads") {
  const Folder folder;
  write(folder.file("real.txt"), "old");
  std::filesystem::create_symlink("real.txt", folder.file("link.txt"));
  OutputFile(folder.file("link.txt")).commit("new");
  CHECK(content(folder.file("real.txt")) == "new");
  CHECK(std::filesystem::is_symlink(folder.file("link.txt")));
}

TEST_CASE("a new case never takes the place of a file") {
  const Folder folder;
  Captured captured;
  const std::string path = folder.file("case.toml");
  CHECK(new_command({path, false}, captured.streams()) == answered);
  CHECK(content(path) == starter_case(false));
  CHECK(captured.out.str().empty());
  write(path, "mine");
  CHECK_THROWS_AS(new_command({path, true}, captured.streams()), FileError);
  CHECK(content(path) == "mine");
}

TEST_CASE("a new case goes to standard output without a name") {
  Captured captured;
  CHECK(new_command({std::nullopt, true}, captured.streams()) == answered);
  CHECK(captured.out.str() == starter_case(true));
}

TEST_CASE("check reads every file and returns the worst") {
  const Folder folder;
  write(folder.file("good.toml"), starter_case(false));
  write(folder.file("bad.toml"), "");
  Captured captured;
  CheckOptions options;
  options.paths = {folder.file("bad.toml"), folder.file("good.toml")};
  CHECK(check_command(options, captured.streams(), on_first_of_march()) == bad_data);
  CHECK(captured.out.str() == folder.file("good.toml") + ": ok (case)\n");
  CHECK(captured.err.str().starts_with(folder.file("bad.toml") + ":"));

  options.paths.push_back(folder.file("none.toml"));
  CHECK(check_command(options, captured.streams(), on_first_of_march()) == file_trouble);
}

TEST_CASE("weigh writes the same bytes to a file as to standard output") {
  const Folder folder;
  write(folder.file("case.toml"), starter_case(false));
  WeighOptions options;
  options.case_path = folder.file("case.toml");
  options.settings.futures = 200;
  Captured captured;
  CHECK(weigh_command(options, captured.streams(), on_first_of_march()) == answered);
  options.page.out_path = folder.file("answer.txt");
  Captured to_file;
  CHECK(weigh_command(options, to_file.streams(), on_first_of_march()) == answered);
  CHECK(content(folder.file("answer.txt")) == captured.out.str());
  CHECK(to_file.out.str().empty());

  options.page.out_path = options.case_path;
  CHECK_THROWS_AS(weigh_command(options, captured.streams(), on_first_of_march()), UsageError);
  options.page.out_path.reset();
  options.overrides = {"no-equals-sign"};
  CHECK_THROWS_AS(weigh_command(options, captured.streams(), on_first_of_march()), UsageError);
}

TEST_CASE("a wrong case leaves no file behind") {
  const Folder folder;
  write(folder.file("case.toml"), "nonsense");
  WeighOptions options;
  options.case_path = folder.file("case.toml");
  options.page.out_path = folder.file("answer.txt");
  Captured captured;
  CHECK_THROWS_AS(weigh_command(options, captured.streams(), on_first_of_march()), InputError);
  CHECK(folder.entries() == 1);
}

TEST_CASE("help and version go to standard output") {
  CHECK(run({"--version"}).out.starts_with("mendworth "));
  const Run help = run({"--help"});
  CHECK(help.code == answered);
  CHECK(help.err.empty());
  CHECK(help.out.starts_with("Examples:\n"));
  CHECK(help.out.find("Exit codes: 0 answered") > help.out.find("weigh"));
  CHECK(run({"weigh", "--help"}).out.find("--futures") != std::string::npos);
}

TEST_CASE("wrong use is said in one line with a remedy") {
  CHECK(run({}).code == wrong_use);
  CHECK(run({}).out.empty());

  const Run command = run({"wiegh", "case.toml"});
  CHECK(command.code == wrong_use);
  CHECK(command.err ==
        "mendworth: unknown command 'wiegh'; did you mean 'weigh'?\n"
        "Run 'mendworth --help' for what is possible.\n");
  const Run option = run({"weigh", "case.toml", "--fromat", "json"});
  CHECK(option.code == wrong_use);
  CHECK(option.err ==
        "mendworth: unknown option '--fromat'; did you mean '--format'?\n"
        "Run 'mendworth weigh --help' for what is possible.\n");
  CHECK(run({"quote", "a.toml", "b.toml"})
            .err.starts_with("mendworth: 'b.toml' is one word too many for quote\n"));
  CHECK(run({"weigh"}).code == wrong_use);
  CHECK(run({"weigh", "a.toml", "--set"}).code == wrong_use);
  CHECK(run({"weigh", "a.toml", "--seed", "1", "--seed", "2"}).code == wrong_use);
}

TEST_CASE("numbers and choices are refused unless they are exactly right") {
  const std::vector<std::vector<const char*>> wrong = {
      {"weigh", "c", "--seed", "-1"},         {"weigh", "c", "--seed", "010"},
      {"weigh", "c", "--futures", "99"},      {"weigh", "c", "--futures", "1e3"},
      {"weigh", "c", "--threads", "0x2"},     {"weigh", "c", "--threads", "nan"},
      {"weigh", "c", "--format", "xml"},      {"weigh", "c", "--color", "maybe"},
      {"weigh", "c", "--date", "2023-02-29"}, {"weigh", "c", "--format="},
      {"weigh", "c", "--forma", "json"},      {"rates", "--format", "JSON"}};
  for (const auto& words : wrong) {
    CAPTURE(words.back());
    CHECK(run(words).code == wrong_use);
  }
  CHECK(run({"weigh", "c", "--futures", "99"})
            .err.starts_with("mendworth: --futures wants a whole number from 100 to 4000000, not '99'\n"));
  CHECK(
      run({"weigh", "c", "--format", "xml"})
          .err.starts_with("mendworth: --format wants one of text, markdown, html, csv, json, not 'xml'\n"));
}

TEST_CASE("the schema command prints the schema") {
  const Run schema = run({"schema"});
  CHECK(schema.code == answered);
  CHECK(schema.out.find("\"title\": \"mendworth.weighing, version 2\"") != std::string::npos);
}

TEST_CASE("names for the rates are letters, digits and hyphens") {
  CHECK(rates_name_from("volume encoder") == "volume-encoder");
  CHECK(rates_name_from("  Key, 12 mm (sealed) ") == "key-12-mm-sealed");
  CHECK(rates_name_from("R\xC3\xA9lais") == "r-lais");
  CHECK(rates_name_from("\xE7\xBC\x96 --").empty());
}

TEST_CASE("lifetime writes all that is asked for, or nothing") {
  const Folder folder;
  LifetimeOptions options;
  options.history_path = folder.file("history.csv");
  write(options.history_path,
        "age_hours,state,part,kind\n"
        "100,failed,relay,a\n180,failed,relay,a\n260,working,relay,a\n90,failed,relay,a\n"
        "400,failed,relay,b\n700,failed,relay,b\n500,working,relay,b\n350,failed,relay,b\n");
  options.reading.group_column = "kind";
  options.page.out_path = folder.file("out.txt");
  options.plot_path = folder.file("plot.svg");
  options.rates_path = folder.file("rates.toml");
  Captured captured;
  CHECK(lifetime_command(options, captured.streams(), on_first_of_march()) == answered);
  CHECK(captured.out.str().empty());
  CHECK(content(*options.plot_path).find("<svg") == 0);
  const std::string rates = content(*options.rates_path);
  CHECK(rates.find("[life.relay-a]") != std::string::npos);
  CHECK(rates.find("[life.relay-b]") != std::string::npos);
  CHECK(content(*options.page.out_path).find("Does 'b' last longer than 'a'?") != std::string::npos);
  CHECK(folder.entries() == 4);

  // Groups of one name in the rates, a group without a law, two outputs in one place: nothing is touched.
  const std::string before = content(*options.page.out_path);
  const auto refused = [&](const std::string& history) {
    write(options.history_path, history);
    return guarded([&] { return lifetime_command(options, captured.streams(), on_first_of_march()); },
                   captured.err, 120);
  };
  CHECK(
      refused("age_hours,state,part,kind\n100,failed,relay,a b\n180,failed,relay,a b\n100,failed,relay,a-b\n"
              "180,failed,relay,a-b\n") == wrong_use);
  CHECK(refused("age_hours,state,part,kind\n100,failed,relay,a\n180,failed,relay,a\n100,working,relay,b\n") ==
        bad_data);
  CHECK(captured.err.str().find("group 'b': there is no law to write as rates") != std::string::npos);
  options.plot_path = options.page.out_path;
  CHECK(refused("age_hours,state,part,kind\n100,failed,relay,a\n180,failed,relay,a\n") == wrong_use);
  CHECK(content(*options.page.out_path) == before);
  CHECK(content(*options.rates_path) == rates);
  CHECK(folder.entries() == 4);
}
