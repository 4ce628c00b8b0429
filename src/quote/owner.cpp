#include "quote/owner.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "futures/watch.hpp"

namespace mendworth {
namespace {

/// The case as its owner pays for it: later work at the shop's rate. Setting up a new device stays as dear as it was.
Case owner_case(const Case& c, double charge_rate) {
  Case owner = c;
  const double own_rate = c.labour.rate_per_hour.base();
  owner.labour.rate_per_hour = Quantity::exactly(charge_rate);
  for (Replacement& replacement : owner.replacements) {
    if (charge_rate > 0) replacement.setup_minutes = replacement.setup_minutes.scaled(own_rate / charge_rate);
  }
  return owner;
}

/// What of an item the owner does not pay: the shop's work and purchases of the first repair, and the stock.
enum class Share { all, wait_only, none };

std::vector<Share> owner_shares(const DeviceModel& model, const OrderBook& book) {
  const ItemLayout& layout = model.layout;
  std::vector<Share> shares(static_cast<std::size_t>(layout.size(book.size())), Share::all);
  const auto set = [&shares](int item, Share share) { shares[static_cast<std::size_t>(item)] = share; };
  set(layout.case_work(), Share::none);
  for (const Phase phase : {Phase::first, Phase::luck}) {
    set(layout.visit(phase), Share::wait_only);
    set(layout.mend(phase), Share::wait_only);
    set(layout.second_attempt(phase), Share::wait_only);
    set(layout.dry_fit(phase), Share::wait_only);
    for (int g = 0; g < static_cast<int>(model.c.positions.size()); ++g)
      set(layout.work(g, phase), Share::wait_only);
    for (int k = 0; k < book.size(); ++k) set(layout.order(k, phase), Share::wait_only);
  }
  for (int p = 0; p < static_cast<int>(model.c.parts.size()); ++p) {
    for (const int item :
         {layout.spare_used_elsewhere(p), layout.spare_left(p), layout.drawn_use(p), layout.drawn_left(p)}) {
      set(item, Share::none);
    }
  }
  return shares;
}

double owner_cost(const Tally& tally, const std::vector<Share>& shares) {
  double cost = 0;
  for (std::size_t i = 0; i < shares.size(); ++i) {
    const Tally::Sum& sum = tally.items[i];
    if (shares[i] == Share::none) continue;
    cost += sum.downtime;
    if (shares[i] == Share::all) cost += sum.money + sum.labour;
  }
  return cost;
}

/// One thing to run: a choice with a limit of later repairs, or what is done instead.
struct Entry {
  int choice = -1;  ///< -1: instead
  Option option;
};

std::vector<Entry> entries_of(const Contest& contest, const std::vector<JobPlan>& plans,
                              std::vector<int>& fallbacks) {
  std::vector<Entry> entries;
  for (std::size_t i = 0; i < contest.options.size(); ++i) {
    const Option& option = contest.options[i];
    if (contest.is_priced_replacement(i) || option.kind == OptionKind::leave) {
      entries.push_back({.option = option});
      fallbacks.push_back(contest.fallbacks[i]);
      continue;
    }
    if (option.kind != OptionKind::repair || option.plan.family == Family::failed_and_spare) continue;
    for (std::size_t k = 0; k < plans.size(); ++k) {
      if (plans[k].option.plan.renew_now != option.plan.renew_now) continue;
      Entry entry{.choice = static_cast<int>(k), .option = plans[k].option};
      RepairPlan& plan = entry.option.plan;
      plan.returns_only = false;
      plan.later_limit = option.plan.later_limit;
      plan.mates_later = option.plan.mates_later;
      for (std::size_t p = 0; p < plan.supplies.size(); ++p) {
        plan.supplies[p].reorders = option.plan.supplies[p].reorders;
      }
      entries.push_back(std::move(entry));
      fallbacks.push_back(contest.fallbacks[i]);
    }
  }
  return entries;
}

}  // namespace

OwnerView owner_view(const Contest& contest, const std::vector<JobPlan>& plans,
                     const std::vector<Payments>& payments, const OwnerSettings& settings) {
  std::vector<int> fallbacks;
  const std::vector<Entry> entries = entries_of(contest, plans, fallbacks);
  const bool comparable =
      std::any_of(entries.begin(), entries.end(), [](const Entry& e) { return e.choice < 0; });
  if (!comparable || contest.unpriced || contest.model.c.device.must_keep) return {};

  ModelCache cache;
  const DeviceModel model =
      DeviceModel::make(owner_case(contest.model.c, settings.charge_rate), Hypothesis{}, cache);
  const std::vector<Share> shares = owner_shares(model, contest.book);
  std::vector<Option> options;
  for (const Entry& entry : entries) options.push_back(entry.option);
  const auto count = static_cast<std::size_t>(settings.futures);
  std::vector<std::vector<double>> costs(entries.size(), std::vector<double>(count));
  std::vector<std::vector<char>> cured(entries.size(), std::vector<char>(count));
  watch_futures(model, contest.book, options, fallbacks,
                {.seed = settings.seed, .futures = settings.futures, .threads = settings.threads},
                [&](int number, std::size_t o, const Tally& tally, const Future&) {
                  const auto f = static_cast<std::size_t>(number);
                  double cost = owner_cost(tally, shares);
                  if (entries[o].choice >= 0) {
                    const Payments& pay = payments[static_cast<std::size_t>(entries[o].choice)];
                    const bool works = tally.counts.cured > 0;
                    cost += works ? pay.cured : tally.counts.written_off > 0 ? pay.lost : pay.not_cured;
                    cured[o][f] = works ? 1 : 0;
                  }
                  costs[o][f] = cost;
                });

  const auto n = static_cast<double>(count);
  const auto mean = [n](const auto& values) {
    double sum = 0;
    for (const auto v : values) sum += v;
    return sum / n;
  };
  const auto least = [&](int choice) {
    std::size_t best = entries.size();
    double cost = std::numeric_limits<double>::infinity();
    for (std::size_t o = 0; o < entries.size(); ++o) {
      if (entries[o].choice != choice) continue;
      const double here = mean(costs[o]);
      if (here < cost) {
        best = o;
        cost = here;
      }
    }
    return best;
  };
  OwnerView view;
  const std::size_t instead = least(-1);
  view.instead_cost = mean(costs[instead]);
  view.instead = option_name(contest.model.c, entries[instead].option);
  for (std::size_t k = 0; k < plans.size(); ++k) {
    const std::size_t repair = least(static_cast<int>(k));
    OwnerView::Saving saving{.cure_chance = mean(cured[repair])};
    double squares = 0;
    for (std::size_t f = 0; f < count; ++f) {
      const double here = costs[instead][f] - costs[repair][f];
      saving.mean += here / n;
      saving.cheaper_share += here > 0 ? 1 / n : 0;
      squares += here * here / n;
    }
    saving.error = std::sqrt(std::max(squares - saving.mean * saving.mean, 0.0) / n);
    view.savings.push_back(saving);
    view.costs.push_back(mean(costs[repair]));
  }
  return view;
}

}  // namespace mendworth
