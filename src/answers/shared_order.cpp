#include "mendworth/shared_order.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <numeric>
#include <stdexcept>

#include "answers/buy_baskets.hpp"
#include "answers/notes.hpp"
#include "answers/order_answer.hpp"
#include "answers/settings.hpp"
#include "answers/shared_choice.hpp"
#include "domain/adding_up.hpp"
#include "futures/parallel.hpp"
#include "mendworth/diagnostic.hpp"

namespace mendworth {
namespace {

constexpr int most_orders_asked = 1'000'000;

WeighSettings weighing_settings(const SharedOrderSettings& settings) {
  if (settings.most_orders < 1 || settings.most_orders > most_orders_asked)
    throw std::invalid_argument(fmt::format("most_orders must lie in 1..{}", most_orders_asked));
  return checked({.seed = settings.seed, .futures = settings.futures, .threads = settings.threads});
}

void check_currencies(const std::vector<Case>& cases) {
  const Device& first = cases.front().device;
  for (const Case& c : cases) {
    if (c.device.currency == first.currency && c.device.minor_digits == first.minor_digits) continue;
    throw InputError({{c.source_name, 0, 0, "device.currency",
                       fmt::format("this case is in {}, {} in {}: one order needs one currency",
                                   c.device.currency, cases.front().source_name, first.currency),
                       ""}});
  }
}

/// Where each case comes in an order of their own, whatever the one they were given in.
std::vector<std::size_t> sorted_places(const std::vector<Case>& cases) {
  std::vector<std::size_t> places(cases.size());
  std::iota(places.begin(), places.end(), std::size_t{0});
  std::stable_sort(places.begin(), places.end(), [&](std::size_t a, std::size_t b) {
    const int names = cases[a].source_name.compare(cases[b].source_name);
    return names < 0 || (names == 0 && cases[a].device.name < cases[b].device.name);
  });
  return places;
}

double misfit_of_own(const PartWish& wish, const std::vector<int>& candidates) {
  if (candidates.size() > 1) {
    for (const PartWish::Hedge& hedge : wish.hedges) {
      if (hedge.first == candidates[0] && hedge.second == candidates[1]) return hedge.misfit_cost;
    }
  }
  return wish.alone[static_cast<std::size_t>(candidates.front())].misfit_cost;
}

bool is_bought(const SharedShop::Search& search, const OrderItem& item) {
  return static_cast<std::size_t>(offer_of(search.shop, item).supplier) < search.suppliers;
}

/// What the order is to the jobs that it is for.
class Split {
 public:
  Split(const std::vector<OrderJob>& jobs, const SharedShop::Search& search, double landed,
        const Currency& currency)
      : jobs_(jobs), search_(search), basket_(search.baskets.best.front()) {
    shares_.assign(jobs.size(), 0.0);
    answers_.resize(jobs.size());
    for (std::size_t w = 0; w < search.wished.size(); ++w) add_wish(w);
    const std::vector<Money> shares = adding_up(shares_, rounded(landed, currency), currency);
    for (std::size_t j = 0; j < jobs.size(); ++j) {
      answers_[j].share = shares[j];
      answers_[j].wait_cost = answers_[j].wait_days * jobs[j].c->downtime.per_day.base();
    }
  }

  void fill(std::size_t job, SharedJob& answer) const {
    const SharedJob& own = answers_[job];
    answer.share = own.share;
    answer.taken_cost = own.taken_cost;
    answer.wait_days = own.wait_days;
    answer.wait_cost = own.wait_cost;
    answer.misfit_cost = own.misfit_cost;
    answer.leftover_worth = own.leftover_worth;
  }

 private:
  void add_wish(std::size_t w) {
    const int part = search_.wished[w].wish.part;
    double landed = 0;
    double taken = 0;
    double days = 0;
    std::vector<int> candidates;
    for (std::size_t i = 0; i < basket_.items.size(); ++i) {
      const OrderItem& item = basket_.items[i];
      if (item.part != part) continue;
      (is_bought(search_, item) ? landed : taken) +=
          landed_share(search_.shop, basket_.items, i, Parcel::with_other_goods);
      days = std::max(days, supplier_of(search_.shop, item).lead_days.base());
      if (std::find(candidates.begin(), candidates.end(), item.candidate) == candidates.end())
        candidates.push_back(item.candidate);
    }
    const SharedShop::Wanted& wanted = search_.wanted[w];
    const double pieces = search_.wished[w].wish.pieces;
    for (std::size_t i = 0; i < wanted.jobs.size(); ++i) {
      const std::size_t j = wanted.jobs[i];
      const double share = wanted.pieces[i] / pieces;
      SharedJob& answer = answers_[j];
      shares_[j] += landed * share;
      answer.taken_cost += taken * share;
      answer.wait_days = std::max(answer.wait_days, days);
      answer.leftover_worth += basket_.worth_of_wish[w] * share;
      answer.misfit_cost += misfit_of_own(own_wish(j, part), candidates);
    }
  }

