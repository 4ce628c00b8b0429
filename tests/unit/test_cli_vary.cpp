// Curves and tables of devices in this process: each point and each row is what weighing the case with that value says.
#include <doctest/doctest.h>

#include <cstdlib>
#include <sstream>
#include <string>
#include <vector>

#include "cli/exit_code.hpp"
#include "support/example_files.hpp"
#include "support/near.hpp"
#include "support/run_command.hpp"
#include "support/temporary_folder.hpp"

using namespace mendworth;
using namespace mendworth::cli;
using namespace mendworth::test;
using Folder = mendworth::test::TemporaryFolder;

namespace {

std::vector<double> numbers_after(const std::string& json, const std::string& key) {
  std::vector<double> found;
  const std::string mark = "\"" + key + "\":";
  for (std::size_t at = json.find(mark); at != std::string::npos; at = json.find(mark, at + 1)) {
    found.push_back(std::strtod(json.c_str() + at + mark.size(), nullptr));
  }
  return found;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

}  // namespace

TEST_CASE("a curve: each point is the case with that value, in every form") {
  const Folder folder;
  const std::string file = folder.write("case.toml", example_text("stock-scanner.toml"));
  const std::vector<const char*> words = {"weigh", file.c_str(), "--futures",
                                          "100",   "--vary",     "replacement.price=40:160:2"};
  std::vector<const char*> json_words = words;
  json_words.insert(json_words.end(), {"--format", "json"});
  const Run json = run(json_words);
  REQUIRE(json.code == answered);
  const std::vector<double> values = numbers_after(json.out, "value");
  REQUIRE(values.size() >= 3);
  std::size_t at = 0;
  for (const char* price : {"replacement.price=40", "replacement.price=100", "replacement.price=160"}) {
    const Run alone = run({"weigh", file.c_str(), "--futures", "100", "--set", price, "--format", "json"});
    REQUIRE(alone.code == answered);
    const std::vector<double> saving = numbers_after(alone.out, "saving_amount");
    REQUIRE_FALSE(saving.empty());
    CAPTURE(price);
    CHECK(near_rel(values[at++], saving.front(), 1e-12));
  }
  for (const char* form : {"html", "csv"}) {
    std::vector<const char*> other = words;
    other.insert(other.end(), {"--format", form, "--show", "all"});
    const Run page = run(other);
    CAPTURE(form);
    CHECK(page.code == answered);
    for (const char* price : {"40", "100", "160"}) CHECK(page.out.find(price) != std::string::npos);
  }
}

TEST_CASE("a curve of orders names what is ordered, and one of two numbers is a grid") {
  const Folder folder;
  const std::string file = folder.write("case.toml", example_text("stock-scanner.toml"));
  const Run orders = run({"buy", file.c_str(), "--futures", "100", "--vary",
                          "part.other_uses_per_year=0:20:2", "--show", "all"});
  CHECK(orders.code == answered);
  CHECK_FALSE(orders.out.empty());
  const Run grid = run({"weigh", file.c_str(), "--futures", "100", "--vary", "labour.rate_per_hour=20:60:1",
                        "--vary", "device.age_years=2:8:2", "--format", "json"});
  REQUIRE(grid.code == answered);
  CHECK(numbers_after(grid.out, "value").size() == 2 * 3);
}

TEST_CASE("what-ifs and other cases beside a case, in every form") {
  const Folder folder;
  const std::string file = folder.write("case.toml", example_text("stock-scanner.toml"));
  const std::string other = folder.write("other.toml", example_text("label-printer.toml"));
  for (const char* form : {"text", "csv"}) {
    CAPTURE(form);
    const Run page = run(
        {"weigh", file.c_str(), other.c_str(), "--futures", "100", "--show", "what-if", "--format", form});
    CHECK(page.code == answered);
    CHECK(page.out.find("79.00") != std::string::npos);  // the money now of the other case
    const Run orders = run({"buy", file.c_str(), "--futures", "100", "--show", "what-if", "--format", form});
    CHECK(orders.code == answered);
    CHECK(orders.out.find("66.64") != std::string::npos);  // a hundred other devices, at the doorstep
  }
  const Run json = run({"weigh", file.c_str(), other.c_str(), "--futures", "100", "--format", "json"});
  REQUIRE(json.code == answered);
  const Run alone = run({"weigh", other.c_str(), "--futures", "100", "--format", "json"});
  REQUIRE(alone.code == answered);
  // The other case's answer stands there as it is alone.
  CHECK(numbers_after(json.out, "present_cost").back() == numbers_after(alone.out, "present_cost").back());
}

TEST_CASE("a table of devices: a line for each row, in order; a wrong one says why") {
  const Folder folder;
  const std::string file = folder.write("case.toml", example_text("stock-scanner.toml"));
  const std::string table = folder.write(
      "devices.csv", "serial,labour.rate_per_hour,replacement.price\nA1,9,\nB2,never,80\nC3,9,120\n");
  const Run csv = run({"rows", file.c_str(), table.c_str(), "--futures", "100"});
  const std::vector<std::string> lines = lines_of(csv.out);
  REQUIRE(lines.size() == 4);
  CHECK(lines[1].rfind("A1,9,,", 0) == 0);
  CHECK(lines[2].rfind("B2,never,80,", 0) == 0);
  CHECK(lines[2].find("labour.rate_per_hour") != std::string::npos);
  CHECK(lines[3].rfind("C3,9,120,", 0) == 0);
  const Run json = run({"rows", file.c_str(), table.c_str(), "--futures", "100", "--format", "json"});
  CHECK(lines_of(json.out).size() == 3);
  const Run alone =
      run({"weigh", file.c_str(), "--futures", "100", "--set", "labour.rate_per_hour=9", "--format", "json"});
  REQUIRE(alone.code == answered);
  const std::vector<double> rows = numbers_after(json.out, "saving"),
                            whole = numbers_after(alone.out, "saving_amount");
  REQUIRE_FALSE(rows.empty());
  REQUIRE_FALSE(whole.empty());
  CHECK(near_rel(rows.front(), whole.front(), 1e-9));
}

TEST_CASE("a report of a table of devices has all rows; one that is wrong is the exit code's") {
  const Folder folder;
  const std::string file = folder.write("case.toml", example_text("stock-scanner.toml"));
  const std::string table =
      folder.write("devices.csv", "serial,labour.rate_per_hour\nA1,9\n<B2>,never\nC3,12\n");
  const Run report = run({"rows", file.c_str(), table.c_str(), "--futures", "100", "--format", "html"});
  CHECK(report.code == bad_data);
  for (const char* serial : {"A1", "&lt;B2&gt;", "C3"}) {
    CAPTURE(serial);
    CHECK(report.out.find(serial) != std::string::npos);
  }
  CHECK(report.out.find("<B2>") == std::string::npos);
  const std::string empty = folder.write("empty.csv", "");
  const Run nothing = run({"rows", file.c_str(), empty.c_str(), "--format", "html"});
  CHECK(nothing.code == bad_data);
  CHECK(nothing.err.find("the table is empty") != std::string::npos);
}

TEST_CASE("wanted pieces are bought in place of the need; what names no part is refused") {
  const Folder folder;
  const std::string file = folder.write("case.toml", example_text("stock-scanner.toml"));
  const Run twelve =
      run({"buy", file.c_str(), "--futures", "100", "--pieces", "trigger switch=12", "--format", "json"});
  REQUIRE(twelve.code == answered);
  const std::vector<double> pieces = numbers_after(twelve.out, "pieces");
  REQUIRE_FALSE(pieces.empty());
  for (const double count : pieces) CHECK(count >= 12);
  for (const char* wrong : {"trigger switch=0", "=3", "trigger switch", "triger switch=3"}) {
    const Run refused = run({"buy", file.c_str(), "--pieces", wrong});
    CAPTURE(wrong);
    CHECK(refused.code == wrong_use);
    CHECK(refused.err.find("trigger switch") != std::string::npos);
  }
  const Run twice =
      run({"buy", file.c_str(), "--pieces", "trigger switch=3", "--pieces", "trigger switch=4"});
  CHECK(twice.code == wrong_use);
  CHECK(twice.err.find("twice") != std::string::npos);
}

TEST_CASE("the schemas of what people write name its keys and end where they end") {
  for (const char* of : {"case", "shop"}) {
    const Run schema = run({"schema", of});
    CAPTURE(of);
    CHECK(schema.code == answered);
    CHECK(schema.out.find("https://json-schema.org/draft/2020-12/schema") != std::string::npos);
    CHECK(schema.out.find(std::string(of) == "case" ? "\"hours_per_day\"" : "\"charge_rate\"") !=
          std::string::npos);
    CHECK(schema.out.find("\"additionalProperties\": false") != std::string::npos);
  }
}
