#pragma once

#include <cmath>
#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include "model/basket.hpp"

/// Random problems of a bench's size for best_baskets: six parts, four candidates each, five suppliers, eight price
/// breaks, hedges of all pairs in both orders, leftovers of use.
namespace mendworth::bench {

struct BasketProblem {
  Case c;
  std::vector<PartWish> wishes;
  double day_cost = 0;
};

inline BasketProblem random_basket_problem(std::uint64_t number) {
  constexpr int kParts = 6;
  constexpr int kCandidates = 4;
  constexpr int kSuppliers = 5;
  constexpr int kBreaks = 8;
  std::mt19937_64 engine(number);
  const auto between = [&engine](double low, double high) {
    return low + (high - low) * static_cast<double>(engine() >> 11) * 0x1p-53;
  };
  const auto cents = [&](double low, double high) { return std::round(100 * between(low, high)) / 100; };
  const auto exactly = [](double value) { return Quantity::exactly(value); };

  BasketProblem problem;
  for (int s = 0; s < kSuppliers; ++s) {
    Supplier supplier;
    supplier.name = "S" + std::to_string(s);
    supplier.exchange_rate = exactly(s < 3 ? 1.0 : between(0.8, 1.2));
    supplier.exchange_fee = exactly(s < 3 ? 0.0 : 0.02);
    supplier.tax = exactly(0.2);
    supplier.shipping = {
        {0, exactly(cents(4, 12))}, {cents(20, 40), exactly(cents(1, 4))}, {cents(45, 90), exactly(0)}};
    supplier.low_order_below = exactly(cents(0, 15));
    supplier.low_order_fee = exactly(cents(2, 5));
    supplier.duty = exactly(s < 3 ? 0.0 : 0.05);
    supplier.duty_free_up_to = exactly(s < 3 ? 1e9 : cents(20, 150));
    supplier.customs_fee = exactly(s < 3 ? 0.0 : 6.0);
    supplier.lead_days = exactly(std::round(between(1, 20)));
    supplier.other_goods = s % 2 == 0 ? cents(0, 30) : 0.0;
    problem.c.suppliers.push_back(supplier);
  }
  const auto curve = [&](double first, double keep) {
    WorthCurve worth{0};
    for (int k = 0; k < 20; ++k) worth.push_back(worth.back() + first * std::pow(keep, k));
    return worth;
  };
  for (int p = 0; p < kParts; ++p) {
    Part part;
    PartWish wish;
    wish.part = p;
    wish.pieces = 1 + static_cast<int>(engine() % 6);
    const double price = between(0.3, 6);
    for (int k = 0; k < kCandidates; ++k) {
      Candidate candidate;
      const double own = price * between(0.7, 1.5);
      for (int s = 0; s < kSuppliers; ++s) {
        Offer offer;
        offer.supplier = s;
        double each = own * between(0.8, 1.25);
        int from = 1;
        for (int b = 0; b < kBreaks; ++b) {
          offer.prices.push_back({from, exactly(each)});
          from += 1 + static_cast<int>(engine() % 9);
          each *= between(0.88, 0.98);
        }
        if (engine() % 4 == 0) offer.multiple = 5;
        candidate.offers.push_back(offer);
      }
      part.candidates.push_back(candidate);
      const double used = between(0.5, 1);
      wish.alone.push_back({(1 - used) * between(8, 25), used,
                            curve(price * between(0.2, 0.8), between(0.6, 0.9)),
                            curve(price * between(0.1, 0.4), between(0.6, 0.9))});
    }
    for (int first = 0; first < kCandidates; ++first) {
      for (int second = 0; second < kCandidates; ++second) {
        if (first == second) continue;
        const double one = wish.alone[static_cast<std::size_t>(first)].used_chance;
        const double two = (1 - one) * wish.alone[static_cast<std::size_t>(second)].used_chance;
        wish.hedges.push_back({first, second, (1 - one) * 2 + (1 - one - two) * 20, one, two});
      }
    }
    problem.c.parts.push_back(part);
    problem.wishes.push_back(wish);
  }
  problem.day_cost = between(0, 1) < 0.5 ? 0.0 : between(0.1, 1.5);
  return problem;
}

}  // namespace mendworth::bench
