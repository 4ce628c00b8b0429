#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "input/case_reader.hpp"

namespace mendworth::input {

void CaseReader::read_suppliers() {
  if (buys_parts()) document_.require("supplier");
  suppliers_ = read_named("supplier", case_.suppliers, &CaseReader::read_supplier);
}

/// Where the work is referred, only offers in the case ask for their suppliers.
bool CaseReader::buys_parts() {
  if (!referred_) return true;
  const Node* parts = document_.find("part");
  if (parts == nullptr || !parts->is_array()) return false;
  return std::ranges::any_of(parts->items, [](const Node& part) {
    return part.find("offer") != nullptr || part.find("candidate") != nullptr;
  });
}

/// The seller's currency and what one of it costs in the case's; absent where it is the case's.
std::optional<Quantity> CaseReader::read_exchange(TableReader& table, std::string& currency) {
  const std::string& own = case_.device.currency;
  currency = table.text("currency").value_or(own);
  if (table.has("currency") && !currency.empty())
    static_cast<void>(minor_digits(table, "currency", currency));
  if (currency != own) {
    if (!table.has("exchange_rate"))
      table.missing("exchange_rate", fmt::format("what one {} costs in {}", currency, own),
                    "exchange_rate = 1.15");
    return table.quantity("exchange_rate").value_or(Quantity::exactly(1.0));
  }
  if (table.has("exchange_rate")) {
    table.fail("exchange_rate", fmt::format("the currency is the case's, {}", own),
               "add the currency of the seller, or leave the rate out");
  }
  return std::nullopt;
}

void CaseReader::read_supplier(TableReader& table) {
  Supplier supplier;
  read_into(table, &supplier);
  const auto exchange_rate = read_exchange(table, supplier.currency);
  supplier.exchange_rate = exchange_rate.value_or(Quantity::exactly(1.0));
  supplier.exchange_fee = exchange_rate ? quantity_or_default(table, "exchange_fee")
                                        : table.quantity("exchange_fee").value_or(Quantity{});
  supplier.shipping = read_shipping(table);
  if (!table.has("low_order_below") && (supplier.low_order_fee.high() > 0 || supplier.refuses_low_orders)) {
    table.missing("low_order_below", "the value of goods below which an order is a low one",
                  "low_order_below = 20");
  }
  table.finish();
  case_.suppliers.push_back(std::move(supplier));
}

std::vector<ShippingTier> CaseReader::read_shipping(TableReader& table) {
  std::vector<ShippingTier> tiers;
  const Node* node = table.find("shipping");
  if (node == nullptr || !node->is_array()) {
    tiers.push_back({0.0, table.required_quantity("shipping")});
    return tiers;
  }
  std::vector<TableReader> rows = table.sections("shipping");
  if (rows.empty() && node->items.empty()) {
    table.fail("shipping", "the list of shipping tiers is empty",
               "shipping = [{ goods_from = 0, price = 4.90 }]");
  }
  const Ladder ladder{.first = "the first shipping tier",
                      .all = "shipping tiers",
                      .of_what = "value of goods",
                      .add = "add a tier { goods_from = 0, price = ... }"};
  std::optional<double> last;
  for (TableReader& row : rows) {
    const double from = read_step(row, "goods_from", ladder, &row == &rows.front(), last);
    tiers.push_back({from, row.required_quantity("price")});
    row.finish();
  }
  return tiers;
}

}  // namespace mendworth::input
