#pragma once

#include <cmath>
#include <cstdint>
#include <random>
#include <sstream>
#include <string>
#include <vector>

#include "model/basket.hpp"
#include "support/case_builder.hpp"

/// Small random problems for best_baskets with everything that an order may meet.
namespace mendworth::test {

class Dice {
 public:
  explicit Dice(std::uint64_t seed) : engine_(seed) {}
  int whole(int low, int high) {
    return low + static_cast<int>(engine_() % static_cast<std::uint64_t>(high - low + 1));
  }
  double money(double low, double high) {  // in cents
    return whole(static_cast<int>(std::lround(low * 100)), static_cast<int>(std::lround(high * 100))) / 100.0;
  }
  bool chance(int percent) { return whole(1, 100) <= percent; }

 private:
  std::mt19937_64 engine_;
};

enum class Shipping { flat, tiers };

/// Of at most three parts, with stocks of at most eight pieces.
struct Problem {
  Case c;
  std::vector<PartWish> wishes;
  double day_cost = 0;
  BasketLimits limits;
};

inline Supplier random_supplier(Dice& dice, int number, Shipping shipping) {
  Supplier s = supplier("S" + std::to_string(number), {{0, dice.money(0, 8)}});
  s.lead_days = exactly(dice.whole(1, 20));
  s.exchange_rate = exactly(dice.chance(60) ? 1.0 : dice.money(0.5, 1.6));
  s.exchange_fee = exactly(dice.chance(60) ? 0.0 : 0.02);
  s.tax = exactly(dice.chance(40) ? 0.0 : 0.20);
  s.other_goods = dice.chance(30) ? dice.money(1, 30) : 0.0;
  if (dice.chance(40)) {
    s.duty = exactly(0.05);
    s.duty_free_up_to = exactly(dice.money(0, 30));
    s.duty_on_shipping = dice.chance(50);
    s.customs_fee = exactly(dice.money(0, 6));
  }
  if (shipping == Shipping::tiers) {
    const double first = dice.whole(5, 15);
    const double second = first + dice.whole(1, 20);
    // Later tiers may be dearer, too.
    if (dice.chance(60)) s.shipping = tiers({{0, dice.money(3, 9)}, {first, dice.money(1, 7)}, {second, 0}});
    s.low_order_below = exactly(dice.chance(40) ? dice.whole(3, 20) : 0.0);
    s.low_order_fee = exactly(dice.money(1, 6));
    s.refuses_low_orders = dice.chance(30);
    if (dice.chance(15)) s.duty_free_up_to = exactly(second);
  }
  return s;
}

inline Offer random_offer(Dice& dice, int supplier, int most_stock) {
  double price = dice.chance(50) ? dice.whole(0, 6) : dice.money(0.20, 6);
  Offer offer = mendworth::test::offer(supplier, {{1, price}});
  int from = 1;
  for (int k = dice.whole(0, 2); k > 0; --k) {
    PriceBreak next;
    next.from = from += dice.whole(1, 3);
    next.each = exactly(price *= dice.chance(50) ? 0.85 : 0.5);
    offer.prices.push_back(next);
  }
  if (dice.chance(20)) offer.least = dice.whole(1, 3);
  if (dice.chance(20)) offer.multiple = dice.whole(1, 3);
  offer.stock = dice.whole(1, most_stock);
  if (dice.chance(20)) offer.line_fee = exactly(dice.money(0.5, 3));
  return offer;
}

inline WorthCurve random_curve(Dice& dice) {
  if (dice.chance(25)) return {};
  WorthCurve curve{0};
  double step = dice.money(0, 4);
  for (int k = dice.whole(0, 6); k > 0; --k) {
    curve.push_back(curve.back() + step);
    step *= dice.money(0.3, 1);
  }
  return curve;
}

inline Problem random_problem(Dice& dice, Shipping shipping) {
  Problem problem;
  Case& c = problem.c = minimal_case();
  c.suppliers.clear();
  c.parts.clear();
  const int suppliers = dice.whole(1, 3);
  for (int s = 0; s < suppliers; ++s) c.suppliers.push_back(random_supplier(dice, s, shipping));
  const int parts = dice.whole(1, 3);
  const int most_stock = parts == 1 ? 8 : parts == 2 ? 6 : 3;
  for (int p = 0; p < parts; ++p) {
    std::vector<Candidate> candidates;
    for (int k = dice.whole(1, parts == 3 ? 2 : 3); k > 0; --k) {
      std::vector<Offer> offers;
      for (int n = dice.whole(1, parts == 3 ? 2 : 3); n > 0; --n)
        offers.push_back(random_offer(dice, dice.whole(0, suppliers - 1), most_stock));
      candidates.push_back(candidate("C", offers));
    }
    PartWish wish;
    wish.part = p;
    wish.pieces = dice.whole(1, most_stock);
    const int count = static_cast<int>(candidates.size());
    for (int k = 0; k < count; ++k) {
      const double used = dice.chance(40) ? 1.0 : dice.money(0.3, 1);
      wish.alone.push_back(
          {dice.chance(40) ? 0.0 : dice.money(0, 9), used, random_curve(dice), random_curve(dice)});
    }
    for (int first = 0; first < count; ++first) {
      for (int second = 0; second < count; ++second) {
        if (first == second || !dice.chance(60)) continue;
        const double used = wish.alone[static_cast<std::size_t>(first)].used_chance;
        wish.hedges.push_back({first, second, dice.money(0, 2), used, (1 - used) * dice.money(0, 1)});
      }
    }
    problem.wishes.push_back(wish);
    c.parts.push_back(part("P", candidates));
  }
  if (dice.chance(30)) problem.limits.parcel = Parcel::alone;
  problem.day_cost = dice.chance(50) ? 0.0 : dice.money(0.05, 1);
  if (dice.chance(10)) problem.limits.only_supplier = dice.whole(0, suppliers - 1);
  if (dice.chance(10)) problem.limits.most_wait_days = dice.whole(5, 20);
  return problem;
}

inline std::string describe(const Problem& problem) {
  std::ostringstream out;
  out.precision(17);
  for (const Supplier& s : problem.c.suppliers) {
    out << s.name << ": rate " << s.exchange_rate.base() << " fee " << s.exchange_fee.base() << " tax "
        << s.tax.base() << " duty " << s.duty.base() << " free to " << s.duty_free_up_to.base()
        << " on shipping " << s.duty_on_shipping << " handling " << s.customs_fee.base() << " low below "
        << s.low_order_below.base() << " fee " << s.low_order_fee.base() << " refuses "
        << s.refuses_low_orders << " other " << s.other_goods << " days " << s.lead_days.base()
        << " shipping";
    for (const ShippingTier& t : s.shipping) out << " " << t.goods_from << ":" << t.price.base();
    out << "\n";
  }
  const auto curve = [&](const WorthCurve& worth) {
    out << " [";
    for (const double w : worth) out << w << " ";
    out << "]";
  };
  for (const PartWish& wish : problem.wishes) {
    out << "part " << wish.part << " pieces " << wish.pieces << "\n";
    for (std::size_t k = 0; k < wish.alone.size(); ++k) {
      out << "  candidate " << k << " misfit " << wish.alone[k].misfit_cost << " used "
          << wish.alone[k].used_chance;
      curve(wish.alone[k].left_if_used);
      curve(wish.alone[k].left_if_wrong);
      out << "\n";
      for (const Offer& o : problem.c.parts[static_cast<std::size_t>(wish.part)].candidates[k].offers) {
        out << "    at S" << o.supplier << ": least " << o.least << " multiple " << o.multiple << " stock "
            << o.stock.value_or(-1) << " line fee " << o.line_fee.base() << " prices";
        for (const PriceBreak& b : o.prices) out << " " << b.from << ":" << b.each.base();
        out << "\n";
      }
    }
    for (const PartWish::Hedge& h : wish.hedges) {
      out << "  hedge " << h.first << " " << h.second << " misfit " << h.misfit_cost << " used "
          << h.first_used << " " << h.second_used << "\n";
    }
  }
  out << "a day costs " << problem.day_cost << ", only supplier " << problem.limits.only_supplier.value_or(-1)
      << ", most days " << problem.limits.most_wait_days.value_or(-1);
  return out.str();
}

}  // namespace mendworth::test
