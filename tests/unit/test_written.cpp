#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <limits>
#include <stdexcept>
#include <string>

#include "mendworth/shop.hpp"
#include "mendworth/written.hpp"

using namespace mendworth;

namespace {

const Currency eur{"EUR", 2}, jpy{"JPY", 0}, kwd{"KWD", 3};

NumberStyle continental() {
  NumberStyle style;
  style.decimal_mark = ",";
  style.group_mark = ".";
  style.currency = "€";
  style.currency_first = false;
  style.date_form = "DD.MM.YYYY";
  return style;
}

NumberStyle grouped(const std::string& mark) {
  NumberStyle style;
  style.group_mark = mark;
  return style;
}

}  // namespace

TEST_CASE("written: money with the digits of its currency") {
  const NumberStyle plain;
  CHECK(written(Money{123450}, eur, plain) == "EUR 1234.50");
  CHECK(written(Money{123450}, eur, grouped(",")) == "EUR 1,234.50");
  CHECK(written(Money{123450}, eur, continental()) == "1.234,50 €");
  CHECK(written(Money{1200}, jpy, plain) == "JPY 1200");
  CHECK(written(Money{1234567}, jpy, grouped(" ")) == "JPY 1 234 567");
  CHECK(written(Money{1234567}, kwd, grouped("'")) == "KWD 1'234.567");
  CHECK(written(Money{5}, kwd, plain) == "KWD 0.005");
  CHECK(written(Money{50}, eur, plain) == "EUR 0.50");
  CHECK(written(Money{100}, eur, plain) == "EUR 1.00");
  CHECK(written(Money{99999}, eur, grouped(",")) == "EUR 999.99");
  CHECK(written_amount(Money{123450}, eur, grouped(",")) == "1,234.50");
  CHECK(written_amount(Money{100000000}, eur, grouped(",")) == "1,000,000.00");
}

TEST_CASE("written: the sign comes first, and nothing is never negative") {
  CHECK(written(Money{-200}, eur, NumberStyle{}) == "-EUR 2.00");
  CHECK(written(Money{-200}, eur, continental()) == "-2,00 €");
  CHECK(written_amount(Money{-1}, eur, NumberStyle{}) == "-0.01");
  CHECK(written(-Money{0}, eur, NumberStyle{}) == "EUR 0.00");
  CHECK(written(Money{0}, jpy, NumberStyle{}) == "JPY 0");
  CHECK(written_amount(Money{std::numeric_limits<std::int64_t>::min()}, eur, NumberStyle{}) ==
        "-92233720368547758.08");
}

TEST_CASE("written: numbers have no idle digits and round as money does") {
  const NumberStyle plain;
  CHECK(written_number(1.25, 2, plain) == "1.25");
  CHECK(written_number(1.5, 2, plain) == "1.5");
  CHECK(written_number(10, 2, plain) == "10");
  CHECK(written_number(100, 0, plain) == "100");
  CHECK(written_number(1250, 2, grouped(",")) == "1,250");
  CHECK(written_number(1250.75, 2, continental()) == "1.250,75");
  CHECK(written_number(0.05, 2, plain) == "0.05");
  CHECK(written_number(1.005, 2, plain) == "1.01");
  CHECK(written_number(2.675, 2, plain) == "2.68");
  CHECK(written_number(9.975, 3, plain) == "9.975");
  CHECK(written_number(0.004, 2, plain) == "0");
  CHECK(written_number(-0.004, 2, plain) == "0");
  CHECK(written_number(-0.0, 2, plain) == "0");
  CHECK(written_number(-1250.5, 1, grouped(",")) == "-1,250.5");
  CHECK(written_number(123456789012345.0, 2, plain) == "123456789012345");
  CHECK(written_number(1e18, 2, grouped(",")) == "1,000,000,000,000,000,000");
  CHECK_THROWS_AS(static_cast<void>(written_number(std::nan(""), 2, plain)), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(written_number(std::numeric_limits<double>::infinity(), 2, plain)),
                  std::domain_error);
}

TEST_CASE("written: a date in the form of the shop") {
  const Date date{2026, 3, 1};
  CHECK(written(date, NumberStyle{}) == "2026-03-01");
  CHECK(written(date, continental()) == "01.03.2026");
  NumberStyle style;
  style.date_form = "MM/DD YYYY";
  CHECK(written(date, style) == "03/01 2026");
}

TEST_CASE("written: every kind of line has its name") {
  CHECK(std::string(name_of(LineKind::labour)) == "labour");
  CHECK(std::string(name_of(LineKind::parts)) == "parts");
  CHECK(std::string(name_of(LineKind::consumables)) == "consumables");
  CHECK(std::string(name_of(LineKind::shipping)) == "shipping");
  CHECK(std::string(name_of(LineKind::diagnosis)) == "diagnosis");
  CHECK(std::string(name_of(LineKind::rush)) == "rush");
  CHECK(std::string(name_of(LineKind::collection)) == "collection");
  CHECK(std::string(name_of(LineKind::discount)) == "discount");
}
