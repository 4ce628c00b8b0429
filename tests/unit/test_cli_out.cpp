// --out FILE: every command that writes puts the same bytes there as on standard output, and never over what it reads.
#include <doctest/doctest.h>

#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "cli/exit_code.hpp"
#include "mendworth/read_case.hpp"
#include "support/run_command.hpp"
#include "support/temporary_folder.hpp"

using namespace mendworth;
using namespace mendworth::cli;
using mendworth::test::run;
using Folder = mendworth::test::TemporaryFolder;

namespace {

std::string content_of(const std::string& path) {
  std::ostringstream text;
  text << std::ifstream(path).rdbuf();
  return text.str();
}

void check_out(std::vector<const char*> words) {
  const Folder folder;
  const std::string file = folder.file("answer");
  const auto shown = run(words);
  CHECK(shown.code == answered);
  CHECK_FALSE(shown.out.empty());
  words.push_back("--out");
  words.push_back(file.c_str());
  const auto kept = run(words);
  CHECK(kept.code == answered);
  CHECK(kept.out.empty());
  CHECK(content_of(file) == shown.out);
  CHECK(folder.entries() == 1);  // nothing of a temporary file is left
}

}  // namespace

TEST_CASE("--out takes what would be on standard output") {
  const Folder folder;
  const std::string case_file = folder.write("case.toml", starter_case(false));
  const std::string drawer = folder.write("drawer.csv", "candidate,pieces\nkey,3\n");
  check_out({"check", case_file.c_str()});
  check_out({"check", case_file.c_str(), "--format", "json"});
  check_out({"rates", "--show", "lives"});
  check_out({"rates", "--format", "json"});
  check_out({"drawer", drawer.c_str()});
  check_out({"schema", "weigh"});
  const std::string table = folder.write("table.csv", "device.age_years\n2\n5\n");
  for (const char* format : {"csv", "json", "html"}) {
    check_out(
        {"rows", case_file.c_str(), table.c_str(), "--futures", "128", "--threads", "1", "--format", format});
  }
  CHECK(run({"rows", case_file.c_str(), table.c_str(), "--out", table.c_str()}).code == wrong_use);
  const std::string both = folder.file("both");
  CHECK(
      run({"rows", case_file.c_str(), table.c_str(), "--out", both.c_str(), "--order", both.c_str()}).code ==
      wrong_use);
}

TEST_CASE("a file that is read is not written over") {
  const Folder folder;
  const std::string drawer = folder.write("drawer.csv", "candidate,pieces\nkey,3\n");
  const std::string before = content_of(drawer);
  const std::vector<std::vector<const char*>> wrong = {
      {"drawer", drawer.c_str(), "--out", drawer.c_str()},
      {"drawer", drawer.c_str(), "--add", "key", "--out", drawer.c_str()},
      {"check", "other.toml", drawer.c_str(), "--out", drawer.c_str()}};
  for (const auto& words : wrong) {
    CAPTURE(words[1]);
    CHECK(run(words).code == wrong_use);
    CHECK(content_of(drawer) == before);
  }
  const std::string fresh = folder.file("new.csv");
  CHECK(run({"drawer", fresh.c_str(), "--add", "key", "--out", fresh.c_str()}).code == wrong_use);
  CHECK(folder.entries() == 1);
}
