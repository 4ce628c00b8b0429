// Rounding of taxes and of money, against printed invoices, stated rules and a list of currencies.
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <cstdint>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "mendworth/rates.hpp"
#include "numeric/exact.hpp"
#include "quote/bill.hpp"
#include "quote/bill_taxes.hpp"
#include "support/bill_builder.hpp"

using namespace mendworth;
using namespace mendworth::test;

namespace {

/// The rows of a table below its comments and header.
std::vector<std::vector<std::string>> rows_of(const std::string& name) {
  std::ifstream file(std::string(MENDWORTH_SOURCE_DIR) + "/tests/published/data/" + name);
  REQUIRE(file.good());
  std::vector<std::vector<std::string>> rows;
  bool header = true;
  for (std::string line; std::getline(file, line);) {
    if (line.starts_with('#')) continue;
    std::vector<std::string> row;
    std::istringstream fields(line + ",");
    for (std::string field; std::getline(fields, field, ',');) row.push_back(field);
    if (!header) rows.push_back(row);
    header = false;
  }
  return rows;
}

/// A tax on one kind of line alone.
Tax tax_on(LineKind kind, double rate) {
  std::vector<LineKind> others;
  for (const LineKind other :
       {LineKind::labour, LineKind::parts, LineKind::consumables, LineKind::shipping, LineKind::diagnosis,
        LineKind::rush, LineKind::collection, LineKind::discount}) {
    if (other != kind) others.push_back(other);
  }
  return tax("VAT", rate, false, false, others);
}

Currency currency_of(const std::string& code) {
  return {code, built_in_rates().currencies.at(code).minor_digits};
}

std::int64_t tax_of(const Shop& shop, const std::vector<std::int64_t>& lines) {
  std::vector<BillLine> bill;
  for (const std::int64_t minor : lines) bill.push_back(bill_line(LineKind::labour, minor));
  return taxes_on(shop, Till(shop, currency_of("GBP")), bill).at(0).amount.minor;
}

std::int64_t in_hundredths(double value) {
  return (Exact::decimal(value) * Exact::power_of_ten(2)).rounded();
}

}  // namespace

TEST_SUITE_BEGIN("published: tax and money rounding");

// Source: see the head of the data file. Retrieved. Three of the taxes are on half a minor unit.
TEST_CASE("EN 16931: tax by category, net and gross of its worked invoices") {
  struct Invoice {
    std::string currency;
    std::vector<std::array<std::string, 3>> categories;  // taxable, percent, tax
    std::int64_t net = 0, gross = 0;
  };
  std::map<std::string, Invoice> invoices;
  for (const std::vector<std::string>& row : rows_of("en16931_taxes.csv")) {
    Invoice& invoice = invoices[row.at(0)];
    invoice.currency = row.at(1);
    invoice.categories.push_back({row.at(2), row.at(3), row.at(4)});
    invoice.net = std::stoll(row.at(5));
    invoice.gross = std::stoll(row.at(6));
  }
  CHECK(invoices.size() == 8);
  constexpr std::array kinds{LineKind::labour, LineKind::parts, LineKind::discount};
  for (const auto& [key, invoice] : invoices) {
    const std::string& name = key;
    CAPTURE(name);
    REQUIRE(invoice.categories.size() <= kinds.size());
    Shop shop;
    std::vector<BillLine> lines;
    for (std::size_t i = 0; i < invoice.categories.size(); ++i) {
      const auto& [taxable, percent, tax] = invoice.categories[i];
      shop.taxes.push_back(tax_on(kinds[i], std::stod(percent) / 100));
      lines.push_back(bill_line(kinds[i], std::stoll(taxable)));
    }
    const std::vector<BillTax> taxes = taxes_on(shop, Till(shop, currency_of(invoice.currency)), lines);
    REQUIRE(taxes.size() == invoice.categories.size());
    std::int64_t net = 0, gross = 0;
    for (std::size_t i = 0; i < taxes.size(); ++i) {
      CHECK(taxes[i].amount.minor == std::stoll(invoice.categories[i][2]));
      CHECK(taxes[i].taxable == lines[i].amount);
      net += lines[i].amount.minor;
      gross += lines[i].amount.minor + taxes[i].amount.minor;
    }
    CHECK(net == invoice.net);
    CHECK(gross == invoice.gross);
    if (lines.size() == 1) {
      const Bill bill = single_bill(shop, currency_of(invoice.currency), lines[0], {});
      CHECK(bill.total.minor == invoice.gross);
      CHECK(bill.payable.minor == invoice.gross);
    }
  }
}

// ubl-tc434-example8.xml of the same set (retrieved): quantity, price per so many, printed net in cents; 908.91 in
// all. And sample-discount-price.xml (retrieved): 100 at 0.1212 are 12.12.
TEST_CASE("EN 16931: line nets from prices below a cent") {
  struct Row {
    std::int64_t quantity;
    double price;
    std::int64_t per;
    std::int64_t net;
  };
  std::int64_t sum = 0;
  for (const Row& row :
       {Row{16000, 0.00880, 1, 14080}, Row{16000, 0.00101, 1, 1616}, Row{132, 15.24, 12, 16764},
        Row{58, 1.53, 1, 8874}, Row{1, 441.00, 12, 3675}, Row{1, 678.00, 12, 5650}, Row{1, 83.34, 1, 8334},
        Row{1, 190.31, 1, 19031}, Row{1, 64.21, 1, 6421}, Row{1, 64.46, 1, 6446}}) {
    CAPTURE(row.price);
    const Exact net = Exact::whole(row.quantity) * Exact::decimal(row.price) / Exact::whole(row.per);
    CHECK((net * Exact::power_of_ten(2)).rounded() == row.net);
    sum += row.net;
  }
  CHECK(sum == 90891);
  CHECK((Exact::whole(100) * Exact::decimal(0.1212)) == Exact::decimal(12.12));
}

