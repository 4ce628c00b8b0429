#include <algorithm>
#include <cmath>

#include "render/customer_sheet.hpp"

namespace mendworth {

namespace {

using Role = Table::Role;

void add_sum(Table& table, const std::string& label, const std::string& amount, Role role = Role::sum) {
  table.rows.push_back({{label, "", "", amount}, role});
}

std::string tax_label(const BillTax& tax, const Pen& pen) {
  std::string text = tax.included ? "of which " : "";
  text += pen.rate(tax.rate) + " " + tax.name + " on " + pen.amount(tax.taxable);
  if (tax.compound) text += ", with the taxes before it";
  return text;
}

void add_taxes(Table& table, const Bill& bill, const Pen& pen, bool included) {
  for (const BillTax& tax : bill.taxes) {
    if (tax.included == included) add_sum(table, tax_label(tax, pen), pen.amount(tax.amount));
  }
}

}  // namespace

std::string quantity_text(const BillLine& line, const Pen& pen) {
  constexpr int most_decimals = 6;
  constexpr double minutes_per_hour = 60;
  if (line.unit == BillLine::Unit::none) return "";
  if (line.unit == BillLine::Unit::pieces) return pen.number(line.quantity, most_decimals);
  const double minutes = line.quantity * minutes_per_hour;
  if (!line.each) return pen.time(minutes, 1);
  // What is printed must come to the printed amount for whoever multiplies it.
  const auto comes_to_amount = [&](int decimals) {
    const double scale = std::pow(10.0, decimals);
    const double printed = std::round(minutes * scale) / scale / minutes_per_hour;
    return std::abs(printed * static_cast<double>(line.each->minor) -
                    static_cast<double>(line.amount.minor)) <= 0.5;
  };
  int decimals = 0;
  while (decimals < most_decimals && !comes_to_amount(decimals)) ++decimals;
  return pen.time(minutes, decimals);
}

Table bill_table(const Bill& bill, const Pen& pen, const std::string& caption) {
  Table table;
  table.caption = caption;
  table.columns = {
      {"Work and parts", false}, {"Quantity"}, {"Each, " + pen.currency()}, {"Amount, " + pen.currency()}};
  for (const BillLine& line : bill.lines) {
    const std::string an_hour = line.unit == BillLine::Unit::hours ? " / h" : "";
    table.rows.push_back({{line.text, quantity_text(line, pen),
                           line.each ? pen.amount(*line.each) + an_hour : "", pen.amount(line.amount)}});
  }

  const bool total_is_paid = bill.subsidy.minor == 0 && bill.paid.minor == 0 && bill.cash_rounding.minor == 0;
  const bool tax_adds = std::ranges::any_of(bill.taxes, [](const BillTax& tax) { return !tax.included; });
  if (tax_adds || bill.total != bill.subtotal) add_sum(table, "Subtotal", pen.amount(bill.subtotal));
  add_taxes(table, bill, pen, false);
  add_sum(table, total_is_paid ? "Total to pay" : "Total", pen.sum(bill.total), Role::total);
  add_taxes(table, bill, pen, true);
  if (bill.subsidy.minor != 0)
    add_sum(table, "Less: " + bill.subsidy_name.value_or("subsidy"), pen.amount(-bill.subsidy));
  if (bill.paid.minor != 0) add_sum(table, "Less: paid already", pen.amount(-bill.paid));
  if (bill.cash_rounding.minor != 0)
    add_sum(table, "Rounding to the least coin", pen.amount(bill.cash_rounding));
  if (bill.payable < Money{}) {
    add_sum(table, "Given back", pen.sum(-bill.payable), Role::total);
  } else if (!total_is_paid) {
    add_sum(table, "To pay", pen.sum(bill.payable), Role::total);
  }
  if (bill.deposit) {
    add_sum(table, "Deposit, paid with the order", pen.amount(*bill.deposit));
    add_sum(table, "Left to pay on collection", pen.amount(bill.payable - *bill.deposit));
  }
  return table;
}

}  // namespace mendworth
