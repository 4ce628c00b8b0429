// The command 'quote' and its records. What the pages say is tested elsewhere.
#include <doctest/doctest.h>

#include <unistd.h>

#include <atomic>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <optional>
#include <sstream>
#include <string>
#include <thread>
#include <vector>

#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "cli/locked_file.hpp"
#include "cli/record_folder.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/shop.hpp"
#include "render/json_command.hpp"
#include "support/run_command.hpp"
#include "support/temporary_folder.hpp"

using namespace mendworth;
using namespace mendworth::cli;
using mendworth::test::Captured;
using mendworth::test::on_first_of_march;
using Folder = mendworth::test::TemporaryFolder;

namespace {

namespace fs = std::filesystem;

std::string content(const std::string& path) {
  std::ostringstream text;
  text << std::ifstream(path).rdbuf();
  return text.str();
}

QuoteOptions options_in(const Folder& folder) {
  QuoteOptions options;
  options.case_path = folder.write("case.toml", starter_case(false));
  options.shop_path = folder.write("shop.toml", starter_shop());
  options.settings.futures = 200;
  options.settings.despite_owner_loss = true;
  return options;
}

const std::vector<RecordFile> two_files = {{"customer/quote.txt", "a page\n"}, {"inputs/rates/own.toml", ""}};

}  // namespace

TEST_CASE("the number of a record: 1 to 40 letters, digits and marks, not hidden") {
  for (const char* good :
       {"1", "20260301-01", "A_b.C-9", "-", "_", "a.", "0000000000111111111122222222223333333333"})
    CHECK_MESSAGE(is_record_number(good), good);
  for (const char* bad : {"", ".", "..", ".a", "a/b", "a b", "a\nb", "é", "a:b", "a*",
                          "00000000001111111111222222222233333333334"})
    CHECK_FALSE_MESSAGE(is_record_number(bad), bad);
}

TEST_CASE("a record appears with all that is in it, once") {
  const Folder folder;
  const std::string records = folder.file("deep/records");
  CHECK_FALSE(record_exists(records, "7"));
  CHECK(add_record(records, "7", two_files));
  CHECK(record_exists(records, "7"));
  CHECK(content(records + "/7/customer/quote.txt") == "a page\n");
  CHECK(fs::file_size(records + "/7/inputs/rates/own.toml") == 0);
  CHECK(Folder::entries_in(records) == 2);  // and the lock
  CHECK_FALSE(add_record(records, "7", {{"customer/quote.txt", "another\n"}}));
  CHECK(content(records + "/7/customer/quote.txt") == "a page\n");
  CHECK(Folder::entries_in(records) == 2);
}

TEST_CASE("a record takes nobody's place: a file, a link, an empty folder") {
  const Folder folder;
  static_cast<void>(folder.write("file", "mine"));
  fs::create_directory(folder.file("empty"));
  fs::create_symlink("nowhere", folder.file("link"));
  for (const char* taken : {"file", "empty", "link"}) {
    CAPTURE(taken);
    CHECK(record_exists(folder.file("."), taken));
    CHECK_FALSE(add_record(folder.file("."), taken, two_files));
  }
  CHECK(content(folder.file("file")) == "mine");
  CHECK(fs::is_empty(folder.file("empty")));
  CHECK(fs::is_symlink(folder.file("link")));
  CHECK(folder.entries() == 3);  // the lock too; the link leads nowhere
}

TEST_CASE("a record is readable by its owner only") {
  const Folder folder;
  REQUIRE(add_record(folder.file("records"), "1", two_files));
  const auto permissions = [&](const char* path) { return fs::status(folder.file(path)).permissions(); };
  CHECK(permissions("records/1") == fs::perms::owner_all);
  CHECK(permissions("records/1/inputs/rates") == fs::perms::owner_all);
  CHECK(permissions("records/1/customer/quote.txt") == (fs::perms::owner_read | fs::perms::owner_write));
}