// UK HMRC internal manual VATREC12030 (retrieved): less than half a penny goes down, half a penny or more goes up,
// as in Council Regulation (EC) 1103/97. The cases were made from the rule.
TEST_CASE("HMRC: half a penny of tax goes up") {
  CHECK(in_hundredths(1.234) == 123);
  CHECK(in_hundredths(1.235) == 124);
  CHECK(in_hundredths(1.2349999) == 123);
  CHECK(in_hundredths(0.005) == 1);
  CHECK(in_hundredths(2.675) == 268);
  // The same through a bill: a rate that makes 1.235 and 2.675 of a price of 10.
  Shop shop;
  shop.taxes = {tax("VAT", 0.1235)};
  CHECK(tax_of(shop, {1000}) == 124);
  shop.taxes = {tax("VAT", 0.2675)};
  CHECK(tax_of(shop, {1000}) == 268);
}

// Constructed from the definition of rounding half away from zero, with the decimal module of Python. In binary
// 2.675, 1.005 and 1.115 are below the half.
TEST_CASE("rounding half away from zero, where binary fractions go astray") {
  struct Row {
    double value;
    std::int64_t hundredths;
  };
  for (const Row& row : {Row{0.125, 13}, Row{0.135, 14}, Row{2.675, 268}, Row{1.005, 101}, Row{-0.125, -13},
                         Row{-2.345, -235}, Row{1.115, 112}, Row{0.005, 1}, Row{0.015, 2}}) {
    CAPTURE(row.value);
    CHECK(in_hundredths(row.value) == row.hundredths);
  }
}

// Constructed with the decimal module of Python: 20 %, halves away from zero.
TEST_CASE("tax by line and on the total differ") {
  struct Row {
    std::vector<std::int64_t> lines;
    std::int64_t by_line, on_total;
  };
  for (const Row& row :
       {Row{{199, 199, 199, 49, 1235}, 377, 376}, Row{std::vector<std::int64_t>(7, 12), 14, 17},
        Row{std::vector<std::int64_t>(10, 13), 30, 26}}) {
    Shop shop;
    shop.taxes = {tax("VAT", 0.2)};
    CHECK(tax_of(shop, row.lines) == row.on_total);
    shop.tax_by = TaxBy::line;
    CHECK(tax_of(shop, row.lines) == row.by_line);
  }
}

// Constructed with the decimal module of Python, halves away from zero. (The source has 90 yen of tax where tax is
// truncated; here it is what is left of the gross without the net, 91.)
TEST_CASE("the net and the tax that a price holds") {
  struct Row {
    std::string currency;
    std::int64_t gross;
    double rate;
    std::int64_t net, tax;
  };
  for (const Row& row : {Row{"GBP", 10000, 0.20, 8333, 1667}, Row{"EUR", 4999, 0.19, 4201, 798},
                         Row{"JPY", 1000, 0.10, 909, 91}, Row{"KWD", 10000, 0.05, 9524, 476}}) {
    CAPTURE(row.currency);
    Shop shop;
    shop.taxes = {tax("VAT", row.rate, true)};
    const Bill bill =
        single_bill(shop, currency_of(row.currency), bill_line(LineKind::labour, row.gross), {});
    CHECK(bill.total.minor == row.gross);
    CHECK(bill.included_tax.minor == row.tax);
    CHECK(net_of(bill).minor == row.net);
    CHECK(bill.taxes.at(0).taxable.minor == row.net);
  }
}

// Constructed from the definition: to the nearest 0.05.
TEST_CASE("cash rounding to 0.05") {
  Shop shop;
  shop.cash_step = 0.05;
  struct Row {
    std::int64_t total, cash;
  };
  for (const Row& row : {Row{1232, 1230}, Row{1233, 1235}, Row{1237, 1235}, Row{1238, 1240}}) {
    const Bill bill = single_bill(shop, currency_of("CHF"), bill_line(LineKind::labour, row.total), {});
    CHECK(bill.payable.minor == row.cash);
    CHECK(bill.cash_rounding.minor == row.cash - row.total);
  }
}

// ISO 4217 list one, and what another implementation of it has; source in the data file.
TEST_CASE("ISO 4217: minor digits of every currency in the rates") {
  const std::map<std::string, CurrencyRate>& ours = built_in_rates().currencies;
  std::size_t in_list = 0, in_openjdk = 0;
  for (const std::vector<std::string>& row : rows_of("iso4217_minor_digits.csv")) {
    const auto found = ours.find(row.at(0));
    if (found == ours.end()) continue;
    CAPTURE(row.at(0));
    if (!row.at(1).empty()) {
      ++in_list;
      CHECK(found->second.minor_digits == std::stoi(row.at(1)));
    }
    if (row.size() > 2 && !row.at(2).empty()) {
      ++in_openjdk;
      CHECK(found->second.minor_digits == std::stoi(row.at(2)));
    }
  }
  CHECK(in_list == ours.size());
  CHECK(in_openjdk > 150);
}

TEST_SUITE_END();
