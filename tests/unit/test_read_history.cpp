#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "input/csv_table.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/history.hpp"

using namespace mendworth;

namespace {

History read(const std::string& csv, const HistoryOptions& options = {}) {
  return read_history(csv, "lives.csv", options);
}

std::vector<std::string> problems(const std::string& csv, const HistoryOptions& options = {}) {
  try {
    static_cast<void>(read(csv, options));
  } catch (const InputError& error) {
    std::vector<std::string> out;
    for (const Diagnostic& problem : error.problems()) out.push_back(problem.text());
    return out;
  }
  return {};
}

/// The one problem of a row below this header.
std::string row_problem(const std::string& row) {
  const auto found = problems("age_hours,state,worked_at,first_seen,count\n" + row + "\n");
  if (found.size() != 1) return std::to_string(found.size()) + " problems";
  const std::string place = "lives.csv:2: error: ";
  return found.front().starts_with(place) ? found.front().substr(place.size()) : found.front();
}

LifeRecord only_record(const std::string& csv, const HistoryOptions& options = {}) {
  const History history = read(csv, options);
  REQUIRE(history.groups.size() == 1);
  REQUIRE(history.groups[0].records.size() == 1);
  return history.groups[0].records[0];
}

using Lines = std::vector<std::string>;

const HistoryOptions decimal_comma{"", "", true};

}  // namespace

TEST_CASE("history: what the rows mean") {
  const History h = read(
      "age_hours,state,worked_at,first_seen,count\n"
      "100,failed,,,\n"
      "200.5,working,,50,3\n"
      "300,failed,250,,\n"
      "400,failed,0,,2.5\n"
      "500,failed,500,,\n"
      "0,working,,,\n");
  CHECK(h.source_name == "lives.csv");
  CHECK(h.unit == LifeUnit::hours);
  CHECK(h.part.empty());
  CHECK(h.parts.empty());
  REQUIRE(h.groups.size() == 1);
  CHECK(h.groups[0].name.empty());
  const auto& r = h.groups[0].records;
  REQUIRE(r.size() == 6);
  CHECK(r[0].exact());
  CHECK(r[0].failed_by == 100);
  CHECK(r[0].first_seen == 0);
  CHECK(r[0].weight == 1);
  CHECK(r[1].working());
  CHECK(r[1].worked_at == 200.5);
  CHECK(r[1].first_seen == 50);
  CHECK(r[1].weight == 3);
  CHECK(r[2].worked_at == 250);
  CHECK(r[2].failed_by == 300);
  CHECK_FALSE(r[2].exact());
  CHECK(r[3].left());
  CHECK(r[3].weight == 2.5);
  CHECK(r[4].exact());
  CHECK(r[5].working());
  CHECK(r[5].worked_at == 0);
}

TEST_CASE("history: each unit has its column, in any case of letters") {
  CHECK(read("age_cycles,state\n1,failed\n").unit == LifeUnit::cycles);
  CHECK(read("AGE_YEARS,State\n1,FAILED\n").unit == LifeUnit::years);
  CHECK(only_record("Age_Hours,state\n1,Working\n").working());
}

TEST_CASE("history: separators, quotes, line ends and a byte order mark") {
  const std::string bom = "\xEF\xBB\xBF";
  for (const std::string& csv : {
           std::string("age_hours,state,count\n7,failed,2\n"),
           std::string("age_hours;state;count\n7;failed;2\n"),
           std::string("age_hours\tstate\tcount\n7\tfailed\t2\n"),
           std::string("age_hours,state,count\r\n7,failed,2\r\n"),
           std::string("age_hours,state,count\r7,failed,2\r"),
           std::string("age_hours,state,count\n7,failed,2"),
           std::string("\n\nage_hours,state,count\n\n  \n7,failed,2\n\n"),
           std::string(" age_hours , state ,count\n 7 , failed,2 \n"),
           std::string("\"age_hours\",\"state\",\"count\"\n\"7\",\"failed\",\"2\"\n"),
           std::string("\"age_hours\";\"state\";\"count\"\r\n\"7\";\"failed\";\"2\""),
           std::string("note,age_hours,state,count\n\"a, \"\"b\"\"\r\nc\",7,failed,2\n"),
           std::string("a note, in words;age_hours;state;count\n,;7;failed;2\n"),
           bom + "age_hours,state,count\n7,failed,2\n",
       }) {
    CAPTURE(csv);
    const LifeRecord r = only_record(csv);
    CHECK(r.failed_by == 7);
    CHECK(r.exact());
    CHECK(r.weight == 2);
  }
}

