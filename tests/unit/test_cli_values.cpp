#include <doctest/doctest.h>

#include <limits>

#include "cli/values.hpp"

using namespace mendworth;
using namespace mendworth::cli;

TEST_CASE("whole numbers of the command line are read strictly") {
  constexpr std::uint64_t most = std::numeric_limits<std::uint64_t>::max();
  CHECK(whole_number("0", 0, most) == 0u);
  CHECK(whole_number("18446744073709551615", 0, most) == most);
  CHECK(whole_number("100", 100, 200) == 100u);
  for (const char* word :
       {"", "-1", "+1", "010", "0x10", "1e3", "1.0", " 1", "1 ", "nan", "18446744073709551616", "1,000"}) {
    CAPTURE(word);
    CHECK_FALSE(whole_number(word, 0, most).has_value());
  }
  CHECK_FALSE(whole_number("99", 100, 200).has_value());
  CHECK_FALSE(whole_number("201", 100, 200).has_value());
}

TEST_CASE("a date is a day that exists") {
  CHECK(day("2026-03-01") == Date{2026, 3, 1});
  CHECK(day("2024-02-29") == Date{2024, 2, 29});
  for (const char* word : {"", "2023-02-29", "2026-13-01", "2026-00-10", "2026-1-01", "2026-01-32",
                           "26-01-01", "2026/01/01", "2026-01-01T00", "-026-01-01", "1500-01-01"}) {
    CAPTURE(word);
    CHECK_FALSE(day(word).has_value());
  }
}

TEST_CASE("seconds since 1970 are a day in UTC") {
  CHECK(day_of_epoch_seconds("0") == Date{1970, 1, 1});
  CHECK(day_of_epoch_seconds("86399") == Date{1970, 1, 1});
  CHECK(day_of_epoch_seconds("86400") == Date{1970, 1, 2});
  CHECK(day_of_epoch_seconds("951782400") ==
        Date{2000, 2, 29});  // derived: 10957 days to 2000-01-01, 59 more
  CHECK_FALSE(day_of_epoch_seconds("-1").has_value());
  CHECK_FALSE(day_of_epoch_seconds("tomorrow").has_value());
}

TEST_CASE("a decimal number is what stands there and nothing else") {
  CHECK(decimal_number("0.95", 0.5, 0.999) == 0.95);
  CHECK(decimal_number("5e4", 0, 1e12) == 50'000);
  CHECK(decimal_number("1e12", 0, 1e12) == 1e12);
  for (const char* bad : {"", " 1", "1 ", "+1", "1,5", "0x10", "1.5h", "-1", "1e13", "1e999", "inf", "nan"}) {
    CAPTURE(bad);
    CHECK_FALSE(decimal_number(bad, 0, 1e12).has_value());
  }
}
