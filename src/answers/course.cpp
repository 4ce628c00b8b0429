#include "answers/course.hpp"

#include <algorithm>
#include <cmath>

#include "answers/settings.hpp"
#include "futures/watch.hpp"

namespace mendworth {
namespace {

constexpr int ledger_futures = 512;
constexpr std::size_t most_added = 3;  ///< of one contest

/// Runs options and writes down what each future amounts to.
std::vector<Course::Ledger> ledgers_of(const Scene& scene, const std::vector<Option>& options,
                                       const WeighSettings& settings) {
  std::vector<Course::Ledger> ledgers(options.size());
  watch_futures(scene, options,
                {.seed = settings.seed, .futures = at_most(ledger_futures, settings), .threads = 1},
                [&](int, std::size_t option, const Tally& tally, const Future&) {
                  Course::Ledger& ledger = ledgers[option];
                  for (std::size_t i = 0; i < tally.items.size(); ++i) {
                    if (tally.items[i].amount == 0.0) continue;
                    ledger.items.push_back(static_cast<int>(i));
                    ledger.amounts.push_back(tally.items[i].amount);
                  }
                  ledger.ends.push_back(ledger.items.size());
                });
  return ledgers;
}

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

std::vector<double> Course::Ledger::means(std::size_t size) const {
  std::vector<double> means(size, 0.0);
  for (std::size_t i = 0; i < items.size(); ++i) means[static_cast<std::size_t>(items[i])] += amounts[i];
  for (double& mean : means) mean /= static_cast<double>(ends.size());
  return means;
}

double Course::cost(const std::vector<double>& unit) const {
  double cost = 0;
  for (std::size_t i = 0; i < amounts.size(); ++i) cost += amounts[i] * unit[i];
  return cost;
}

std::vector<double> Course::costs(const std::vector<double>& unit) const {
  std::vector<double> costs;
  costs.reserve(ledger.ends.size());
  std::size_t i = 0;
  for (const std::size_t end : ledger.ends) {
    double cost = 0;
    for (; i < end; ++i) cost += ledger.amounts[i] * unit[static_cast<std::size_t>(ledger.items[i])];
    costs.push_back(cost);
  }
  return costs;
}

Courses Courses::of(const Contest& contest, const WeighSettings& settings) {
  Courses courses{.book = contest.book,
                  .standing_orders = contest.standing_orders,
                  .most_pieces = most_pieces_of(contest.model),
                  .list = {}};
  std::vector<Option> options;
  std::vector<std::size_t> numbers;
  for (std::size_t i = 0; i < contest.options.size(); ++i) {
    if (!contest.is_repair(i) && !contest.is_priced_replacement(i)) continue;
    options.push_back(contest.options[i]);
    numbers.push_back(i);
  }
  auto ledgers = ledgers_of(contest.scene(), options, settings);
  for (std::size_t k = 0; k < options.size(); ++k) {
    Course course{.option = options[k], .amounts = {}, .ledger = std::move(ledgers[k])};
    for (int item = 0; item < contest.items.size(); ++item)
      course.amounts.push_back(contest.ensemble.mean_amount(numbers[k], item));
    courses.list.push_back(std::make_shared<const Course>(std::move(course)));
  }
  return courses;
}

Courses Courses::with(const Contest& other, const Contest& as_is, const WeighSettings& settings) const {
  Courses more = *this;
  std::vector<std::size_t> by_cost;
  for (std::size_t i = 0; i < other.options.size(); ++i) {
    if (other.is_repair(i)) by_cost.push_back(i);
  }
  const auto means = other.mean_costs();
  std::stable_sort(by_cost.begin(), by_cost.end(),
                   [&](std::size_t a, std::size_t b) { return means[a] < means[b]; });
  by_cost.resize(std::min(by_cost.size(), most_added));
  std::vector<Option> options;
  for (const std::size_t i : by_cost) {
    Option option = other.options[i];
    int& order = option.plan.first_order;
    if (more.knows(option, order < 0 ? std::vector<OrderItem>{} : other.book.order(order).items)) continue;
    if (order >= 0) order = more.book.enter(other.book.order(order));
    options.push_back(std::move(option));
  }
  if (options.empty()) return more;
  const Items items(as_is.model.c, more.book.size());
  const Scene scene{as_is.model, items, more.book, as_is.chains};
  auto ledgers = ledgers_of(scene, options, settings);
  // Counted over some futures, and corrected by what a course that is known amounts to in these and in all.
  const auto known = std::find_if(list.begin(), list.end(), [](const auto& course) {
    return course->option.kind != OptionKind::replacement;
  });
  std::vector<double> correction;
  if (known != list.end()) {
    correction = (*known)->amounts;
    const auto counted = (*known)->ledger.means(correction.size());
    for (std::size_t i = 0; i < correction.size(); ++i) correction[i] -= counted[i];
  }
  for (std::size_t k = 0; k < options.size(); ++k) {
    auto amounts = ledgers[k].means(static_cast<std::size_t>(items.size()));
    for (std::size_t i = 0; i < correction.size(); ++i) amounts[i] += correction[i];
    more.list.push_back(std::make_shared<const Course>(
        Course{.option = options[k], .amounts = std::move(amounts), .ledger = std::move(ledgers[k])}));
  }
  return more;
}

bool Courses::knows(const Option& option, const std::vector<OrderItem>& order) const {
  return std::any_of(list.begin(), list.end(), [&](const auto& course) {
    const RepairPlan& plan = course->option.plan;
    if (course->option.kind != option.kind || !same_plan(plan, option.plan)) return false;
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
