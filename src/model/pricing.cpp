#include "model/pricing.hpp"

#include <algorithm>

#include "model/exact_order.hpp"
#include "numeric/learning.hpp"

namespace mendworth {
namespace {

UnitCost& at(std::vector<UnitCost>& unit, int item) { return unit[static_cast<std::size_t>(item)]; }

void set_all_phases(std::vector<UnitCost>& unit, int first_item, const UnitCost& cost) {
  for (int p = 0; p < phases; ++p) at(unit, first_item + p) = cost;
}

}  // namespace

double purchase_price(const Replacement& r) {
  return ((r.price ? r.price->base() : 0.0) + r.shipping.base()) * (1.0 + r.tax.base());
}

void price_items(const Case& c, const ItemLayout& layout, std::vector<UnitCost>& unit) {
  // Orders behind the others are left alone.
  unit.resize(std::max(unit.size(), static_cast<std::size_t>(layout.size(0))));
  std::fill(unit.begin(), unit.begin() + layout.size(0), UnitCost{});
  const double day = c.downtime.per_day.base();
  const double minute = c.labour.rate_per_hour.base() / 60.0;

  at(unit, layout.case_work()).labour = c.labour.case_minutes.base() * minute;
  UnitCost visit{.labour = c.labour.visit_minutes.base() * minute,
                 .downtime = c.downtime.bench_days.base() * day};
  // A consumable is charged by its chance: whether an opening uses it up hardly matters beside the rest.
  for (const auto& item : c.consumables) visit.money += item.price.base() * item.chance.base();
  set_all_phases(unit, layout.visit(Phase::first), visit);
  set_all_phases(unit, layout.mend(Phase::first),
                 {.money = c.risks.mend_money.base(), .labour = c.risks.mend_minutes.base() * minute});
  if (c.risks.second_attempt) {
    const auto& again = *c.risks.second_attempt;
    set_all_phases(unit, layout.second_attempt(Phase::first),
                   {.money = again.money.base(), .labour = again.minutes.base() * minute});
  }
  set_all_phases(unit, layout.dry_fit(Phase::first), {.labour = c.risks.dry_fit_minutes.base() * minute});
  if (c.licensed_repair) {
    set_all_phases(
        unit, layout.licensed_visit(Phase::first),
        {.money = c.licensed_repair->price.base(), .downtime = c.licensed_repair->days.base() * day});
  }

  if (c.fault.burden_per_year) at(unit, layout.burden()).money = c.fault.burden_per_year->base();
  at(unit, layout.scrap()).money = -c.device.scrap.base();
  at(unit, layout.resale()).money = -c.device.resale.base();
  at(unit, layout.keepsake()).money = c.device.keepsake.base();

  for (int g = 0; g < static_cast<int>(c.positions.size()); ++g) {
    const double minutes = c.positions[static_cast<std::size_t>(g)].minutes.base();
    set_all_phases(unit, layout.work(g, Phase::first), {.labour = minutes * minute});
  }
  for (int p = 0; p < static_cast<int>(c.parts.size()); ++p) {
    const double resale = c.parts[static_cast<std::size_t>(p)].spare_resale.base();
    at(unit, layout.spare_left(p)).money = -resale;
    at(unit, layout.drawn_left(p)).money = resale;
  }
  for (int r = 0; r < static_cast<int>(c.replacements.size()); ++r) {
    const auto& replacement = c.replacements[static_cast<std::size_t>(r)];
    set_all_phases(unit, layout.device(r, Phase::first),
                   {.money = purchase_price(replacement),
                    .labour = replacement.setup_minutes.base() * minute,
                    .downtime = replacement.delivery_days.base() * day});
    at(unit, layout.benefit(r)).money = -replacement.benefit_per_year.base();
    at(unit, layout.new_resale(r)).money = -replacement.resale.base();
  }
}

void price_orders(const Case& c, const ItemLayout& layout, const OrderBook& book, Suppliers suppliers,
                  std::vector<UnitCost>& unit) {
  unit.resize(static_cast<std::size_t>(layout.size(book.size())));
  const double day = c.downtime.per_day.base();
  for (int k = 0; k < book.size(); ++k) {
    LandedCost cost = book.order(k).cost;
    if (suppliers == Suppliers::best_at_hand) {
      if (const auto order = exact_order(c, book.needs(k), day)) cost = order->cost;
    } else if (const auto landed = landed_cost(c, book.order(k).items, Parcel::with_other_goods)) {
      cost = *landed;
    }
    set_all_phases(unit, layout.order(k, Phase::first),
                   {.money = cost.total, .downtime = cost.wait_days * day});
  }
  // A spare that another job takes saves that job a small order, but not this device a wait.
  for (int p = 0; p < static_cast<int>(c.parts.size()); ++p) {
    const int kind = book.small_order(p);
    if (kind < 0) continue;
    const double saved = at(unit, layout.order(kind, Phase::first)).money;
    at(unit, layout.spare_used_elsewhere(p)).money = -saved;
    at(unit, layout.drawn_use(p)).money = saved;
  }
}

PriceList::PriceList(const ItemLayout& layout, const OrderBook& book) : layout_(layout), book_(&book) {
  unit_.resize(static_cast<std::size_t>(layout.size(book.size())));
  priced_in_.resize(unit_.size());
  for (int item = layout.first_order_item(); item < layout.size(book.size()); ++item)
    late_items_.push_back(item);
  for (int part = 0; part < layout.parts(); ++part) {
    late_items_.push_back(layout.spare_used_elsewhere(part));
    late_items_.push_back(layout.drawn_use(part));
  }
}

void PriceList::take(const Case& c, bool orders) {
  // Late items that keep their price are carried over to the new round.
  const std::uint64_t before = round_++;
  kept_.clear();
  if (!orders) {
    for (const int item : late_items_) {
      const auto slot = static_cast<std::size_t>(item);
      if (priced_in_[slot] == before) kept_.push_back({item, unit_[slot]});
    }
  }
  case_ = &c;
  price_items(c, layout_, unit_);
  std::fill(priced_in_.begin(), priced_in_.begin() + layout_.first_order_item(), round_);
  for (int part = 0; part < layout_.parts(); ++part) {
    priced_in_[static_cast<std::size_t>(layout_.spare_used_elsewhere(part))] = 0;
    priced_in_[static_cast<std::size_t>(layout_.drawn_use(part))] = 0;
  }
  for (const Kept& kept : kept_) {
    unit_[static_cast<std::size_t>(kept.item)] = kept.cost;
    priced_in_[static_cast<std::size_t>(kept.item)] = round_;
  }
}

void PriceList::price_late(int item) {
  const auto slot = static_cast<std::size_t>(item);
  priced_in_[slot] = round_;
  if (item >= layout_.first_order_item()) {
    const int kind = (item - layout_.first_order_item()) / phases;
    LandedCost cost = book_->order(kind).cost;
    if (const auto landed = landed_cost(*case_, book_->order(kind).items, Parcel::with_other_goods)) cost = *landed;
    unit_[slot] = {.money = cost.total, .downtime = cost.wait_days * case_->downtime.per_day.base()};
    return;
  }
  const int part = layout_.part_of(item);
  const int kind = book_->small_order(part);
  const double saved = kind < 0 ? 0.0 : at(layout_.order(kind, Phase::first)).money;
  unit_[slot] = UnitCost{.money = item == layout_.drawn_use(part) ? saved : -saved};
}

double first_visit_minutes(const Case& c, const std::vector<int>& groups_of_renewed) {
  double minutes = c.labour.case_minutes.base() + c.labour.visit_minutes.base();
  int n = c.labour.done_before;
  for (const int g : groups_of_renewed) {
    minutes += c.positions[static_cast<std::size_t>(g)].minutes.base() *
               learning_factor(++n, c.labour.learning_rate.base(), c.labour.learning_floor);
  }
  return minutes;
}

}  // namespace mendworth
