#include "answers/purchase_answer.hpp"

#include <algorithm>

#include "model/order_answer.hpp"

namespace mendworth {
namespace {

constexpr int most_leftover_futures = 4096;

}  // namespace

PurchaseAnswer purchase_answer(const Contest& contest, std::size_t repair, const WeighSettings& settings) {
  const auto& option = contest.options[repair];
  const auto& order = contest.book.order(option.plan.first_order);
  std::vector<int> pieces(contest.model.c.parts.size(), 0);
  for (const int i : option.plan.renew_now) {
    ++pieces[static_cast<std::size_t>(contest.model.positions[static_cast<std::size_t>(i)].part)];
  }
  std::vector<int> needed;
  for (const auto& item : order.items) needed.push_back(pieces[static_cast<std::size_t>(item.part)]);

  PurchaseAnswer answer;
  answer.order = describe_order(contest.model.c, order, needed);
  answer.order.plan = option_name(contest.model.c, option);
  answer.order.charged_by_reuse = answer.order.charged_whole;
  if (answer.order.leftovers == 0) return answer;

  // The same plan on the same futures, paid for alike but with its leftovers thrown away at once.
  Option without = option;
  for (std::size_t p = 0; p < pieces.size(); ++p) without.plan.supplies[p].first_pieces = pieces[p];
  const int futures = std::min(settings.futures, most_leftover_futures);
  const auto pair = run_ensemble(
      contest.model, contest.book, {option, without}, {contest.fallbacks[repair], contest.fallbacks[repair]},
      {.seed = settings.seed, .futures = futures, .threads = settings.threads, .draw_prices = false});
  answer.order.leftover_value = pair.mean_cost(1) - pair.mean_cost(0);
  answer.order.charged_by_reuse = answer.order.charged_whole - answer.order.leftover_value;
  answer.pieces_used = (pair.tallies[0].counts.spares_used - pair.tallies[1].counts.spares_used) / futures;
  return answer;
}

}  // namespace mendworth