TEST_CASE("what a killed command left is cleared away by the next one, which waits for one at work") {
  const Folder folder;
  const std::string records = folder.file("records");
  fs::create_directories(records + "/.mendworth-new/9/customer");
  std::ofstream(records + "/.mendworth-new/9/customer/quote.txt") << "half";
  std::optional<FileLock> at_work(std::in_place, records + "/.mendworth-lock");
  std::atomic<bool> done = false;
  std::thread next([&] {
    static_cast<void>(add_record(records, "7", two_files));
    done = true;
  });
  std::this_thread::sleep_for(std::chrono::milliseconds(50));
  CHECK_FALSE(done);
  CHECK(fs::exists(records + "/.mendworth-new/9"));
  at_work.reset();
  next.join();
  CHECK_FALSE(fs::exists(records + "/.mendworth-new"));
  CHECK(content(records + "/7/customer/quote.txt") == "a page\n");
}

TEST_CASE("moving a folder where the file system cannot leave an existing place alone") {
  const Folder folder;
  const auto make = [&](const std::string& name) {
    fs::create_directory(folder.file(name));
    static_cast<void>(folder.write(name + "/held", name));
    return folder.file(name);
  };
  const std::string from = make("from");
  CHECK_FALSE(move_folder(from, make("full")));
  CHECK_FALSE(move_folder(from, folder.write("file", "mine")));
  fs::create_directory(folder.file("empty"));
  CHECK_FALSE(move_folder(from, folder.file("empty")));
  CHECK(content(folder.file("full/held")) == "full");
  CHECK(content(folder.file("file")) == "mine");
  CHECK(move_folder(from, folder.file("free")));
  CHECK(content(folder.file("free/held")) == "from");
  CHECK_THROWS_AS(static_cast<void>(move_folder(folder.file("gone"), folder.file("other"))), FileError);
}

TEST_CASE("where records cannot be") {
  const Folder folder;
  CHECK_NOTHROW(require_record_directory(folder.file("not there yet")));
  CHECK_NOTHROW(require_record_directory(folder.file(".")));
  const std::string file = folder.write("file", "x");
  CHECK_THROWS_AS(require_record_directory(file), FileError);
  CHECK_THROWS_AS(require_record_directory(file + "/below"), FileError);
  CHECK_THROWS_AS(static_cast<void>(add_record(file, "1", two_files)), FileError);
}

TEST_CASE("quote: the record holds what was read and what was asked") {
  const Folder folder;
  QuoteOptions options = options_in(folder);
  options.record_directory = folder.file("records");
  options.overrides = {"labour.case_minutes=20"};
  options.settings.seed = 12345678901234567890U;
  options.settings.ceiling = 0.8;
  Captured captured;
  CHECK(quote_command(options, captured.streams(), on_first_of_march()) == answered);
  const std::string record = folder.file("records/20260301-01");
  CHECK(captured.err.str().ends_with(record + ": written\n"));
  CHECK(captured.out.str() == content(record + "/customer/quote.txt"));
  CHECK(content(record + "/inputs/case.toml") == starter_case(false));
  CHECK(content(record + "/inputs/shop.toml") == starter_shop());
  const auto command = nlohmann::json::parse(content(record + "/inputs/command.json"));
  CHECK(command["schema"] == "mendworth.command");
  CHECK(command["command"] == "quote");
  const auto& given = command["options"];
  CHECK(given["number"] == "20260301-01");
  CHECK(given["date"] == "2026-03-01");
  CHECK(given["set"] == std::vector<std::string>{"labour.case_minutes=20"});
  CHECK(given["seed"] == 12345678901234567890U);
  CHECK(given["futures"] == 200);
  CHECK(given["ceiling"] == 0.8);
  CHECK(given["despite_owner_loss"] == true);
  CHECK(given["declined"] == false);
  CHECK(given["choice"].is_null());
  CHECK(given["drawer"].is_null());
  CHECK(given.size() == 25);
}

