#include "answers/order_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <utility>

#include "base/plain_number.hpp"
#include "model/fit.hpp"
#include "model/ladder.hpp"

namespace mendworth {
namespace {

bool same_supplier(const Case& c, const OrderItem& a, const OrderItem& b) {
  return offer_of(c, a).supplier == offer_of(c, b).supplier;
}

double goods_at_supplier_of(const Case& c, const std::vector<OrderItem>& items, std::size_t line) {
  double goods = 0;
  for (const OrderItem& item : items) {
    if (same_supplier(c, item, items[line])) goods += line_price(offer_of(c, item), item.quantity);
  }
  return goods;
}

std::string amount(const Case& c, double value) {
  return fmt::format("{:.{}f} {}", value, c.device.minor_digits, c.device.currency);
}

// Why a step costs less than a smaller one.
enum class Reason { none, price, shipping };

struct Bargain {
  Reason reason = Reason::none;
  std::size_t than = 0;  // index of the smaller step
  double saved = 0;
};

// Compared with the ordered quantity if that is smaller and costs more, else with the nearest smaller one
// that does.
Bargain bargain_of(const Case& c, const std::vector<LadderStep>& steps, std::size_t index, int ordered) {
  const LadderStep& larger = steps[index];
  Bargain bargain;
  for (std::size_t k = index; k-- > 0;) {
    const LadderStep& smaller = steps[k];
    const bool is_ordered = smaller.item.quantity == ordered;
    if (bargain.reason != Reason::none && !is_ordered) continue;
    if (!visibly_less(c, larger.cost.total, smaller.cost.total)) continue;
    const bool surcharge_falls =
        larger.cost.shipping + larger.cost.fees < smaller.cost.shipping + smaller.cost.fees;
    const bool topped_up = same_supplier(c, larger.item, smaller.item) && surcharge_falls &&
                           larger.cost.goods > smaller.cost.goods;
    bargain.reason = topped_up ? Reason::shipping : Reason::price;
    bargain.than = k;
    bargain.saved = smaller.cost.total - larger.cost.total;
  }
  return bargain;
}

std::string remark_of(const std::vector<LadderStep>& steps, std::size_t index, const Bargain& bargain) {
  const LadderStep& larger = steps[index];
  const LadderStep& smaller = steps[bargain.than];
  switch (bargain.reason) {
    case Reason::none: break;
    case Reason::price:
      return fmt::format("{} cost less than {}", larger.item.quantity, smaller.item.quantity);
    case Reason::shipping:
      return larger.cost.shipping < smaller.cost.shipping ? "topped up: shipping falls"
                                                          : "topped up: the low-order fee falls away";
  }
  return {};
}

std::string pieces_from(const Case& c, const LadderStep& step) {
  return fmt::format("{} of {} from {}", step.item.quantity, candidate_of(c, step.item).name,
                     supplier_of(c, step.item).name);
}

std::string bargain_warning(const Case& c, const LadderStep& larger, const LadderStep& smaller,
                            Reason reason) {
  std::string text;
  if (reason == Reason::shipping) {
    text = fmt::format(
        "A top-up costs less than it saves: with {} the order costs {}, with {} it costs {}; shipping and "
        "fees fall from {} to {}",
        pieces_from(c, larger), amount(c, larger.cost.total), smaller.item.quantity,
        amount(c, smaller.cost.total), amount(c, smaller.cost.shipping + smaller.cost.fees),
        amount(c, larger.cost.shipping + larger.cost.fees));
  } else {
    const bool elsewhere = !same_supplier(c, larger.item, smaller.item);
    text = fmt::format("More pieces for less money: with {} the order costs {}, with {}{} it costs {}",
                       pieces_from(c, larger), amount(c, larger.cost.total), smaller.item.quantity,
                       elsewhere ? " from " + supplier_of(c, smaller.item).name : "",
                       amount(c, smaller.cost.total));
  }
  if (larger.cost.wait_days > smaller.cost.wait_days) {
    text += fmt::format(", but takes {} days instead of {}", significant_text(larger.cost.wait_days, 3),
                        significant_text(smaller.cost.wait_days, 3));
  }
  return text + ".";
}

// Rows for one line, and at most one warning of each kind: the one that saves most.
// Tells whether a top-up of this line was among them.
bool describe_line(const Case& c, const std::vector<OrderItem>& items, std::size_t line, int need,
                   OrderAnswer& answer) {
  const std::vector<LadderStep> steps = ladder_of(c, items, line, need, Parcel::with_other_goods);
  Bargain best_by_price;
  Bargain best_by_shipping;
  std::size_t by_price = 0;
  std::size_t by_shipping = 0;
  for (std::size_t k = 0; k < steps.size(); ++k) {
    const LadderStep& step = steps[k];
    const Bargain bargain = bargain_of(c, steps, k, items[line].quantity);
    if (bargain.reason == Reason::price && bargain.saved > best_by_price.saved) {
      best_by_price = bargain;
      by_price = k;
    }
    if (bargain.reason == Reason::shipping && bargain.saved > best_by_shipping.saved) {
      best_by_shipping = bargain;
      by_shipping = k;
    }
    QuantityRow row;
    row.part = c.parts[static_cast<std::size_t>(step.item.part)].name;
    row.candidate = candidate_of(c, step.item).name;
    row.supplier = supplier_of(c, step.item).name;
    row.quantity = step.item.quantity;
    row.each = unit_price(offer_of(c, step.item), step.item.quantity);
    row.landed = step.cost.total;
    row.landed_each = step.share / step.item.quantity;
    row.chosen = step.item.quantity == items[line].quantity;
    row.remark = remark_of(steps, k, bargain);
    answer.quantities.push_back(std::move(row));
  }
  if (best_by_price.reason != Reason::none) {
    answer.warnings.push_back(bargain_warning(c, steps[by_price], steps[best_by_price.than], Reason::price));
  }
  if (best_by_shipping.reason != Reason::none) {
    answer.warnings.push_back(
        bargain_warning(c, steps[by_shipping], steps[best_by_shipping.than], Reason::shipping));
  }
  return best_by_shipping.reason != Reason::none;
}

void warn_of_packs(const Case& c, const OrderItem& item, int need, OrderAnswer& answer) {
  const std::vector<int> packs = pack_quantities(candidate_of(c, item), need);
  if (packs.empty() || packs.front() <= need) return;
  answer.warnings.push_back(
      fmt::format("{} of {} {} needed; {} is the smallest quantity on sale that covers this.", need,
                  candidate_of(c, item).name, need == 1 ? "is" : "are", packs.front()));
}

// Any useful goods will do to reach a tier, not just more of the same piece.
void warn_of_cheaper_shipping(const Case& c, const std::vector<OrderItem>& items, std::size_t line,
                              OrderAnswer& answer) {
  const Supplier& supplier = supplier_of(c, items[line]);
  const double goods = goods_at_supplier_of(c, items, line);
  const std::optional<LandedCost> now = supplier_cost(supplier, goods, Parcel::with_other_goods);
  if (!now) return;
  for (const double more : thresholds_above(supplier, goods, Parcel::with_other_goods)) {
    const std::optional<LandedCost> then = supplier_cost(supplier, more, Parcel::with_other_goods);
    if (!then || !visibly_less(c, then->total, now->total)) continue;
    answer.warnings.push_back(
        fmt::format("{} more of useful goods from {} would lower shipping and fees from {} to {}: the order "
                    "would cost {} less.",
                    amount(c, then->goods - now->goods), supplier.name, amount(c, now->shipping + now->fees),
                    amount(c, then->shipping + then->fees), amount(c, now->total - then->total)));
    return;
  }
}

FitRow fit_row(const Part& part, const Candidate& candidate) {
  FitRow row;
  row.part = part.name;
  row.candidate = candidate.name;
  row.chance = fit_chance(part, candidate);
  row.else_chance = candidate.fit.base();
  for (std::size_t d = 0; d < part.dimensions.size(); ++d) {
    const Dimension& from = part.dimensions[d];
    const std::optional<double> nominal = nominal_of(candidate, d);
    row.dimensions.push_back({.name = from.name,
                              .nominal = nominal,
                              .measured = from.measured,
                              .limit = from.limit,
                              .below = from.below,
                              .above = from.above,
                              .chance = fit_window(from, nominal).chance()});
  }
  return row;
}

// Every candidate of the ordered parts that have been measured, those left alone too: they show why.
void describe_fits(const Case& c, const std::vector<OrderItem>& items, OrderAnswer& answer) {
  std::vector<bool> ordered(c.parts.size());
  for (const OrderItem& item : items) ordered[static_cast<std::size_t>(item.part)] = true;
  for (std::size_t p = 0; p < c.parts.size(); ++p) {
    if (!ordered[p] || c.parts[p].dimensions.empty()) continue;
    for (const Candidate& candidate : c.parts[p].candidates) {
      answer.fits.push_back(fit_row(c.parts[p], candidate));
    }
  }
}

}  // namespace

OrderAnswer describe_order(const Case& c, const Order& order, std::span<const int> needed) {
  if (needed.size() != order.items.size()) {
    throw std::invalid_argument("describe_order: one number of needed pieces for each line");
  }
  const std::vector<OrderItem>& items = order.items;
  OrderAnswer answer;
  answer.goods = order.cost.goods;
  answer.shipping = order.cost.shipping;
  answer.fees = order.cost.fees;
  answer.duty = order.cost.duty;
  answer.tax = order.cost.tax;
  answer.exchange_fee = order.cost.exchange_fee;
  answer.landed = order.cost.total;
  answer.wait_days = order.cost.wait_days;
  answer.charged_whole = order.cost.total;
  answer.charged_by_reuse = order.cost.total;

  describe_fits(c, items, answer);
  std::vector<int> topped_up_suppliers;
  for (std::size_t i = 0; i < items.size(); ++i) {
    const OrderItem& item = items[i];
    if (item.quantity < 1) throw std::invalid_argument("describe_order: a line of less than one piece");
    OrderLine line;
    line.part = c.parts[static_cast<std::size_t>(item.part)].name;
    line.candidate = candidate_of(c, item).name;
    line.supplier = supplier_of(c, item).name;
    line.supplier_currency = supplier_of(c, item).currency;
    line.needed = needed[i];
    line.quantity = item.quantity;
    line.each = unit_price(offer_of(c, item), item.quantity);
    line.line = line_price(offer_of(c, item), item.quantity);
    line.landed = landed_share(c, items, i, Parcel::with_other_goods);
    line.fit_chance = fit_chance(c.parts[static_cast<std::size_t>(item.part)], candidate_of(c, item));
    const int used = std::clamp(needed[i], 0, item.quantity);
    answer.leftovers += item.quantity - used;
    answer.charged_pro_rata += line.landed * used / item.quantity;
    answer.lines.push_back(std::move(line));

    const int need = std::max(needed[i], 1);
    if (describe_line(c, items, i, need, answer)) topped_up_suppliers.push_back(offer_of(c, item).supplier);
    warn_of_packs(c, item, need, answer);
  }
  for (std::size_t i = 0; i < items.size(); ++i) {
    const int supplier = offer_of(c, items[i]).supplier;
    if (std::find(topped_up_suppliers.begin(), topped_up_suppliers.end(), supplier) !=
        topped_up_suppliers.end()) {
      continue;
    }
    warn_of_cheaper_shipping(c, items, i, answer);
    topped_up_suppliers.push_back(supplier);
  }
  if (order.search_limited) {
    answer.warnings.push_back(
        "There are so many ways to divide this order among the suppliers that not all were tried: a cheaper "
        "one may exist.");
  }
  return answer;
}

std::vector<int> pieces_needed(const std::vector<OrderItem>& items,
                               const std::function<int(int part, int candidate)>& lacking) {
  std::vector<int> needed;
  for (std::size_t i = 0; i < items.size(); ++i) {
    const OrderItem& item = items[i];
    int need = lacking(item.part, item.candidate);
    for (std::size_t k = 0; k < i; ++k) {
      if (items[k].part == item.part && items[k].candidate == item.candidate) need -= items[k].quantity;
    }
    needed.push_back(std::clamp(need, 0, item.quantity));
  }
  return needed;
}

}  // namespace mendworth
