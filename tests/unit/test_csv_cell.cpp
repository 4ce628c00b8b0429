#include <doctest/doctest.h>

#include <array>
#include <string>

#include "base/csv_cell.hpp"
#include "mendworth/drawer.hpp"
#include "mendworth/history.hpp"
#include "render/document.hpp"

using namespace mendworth;

TEST_CASE("CSV cell: what a spreadsheet would run is shown instead") {
  CHECK(defused("=1+1") == "'=1+1");
  CHECK(defused("@SUM(A1)") == "'@SUM(A1)");
  CHECK(defused("\tx") == "'\tx");
  CHECK(defused("\rx") == "'\rx");
  CHECK(defused("+cmd|' /C calc'!A0") == "'+cmd|' /C calc'!A0");
  CHECK(defused("-A1") == "'-A1");
}

TEST_CASE("CSV cell: numbers, ordinary names and nothing stay as they are") {
  for (const char* text : {"", "-58.9", "+272 %", "+/-0.23", "-", "button 6x6", "'", "it's", "1=2"}) {
    CAPTURE(text);
    CHECK(defused(text) == text);
    CHECK(as_named(text) == text);
  }
}

TEST_CASE("CSV cell: every text comes back") {
  const std::array<char, 6> letters = {'=', '-', '\'', 'a', '1', '\t'};
  // All texts of up to four of these characters.
  for (int code = 0; code < 7 * 7 * 7 * 7; ++code) {
    std::string text;
    for (int rest = code; rest > 0; rest /= 7) {
      if (rest % 7 != 0) text += letters.at(static_cast<std::size_t>(rest % 7 - 1));
    }
    CAPTURE(text);
    CHECK(as_named(defused(text)) == text);
  }
}

TEST_CASE("CSV cell: a table's cells are defused, its numbers are not") {
  Document document;
  Section section;
  section.name = "s";
  Table table;
  table.name = "t";
  table.columns = {{"name", false}, {"saving"}};
  table.add({"=HYPERLINK(\"x\")", "-58.9"});
  section.blocks.emplace_back(table);
  document.sections.push_back(section);
  CHECK(document_csv(document, true) == "name,saving\r\n\"'=HYPERLINK(\"\"x\"\")\",-58.9\r\n");
}

TEST_CASE("CSV cell: a drawer takes back what it wrote, and leaves one's own columns alone") {
  Drawer drawer = read_drawer("candidate,pieces,box\n=knob,2,=A1+1\n", "drawer.csv");
  REQUIRE(drawer.entries.size() == 1);
  CHECK(drawer.entries[0].candidate == "=knob");
  const std::string written = drawer_csv(drawer);
  CHECK(written == "candidate,pieces,box\n'=knob,2,=A1+1\n");
  CHECK(read_drawer(written, "drawer.csv").entries[0].candidate == "=knob");
}

TEST_CASE("CSV cell: a record names parts and groups as they are") {
  HistoryOptions options;
  options.part = "=knob";
  options.group_column = "kind";
  const History history =
      read_history("part,age_hours,state,kind\n'=knob,10,failed,'-a\n", "lives.csv", options);
  REQUIRE(history.groups.size() == 1);
  CHECK(history.groups[0].name == "-a");
}
