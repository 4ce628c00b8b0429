#include <string>

#include <doctest/doctest.h>

#include "mendworth/bulk.hpp"
#include "mendworth/diagnostic.hpp"

// Expected values in this file are derived: they are what the text of the quotation says.

namespace {

using namespace mendworth;

double price_of(const std::string& rows, const QuotationOptions& options = {}) {
  return read_quotation(rows, "q.csv", options).front().prices.front().each;
}

std::string message(const std::string& csv, const QuotationOptions& options = {}) {
  try {
    static_cast<void>(read_quotation(csv, "q.csv", options));
  } catch (const InputError& error) {
    return error.what();
  }
  return "accepted";
}

}  // namespace

TEST_CASE("quotation: each file says how it marks decimals") {
  CHECK(price_of("candidate,from,each\nkey,1,0.39\n") == 0.39);
  CHECK(price_of("candidate;from;each\nkey;1;0,39\n") == 0.39);
  CHECK(price_of("candidate;from;each\nkey;1;0.39\n") == 0.39);
  CHECK(price_of("candidate,from,each\nkey,1,\"0,39\"\n") == 0.39);
  CHECK(price_of("candidate\tfrom\teach\nkey\t1\t1,25\n") == 1.25);
  // The comma of a name marks nothing.
  CHECK(price_of("candidate;from;each\nkey, 9,5 mm;1;0.39\n") == 0.39);
  // One number that is clear tells of the others.
  CHECK(price_of("candidate;from;each\nkey;1;1,250\nkey;10;0,950\n") == 1.25);
  CHECK(read_quotation("candidate;from;each;lead_days\nkey;1;1,250;2,5\n", "q.csv", {}).front().lead_days ==
        2.5);
}

TEST_CASE("quotation: a comma that may be read in two ways is asked about") {
  const std::string remedy =
      " (write numbers without separators of thousands; --decimal-comma says that commas mark decimals)";
  CHECK(message("candidate;from;each\nkey;1;1,250\n") ==
        "q.csv:2: error: '1,250' may be read in two ways: its comma marks decimals or parts thousands" +
            remedy);
  CHECK(message("candidate;from;each\nkey;1;0.50\nkey;10;0,45\n") ==
        "q.csv:3: error: '0,45' may be read in two ways: its comma marks decimals or parts thousands" +
            remedy);
  CHECK(price_of("candidate;from;each\nkey;1;1,250\n", {.decimal_comma = true}) == 1.25);
  CHECK(message("candidate;from;each\nkey;1;1,250\n", {.decimal_comma = false}) ==
        "q.csv:2:7: error: each: '1,250' is no number (no separators of thousands; --decimal-comma says that "
        "commas "
        "mark decimals)");
  CHECK(message("candidate;from;each\nkey;1;1,250\nkey;10;3.50\n") ==
        "q.csv:2:7: error: each: '1,250' is no number (no separators of thousands; --decimal-comma says that "
        "commas "
        "mark decimals)");
}

TEST_CASE("quotation: a column that is missing is told by what it says") {
  CHECK(message("candidate,from,price\nkey,1,0.5\n") ==
        "q.csv:1: error: each: this column is missing: what one piece costs");
}

TEST_CASE("quotation: pieces are whole numbers without marks") {
  CHECK(message("candidate;from;each\nkey;1,000;0,45\n") ==
        "q.csv:2:5: error: from: 1,000 is no whole number");
}
