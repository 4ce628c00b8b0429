#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "render/layout.hpp"

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
