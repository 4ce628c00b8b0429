#include "answers/rules.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "answers/option_results.hpp"
#include "model/pricing.hpp"
#include "numeric/root.hpp"

namespace mendworth {
namespace {

std::string percent(double share) { return fmt::format("{:.0f} %", 100.0 * share); }

}  // namespace

std::optional<HalfPriceRule> half_price_rule(const Contest& contest, const OptionResult& repair,
                                             const OptionResult& replacement, double saving) {
  const Case& c = contest.model.c;
  HalfPriceRule rule;
  rule.repair_cost_now = repair.cost_now;
  double life = 0;
  for (const auto& r : c.replacements) {
    if (r.name != replacement.family) continue;
    rule.new_price = purchase_price(r);
    life = r.life_years.base();
  }
  if (rule.new_price <= 0) return std::nullopt;  // half of nothing says nothing
  rule.ratio = rule.repair_cost_now / rule.new_price;
  rule.says_repair = rule.ratio < 0.5;
  rule.agrees = rule.says_repair == (saving > 0);

  const double rest = mean_rest_years(c);
  std::string reason = fmt::format(
      "The rule is break-even for a repair that succeeds every other time and then lasts as long as a new "
      "device, or "
      "for a sure one that lasts half as long. Here it succeeds in {}, and the rest of the device is good "
      "for about "
      "{:.1f} years against {:.1f} of a new one.",
      percent(repair.cure_chance), rest, life);
  if (repair.parts.later_visits > 0.1 * repair.present_cost) {
    reason += " Later repairs, which the rule does not count, are a good part of the cost.";
  }
  if (repair.parts.downtime - replacement.parts.downtime > 0.1 * std::abs(repair.present_cost)) {
    reason += " Waiting, which the rule does not count, costs more with the repair.";
  }
  if (replacement.parts.labour > 0.1 * replacement.present_cost) {
    reason += " Setting up the new device, which the rule does not count, costs time as well.";
  }
  if (replacement.parts.keepsake > 0) reason += " The device is worth more to its owner than its use.";
  if (replacement.parts.benefit < 0) reason += " The new device does more, which the rule does not count.";
  rule.reason = std::move(reason);
  return rule;
}

Payback payback_of(const Contest& contest, std::size_t repair, std::size_t replacement,
                   const MoneyInTime& in_time) {
  const Case& c = contest.model.c;
  Payback payback;
  std::optional<double> since;
  bool behind_before = false;
  for (std::size_t i = 0; i < in_time.cost[repair].size(); ++i) {
    if (in_time.cost[replacement][i] > in_time.cost[repair][i]) {
      if (!since) since = behind_before ? in_time.step * static_cast<double>(i + 1) : 0.0;
    } else {
      since.reset();
      behind_before = true;
    }
  }
  payback.ahead_from_years = since;

  // The years T over which the money spent now costs as much a year as the replacement does:
  // cost * r / (1 - (1 + r)^-T) = yearly, solved for T.
  const auto now = option_result(contest, repair);
  const double yearly = option_result(contest, replacement).cost_per_year;
  const double rate = c.horizon.discount_rate.base();
  if (yearly > 0 && now.cost_now <= 0) {
    payback.years_needed = 0.0;
  } else if (yearly > 0 && rate == 0.0) {
    payback.years_needed = now.cost_now / yearly;
  } else if (yearly > 0 && now.cost_now * rate / yearly < 1.0) {
    payback.years_needed = -std::log1p(-now.cost_now * rate / yearly) / std::log1p(rate);
  }
  return payback;
}

OwnTime own_time_of(const WhatIf& what_if, const Case& c, const std::vector<BreakEven>& break_evens) {
  OwnTime own;
  own.rate = c.labour.rate_per_hour.base();
  own.saving_with_time = what_if.now().saving;
  Case free_time = c;
  free_time.labour.rate_per_hour = Quantity::exactly(0.0);
  own.saving_cash_only = what_if.saving(what_if.courses(), free_time, {}).saving;
  for (const auto& found : break_evens) {
    if (found.key != "labour.rate_per_hour" || found.values.empty()) continue;
    // Of several, the one nearest to the rate at hand.
    own.turning_rate = *std::min_element(found.values.begin(), found.values.end(), [&](double a, double b) {
      return std::abs(a - own.rate) < std::abs(b - own.rate);
    });
  }
  return own;
}

GuaranteeAnswer guarantee_of(const Case& c, double best_cost, const std::optional<Date>& today) {
  GuaranteeAnswer answer;
  answer.until = c.device.guarantee_until;
  answer.live = !today || *answer.until >= *today;
  answer.claim_cost = c.device.guarantee_days.base() * c.downtime.per_day.base() +
                      (1.0 - c.device.guarantee_chance.base()) * best_cost;
  answer.claim_worth = best_cost - answer.claim_cost;
  return answer;
}

Unpriced unpriced_of(const std::vector<OptionResult>& results) {
  Unpriced answer;
  // Costs are linear in the price: cost + weight * price. The saving is the best replacement minus the best repair.
  struct Best {
    double cost = 0;
    std::size_t index = 0;
    bool found = false;
  };
  const auto best_at = [&](OptionKind kind_a, OptionKind kind_b, double price) {
    Best best;
    for (std::size_t i = 0; i < results.size(); ++i) {
      if (results[i].kind != kind_a && results[i].kind != kind_b) continue;
      const double cost = results[i].present_cost + results[i].price_weight * price;
      if (!best.found || cost < best.cost) best = {cost, i, true};
    }
    return best;
  };
  const auto repair_at = [&](double p) {
    return best_at(OptionKind::repair, OptionKind::licensed_repair, p);
  };
  const auto replacement_at = [&](double p) {
    return best_at(OptionKind::replacement, OptionKind::replacement, p);
  };
  if (!repair_at(0).found || !replacement_at(0).found) return answer;
  const auto saving = [&](double p) { return replacement_at(p).cost - repair_at(p).cost; };

  double scale = 1.0;
  for (const auto& r : results) {
    if (r.kind == OptionKind::repair || r.kind == OptionKind::licensed_repair)
      scale = std::max(scale, r.cost_now);
  }
  const auto crossings = find_crossings(saving, 0.0, 100.0 * scale, 401, 1e-10, 80);
  if (saving(0.0) >= 0) {
    answer.repair_pays_from = 0.0;
  } else if (!crossings.at.empty()) {
    answer.repair_pays_from = crossings.at.front();
  }
  const double middle = answer.repair_pays_from.value_or(0.0) > 0 ? *answer.repair_pays_from : scale;
  for (const double factor : {0.5, 1.0, 1.5, 2.0, 3.0, 5.0}) {
    const double price = factor * middle;
    const auto repair = repair_at(price);
    const double now = results[repair.index].cost_now;
    answer.rows.push_back(
        {.willing_to_pay = price, .most_worth_spending_now = std::max(0.0, now + saving(price))});
  }
  return answer;
}

}  // namespace mendworth
