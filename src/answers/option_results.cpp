#include "answers/option_results.hpp"

#include "model/pricing.hpp"
#include "numeric/discount.hpp"

namespace mendworth {
namespace {

/// Sorts the sums of a tally under the headings of CostParts.
class Headings {
 public:
  Headings(const Contest& contest, std::size_t option)
      : layout_(contest.model.layout),
        tally_(contest.ensemble.tallies[option]),
        n_(contest.ensemble.runs[option]) {
    const Case& c = contest.model.c;
    device_costs(static_cast<int>(c.replacements.size()));
    visit_costs();
    for (int g = 0; g < static_cast<int>(c.positions.size()); ++g) {
      parts_.labour += own(layout_.work(g, Phase::first));
      luck_and_later(layout_.work(g, Phase::first));
    }
    for (int k = 0; k < contest.book.size(); ++k) {
      const auto& cost = contest.book.order(k).cost;
      const double taxed = cost.goods + cost.shipping + cost.fees + cost.duty;
      const double goods_part = taxed > 0 ? cost.goods / taxed : 1.0;
      const double first = own(layout_.order(k, Phase::first));
      parts_.parts += goods_part * first;
      parts_.shipping += (1.0 - goods_part) * first;
      luck_and_later(layout_.order(k, Phase::first));
    }
    for (int p = 0; p < static_cast<int>(c.parts.size()); ++p) {
      parts_.parts += own(layout_.drawn_use(p)) + own(layout_.drawn_left(p));
      parts_.leftovers += own(layout_.spare_used_elsewhere(p)) + own(layout_.spare_left(p));
    }
    parts_.burden = own(layout_.burden());
    parts_.keepsake = own(layout_.keepsake());
    parts_.resale += own(layout_.scrap()) + own(layout_.resale());
    for (const auto& sum : tally_.items) parts_.downtime += sum.downtime / n_;
  }
  [[nodiscard]] const CostParts& parts() const noexcept { return parts_; }

 private:
  [[nodiscard]] const Tally::Sum& sum(int item) const { return tally_.items[static_cast<std::size_t>(item)]; }
  /// Money and own time; downtime has a heading of its own.
  [[nodiscard]] double own(int item) const { return (sum(item).money + sum(item).labour) / n_; }

  void luck_and_later(int first_item) {
    parts_.risk += own(first_item + static_cast<int>(Phase::luck));
    parts_.later_visits += own(first_item + static_cast<int>(Phase::later));
  }

  void visit_costs() {
    parts_.labour += own(layout_.case_work()) + own(layout_.visit(Phase::first));
    luck_and_later(layout_.visit(Phase::first));
    for (const int first : {layout_.mend(Phase::first), layout_.second_attempt(Phase::first),
                            layout_.dry_fit(Phase::first), layout_.licensed_visit(Phase::first)}) {
      luck_and_later(first);
    }
    parts_.purchase += own(layout_.licensed_visit(Phase::first));
  }

  void device_costs(int replacements) {
    for (int r = 0; r < replacements; ++r) {
      parts_.purchase += sum(layout_.device(r, Phase::first)).money / n_;
      parts_.labour += sum(layout_.device(r, Phase::first)).labour / n_;
      parts_.risk += own(layout_.device(r, Phase::luck));
      parts_.next_device += own(layout_.device(r, Phase::later));
      parts_.benefit += own(layout_.benefit(r));
      parts_.resale += own(layout_.new_resale(r)) + own(layout_.unused_life(r));
    }
  }

  const ItemLayout& layout_;
  const Tally& tally_;
  double n_;
  CostParts parts_;
};

void set_cost_now(OptionResult& result, const Contest& contest, const Option& option) {
  const Case& c = contest.model.c;
  double setup = 0;
  switch (option.kind) {
    case OptionKind::repair: {
      std::vector<int> groups;
      for (const int i : option.plan.renew_now)
        groups.push_back(contest.model.positions[static_cast<std::size_t>(i)].group);
      result.minutes_now = first_visit_minutes(c, groups);
      if (option.plan.first_order >= 0) {
        result.cash_now = contest.book.order(option.plan.first_order).cost.total;
      }
      for (const auto& item : c.consumables) result.cash_now += item.price.base() * item.chance.base();
      break;
    }
    case OptionKind::licensed_repair: result.cash_now = c.licensed_repair->price.base(); break;
    case OptionKind::replacement: {
      const auto& replacement = c.replacements[static_cast<std::size_t>(option.replacement)];
      result.cash_now = purchase_price(replacement) - c.device.scrap.base();
      setup = replacement.setup_minutes.base();
      break;
    }
    case OptionKind::leave:
    case OptionKind::claim: break;
  }
  result.minutes_now += setup;
  result.cost_now = result.cash_now + result.minutes_now / 60.0 * c.labour.rate_per_hour.base();
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
  if (option.kind == OptionKind::repair) {
    result.family = name_of(option.plan.family);
  } else if (option.kind == OptionKind::replacement) {
    result.family = c.replacements[static_cast<std::size_t>(option.replacement)].name;
  } else {
    result.family = result.name;
  }
  if (contest.is_repair(index)) {
    if (option.plan.later_limit != no_limit) result.later_visits = option.plan.later_limit;
    result.renewed_now = static_cast<int>(option.plan.renew_now.size());
    result.damage_chance = tally.counts.damaged / n;
    result.write_off_chance = tally.counts.written_off / n;
    result.cure_chance = tally.counts.cured / n;
    result.later_visits_expected = tally.counts.later_visits / n;
  }
  set_cost_now(result, contest, option);
  result.futures = contest.ensemble.runs[index];
  result.present_cost = contest.ensemble.mean_cost(index);
  result.present_cost_error = contest.ensemble.cost_error(index);
  result.cost_per_year =
      result.present_cost * capital_recovery(c.horizon.discount_rate.base(), years_of_need(c));
  result.parts = Headings(contest, index).parts();
  result.second_device_chance = tally.counts.other_device / n;
  result.price_weight = contest.price_weight(index);
  return result;
}

}  // namespace mendworth
