#include <doctest/doctest.h>

#include <limits>
#include <stdexcept>

#include "mendworth/render.hpp"
#include "render/number_text.hpp"

// Expected texts are derived: the decimal value as written, rounded half away from zero by hand.
using namespace mendworth;

TEST_CASE("money is rounded half away from zero in decimal") {
  CHECK(money_text(2.675, 2) == "2.68");  // binary 2.67499999...
  CHECK(money_text(1.005, 2) == "1.01");  // binary 1.00499999...
  CHECK(money_text(-1.005, 2) == "-1.01");
  CHECK(money_text(0.5, 0) == "1");
  CHECK(money_text(2.5, 0) == "3");
  CHECK(money_text(-2.5, 0) == "-3");
  CHECK(money_text(1.0045, 3) == "1.005");
  CHECK(money_text(12.3449999, 2) == "12.34");
  CHECK(money_text(3 * 0.335, 2) == "1.01");  // binary 1.00500000000000011
  CHECK(money_text(0.57 * 100 / 10, 1) == "5.7");
  CHECK(money_text(0.12345, 4) == "0.1235");
  CHECK(money_text(1234567.891, 2) == "1234567.89");
  CHECK(money_text(0.05, 2) == "0.05");
}

TEST_CASE("money never shows a negative zero") {
  CHECK(money_text(-0.0, 2) == "0.00");
  CHECK(money_text(-0.004, 2) == "0.00");
  CHECK(money_text(-0.005, 2) == "-0.01");
  CHECK(money_text(-0.4, 0) == "0");
  CHECK(signed_money_text(-0.001, 2) == "0.00");
  CHECK(signed_money_text(0.004, 2) == "0.00");
  CHECK(signed_money_text(0.005, 2) == "+0.01");
  CHECK(signed_money_text(-3, 2) == "-3.00");
}