TEST_CASE("quote: a record makes its pages again, and says which page differs") {
  const Folder folder;
  QuoteOptions options = options_in(folder);
  options.case_path = folder.write("case.toml", starter_case(true));
  options.record_directory = folder.file("records");
  options.overrides = {"labour.case_minutes=20"};
  options.settings.seed = 12345678901234567890U;
  options.settings.ceiling = 0.8;
  options.settings.choice = CustomerChoice::Kind::failed_only;
  options.settings.rush = true;
  Captured first;
  REQUIRE(quote_command(options, first.streams(), on_first_of_march()) == answered);
  // The record stands by itself.
  std::ofstream(options.case_path) << "changed";
  std::ofstream(*options.shop_path) << "changed";
  const std::string record = folder.file("records/20260301-01");
  QuoteOptions again;
  again.again = record;
  Captured same;
  CHECK(quote_command(again, same.streams(), on_first_of_march()) == answered);
  CHECK(same.out.str() == first.out.str());
  CHECK(same.err.str() == record + ": the pages are the same, byte by byte\n");

  std::ofstream(record + "/shop/at-cost.md", std::ios::app) << "x";
  fs::remove(record + "/customer/quote.html");
  Captured other;
  CHECK(quote_command(again, other.streams(), on_first_of_march()) == bad_data);
  CHECK(other.err.str() ==
        record + ": customer/quote.html is missing\n" + record + ": shop/at-cost.md differs\n");

  std::ofstream(record + "/inputs/command.json") << "{}";
  CHECK_THROWS_AS(static_cast<void>(quote_command(again, other.streams(), on_first_of_march())), InputError);
  again.case_path = options.case_path;
  CHECK_THROWS_AS(static_cast<void>(quote_command(again, other.streams(), on_first_of_march())), UsageError);
}

TEST_CASE("quote: a number that is taken is known before the work is done") {
  const Folder folder;
  QuoteOptions options = options_in(folder);
  options.case_path = folder.file("no such case.toml");
  options.record_directory = folder.file(".");
  options.settings.number = "shop.toml";
  Captured captured;
  try {
    static_cast<void>(quote_command(options, captured.streams(), on_first_of_march()));
    FAIL("went on");
  } catch (const FileError& error) {
    CHECK(std::string(error.what()).find("shop.toml: exists already") != std::string::npos);
  }
  CHECK(captured.out.str().empty());
}

TEST_CASE("quote: a command line that makes no sense") {
  const Folder folder;
  const QuoteOptions good = options_in(folder);
  const auto refuses = [](const QuoteOptions& options) {
    Captured captured;
    CHECK_THROWS_AS(static_cast<void>(quote_command(options, captured.streams(), on_first_of_march())),
                    UsageError);
    CHECK(captured.out.str().empty());
  };
  QuoteOptions options = good;
  options.minutes_spent = 20;
  refuses(options);
  options = good;
  options.declined = true;
  options.page = QuoteOptions::Page::shop;
  refuses(options);
  options = good;
  options.record_directory = "-";
  refuses(options);
  options = good;
  options.shop_path = "-";
  options.drawer_path = "-";
  refuses(options);
  options = good;
  options.overrides = {"no-equals-sign"};
  refuses(options);
}

TEST_CASE("the record of a command: every kind of value") {
  const std::string text = command_json("quote", {{"none", {}},
                                                  {"flag", true},
                                                  {"count", std::uint64_t{7}},
                                                  {"share", 0.5},
                                                  {"name", std::string("a \"b\" \xFF")},
                                                  {"list", std::vector<std::string>{"x=1", "y=2"}}});
  const auto options = nlohmann::json::parse(text)["options"];
  CHECK(options["none"].is_null());
  CHECK(options["flag"] == true);
  CHECK(options["count"] == 7);
  CHECK(options["share"] == 0.5);
  CHECK(options["name"] == "a \"b\" \xEF\xBF\xBD");  // a byte that is no UTF-8 becomes U+FFFD
  CHECK(options["list"] == std::vector<std::string>{"x=1", "y=2"});
}
