#include "answers/option_results.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "answers/cost_now.hpp"
#include "answers/labels.hpp"
#include "model/pricing.hpp"
#include "numeric/discount.hpp"

namespace mendworth {
namespace {

/// Sorts the sums of a tally under the headings of CostParts.
CostParts cost_parts(const Contest& contest, std::size_t option) {
  const Items& items = contest.items;
  const double n = contest.ensemble.runs[option];
  CostParts parts;
  const auto target = [&parts](Heading heading) -> double& {
    switch (heading) {
      case Heading::parts:
      case Heading::order: return parts.parts;
      case Heading::labour: return parts.labour;
      case Heading::risk: return parts.risk;
      case Heading::later_visits: return parts.later_visits;
      case Heading::next_device: return parts.next_device;
      case Heading::purchase: return parts.purchase;
      case Heading::burden: return parts.burden;
      case Heading::keepsake: return parts.keepsake;
      case Heading::leftovers: return parts.leftovers;
      case Heading::resale: return parts.resale;
      case Heading::benefit: break;
    }
    return parts.benefit;
  };
  // Where no replacement has a price, what is assumed for it is no cost.
  std::vector<double> assumed(static_cast<std::size_t>(items.size()), 0.0);
  for (std::size_t r = 0; contest.unpriced && r < items.devices.size(); ++r) {
    for (const int item : items.devices[r].device.all())
      assumed[static_cast<std::size_t>(item)] =
          contest.assumed_price * (1.0 + contest.model.c.replacements[r].tax.base());
  }
  for (int item = 0; item < items.size(); ++item) {
    const Tally::Sum& sum = contest.ensemble.tallies[option].items[static_cast<std::size_t>(item)];
    const Heading heading = items.heading(item);
    parts.downtime += sum.downtime / n;
    // Setting up what is bought now is own work now.
    (heading == Heading::purchase ? parts.labour : target(heading)) += sum.labour / n;
    double goods = 1;
    if (heading == Heading::order) {
      const LandedCost& cost =
          contest.book.order((item - items.first_order()) / static_cast<int>(phases)).cost;
      const double taxed = cost.goods + cost.shipping + cost.fees + cost.duty;
      if (taxed > 0) goods = cost.goods / taxed;
    }
    const double money = (sum.money - sum.amount * assumed[static_cast<std::size_t>(item)]) / n;
    target(heading) += goods * money;
    parts.shipping += (1.0 - goods) * money;
  }
  return parts;
}

double cost_per_year(const Contest& contest, std::size_t index, double present_cost) {
  const Case& c = contest.model.c;
  const double rate = c.horizon.discount_rate.base();
  if (c.horizon.years) return present_cost * capital_recovery(rate, c.horizon.years->base());
  if (!contest.chains.relative()) return present_cost * std::log1p(rate);
  // Counted against the chain, a course that costs so much until another device is bought after t years comes to that
  // less t times what the chain costs a year.
  double devices = 0;
  const auto& next = contest.items.devices[static_cast<std::size_t>(contest.chains.best())];
  for (const int item : next.device.all()) devices += contest.ensemble.mean_amount(index, item);
  const Option& option = contest.options[index];
  const bool bought = option.kind == OptionKind::replacement;
  if (bought && option.replacement == contest.chains.best()) return contest.chains.cost_per_year();
  const double years = -devices * contest.chains.life(contest.chains.best()).mean();
  return contest.chains.cost_per_year() + (years > 0 ? present_cost / years : 0.0);
}

/// The spans of a rule as rows, one for each class that can come about.
std::vector<AgainRule> again_rows(const Case& c, const Option& option) {
  std::vector<AgainRule> rows;
  const auto& spans = option.plan.rule.spans;
  for (std::size_t p = 0; p < c.parts.size() && !spans.empty(); ++p) {
    for (const bool at_hand : {false, true}) {
      for (int before = 0; before < StoppingRule::repairs_told_apart; ++before) {
        const StoppingRule::Span& span = spans[StoppingRule::class_of(static_cast<int>(p), at_hand, before)];
        AgainRule row{.part = c.parts[p].name, .spare_at_hand = at_hand, .repairs_before = before};
        if (span.from < span.to) {
          row.from_years = span.from;
          if (std::isfinite(span.to)) row.to_years = span.to;
        }
        rows.push_back(std::move(row));
      }
    }
  }
  return rows;
}

}  // namespace

double CostParts::total() const noexcept {
  return parts + shipping + labour + risk + later_visits + next_device + purchase + downtime + burden +
         keepsake + leftovers + resale + benefit;
}

OptionResult option_result(const Contest& contest, std::size_t index) {
  const Case& c = contest.model.c;
  const auto& option = contest.options[index];
  const auto& tally = contest.ensemble.tallies[index];
  const double n = contest.ensemble.runs[index];
  OptionResult result;
  result.kind = option.kind;
  result.name = option_name(c, option);
  result.family = option.kind == OptionKind::replacement
                      ? c.replacements[static_cast<std::size_t>(option.replacement)].name
                      : result.name;
  if (contest.is_repair(index)) {
    if (option.plan.family == Family::failed_and_worth) {
      for (const int g : groups_with_originals(c)) {
        const auto of_group = [&](int i) {
          const auto& p = contest.model.positions[static_cast<std::size_t>(i)];
          return p.group == g && p.state == Position::State::original;
        };
        if (std::any_of(option.plan.renew_now.begin(), option.plan.renew_now.end(), of_group))
          result.with.push_back(c.positions[static_cast<std::size_t>(g)].name);
      }
    }
    result.mates_later = option.plan.mates_later;
    result.renewed_now = static_cast<int>(option.plan.renew_now.size());
    result.damage_chance = tally.counts.damaged / n;
    result.write_off_chance = tally.counts.written_off / n;
    result.cure_chance = tally.counts.cured / n;
    result.later_visits_expected = tally.counts.later_visits / n;
    result.again = again_rows(c, option);
  }
  const CostNow now = cost_now(contest.model, contest.book, option);
  result.cash_now = now.cash;
  if (contest.unpriced && option.kind == OptionKind::replacement) {
    const double tax = c.replacements[static_cast<std::size_t>(option.replacement)].tax.base();
    result.cash_now -= contest.assumed_price * (1.0 + tax);
  }
  result.minutes_now = now.minutes;
  result.cost_now = result.cash_now + now.minutes / 60.0 * c.labour.rate_per_hour.base();
  result.futures = contest.ensemble.runs[index];
  result.price_weight = contest.price_weight(index);
  result.present_cost = contest.ensemble.mean_cost(index) - result.price_weight * contest.assumed_price;
  result.present_cost_error = contest.ensemble.errors[index];
  result.cost_per_year = cost_per_year(contest, index, result.present_cost);
  result.parts = cost_parts(contest, index);
  result.second_device_chance = tally.counts.replaced / n;
  return result;
}

}  // namespace mendworth