TEST_CASE("very large amounts are still shown in full") {
  CHECK(money_text(123'456'789'012.345, 2) == "123456789012.35");
  CHECK(money_text(9e12, 2) == "9000000000000.00");
  CHECK(money_text(8'999'999'999'999.25, 2) == "8999999999999.25");
  CHECK(money_text(1e20, 2) == "100000000000000000000.00");
  CHECK(money_text(-1e20, 0) == "-100000000000000000000");
}

TEST_CASE("an amount that is not finite is refused") {
  CHECK_THROWS_AS(static_cast<void>(money_text(std::numeric_limits<double>::quiet_NaN(), 2)),
                  std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(number_text(std::numeric_limits<double>::infinity())), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(money_text(1, 7)), std::domain_error);
}

TEST_CASE("an amount carries its currency and its digits") {
  CHECK(amount_text(12.5, "EUR", 2) == "EUR 12.50");
  CHECK(amount_text(-1200.4, "JPY", 0) == "JPY -1200");
  CHECK(amount_text(0.0005, "TND", 3) == "TND 0.001");
}

TEST_CASE("numbers have four significant digits and no idle zeros") {
  CHECK(number_text(0) == "0");
  CHECK(number_text(-0.0) == "0");
  CHECK(number_text(5) == "5");
  CHECK(number_text(64.9) == "64.9");
  CHECK(number_text(0.0325) == "0.0325");
  CHECK(number_text(0.000123456) == "0.0001235");
  CHECK(number_text(12.3456) == "12.35");
  CHECK(number_text(999.96) == "1000");
  CHECK(number_text(123456.7) == "123500");
  CHECK(number_text(123456) == "123456");
  CHECK(number_text(100000) == "100000");
  CHECK(number_text(-31.5) == "-31.5");
  CHECK(number_text(2e-9) == "2e-09");
  CHECK(number_text(3.5e18) == "3.5e+18");
}

TEST_CASE("lives have three significant digits") {
  CHECK(life_text(1523397) == "1520000");
  CHECK(life_text(999.6) == "1000");
  CHECK(life_text(18.18) == "18.2");
  CHECK(life_text(0) == "0");
}

TEST_CASE("percentages keep a digit where it says something") {
  CHECK(percent_text(0) == "0 %");
  CHECK(percent_text(0.0004) == "<0.1 %");
  CHECK(percent_text(0.034) == "3.4 %");
  CHECK(percent_text(0.05) == "5 %");
  CHECK(percent_text(0.0996) == "10 %");
  CHECK(percent_text(0.914) == "91 %");
  CHECK(percent_text(0.993) == "99.3 %");
  CHECK(percent_text(0.9996) == ">99.9 %");
  CHECK(percent_text(1) == "100 %");
  CHECK(percent_text(1.25) == "125 %");
  CHECK(percent_text(-0.02) == "-2 %");
  CHECK(percent_text(std::numeric_limits<double>::max()) == ">9999 %");
  CHECK(percent_text(-1e9) == "<-9999 %");
}

TEST_CASE("counts and years agree with their nouns") {
  CHECK(years_text(1) == "1 year");
  CHECK(years_text(0.4) == "0.4 years");
  CHECK(years_text(5) == "5 years");
  CHECK(years_text(1.004) == "1 year");
  CHECK(years_text(0.004) == "1.5 days");  // of 365.25
  CHECK(days_text(3.333) == "3.3 days");
  CHECK(days_text(1) == "1 day");
  CHECK(count_text(1, "piece", "pieces") == "1 piece");
  CHECK(count_text(0, "piece", "pieces") == "0 pieces");
}

TEST_CASE("an estimate has the digits that its error supports") {
  CHECK(supported_money_text(12.34, 1.5, 2) == "12");
  CHECK(supported_money_text(12.34, 23, 2) == "10");
  CHECK(supported_money_text(543.58, 18.68, 2) == "540");
  CHECK(supported_money_text(41.125, 0.12, 2) == "41.1");
  CHECK(supported_money_text(-7.505, 0.04, 2) == "-7.51");
  CHECK(supported_money_text(12.345, 0, 2) == "12.35");
  CHECK(supported_money_text(12.345, 1e-9, 2) == "12.35");
  CHECK(supported_money_text(-0.84, 5, 2) == "-1");
  CHECK(supported_money_text(-0.4, 5, 2) == "0");
  CHECK(supported_money_text(3, 1000, 2) == "0");
  CHECK(supported_money_text(12'345.6, 0.3, 0) == "12346");
  CHECK(supported_money_text(0.96, 0.1, 2) == "1.0");
  CHECK_THROWS_AS(static_cast<void>(supported_money_text(1, -1, 2)), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(supported_money_text(1, std::numeric_limits<double>::infinity(), 2)),
                  std::domain_error);
}

TEST_CASE("an error itself has two digits") {
  CHECK(error_text(18.68, 2) == "19");
  CHECK(error_text(1.14, 2) == "1.1");
  CHECK(error_text(0.12, 2) == "0.12");
  CHECK(error_text(0.084, 2) == "0.08");
  CHECK(error_text(0.4, 2) == "0.4");
  CHECK(error_text(1234, 2) == "1200");
  CHECK(error_text(0, 2) == "0.00");
}

TEST_CASE("a value between limits has the digits that they support") {
  CHECK(interval_text(63.4123, 63.0712, 63.7434) == "63.4 (63.1 to 63.7)");
  CHECK(interval_text(63.4, 63.4, 63.4) == "63.4");
  CHECK(interval_text(63.4, 20.1, 131) == "60 (20 to 130)");
  CHECK(interval_text(12'345, 11'300, 13'400) == "12000 (11000 to 13000)");
  CHECK(interval_text(-0.01, -1.2, 1.3) == "0 (-1 to 1)");
  CHECK_THROWS_AS(static_cast<void>(interval_text(1, 2, 1)), std::domain_error);
}
