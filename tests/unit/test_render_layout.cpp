#include <doctest/doctest.h>

#include <stdexcept>
#include <string>
#include <vector>

#include "render/layout.hpp"
#include "render/page.hpp"
#include "render/table.hpp"

using namespace mendworth;

using Lines = std::vector<std::string>;

TEST_CASE("widths count columns, not bytes") {
  CHECK(display_width("button") == 6);
  CHECK(display_width("caf\xC3\xA9") == 4);               // one code point
  CHECK(display_width("cafe\xCC\x81") == 4);              // combining accent
  CHECK(display_width("\xE9\x8D\xB5\xE7\x9B\xA4") == 4);  // two wide characters
  CHECK(display_width("a\xFFz") == 3);                    // a byte that is no UTF-8
  CHECK(padded_right("\xC3\xA9", 3) == "\xC3\xA9  ");
  CHECK(padded_left("\xE9\x8D\xB5", 3) == " \xE9\x8D\xB5");
  CHECK(padded_left("too long", 3) == "too long");
}

TEST_CASE("nothing in a name can steer the terminal") {
  CHECK(printable("a\x1b[31mred") == "a\xEF\xBF\xBD[31mred");
  CHECK(printable("two\nlines") == "two\xEF\xBF\xBDlines");
  CHECK(printable("\xC2\x9B"
                  "2J") ==
        "\xEF\xBF\xBD"
        "2J");  // C1 control sequence introducer
  CHECK(printable("a\xE2\x80\xAE"
                  "b") ==
        "a\xEF\xBF\xBD"
        "b");  // right-to-left override
  CHECK(printable("bad \xC3(") == "bad \xEF\xBF\xBD(");
  CHECK(printable("Taste \xC3\xA4 \xE9\x8D\xB5") == "Taste \xC3\xA4 \xE9\x8D\xB5");
}

TEST_CASE("paragraphs break at spaces") {
  CHECK(wrapped("", 10) == Lines{""});
  CHECK(wrapped("one two three", 7) == Lines{"one two", "three"});
  CHECK(wrapped("one  two ", 20) == Lines{"one two"});
  CHECK(wrapped("seventeen", 4) == Lines{"seve", "ntee", "n"});
  CHECK(wrapped("a seventeen b", 4) == Lines{"a", "seve", "ntee", "n b"});
  CHECK(wrapped("abcd", 4) == Lines{"abcd"});
  CHECK(wrapped("abcdefgh", 4) == Lines{"abcd", "efgh"});
  CHECK(wrapped("\xE9\x8D\xB5\xE7\x9B\xA4", 3) == Lines{"\xE9\x8D\xB5", "\xE7\x9B\xA4"});
  CHECK(wrapped("costs " + kept_together("EUR 3"), 9) == Lines{"costs", kept_together("EUR 3")});
  CHECK(with_plain_spaces(kept_together("EUR 3 a")) == "EUR 3 a");
}

namespace {

std::string joined(const Table& table, int width) {
  std::string text;
  for (const Table::Line& line : table.lines(width)) text += line.text + "|\n";
  return text;
}

}  // namespace

TEST_CASE("a table puts words to the left and numbers to the right") {
  Table table({{"part", Table::Align::left, true}, {"price\nEUR"}});
  table.add_row({"button", "1.20"});
  table.add_row({"jack", "12.00"});
  CHECK(joined(table, 40) ==
        "        price|\n"
        "part      EUR|\n"
        "-------------|\n"
        "button   1.20|\n"
        "jack    12.00|\n");
}

TEST_CASE("a column that wraps gives way") {
  Table table({{"option", Table::Align::left, true}, {"cost"}});
  table.add_row({"failed and mates, up to 1 later visit", "58.38"});
  CHECK(joined(table, 27) ==
        "option                 cost|\n"
        "---------------------------|\n"
        "failed and mates, up  58.38|\n"
        "to 1 later visit|\n");
}

TEST_CASE("a row needs a cell for each column") {
  Table table({{"a"}, {"b"}});
  CHECK_THROWS_AS(table.add_row({"1"}), std::invalid_argument);
}

TEST_CASE("a page wraps, indents and marks only with bold, only when asked") {
  TextStyle plain;
  plain.width = 60;
  Page page(plain);
  page.heading("Notes");
  page.item("A sentence that is long enough to need a second line on this narrow page.");
  CHECK(page.text() ==
        "\nNotes\n"
        "  - A sentence that is long enough to need a second line\n"
        "    on this narrow page.\n");

  TextStyle bold;
  bold.color = true;
  Page marked(bold);
  marked.heading("Notes");
  marked.paragraph("plain");
  CHECK(marked.text() == "\n\x1b[1mNotes\x1b[0m\nplain\n");
}
