#include "answers/buy_baskets.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>

#include "answers/order_answer.hpp"

namespace mendworth {
namespace {

// Searches beside the first, which only compare.
constexpr std::int64_t most_side_steps = most_basket_steps / 20;

std::vector<PartWish> wishes_of(const std::vector<WishedPart>& wished) {
  std::vector<PartWish> wishes;
  for (const auto& part : wished) wishes.push_back(part.wish);
  return wishes;
}

BasketAnswer answer_of(const Case& c, const Basket& basket, const std::vector<WishedPart>& wished,
                       double least_net) {
  const Order order{basket.items, basket.cost};
  BasketAnswer answer;
  answer.lines = describe_order(c, order, pieces_needed(basket, wished)).lines;
  answer.landed = basket.cost.total;
  answer.wait_days = basket.cost.wait_days;
  answer.wait_cost = basket.wait_cost;
  answer.misfit_cost = basket.misfit_cost;
  answer.leftover_worth = basket.leftover_worth;
  answer.net = basket.net();
  answer.more = basket.net() - least_net;
  return answer;
}

/// Days of waiting that some basket may come to.
std::vector<double> waits_of(const Case& c) {
  std::vector<double> waits;
  for (const auto& supplier : c.suppliers) waits.push_back(supplier.lead_days.base());
  std::sort(waits.begin(), waits.end());
  waits.erase(std::unique(waits.begin(), waits.end()), waits.end());
  return waits;
}

void answer_faster(Buying& b, const Case& c, const std::vector<PartWish>& wishes,
                   const std::vector<WishedPart>& wished, const Basket& best) {
  const double day = c.downtime.per_day.base();
  const auto without_waiting = [](const Basket& basket) { return basket.net() - basket.wait_cost; };
  double last_wait = -1;
  for (const double wait : waits_of(c)) {
    if (wait >= best.cost.wait_days) return;
    const auto search =
        best_baskets(c, wishes, day, {.most_wait_days = wait, .most_steps = most_side_steps}, 1);
    if (search.best.empty() || search.best.front().cost.wait_days <= last_wait) continue;
    const Basket& fast = search.best.front();
    last_wait = fast.cost.wait_days;
    const double saved = best.cost.wait_days - fast.cost.wait_days;
    b.faster.push_back({.basket = answer_of(c, fast, wished, best.net()),
                        .days_saved = saved,
                        .cost_per_day = (without_waiting(fast) - without_waiting(best)) / saved});
  }
}

/// The best basket in which one part is bought alone, or with a hedge of which a given candidate is tried first.
std::optional<Basket> best_with(const Case& c, std::vector<PartWish> wishes, std::size_t part,
                                std::optional<int> hedged) {
  PartWish& wish = wishes[part];
  if (hedged) {
    for (auto& alone : wish.alone) alone.misfit_cost = std::numeric_limits<double>::infinity();
    std::erase_if(wish.hedges, [&](const PartWish::Hedge& hedge) { return hedge.first != *hedged; });
  } else {
    wish.hedges.clear();
  }
  auto search = best_baskets(c, wishes, c.downtime.per_day.base(), {.most_steps = most_side_steps}, 1);
  if (search.best.empty()) return std::nullopt;
  return std::move(search.best.front());
}

std::vector<int> candidates_of(const Basket& basket, int part) {
  std::vector<int> candidates;
  for (const auto& item : basket.items) {
    if (item.part != part) continue;
    if (candidates.empty() || candidates.back() != item.candidate) candidates.push_back(item.candidate);
  }
  return candidates;
}

double misfit_of(const PartWish& wish, const std::vector<int>& candidates) {
  if (candidates.size() < 2) return wish.alone[static_cast<std::size_t>(candidates.front())].misfit_cost;
  for (const auto& hedge : wish.hedges) {
    if (hedge.first == candidates[0] && hedge.second == candidates[1]) return hedge.misfit_cost;
  }
  return 0;
}

}  // namespace

std::vector<int> pieces_needed(const Basket& basket, const std::vector<WishedPart>& wished) {
  return pieces_needed(basket.items, [&](int part, int) {
    return std::find_if(wished.begin(), wished.end(),
                        [&](const WishedPart& w) { return w.wish.part == part; })
        ->wish.pieces;
  });
}

std::optional<Basket> answer_baskets(Buying& b, const Case& c, const std::vector<WishedPart>& wished) {
  const std::vector<PartWish> wishes = wishes_of(wished);
  const double day = c.downtime.per_day.base();
  const auto search = best_baskets(c, wishes, day, {}, b.settings.baskets);
  if (search.best.empty()) {
    b.notes.push_back("No basket has all the pieces: some part is not sold in the quantity that is needed.");
    return std::nullopt;
  }
  const Basket& best = search.best.front();
  b.proved = search.proved;
  b.bound = search.proved ? best.net() : search.bound;
  for (const auto& basket : search.best) b.baskets.push_back(answer_of(c, basket, wished, best.net()));

  std::optional<Basket> single;
  for (int s = 0; s < static_cast<int>(c.suppliers.size()); ++s) {
    auto one = best_baskets(c, wishes, day, {.only_supplier = s, .most_steps = most_side_steps}, 1);
    if (one.best.empty() || (single && one.best.front().net() >= single->net())) continue;
    single = std::move(one.best.front());
  }
  if (single) b.one_supplier = answer_of(c, *single, wished, best.net());
  answer_faster(b, c, wishes, wished, best);
  return best;
}

void answer_fit(Buying& b, const Case& c, const std::vector<WishedPart>& wished, const Basket& best) {
  const std::vector<PartWish> wishes = wishes_of(wished);
  for (std::size_t i = 0; i < wished.size(); ++i) {
    const PartWish& wish = wished[i].wish;
    const Part& part = c.parts[static_cast<std::size_t>(wish.part)];
    const auto doubtful = [](const PartWish::Alone& alone) { return alone.used_chance < 1.0; };
    if (std::none_of(wish.alone.begin(), wish.alone.end(), doubtful)) continue;

    const std::vector<int> bought = candidates_of(best, wish.part);
    TryOrder tries{.part = part.name};
    unsigned set = 0;
    for (const int k : wished[i].misfit.order_after(bought)) {
      const double before = wished[i].misfit.none(set);
      set |= 1U << static_cast<unsigned>(k);
      tries.candidates.push_back(part.candidates[static_cast<std::size_t>(k)].name);
      tries.fits.push_back(before - wished[i].misfit.none(set));
    }
    b.tries.push_back(std::move(tries));

    const bool pays = bought.size() > 1;
    const std::optional<Basket> without = pays ? best_with(c, wishes, i, std::nullopt) : best;
    if (!without) continue;
    const int alone = candidates_of(*without, wish.part).front();
    const std::optional<Basket> with = pays ? best : best_with(c, wishes, i, alone);
    if (!with) continue;
    const std::vector<int> both = candidates_of(*with, wish.part);
    HedgeChoice hedge{.part = part.name,
                      .first = part.candidates[static_cast<std::size_t>(both[0])].name,
                      .second = part.candidates[static_cast<std::size_t>(both[1])].name,
                      .alone = part.candidates[static_cast<std::size_t>(alone)].name};
    hedge.misfit_chance = 1.0 - wish.alone[static_cast<std::size_t>(alone)].used_chance;
    hedge.saves = misfit_of(wish, {alone}) - misfit_of(wish, both);
    hedge.costs = with->net() - without->net() + hedge.saves;
    hedge.pays = pays;
    // Tried before the other, the one bought alone has a misfit cost in proportion to its misfit chance, hedged or not.
    if (alone == both[0] || alone == both[1]) {
      const double saves = misfit_of(wish, {alone}) - misfit_of(wish, {alone, both[0] + both[1] - alone});
      const double from = hedge.misfit_chance * std::max(0.0, hedge.costs) / saves;
      if (saves > 0 && from <= 1.0) hedge.pays_from = from;
    }
    b.hedges.push_back(std::move(hedge));
  }
}

}  // namespace mendworth
