#include <doctest/doctest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "cli/cli.hpp"
#include "cli/exit_code.hpp"
#include "cli/locked_file.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/drawer.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"
#include "render/layout.hpp"
#include "support/json_schema.hpp"
#include "support/temporary_folder.hpp"

// The drawer command and what it prints.
using namespace mendworth;
using namespace mendworth::cli;
using Folder = mendworth::test::TemporaryFolder;
using Json = nlohmann::json;

namespace {

namespace fs = std::filesystem;

void write(const std::string& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}

std::string contents(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

struct Run {
  int code = 0;
  std::string out, err;
};

Run run(const std::vector<std::string>& words, const Date& day = {2026, 3, 1}) {
  std::vector<const char*> argv{"mendworth"};
  for (const std::string& word : words) argv.push_back(word.c_str());
  std::ostringstream out, err;
  Surroundings surroundings;
  surroundings.clock = [&day] { return day; };
  surroundings.err_columns = 120;  // few messages are longer than a line
  const int code = run_command_line(static_cast<int>(argv.size()), argv.data(), {out, err}, surroundings);
  return {code, out.str(), err.str()};
}

bool contains(const std::string& text, const std::string& piece) {
  return text.find(piece) != std::string::npos;
}

const std::string sample =
    "candidate,pieces,since,note,box,price,maker\n"
    "button 6x6,12,2025-03-01,from the old radio,A 1,0.10,x\n"
    "\"knob, grey\",1,,\"two\nlines\",,,\n";

}  // namespace

TEST_CASE("drawer listing: a table with the first of one's own columns") {
  CHECK(drawer_page(read_drawer(sample, "d.csv"), {}) ==
        "d.csv: 13 pieces under 2 names.\n"
        "  candidate   pieces  since       box  price  note\n"
        "  --------------------------------------------------------------\n"
        "  button 6x6      12  2025-03-01  A 1  0.10   from the old radio\n"
        "  knob, grey       1  -                       two lines\n"
        "Columns not shown: maker; --show all has them.\n");
  CHECK(drawer_page(read_drawer("candidate,pieces\n", "d.csv"), {}) == "d.csv: the drawer is empty.\n");
  CHECK(drawer_page(read_drawer("candidate,pieces\nknob,1\n", "d.csv"), {}) ==
        "d.csv: 1 piece under 1 name.\n  candidate  pieces  since\n  ------------------------\n"
        "  knob            1  -\n");
}

TEST_CASE("drawer listing: fits 80 columns whatever the fields say") {
  const std::string words = "a name of very many words that goes on and on, far beyond the edge of any page ";
  const std::string csv = "candidate,pieces,since,note,\"" + words + "\",\"" + words + "2\"\n\"" + words +
                          "\",1000000,2025-03-01,\"" + words + "\",\"" + words + "\",\"" + words +
                          "\x1b[31m\"\n";
  std::istringstream lines(drawer_page(read_drawer(csv, "d.csv"), {}));
  int count = 0;
  for (std::string line; std::getline(lines, line); ++count) {
    CAPTURE(line);
    CHECK(display_width(line) <= 80);
    CHECK_FALSE(contains(line, "\x1b"));
  }
  CHECK(count > 3);
}

TEST_CASE("drawer JSON satisfies its schema, and the schema knows every key") {
  const Json schema = Json::parse(drawer_schema());
  testing::SchemaValidator validator(schema);
  for (const std::string& csv :
       {sample, std::string("candidate,pieces\n"), std::string("candidate,pieces\nknob,0\n")}) {
    CHECK(validator.problems(Json::parse(drawer_json(read_drawer(csv, "d.csv")))) ==
          std::vector<std::string>{});
  }
  const std::string text = drawer_json(read_drawer(sample, "d.csv"));
  CHECK(text.starts_with("{\n  \"schema\": \"mendworth.drawer\",\n  \"version\": 1,\n"));
  Json json = Json::parse(text);
  CHECK(json["total_pieces"] == 13);
  CHECK(json["own_columns"] == Json({"box", "price", "maker"}));
  CHECK(json["entries"][0] == Json({{"candidate", "button 6x6"},
                                    {"pieces", 12},
                                    {"since", "2025-03-01"},
                                    {"note", "from the old radio"},
                                    {"own", {"A 1", "0.10", "x"}}}));
  CHECK(json["entries"][1]["since"].is_null());
  json["entries"][0]["pieces"] = -1;
  CHECK_FALSE(validator.problems(json).empty());
  CHECK(run({"schema", "drawer"}).out == drawer_schema());
}

TEST_CASE("drawer command: the first addition makes the file, then adding, listing, taking") {
  const Folder folder;
  const std::string path = folder.file("d.csv");
  Run r = run({"drawer", path, "--add", " button 6x6 ", "--pieces", "10"});
  CHECK(r.code == answered);
  CHECK(r.out == path + ": 10 pieces of 'button 6x6' added; 10 there now.\n");
  CHECK(
      run({"drawer", path, "--add", "button 6x6", "--since", "2024-01-31", "--note", "old, \"used\""}).code ==
      answered);
  CHECK(contents(path) ==
        "candidate,pieces,since,note\nbutton 6x6,10,2026-03-01,\nbutton 6x6,1,2024-01-31,\"old, "
        "\"\"used\"\"\"\n");
  CHECK(contains(run({"drawer", path}).out, "11 pieces under 1 name"));
  r = run({"drawer", path, "--take", "button 6x6", "--pieces", "2"});
  CHECK(r.out == path + ": 2 pieces of 'button 6x6' taken; 9 there now.\n");
  CHECK(contents(path) == "candidate,pieces,since,note\nbutton 6x6,9,2026-03-01,\n");
  r = run({"drawer", path, "--take", "button 6x6", "--format", "json"});
  CHECK(Json::parse(r.out)["total_pieces"] == 8);
}

TEST_CASE("drawer command: bad data and wrong use change nothing") {
  const Folder folder;
  const std::string path = folder.file("d.csv");
  write(path, sample);
  Run r = run({"drawer", path, "--take", "button 6x6", "--pieces", "13"});
  CHECK(r.code == bad_data);
  CHECK(r.out.empty());
  CHECK(r.err == path + ": error: there are 12 pieces of 'button 6x6', not 13\n");
  CHECK(run({"drawer", path, "--add", "button 6x6", "--pieces", "1000001"}).code == wrong_use);
  for (const std::vector<std::string>& words :
       std::vector<std::vector<std::string>>{{"--add", "a", "--take", "b"},
                                             {"--add", " "},
                                             {"--add", "\xFF"},
                                             {"--add", "a", "--note", "\xFF"},
                                             {"--add", "a", "--pieces", "0"},
                                             {"--add", "a", "--since", "2026-02-29"},
                                             {"--take", "a", "--since", "2026-02-28"},
                                             {"--take", "a", "--note", "b"},
                                             {"--pieces", "2"},
                                             {"--ad", "a"}}) {
    std::vector<std::string> all{"drawer", path};
    all.insert(all.end(), words.begin(), words.end());
    r = run(all);
    CHECK(r.code == wrong_use);
    CHECK(r.out.empty());
    CHECK_FALSE(r.err.empty());
  }
  CHECK(run({"drawer", "-", "--add", "a"}).code == wrong_use);
  CHECK(contents(path) == sample);
  write(path, "candidate,pieces\nknob,many\n");
  r = run({"drawer", path, "--add", "knob"});
  CHECK(r.code == bad_data);
  CHECK(r.err.starts_with(path + ":2:6: error: pieces: found 'many', allowed is a whole number"));
  CHECK(r.err.ends_with("from 0 to 1000000\n    knob,many\n         ^\n"));
  CHECK(contents(path) == "candidate,pieces\nknob,many\n");
}

TEST_CASE("drawer command: a clock whose day could not be read again writes nothing") {
  const Folder folder;
  const std::string file = folder.file("d.csv");
  for (const Date& day : {Date{-1199, 2, 15}, Date{1582, 12, 31}, Date{10000, 1, 1}}) {
    CAPTURE(day.year);
    const Run added = run({"drawer", file, "--add", "x", "--pieces", "1"}, day);
    CHECK(added.code == 2);
    CHECK(contains(added.err, "the clock says that it is the year " + std::to_string(day.year)));
    CHECK_FALSE(std::filesystem::exists(file));
  }
  CHECK(run({"drawer", file, "--add", "x", "--pieces", "1"}, {1583, 1, 1}).code == 0);
}

TEST_CASE("drawer file: a link stays a link, permissions stay, a leftover is cleared") {
  const Folder folder;
  fs::create_directory(folder.file("real"));
  fs::create_symlink("real/d.csv", folder.file("link.csv"));
  CHECK(run({"drawer", folder.file("link.csv"), "--add", "knob"}).code == answered);
  CHECK(fs::is_symlink(folder.file("link.csv")));
  CHECK(contains(contents(folder.file("real/d.csv")), "knob,1,"));
  fs::permissions(folder.file("real/d.csv"), fs::perms::owner_read | fs::perms::owner_write);
  write(folder.file("real/d.csv.mendworth-new"), "half a fi");
  CHECK(run({"drawer", folder.file("link.csv"), "--add", "knob"}).code == answered);
  CHECK(fs::is_symlink(folder.file("link.csv")));
  CHECK(fs::status(folder.file("real/d.csv")).permissions() ==
        (fs::perms::owner_read | fs::perms::owner_write));
  CHECK(contains(contents(folder.file("real/d.csv")), "knob,2,"));
  CHECK_FALSE(fs::exists(folder.file("real/d.csv.mendworth-new")));
  CHECK(fs::exists(folder.file("real/d.csv.lock")));
}

TEST_CASE("drawer file: what is no file, or cannot be locked, is file trouble") {
  const Folder folder;
  CHECK(run({"drawer", folder.file("none.csv")}).code == file_trouble);
  CHECK(run({"drawer", folder.file("none.csv"), "--take", "a"}).code == file_trouble);
  CHECK_FALSE(fs::exists(folder.file("none.csv.lock")));
  CHECK(run({"drawer", folder.file("no-folder/d.csv"), "--add", "a"}).code == file_trouble);
  fs::create_directory(folder.file("folder"));
  CHECK(run({"drawer", folder.file("folder")}).code == file_trouble);
  CHECK(run({"drawer", folder.file("folder"), "--add", "a"}).code == file_trouble);
  CHECK(run({"drawer", "/dev/null", "--add", "a"}).code == file_trouble);
  fs::create_symlink("loop.csv", folder.file("loop.csv"));
  CHECK(run({"drawer", folder.file("loop.csv"), "--add", "a"}).code == file_trouble);
  fs::create_directory(folder.file("d.csv.lock"));
  const Run r = run({"drawer", folder.file("d.csv"), "--add", "a"});
  CHECK(r.code == file_trouble);
  CHECK(contains(r.err, "d.csv.lock: "));
  CHECK_FALSE(fs::exists(folder.file("d.csv")));
}

TEST_CASE("weigh --drawer: read, laid out, its notes among the others") {
  const Folder folder;
  const std::string case_path = folder.file("case.toml");
  write(case_path, starter_case(false));
  const std::string drawer = folder.file("d.csv");
  const auto weigh_with = [&](const std::string& rows) {
    write(drawer, "candidate,pieces\n" + rows);
    return run({"weigh", case_path, "--futures", "500", "--date", "2026-03-01", "--format", "json",
                "--drawer", drawer});
  };
  const Case c = read_case(starter_case(false), case_path, built_in_rates());
  REQUIRE_FALSE(c.parts.empty());
  const std::string name = c.parts[0].candidates.at(0).name;
  const Run near = weigh_with(name + "s,3\n");
  CHECK(near.code == answered);
  bool said = false;
  const Json weighing = Json::parse(near.out);
  for (const Json& note : weighing["notes"]) said = said || contains(note.get<std::string>(), "Did you mean");
  CHECK(said);
  CHECK(weigh_with(name + ",3\n").code == answered);
  CHECK(weigh_with(name + ",-3\n").code == bad_data);
  CHECK(run({"weigh", case_path, "--drawer", folder.file("none.csv")}).code == file_trouble);
  CHECK(run({"weigh", case_path, "--drawer", drawer, "--out", drawer}).code == wrong_use);
  CHECK(run({"weigh", "-", "--drawer", "-"}).code == wrong_use);
}