TEST_CASE("history: decimal commas when asked for") {
  CHECK(only_record("age_hours;state\n1,5;failed\n", decimal_comma).failed_by == 1.5);
  CHECK(only_record("age_hours\tstate\n1,5e2\tfailed\n", decimal_comma).failed_by == 150);
  CHECK(problems("age_hours;state\n1.5;failed\n", decimal_comma) ==
        Lines{"lives.csv:2: error: age_hours: '1.5' is not a number (with decimal commas a point has no "
              "place in a "
              "number)"});
  CHECK(problems("age_hours;state\n1,5,0;failed\n", decimal_comma) ==
        Lines{"lives.csv:2: error: age_hours: '1,5,0' is not a number"});
  CHECK(problems("age_hours,state\n1,failed\n", decimal_comma).front() ==
        "lives.csv:1: error: the column with the ages is missing (name it with its unit: age_cycles, "
        "age_hours or "
        "age_years; with decimal commas the separator is a semicolon or a tab)");
  CHECK(row_problem("\"1,5\",failed,,,") ==
        "age_hours: '1,5' is not a number (no separators of thousands; decimal commas only with "
        "--decimal-comma)");
}

TEST_CASE("history: every way in which a row can be bad") {
  CHECK(row_problem("1,failed") == "2 fields where the header has 5");
  CHECK(row_problem("1") == "1 field where the header has 5");
  CHECK(row_problem("1,failed,,,,,") ==
        "7 fields where the header has 5 (a field with the separator in it is quoted)");
  CHECK(row_problem(",failed,,,") == "age_hours: the age is missing");
  CHECK(row_problem("long,failed,,,") == "age_hours: 'long' is not a number");
  CHECK(row_problem("12h,failed,,,") == "age_hours: '12h' is not a number");
  CHECK(row_problem("+12,failed,,,") == "age_hours: '+12' is not a number");
  CHECK(row_problem("0x10,failed,,,") == "age_hours: '0x10' is not a number");
  CHECK(row_problem("-1,failed,,,") == "age_hours: found -1, allowed is 0 to 1000000000000");
  CHECK(row_problem("inf,failed,,,") == "age_hours: found inf, allowed is 0 to 1000000000000");
  CHECK(row_problem("nan,failed,,,") == "age_hours: found nan, allowed is 0 to 1000000000000");
  CHECK(row_problem("1e999,failed,,,") == "age_hours: found 1e999, allowed is 0 to 1000000000000");
  CHECK(row_problem("1e13,failed,,,") == "age_hours: found 1e13, allowed is 0 to 1000000000000");
  CHECK(row_problem("0,failed,,,") ==
        "age_hours: a piece cannot wear out at age 0 (dead on arrival is no life: leave the row out, and "
        "count it as "
        "dead_on_arrival in a case)");
  CHECK(row_problem("1,,,,") == "state: the state is missing (known are: failed, working)");
  CHECK(row_problem("1,faild,,,") == "state: unknown state 'faild' (did you mean 'failed'?)");
  CHECK(row_problem("1,broken,,,") == "state: unknown state 'broken' (known are: failed, working)");
  CHECK(row_problem("5,failed,6,,") == "worked_at: it still worked at 6 and had failed at 5 before that");
  CHECK(row_problem("5,working,2,,") ==
        "worked_at: only a failed piece has a last look at which it worked (leave it empty: a working piece "
        "worked at "
        "its age, 5)");
  CHECK(row_problem("5,failed,-2,,") == "worked_at: found -2, allowed is 0 to 1000000000000");
  CHECK(row_problem("5,failed,,x,") == "first_seen: 'x' is not a number");
  CHECK(row_problem("5,failed,,5,") ==
        "first_seen: 5 is not before the failure, 5 (a piece comes under watch while it works)");
  CHECK(row_problem("5,failed,,9,") ==
        "first_seen: 9 is not before the failure, 5 (a piece comes under watch while it works)");
  CHECK(row_problem("5,working,,6,") == "first_seen: 6 is after the age, 5");
  CHECK(row_problem("5,failed,2,3,") ==
        "worked_at: the last look, 2, was before the piece came under watch, 3 (it worked when it came under "
        "watch: "
        "the last look is that or later)");
  CHECK(row_problem("5,failed,,,0") == "count: 0 pieces: a row stands for more than none");
  CHECK(row_problem("5,failed,,,-1") == "count: found -1, allowed is 0 to 1000000000");
  CHECK(row_problem("5,failed,,,many") == "count: 'many' is not a number");
}

TEST_CASE("history: what is at the edge of allowed") {
  const std::string header = "age_hours,state,worked_at,first_seen,count\n";
  CHECK(only_record(header + "5,working,,5,").first_seen == 5);
  CHECK(only_record(header + "5,failed,3,3,").worked_at == 3);
  CHECK(only_record(header + "1e12,failed,,,1e9").weight == 1e9);
  CHECK(only_record(header + "5,failed,,0,").first_seen == 0);
}

