#include "quote/job_plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "model/pricing.hpp"

namespace mendworth {
namespace {

using Kind = CustomerChoice::Kind;

Kind kind_of(Family family) {
  switch (family) {
    case Family::failed_only: return Kind::failed_only;
    case Family::failed_and_worth:
    case Family::failed_and_mates: return Kind::with_mates;
    case Family::every_original: break;
  }
  return Kind::every_original;
}

/// What a piece costs that the first order does not bring: where it is cheapest.
double piece_cost_alone(const Case& c, int part, int candidate, int pieces) {
  const std::vector<Need> needs{{part, candidate, pieces}};
  const auto order = cheapest_order(c, needs, 0.0, Parcel::alone);
  return order ? piece_cost(c, order->items.front()) : 0.0;
}

std::string renewed_text(const Case& c, const std::vector<int>& groups) {
  std::vector<int> count(c.positions.size(), 0);
  for (const int g : groups) ++count[static_cast<std::size_t>(g)];
  std::string text;
  for (std::size_t g = 0; g < count.size(); ++g) {
    if (count[g] == 0) continue;
    const std::string& name = c.positions[g].name;
    text += text.empty() ? "" : ", ";
    text +=
        c.positions[g].count == 1 ? name : fmt::format("{} ({} of {})", name, count[g], c.positions[g].count);
  }
  return text;
}

int whole_days(double days) { return static_cast<int>(std::ceil(days - 1e-9)); }

void set_days(const Contest& contest, bool waits_for_order, JobPlan& plan) {
  const Case& c = contest.model.c;
  double low = 0, high = 0;
  if (waits_for_order) {
    for (const OrderItem& item : contest.book.order(plan.option.plan.first_order).items) {
      low = std::max(low, supplier_of(c, item).lead_days.low());
      high = std::max(high, supplier_of(c, item).lead_days.high());
    }
  }
  plan.days_low = whole_days(low + c.downtime.bench_days.low());
  plan.days_high = whole_days(high + c.downtime.bench_days.high());
}

void set_work(const Contest& contest, const Shop& shop, bool parts_from_customer, JobPlan& plan) {
  const Case& c = contest.model.c;
  const RepairPlan& repair = plan.option.plan;
  JobWork& work = plan.work;
  for (const int i : repair.renew_now) {
    const Position& position = contest.model.positions[static_cast<std::size_t>(i)];
    plan.groups.push_back(position.group);
    ++plan.pieces[static_cast<std::size_t>(position.part)];
  }
  work.text = "Labour: renew " + renewed_text(c, plan.groups);
  work.minutes = first_visit_minutes(c, plan.groups);
  work.diagnosis_minutes = std::min(
      shop.diagnosis_minutes ? shop.diagnosis_minutes->base() : c.labour.case_minutes.base(), work.minutes);
  work.positions = static_cast<int>(repair.renew_now.size());
  for (const Consumable& item : c.consumables) work.consumables += item.price.base() * item.chance.base();

  const bool orders = repair.first_order >= 0 && !parts_from_customer;
  const std::vector<OrderItem> none;
  const auto& items = orders ? contest.book.order(repair.first_order).items : none;
  double goods = 0;
  for (const OrderItem& item : items) goods += piece_cost(c, item) * item.quantity;
  for (std::size_t p = 0; p < c.parts.size(); ++p) {
    const int pieces = plan.pieces[p];
    if (pieces == 0) continue;
    const int candidate = repair.supplies[p].candidate;
    const auto bought = std::ranges::find_if(items, [&](const OrderItem& item) {
      return item.part == static_cast<int>(p) && item.candidate == candidate;
    });
    work.pieces.push_back({.part = static_cast<int>(p),
                           .name = c.parts[p].name,
                           .pieces = pieces,
                           .unit_cost = bought != items.end()
                                            ? piece_cost(c, *bought)
                                            : piece_cost_alone(c, static_cast<int>(p), candidate, pieces)});
    if (bought != items.end()) {
      const int on_hand = c.parts[p].candidates[static_cast<std::size_t>(candidate)].on_hand;
      plan.leftovers += bought->quantity - std::max(pieces - on_hand, 0);
    }
  }
  if (orders) {
    plan.order_cost = contest.book.order(repair.first_order).cost.total;
    work.shipping_cost = std::max(plan.order_cost - goods, 0.0);
  }
}

}  // namespace

double piece_cost(const Case& c, const OrderItem& item) {
  return line_price(offer_of(c, item), item.quantity) / item.quantity *
         landed_slope(supplier_of(c, item), false);
}

std::vector<JobPlan> job_plans(const Contest& contest, const Shop& shop, bool parts_from_customer) {
  std::vector<JobPlan> plans;
  for (const Kind kind : {Kind::failed_only, Kind::with_mates, Kind::every_original}) {
    const auto costs = contest.mean_costs();
    const auto best = contest.least(costs, [&](std::size_t i) {
      const Option& option = contest.options[i];
      return option.kind == OptionKind::repair && kind_of(option.plan.family) == kind;
    });
    if (!best) continue;
    JobPlan plan{.kind = kind, .option = contest.options[*best]};
    plan.pieces.resize(contest.model.c.parts.size());
    plan.option.plan.returns_only = true;
    plan.option.plan.mates_later = false;
    plan.option.plan.rule = {};
    set_work(contest, shop, parts_from_customer, plan);
    set_days(contest, plan.option.plan.first_order >= 0 && !parts_from_customer, plan);
    plans.push_back(std::move(plan));
  }
  return plans;
}

}  // namespace mendworth
