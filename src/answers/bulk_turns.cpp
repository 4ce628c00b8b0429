#include "answers/bulk_turns.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <set>
#include <utility>

#include "answers/bulk_scenario.hpp"

namespace mendworth {
namespace {

constexpr double reach_of_turns = 8;  ///< times today's value, or that part of it
constexpr int steps_to_reach = 12;    ///< a change there and back within one of them is not seen
constexpr double turn_width = 1e-6;   ///< of the value, between the purchase of today and the next
constexpr int digits_of_turn = 4;

/// A number that is turned, by a factor.
struct TurnedNumber {
  std::string key, label;
  double now = 0;
  bool whole = false;  ///< takes whole numbers alone
  std::function<BulkBest(double factor)> best_at;
};

/// Away from `now`, to so many digits that it can be told.
double rounded_away(double value, double now) {
  const double step = std::pow(10.0, std::floor(std::log10(value)) + 1 - digits_of_turn);
  return (value > now ? std::ceil(value / step) : std::floor(value / step)) * step;
}

/// The nearest turn upwards or downwards.
std::optional<BulkTurn> turn_of(const TurnedNumber& number, const BulkBest& today, bool upwards) {
  const double step = std::pow(reach_of_turns, (upwards ? 1.0 : -1.0) / steps_to_reach);
  const auto value_at = [&](double factor) {
    const double value = number.now * factor;
    return number.whole ? std::max(1.0, upwards ? std::ceil(value) : std::floor(value)) : value;
  };
  double same = 1;
  std::optional<double> other;
  BulkBest best;
  double factor = 1;
  for (int i = 0; i < steps_to_reach && !other; ++i) {
    factor *= step;
    const double at = value_at(factor) / number.now;
    if (at == same) continue;
    best = number.best_at(at);
    (best == today ? same : other.emplace()) = at;
  }
  if (!other) return std::nullopt;
  const double width = number.whole ? 1 / number.now * 1.001 : turn_width * same;
  while (std::abs(*other - same) > width) {
    double middle = (same + *other) / 2;
    if (number.whole) middle = std::round(middle * number.now) / number.now;
    const BulkBest there = number.best_at(middle);
    if (there == today) {
      same = middle;
    } else {
      *other = middle;
      best = there;
    }
  }
  BulkTurn turn;
  turn.key = number.key;
  turn.label = number.label;
  turn.now = number.now;
  turn.at = *other * number.now;
  if (number.whole) {
    turn.at = std::round(turn.at);
  } else if (const double round = rounded_away(turn.at, turn.now);
             number.best_at(round / number.now) == best) {
    turn.at = round;
  }
  turn.best = std::move(best);
  return turn;
}

/// The numbers that the purchase of one part may turn on.
class NumbersToTurn {
 public:
  NumbersToTurn(const Case& c, const BulkSettings& settings, const Wants& wants, std::size_t part)
      : c_(c), settings_(settings), wants_(wants), part_(part) {
    settings_.quantities.clear();
    settings_.until.reset();
  }

  [[nodiscard]] std::vector<TurnedNumber> all() const {
    std::vector<TurnedNumber> numbers;
    for (const std::size_t s : suppliers()) {
      const Supplier& supplier = c_.suppliers[s];
      if (supplier.currency != c_.device.currency) {
        numbers.push_back(of_case(fmt::format("supplier.{}.exchange_rate", s + 1),
                                  "exchange rate of " + supplier.currency, supplier.exchange_rate.base(),
                                  [s](Case& c, double factor) {
                                    Quantity& rate = c.suppliers[s].exchange_rate;
                                    rate = rate.scaled(factor);
                                  }));
      }
      const auto paid = std::find_if(supplier.shipping.begin(), supplier.shipping.end(),
                                     [](const ShippingTier& tier) { return tier.price.base() > 0; });
      if (paid == supplier.shipping.end()) continue;
      numbers.push_back(of_case(fmt::format("supplier.{}.shipping", s + 1),
                                fmt::format("shipping of {}, {}", supplier.name, supplier.currency),
                                paid->price.base(), [s](Case& c, double factor) {
                                  for (ShippingTier& tier : c.suppliers[s].shipping)
                                    tier.price = tier.price.scaled(factor);
                                }));
    }
    const Quantity& shelf = c_.parts[part_].shelf_life_years;
    numbers.push_back(of_case(fmt::format("part.{}.shelf_life_years", part_ + 1), "shelf life, years",
                              shelf.base(), [p = part_](Case& c, double factor) {
                                c.parts[p].shelf_life_years = c.parts[p].shelf_life_years.scaled(factor);
                              }));
    if (auto demand = demand_number()) numbers.push_back(std::move(*demand));
    return numbers;
  }

