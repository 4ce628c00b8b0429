#include "answers/course.hpp"

#include <algorithm>
#include <utility>

namespace mendworth {
namespace {

constexpr std::size_t most_added = 3;  ///< of one contest

bool same_supply(const Supply& a, const Supply& b) {
  return a.candidate == b.candidate && a.first_pieces == b.first_pieces &&
         a.hedge_candidate == b.hedge_candidate && a.hedge_pieces == b.hedge_pieces && a.trial == b.trial;
}

/// Whether two plans of one book do the same, their orders being equal.
bool same_plan(const RepairPlan& a, const RepairPlan& b) {
  return a.renew_now == b.renew_now && a.mates_later == b.mates_later && a.rule.limit == b.rule.limit &&
         a.rule.spans == b.rule.spans &&
         std::equal(a.supplies.begin(), a.supplies.end(), b.supplies.begin(), b.supplies.end(), same_supply);
}

}  // namespace

Course::Course(const Contest& as_is, Option option, OrderBook book, std::uint64_t seed,
               std::map<int, Amounts> known)
    : as_is_(as_is),
      option_(std::move(option)),
      book_(std::move(book)),
      items_(as_is.model.c, book_.size()),
      seed_(seed),
      known_(std::move(known)) {}

const Amounts& Course::amounts(int futures) const {
  const std::lock_guard<std::mutex> lock(counting_);
  return counted(futures);
}

const Amounts& Course::counted(int futures) const {
  if (const auto known = known_.find(futures); known != known_.end()) return known->second;
  // Numbers of futures double, and each is counted on from the one before.
  const int half = futures / 2;
  const bool goes_on = futures % 2 == 0 && half >= as_is_.first_futures();
  Amounts sum = goes_on ? counted(half) : Amounts{};
  const Ensemble more = run_ensemble({as_is_.model, items_, book_, as_is_.chains}, {option_},
                                     {.seed = seed_,
                                      .futures = futures,
                                      .from = goes_on ? half : 0,
                                      .keep_amounts = true,
                                      .draw_prices = false});
  sum.add(more.amounts.front());
  return known_.emplace(futures, std::move(sum)).first->second;
}

Courses Courses::of(const Contest& contest, std::uint64_t seed) {
  Courses courses{.book = contest.book,
                  .standing_orders = contest.standing_orders,
                  .most_pieces = most_pieces_of(contest.model),
                  .list = {}};
  for (std::size_t i = 0; i < contest.options.size(); ++i) {
    if (!contest.is_repair(i) && !contest.is_priced_replacement(i)) continue;
    courses.list.push_back(std::make_shared<const Course>(
        contest, contest.options[i], contest.book, seed,
        std::map{std::pair{contest.first_futures(), contest.first_amounts[i]},
                 std::pair{contest.ensemble.futures, contest.ensemble.amounts[i]}}));
  }
  return courses;
}

Courses Courses::with(const Contest& other, const Contest& as_is, std::uint64_t seed) const {
  Courses more = *this;
  std::vector<std::size_t> by_cost;
  for (std::size_t i = 0; i < other.options.size(); ++i) {
    if (other.is_repair(i)) by_cost.push_back(i);
  }
  const auto means = other.mean_costs();
  std::stable_sort(by_cost.begin(), by_cost.end(),
                   [&](std::size_t a, std::size_t b) { return means[a] < means[b]; });
  by_cost.resize(std::min(by_cost.size(), most_added));
  for (const std::size_t i : by_cost) {
    const MeanError behind = mean_difference(other.ensemble.costs[i], other.ensemble.costs[by_cost.front()]);
    if (behind.mean > surely_dearer * behind.error) break;
    Option option = other.options[i];
    int& order = option.plan.first_order;
    if (more.knows(option, order < 0 ? std::vector<OrderItem>{} : other.book.order(order).items)) continue;
    if (order >= 0) order = more.book.enter(other.book.order(order));
    more.list.push_back(std::make_shared<const Course>(as_is, std::move(option), more.book, seed));
  }
  return more;
}

bool Courses::knows(const Option& option, const std::vector<OrderItem>& order) const {
  return std::any_of(list.begin(), list.end(), [&](const auto& course) {
    const RepairPlan& plan = course->option().plan;
    if (course->option().kind != option.kind || !same_plan(plan, option.plan)) return false;
    if (plan.first_order < 0) return order.empty();
    return book.order(plan.first_order).items == order;
  });
}

std::optional<OrderBook> Courses::book_at(const Case& c) const {
  OrderBook anew(c, most_pieces);
  if (anew.size() != standing_orders) return std::nullopt;
  for (int kind = standing_orders; kind < book.size(); ++kind) anew.enter(book.order(kind));
  return anew;
}

}  // namespace mendworth