TEST_CASE("history: quotes that go wrong, with the line where the row starts") {
  const std::string misplaced =
      ": a field with quotes is quoted as a whole, and quotes within it are doubled";
  CHECK(problems("age_hours,state,note\n1,failed,a \"b\" c\n2,bad,\n") ==
        Lines{"lives.csv:2: error: a quote stands where none may" + misplaced,
              "lives.csv:3: error: state: unknown state 'bad' (known are: failed, working)"});
  CHECK(problems("age_hours,state,note\n1,failed,\"a\nb\n2,failed,\"c\"\n") ==
        Lines{"lives.csv:2: error: a quote stands where none may, in line 4" + misplaced});
  CHECK(problems("age_hours,state,note\n1,failed,x\n\n2,failed,\"a\nb\nc\n") ==
        Lines{"lives.csv:4: error: the quote that is opened in this row is never closed"});
  CHECK(problems("age_hours,st\"ate\n1,failed\n") ==
        Lines{"lives.csv:1: error: a quote stands where none may" + misplaced});
}

TEST_CASE("history: lines are counted through quoted line ends, CR LF, CR and blank lines") {
  const auto line_of_bad = [](const std::string& csv) {
    const auto found = problems(csv);
    return found.size() == 1 ? found.front().substr(0, found.front().find(": error")) : std::string("?");
  };
  CHECK(line_of_bad("age_hours,state,note\n1,failed,\"a\nb\"\n\n2,bad,\n") == "lives.csv:5");
  CHECK(line_of_bad("age_hours,state,note\r\n1,failed,\"a\r\nb\"\r\n\r\n2,bad,\r\n") == "lives.csv:5");
  CHECK(line_of_bad("age_hours,state,note\r1,failed,\"a\rb\"\r\r2,bad,\r") == "lives.csv:5");
  CHECK(line_of_bad("\n\r\n age_hours,state\n1,failed\n2,bad") == "lives.csv:5");
}

TEST_CASE("history: columns missing, twice, nearly right") {
  CHECK(problems("state\nfailed\n") == Lines{"lives.csv:1: error: the column with the ages is missing (name "
                                             "it with its unit: age_cycles, age_hours "
                                             "or age_years)"});
  CHECK(
      problems("age_hours,stat\n1,failed\n") ==
      Lines{
          "lives.csv:1: error: state: this column is missing: each row says 'failed' or 'working' (is 'stat' "
          "meant to be it?)"});
  CHECK(problems("age_hours,age_cycles,state\n1,2,failed\n").size() == 1);
  CHECK(problems("age_hours,age_years,state\n1,2,failed\n").front() ==
        "lives.csv:1: error: age_years: the age stands in 'age_hours' already (a history has its ages in one "
        "unit: "
        "keep one of the columns)");
  CHECK(problems("age_hours,state,State\n1,failed,failed\n") ==
        Lines{"lives.csv:1: error: state: this column stands there twice (keep one, or give the other one "
              "another "
              "name)"});
  CHECK(problems("age_hours,state,workedat\n1,failed,\n") ==
        Lines{"lives.csv:1: error: workedat: this column is nearly 'worked_at' (name it 'worked_at', or else "
              "something less like it)"});
  CHECK(problems("age_hours,state,note,note\n1,failed,,\n").empty());
  CHECK(problems("age_hours,state,account\n1,failed,7\n").empty());
}

TEST_CASE("history: nothing in it") {
  CHECK(problems("") ==
        Lines{"lives.csv: error: the file is empty (the first row names the columns: age_cycles, "
              "age_hours or age_years, and state)"});
  CHECK(problems("\xEF\xBB\xBF\r\n \n").size() == 1);
  CHECK(problems("age_hours,state\n\n") == Lines{"lives.csv: error: there is no row below the header"});
}

TEST_CASE("history: no text") {
  CHECK(problems(std::string("age_hours,state\n1,\0failed\n", 25)) ==
        Lines{"lives.csv:2:3: error: this is no UTF-8 text file: found the byte 0x00 (save the table as CSV "
              "in UTF-8)"});
  CHECK(
      problems("age_hours,state,note\n1,failed,caf\xE9\n") ==
      Lines{
          "lives.csv:2:13: error: this is no UTF-8 text file: found the byte 0xE9 (save the table as CSV in "
          "UTF-8)"});
  CHECK(problems("\xFF\xFE").size() == 1);
}

