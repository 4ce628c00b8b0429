#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "input/case_reader.hpp"

namespace mendworth::input {

void CaseReader::read_suppliers() {
  std::vector<TableReader> tables = document_.sections("supplier");
  if (tables.empty() && document_.lacks_tables("supplier") && buys_parts()) {
    document_.missing("supplier", "where parts are bought", "add a [[supplier]] with its name and shipping");
  }
  supplier_names_known_ = !tables.empty();
  UniqueNames names;
  for (TableReader& table : tables) {
    read_supplier(table);
    const std::string& name = case_.suppliers.back().name;
    names.add(table, name);
    if (name.empty()) supplier_names_known_ = false;
    if (!name.empty()) supplier_index_.emplace(name, case_.suppliers.size() - 1);
  }
}

/// Where the work is referred, only offers in the case ask for their suppliers.
bool CaseReader::buys_parts() {
  if (!referred_) return true;
  const Node* parts = document_.find("part");
  if (parts == nullptr || !parts->is_array()) return false;
  return std::any_of(parts->items.begin(), parts->items.end(), [](const Node& part) {
    return part.find("offer") != nullptr || part.find("candidate") != nullptr;
  });
}

void CaseReader::read_supplier(TableReader& table) {
  Supplier supplier;
  supplier.name =
      table.required_text("name", "the name of the supplier", "for instance name = \"parts by post\"");
  supplier.currency = table.text("currency").value_or(case_.device.currency);
  if (table.has("currency") && !supplier.currency.empty()) {
    static_cast<void>(minor_digits(table, "currency", supplier.currency));
  }
  supplier.exchange_rate = Quantity::exactly(1.0);
  if (supplier.currency != case_.device.currency) {
    supplier.exchange_rate = table.required_quantity(
        "exchange_rate", limits::exchange_rate,
        fmt::format("what one {} costs in {}", supplier.currency, case_.device.currency),
        "exchange_rate = 1.15");
    supplier.exchange_fee =
        quantity_or_default(table, "exchange_fee", limits::share_of_money, "supplier.exchange_fee", "");
  } else {
    if (table.has("exchange_rate")) {
      table.fail("exchange_rate", fmt::format("the supplier's currency is the case's, {}", supplier.currency),
                 "add the supplier's currency, or leave the rate out");
    }
    supplier.exchange_fee = table.quantity("exchange_fee", limits::share_of_money).value_or(Quantity{});
  }
  supplier.shipping = read_shipping(table);
  supplier.low_order_below = table.quantity("low_order_below", limits::money).value_or(Quantity{});
  supplier.low_order_fee = table.quantity("low_order_fee", limits::money).value_or(Quantity{});
  supplier.refuses_low_orders = table.flag("refuses_low_orders").value_or(false);
  if (!table.has("low_order_below") && (supplier.low_order_fee.high() > 0 || supplier.refuses_low_orders)) {
    table.missing("low_order_below", "the value of goods below which an order is a low one",
                  "low_order_below = 20");
  }
  supplier.tax = table.quantity("tax", limits::share_of_money).value_or(Quantity{});
  supplier.duty = table.quantity("duty", limits::share_of_money).value_or(Quantity{});
  supplier.duty_free_up_to = table.quantity("duty_free_up_to", limits::money).value_or(Quantity{});
  supplier.duty_on_shipping = table.flag("duty_on_shipping").value_or(true);
  supplier.customs_fee = table.quantity("customs_fee", limits::money).value_or(Quantity{});
  supplier.lead_days = quantity_or_default(table, "lead_days", limits::days, "supplier.lead_days", "days");
  supplier.other_goods = table.number("other_goods", limits::money).value_or(0.0);
  table.finish();
  case_.suppliers.push_back(std::move(supplier));
}

std::vector<ShippingTier> CaseReader::read_shipping(TableReader& table) {
  std::vector<ShippingTier> tiers;
  const Node* node = table.find("shipping");
  if (node == nullptr || !node->is_array()) {
    tiers.push_back(
        {0.0, table.required_quantity("shipping", limits::money, "what the supplier asks for shipping",
                                      "shipping = 4.90, or 0 where it costs nothing")});
    return tiers;
  }
  std::vector<TableReader> rows = table.sections("shipping");
  if (rows.empty() && node->items.empty()) {
    table.fail("shipping", "the list of shipping tiers is empty",
               "shipping = [{ goods_from = 0, price = 4.90 }]");
  }
  std::optional<double> last;
  for (TableReader& row : rows) {
    if (!row.has("goods_from")) {
      row.missing("goods_from", "the value of goods from which this price holds",
                  "goods_from = 0 in the first tier");
    }
    const auto from = row.number("goods_from", limits::money);
    if (from && !last && *from > 0 && &row == &rows.front()) {
      row.fail("goods_from",
               fmt::format("the first shipping tier starts from {}, it must start from 0", *from),
               "add a tier { goods_from = 0, price = ... }");
    } else if (from && last && *from <= *last) {
      row.fail("goods_from", fmt::format("shipping tiers are out of order: {} comes after {}", *from, *last),
               "write them by rising value of goods, each once");
    }
    if (from) last = *from;
    tiers.push_back({from.value_or(0.0), row.required_quantity("price", limits::money, "what shipping costs",
                                                               "price = 4.90, or 0")});
    row.finish();
  }
  return tiers;
}

}  // namespace mendworth::input