 private:
  /// Those that sell the part, be it by the case or by a quotation, which may come from one of the case's as well.
  [[nodiscard]] std::set<std::size_t> suppliers() const {
    std::set<std::size_t> suppliers;
    for (const Candidate& candidate : c_.parts[part_].candidates) {
      for (const Offer& offer : candidate.offers) suppliers.insert(static_cast<std::size_t>(offer.supplier));
      for (const QuotedLadder& quoted : settings_.quotations) {
        if (quoted.candidate != candidate.name) continue;
        for (std::size_t s = 0; s < c_.suppliers.size(); ++s) {
          if (c_.suppliers[s].name == quoted.supplier) suppliers.insert(s);
        }
      }
    }
    return suppliers;
  }

  [[nodiscard]] TurnedNumber of_case(std::string key, std::string label, double now,
                                     std::function<void(Case&, double)> turn) const {
    return {.key = std::move(key),
            .label = std::move(label),
            .now = now,
            .best_at = [this, turn = std::move(turn)](double factor) {
              Case changed = c_;
              turn(changed, factor);
              return best_with(changed, wants_);
            }};
  }

  [[nodiscard]] std::optional<TurnedNumber> demand_number() const {
    if (!wants_.turned()) return std::nullopt;
    const Wants::Turned turned = *wants_.turned();
    return TurnedNumber{.key = turned.key,
                        .label = turned.label,
                        .now = turned.now,
                        .whole = turned.whole,
                        .best_at = [this](double factor) { return best_with(c_, *wants_.scaled(factor)); }};
  }

  [[nodiscard]] BulkBest best_with(const Case& c, const Wants& wants) const {
    const BulkScenario scenario = purchases_of(c, settings_, wants, part_);
    return scenario.choices.empty() ? BulkBest{} : best_of(scenario, scenario.choices.front());
  }

  const Case& c_;
  BulkSettings settings_;
  const Wants& wants_;
  std::size_t part_;
};

}  // namespace

BulkBest best_of(const BulkScenario& scenario, const BulkChoice& choice) {
  const BulkLadder& ladder = scenario.ladders[choice.ladder];
  BulkBest best;
  best.candidate = ladder.candidate;
  best.quotation = ladder.quotation;
  best.again = choice.again;
  best.quantity = choice.again ? ladder.repeated->quantity : ladder.best.quantity;
  for (const BulkLine& line : choice.again ? ladder.repeated->lines : ladder.best.lines)
    best.lines.push_back({line.supplier, line.quantity});
  return best;
}

void add_turns(BulkScenario& scenario, const Case& c, const BulkSettings& settings, const Wants& wants) {
  for (const BulkChoice& choice : scenario.choices) {
    const auto part =
        std::find_if(c.parts.begin(), c.parts.end(), [&](const Part& p) { return p.name == choice.part; });
    const BulkBest today = best_of(scenario, choice);
    const NumbersToTurn numbers(c, settings, wants, static_cast<std::size_t>(part - c.parts.begin()));
    for (const TurnedNumber& number : numbers.all()) {
      for (const bool upwards : {false, true}) {
        auto turn = turn_of(number, today, upwards);
        if (!turn) continue;
        turn->part = choice.part;
        scenario.turns.push_back(std::move(*turn));
      }
    }
  }
}

}  // namespace mendworth