TEST_CASE("history: one part of several") {
  const std::string csv = "age_hours,state,part\n1,failed,encoder\n2,working,relay\n3,failed,encoder\n";
  History h = read(csv);
  CHECK(h.groups[0].records.size() == 3);
  CHECK(h.parts == Lines{"encoder", "relay"});
  h = read(csv, {"encoder", "", false});
  CHECK(h.part == "encoder");
  CHECK(h.parts == Lines{"encoder"});
  REQUIRE(h.groups[0].records.size() == 2);
  CHECK(h.groups[0].records[1].failed_by == 3);

  CHECK(problems(csv, {"encodr", "", false}) ==
        Lines{"lives.csv: error: part: no row is about part 'encodr' (did you mean 'encoder'?)"});
  CHECK(problems(csv, {"fuse", "", false}) ==
        Lines{"lives.csv: error: part: no row is about part 'fuse' (known are: encoder, relay)"});
  CHECK(problems("age_hours,state\n1,failed\n", {"encoder", "", false}) ==
        Lines{"lives.csv:1: error: part: part 'encoder' is asked for, but no column says which part a row is "
              "about"});
  CHECK(problems("age_hours,state,part\n1,failed,\n2,failed,relay\n", {"relay", "", false}) ==
        Lines{"lives.csv:2: error: part: the row does not say which part it is about"});
  // A bad row of another part is as bad.
  CHECK(problems("age_hours,state,part\n1,failed,relay\n2,bad,encoder\n", {"relay", "", false}).size() == 1);
}

TEST_CASE("history: groups in order of first appearance") {
  const std::string csv =
      "age_hours,state,part,kind\n1,failed,relay,open\n2,working,relay,sealed\n3,failed,relay,open\n4,failed,"
      "lamp,x\n";
  const History h = read(csv, {"relay", "kind", false});
  REQUIRE(h.groups.size() == 2);
  CHECK(h.groups[0].name == "open");
  CHECK(h.groups[0].records.size() == 2);
  CHECK(h.groups[1].name == "sealed");
  CHECK(read(csv, {"", "part", false}).groups.size() == 2);

  CHECK(problems(csv, {"", "knid", false}) ==
        Lines{"lives.csv:1: error: knid: there is no such column to group by (did you mean 'kind'?)"});
  CHECK(problems(csv, {"", "supplier", false}) ==
        Lines{"lives.csv:1: error: supplier: there is no such column to group by (known are: part, kind)"});
  std::string wide = "age_hours,state";
  for (int i = 0; i < 30; ++i) wide += ",column-" + std::to_string(10 + i);
  const Lines found = problems(wide + "\n1,failed\n", {"", "supplier", false});
  REQUIRE_FALSE(found.empty());
  CHECK(found[0].starts_with(
      "lives.csv:1: error: supplier: there is no such column to group by (known are: column-10, "));
  CHECK(found[0].ends_with(", column-22 and 17 more)"));
  CHECK(problems("age_hours,state\n1,failed\n", {"", "kind", false}) ==
        Lines{"lives.csv:1: error: kind: there is no such column to group by (every column of this file is "
              "one of "
              "those that are measured)"});
  CHECK(problems(csv, {"", "state", false}) ==
        Lines{"lives.csv:1: error: state: this column is what is measured: it is none to group by"});
  CHECK(problems("age_hours,state,kind\n1,failed,\n", {"", "kind", false}) ==
        Lines{"lives.csv:2: error: kind: the row belongs to no group (state one, for instance 'unknown')"});

  std::string many = "age_hours,state,job\n";
  for (std::size_t i = 0; i <= most_history_groups; ++i) many += "1,failed,j" + std::to_string(i) + "\n";
  CHECK(problems(many, {"", "job", false}) ==
        Lines{"lives.csv:52: error: job: more than 50 different values: this column is none to group by"});
}

TEST_CASE("history: a hundred problems are told, the rest counted") {
  std::string csv = "age_hours,state\n";
  for (int i = 0; i < 100; ++i) csv += "1,bad\n";
  CHECK(problems(csv).size() == 100);
  for (int i = 0; i < 37; ++i) csv += "1,bad\n";
  const auto found = problems(csv);
  REQUIRE(found.size() == 101);
  CHECK(found[99] == "lives.csv:101: error: state: unknown state 'bad' (known are: failed, working)");
  CHECK(found[100] == "lives.csv: error: and 37 more problems");
}

TEST_CASE("csv: rows wider than what is kept are counted in full") {
  std::string row(input::most_csv_fields + 4, ',');
  std::size_t fields = 0;
  std::size_t kept = 0;
  input::read_csv(row, ',',
                  {[&](const input::CsvRow& r) {
                     fields = r.field_count;
                     kept = r.fields.size();
                     return true;
                   },
                   [](int, const std::string&) { return true; }});
  CHECK(fields == input::most_csv_fields + 5);
  CHECK(kept == input::most_csv_fields);
  CHECK(problems("age_hours,state" + row + "\n1,failed\n").front() ==
        "lives.csv:1: error: 1006 columns; at most 1000 are read");
}

TEST_CASE("csv: reading stops when it is told to") {
  int rows = 0;
  input::read_csv(
      "a\nb\nc\n", ',',
      {[&](const input::CsvRow&) { return ++rows < 2; }, [](int, const std::string&) { return true; }});
  CHECK(rows == 2);
}
