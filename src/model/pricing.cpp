#include "model/pricing.hpp"

#include <algorithm>
#include <limits>

#include "numeric/learning.hpp"

namespace mendworth {
namespace {

UnitCost& at(std::vector<UnitCost>& unit, int item) { return unit[static_cast<std::size_t>(item)]; }

void set(std::vector<UnitCost>& unit, const ByPhase& items, const UnitCost& cost) {
  for (const int item : items.all()) at(unit, item) = cost;
}

/// All but the orders and what depends on them.
void price_plain_items(const Case& c, const Items& items, std::vector<UnitCost>& unit) {
  const double day = c.downtime.per_day.base();
  const double minute = c.labour.rate_per_hour.base() / 60.0;
  at(unit, items.case_work).labour = c.labour.case_minutes.base() * minute;
  UnitCost visit{.downtime = c.downtime.bench_days.base() * day};
  // A consumable is charged by its chance: whether an opening uses it up hardly matters beside the rest.
  for (const auto& item : c.consumables) visit.money += item.price.base() * item.chance.base();
  set(unit, items.visit, visit);
  set(unit, items.visit_work, {.labour = c.labour.visit_minutes.base() * minute});
  set(unit, items.mend, {.money = c.risks.mend_money.base(), .labour = c.risks.mend_minutes.base() * minute});
  if (c.risks.second_attempt) {
    const auto& again = *c.risks.second_attempt;
    set(unit, items.second_attempt, {.money = again.money.base(), .labour = again.minutes.base() * minute});
  }
  set(unit, items.dry_fit, {.labour = c.risks.dry_fit_minutes.base() * minute});
  if (const auto& licensed = c.licensed_repair) {
    set(unit, items.licensed_visit,
        {.money = licensed->price.base(),
         .labour = licensed->minutes.base() * minute,
         .downtime = licensed->days.base() * day});
  }
  if (c.fault.burden_per_year) at(unit, items.burden).money = c.fault.burden_per_year->base();
  at(unit, items.scrap).money = -c.device.scrap.base();
  at(unit, items.resale).money = -c.device.resale.base();
  at(unit, items.keepsake).money = c.device.keepsake.base();
  for (std::size_t g = 0; g < c.positions.size(); ++g) {
    set(unit, items.work[g], {.labour = c.positions[g].minutes.base() * minute});
  }
  for (std::size_t p = 0; p < c.parts.size(); ++p) {
    at(unit, items.parts[p].left).money = -c.parts[p].spare_resale.base();
    at(unit, items.parts[p].drawn_left).money = c.parts[p].spare_resale.base();
  }
  for (std::size_t r = 0; r < c.replacements.size(); ++r) {
    const auto& replacement = c.replacements[r];
    set(unit, items.devices[r].device, device_cost(c, replacement));
    at(unit, items.devices[r].benefit).money = -replacement.benefit_per_year.base();
    at(unit, items.devices[r].resale).money = -replacement.resale.base();
  }
}

UnitCost order_cost(const Case& c, const OrderBook& book, int kind) {
  LandedCost cost = book.order(kind).cost;
  if (const auto landed = book.landed(c, kind)) cost = *landed;
  return {.money = cost.total, .downtime = cost.wait_days * c.downtime.per_day.base()};
}

/// A spare that another job takes saves that job a small order, but not this device a wait.
double saved_elsewhere(const Case& c, const OrderBook& book, std::size_t part) {
  const int kind = book.small_order(static_cast<int>(part));
  return kind < 0 ? 0.0 : order_cost(c, book, kind).money;
}

}  // namespace

double paid_per_price(const Replacement& r) {
  return (r.exchange_rate ? r.exchange_rate->base() : 1.0) * (1.0 + r.tax.base());
}

double purchase_price(const Replacement& r) {
  return ((r.price ? r.price->base() : 0.0) + r.shipping.base()) * paid_per_price(r);
}

UnitCost device_cost(const Case& c, const Replacement& r) {
  return {.money = purchase_price(r),
          .labour = r.setup_minutes.base() * c.labour.rate_per_hour.base() / 60.0,
          .downtime = r.delivery_days.base() * c.downtime.per_day.base()};
}

std::vector<double> totals(const std::vector<UnitCost>& unit) {
  std::vector<double> totals;
  totals.reserve(unit.size());
  for (const UnitCost& each : unit) totals.push_back(each.total());
  return totals;
}

std::vector<UnitCost> unit_costs(const Case& c, const Items& items, const OrderBook& book) {
  std::vector<UnitCost> unit(static_cast<std::size_t>(items.size()));
  price_plain_items(c, items, unit);
  for (int k = 0; k < book.size(); ++k) {
    set(unit, items.orders[static_cast<std::size_t>(k)], order_cost(c, book, k));
  }
  for (std::size_t p = 0; p < c.parts.size(); ++p) {
    const double saved = saved_elsewhere(c, book, p);
    at(unit, items.parts[p].used_elsewhere).money = -saved;
    at(unit, items.parts[p].drawn_use).money = saved;
  }
  return unit;
}

PriceList::PriceList(const Case& c, const Items& items, const OrderBook& book)
    : items_(&items),
      book_(&book),
      unit_(static_cast<std::size_t>(items.size())),
      base_(unit_),
      totals_(unit_.size()),
      late_(unit_.size(), 0) {
  price_plain_items(c, items, base_);
  base_totals_ = totals(base_);
  std::fill(late_.begin() + items.first_order(), late_.end(), char{1});
  for (const auto& part : items.parts) {
    late_[static_cast<std::size_t>(part.used_elsewhere)] = late_[static_cast<std::size_t>(part.drawn_use)] =
        1;
  }
}

void PriceList::take(const Case& c, bool orders) {
  const bool anew = orders || case_ == nullptr;
  case_ = &c;
  price_plain_items(c, *items_, unit_);
  for (std::size_t i = 0; i < unit_.size(); ++i) {
    if (late_[i] == 0) {
      totals_[i] = unit_[i].total();
    } else if (anew) {
      totals_[i] = std::numeric_limits<double>::quiet_NaN();
    }
  }
}

void PriceList::price_late(int item) {
  const auto slot = static_cast<std::size_t>(item);
  UnitCost& unit = unit_[slot];
  if (item >= items_->first_order()) {
    unit = order_cost(*case_, *book_, (item - items_->first_order()) / static_cast<int>(phases));
  } else {
    for (std::size_t p = 0; p < items_->parts.size(); ++p) {
      const auto& part = items_->parts[p];
      if (item == part.used_elsewhere) unit.money = -saved_elsewhere(*case_, *book_, p);
      if (item == part.drawn_use) unit.money = saved_elsewhere(*case_, *book_, p);
    }
  }
  totals_[slot] = unit.total();
}

double first_visit_minutes(const Case& c, const std::vector<int>& groups_of_renewed) {
  const double rate = c.labour.learning_rate.base();
  int n = c.labour.done_before;
  double minutes = c.labour.case_minutes.base() +
                   c.labour.visit_minutes.base() * learning_factor(n + 1, rate, c.labour.learning_floor);
  for (const int g : groups_of_renewed) {
    minutes += c.positions[static_cast<std::size_t>(g)].minutes.base() *
               learning_factor(++n, rate, c.labour.learning_floor);
  }
  return minutes;
}

}  // namespace mendworth