  const PartWish& own_wish(std::size_t job, int part) const {
    const Part& wanted = search_.shop.parts[static_cast<std::size_t>(part)];
    const auto& wished = jobs_[job].wished;
    const auto same = std::find_if(wished.begin(), wished.end(), [&](const WishedPart& w) {
      const Part& own = jobs_[job].c->parts[static_cast<std::size_t>(w.wish.part)];
      return SharedShop::same_part(own, wanted);
    });
    return same->wish;
  }

  const std::vector<OrderJob>& jobs_;
  const SharedShop::Search& search_;
  const Basket& basket_;
  std::vector<double> shares_;
  std::vector<SharedJob> answers_;
};

SharedJob answer_of(const OrderJob& job) {
  SharedJob answer{.source_name = job.c->source_name,
                   .device = job.c->device.name,
                   .repair = job.repair,
                   .instead = job.instead,
                   .must_be = job.can_repair && job.must_repair,
                   .value = job.value,
                   .value_error = job.value_error};
  if (job.alone) {
    const double net = job.alone->net();
    answer.alone = {.landed = job.alone->cost.total, .net = net, .pays = job.must_repair || net < job.value};
  }
  return answer;
}

/// What all come to if each is decided and ordered for itself; absent: one that must be repaired cannot be.
std::optional<double> cost_apart(const std::vector<OrderJob>& jobs,
                                 const std::vector<std::size_t>& given_up) {
  double cost = 0;
  for (std::size_t j = 0; j < jobs.size(); ++j) {
    const OrderJob& job = jobs[j];
    if (!job.can_repair || std::find(given_up.begin(), given_up.end(), j) != given_up.end()) continue;
    if (job.must_repair && !job.alone) return std::nullopt;
    if (!job.alone) continue;
    const double more = job.alone->net() - job.value;
    cost += job.must_repair ? more : std::min(0.0, more);
  }
  return cost;
}

std::vector<SharedLine::For> jobs_of(const SharedShop::Search& search, int part,
                                     const std::vector<std::size_t>& place) {
  std::vector<SharedLine::For> jobs;
  for (std::size_t w = 0; w < search.wished.size(); ++w) {
    if (search.wished[w].wish.part != part) continue;
    for (std::size_t k = 0; k < search.wanted[w].jobs.size(); ++k)
      jobs.push_back({place[search.wanted[w].jobs[k]], search.wanted[w].pieces[k]});
  }
  std::sort(jobs.begin(), jobs.end(),
            [](const SharedLine::For& a, const SharedLine::For& b) { return a.job < b.job; });
  return jobs;
}

void add_taken(SharedOrder& answer, const SharedShop::Search& search, std::size_t line,
               const std::vector<std::size_t>& place, const std::vector<OrderJob>& jobs) {
  const std::vector<OrderItem>& items = search.baskets.best.front().items;
  const OrderItem& item = items[line];
  SharedTaken taken{.part = search.shop.parts[static_cast<std::size_t>(item.part)].name,
                    .candidate = candidate_of(search.shop, item).name,
                    .from = {},
                    .pieces = item.quantity,
                    .cost = landed_share(search.shop, items, line, Parcel::with_other_goods),
                    .jobs = jobs_of(search, item.part, place)};
  const std::size_t source =
      static_cast<std::size_t>(offer_of(search.shop, item).supplier) - search.suppliers;
  if (source < search.stripped.size()) {
    const std::size_t device = search.stripped[source];
    taken.from = place[device];
    answer.jobs[place[device]].stripped = true;
    answer.jobs[place[device]].instead = jobs[device].stripping->replaced_by;
  }
  answer.taken_cost += taken.cost;
  answer.taken.push_back(std::move(taken));
}

/// Lines and pieces taken, and what they come to; gives the cost of what is ordered.
double add_lines(SharedOrder& answer, const SharedShop::Search& search, const Case& shop,
                 const std::vector<std::size_t>& place, const std::vector<OrderJob>& jobs) {
  const Basket& basket = search.baskets.best.front();
  const std::vector<int> needed = pieces_needed(basket, search.wished);
  Order order;
  std::vector<int> needed_of_order;
  for (std::size_t i = 0; i < basket.items.size(); ++i) {
    if (is_bought(search, basket.items[i])) {
      order.items.push_back(basket.items[i]);
      needed_of_order.push_back(needed[i]);
    } else {
      add_taken(answer, search, i, place, jobs);
    }
  }
  if (const auto cost = landed_cost(search.shop, order.items, Parcel::with_other_goods)) order.cost = *cost;
  answer.order = describe_order(shop, order, needed_of_order);  // other quantities: those on sale
  answer.order.fits.clear();                                    // each device has been measured for itself
  answer.order.leftover_value = basket.leftover_worth;
  answer.order.charged_by_reuse = answer.order.charged_whole - basket.leftover_worth;
  answer.wait_cost = basket.wait_cost;
  answer.misfit_cost = basket.misfit_cost;
  answer.net = basket.net();
  for (std::size_t i = 0; i < order.items.size(); ++i)
    answer.lines.push_back({answer.order.lines[i], jobs_of(search, order.items[i].part, place)});
  return order.cost.total;
}

/// Each job by itself; many jobs are done beside each other, few with many threads each.
void fill_in(std::vector<OrderJob>& jobs, const RateBook& rates, const WeighSettings& weighing) {
  ModelCache cache;
  const int count = static_cast<int>(jobs.size());
  const bool apart = count >= 2 * weighing.threads;
  WeighSettings of_one = weighing;
  if (apart) of_one.threads = 1;
  for_each_parallel(count, apart ? weighing.threads : 1, [&](int, int j) {
    OrderJob& job = jobs[static_cast<std::size_t>(j)];
    job = order_job(*job.c, rates, of_one, cache);
  });
}

void add_cautions(SharedOrder& answer, const Case& c, const RateBook& rates) {
  for (Weighing::Caution& caution : cautions_of(c, rates)) {
    const bool known =
        std::any_of(answer.cautions.begin(), answer.cautions.end(),
                    [&](const Weighing::Caution& other) { return other.hazard == caution.hazard; });
    if (!known) answer.cautions.push_back(std::move(caution));
  }
}

}  // namespace

SharedOrder shared_order(const std::vector<Case>& cases, const RateBook& rates,
                         const SharedOrderSettings& wanted) {
  if (cases.empty()) throw std::invalid_argument("a shared order needs a case");
  for (const Case& c : cases) check(c);
  const WeighSettings weighing = weighing_settings(wanted);
  check_currencies(cases);
  SharedOrder answer;
  answer.settings = wanted;
  answer.settings.threads = weighing.threads;
  answer.currency = cases.front().device.currency;
  answer.minor_digits = cases.front().device.minor_digits;
  const Currency currency{answer.currency, answer.minor_digits};

  const std::vector<std::size_t> place = sorted_places(cases);
  std::vector<OrderJob> jobs;
  for (const std::size_t given : place) jobs.emplace_back().c = &cases[given];
  const SharedShop terms(jobs);  // contradictions are said before the work begins
  fill_in(jobs, rates, weighing);
  const SharedShop shop(jobs);
  const SharedChoice choice = choose_repairs(jobs, shop, wanted.most_orders);

  answer.jobs.resize(cases.size());
  for (std::size_t j = 0; j < jobs.size(); ++j) answer.jobs[place[j]] = answer_of(jobs[j]);
  answer.notes = shop.notes();
  for (const std::size_t j : choice.given_up) {
    answer.notes.push_back(fmt::format("{}: the pieces cannot be had, alone or in one order with the others.",
                                       cases[place[j]].source_name));
  }
  answer.proved = choice.proved;
  answer.gap = choice.cost - choice.bound;
  if (!choice.search.baskets.best.empty()) {
    const double landed = add_lines(answer, choice.search, shop.shop(), place, jobs);
    const Split split(jobs, choice.search, landed, currency);
    for (std::size_t j = 0; j < jobs.size(); ++j) {
      if (choice.chosen[j] == 0) continue;
      SharedJob& job = answer.jobs[place[j]];
      job.repaired = true;
      split.fill(j, job);
      std::vector<char> others = choice.chosen;
      others[j] = 0;
      const SharedShop::Search without = shop.search(others, effort_of_one_set(jobs.size()));
      if (without.wished.empty()) {
        job.adds = choice.search.baskets.best.front().net();
      } else if (!without.baskets.best.empty()) {
        job.adds = choice.search.baskets.best.front().net() - without.baskets.best.front().net();
      }
    }
  }
  if (const auto apart = cost_apart(jobs, choice.given_up)) answer.together_saves = *apart - choice.cost;
  for (const SharedJob& job : answer.jobs) {
    const auto at = static_cast<std::size_t>(&job - answer.jobs.data());
    if (job.repaired) add_cautions(answer, cases[at], rates);
  }
  return answer;
}

}  // namespace mendworth
