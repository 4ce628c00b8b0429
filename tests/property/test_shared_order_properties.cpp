#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <vector>

#include "answers/shared_choice.hpp"
#include "support/near.hpp"
#include "support/random_baskets.hpp"
#include "support/random_cases.hpp"

// Random small orders from a fixed seed, shared by jobs that stand for whole cases: what a repair is worth and what it
// wants is drawn, so that every set of repairs and every basket for it can be tried.

namespace {

using namespace mendworth;
using mendworth::test::Dice;
using mendworth::test::exactly;
using mendworth::test::near_abs;
using mendworth::test::random_curve;
using mendworth::test::random_problem;
using mendworth::test::Shipping;

constexpr int most_pieces = 8;  // any offer has so many, and all jobs together need no more than six

struct Fleet {
  std::vector<Case> cases;  // the same shop in each
  std::vector<OrderJob> jobs;
};

// Worth of leftovers as a contest would say it: own later failures come on top of what others take.
SpareWorth::OfCandidate random_worth(Dice& dice) {
  SpareWorth::OfCandidate worth;
  worth.elsewhere = random_curve(dice);
  const WorthCurve own = random_curve(dice);
  const std::size_t length = std::max({worth.elsewhere.size(), own.size(), std::size_t{1}});
  const auto at = [](const WorthCurve& curve, std::size_t k) {
    return curve.empty() ? 0.0 : curve[std::min(k, curve.size() - 1)];
  };
  for (std::size_t k = 0; k < length; ++k) worth.if_used.push_back(at(worth.elsewhere, k) + at(own, k));
  worth.small_order = 10;
  return worth;
}

Fleet random_fleet(Dice& dice) {
  Case shop = random_problem(dice, dice.chance(50) ? Shipping::flat : Shipping::tiers).c;
  while (shop.parts.size() > 2) shop.parts.pop_back();
  for (std::size_t p = 0; p < shop.parts.size(); ++p) {
    shop.parts[p].name = "P" + std::to_string(p);
    while (shop.parts[p].candidates.size() > 2) shop.parts[p].candidates.pop_back();
    for (std::size_t k = 0; k < shop.parts[p].candidates.size(); ++k) {
      Candidate& candidate = shop.parts[p].candidates[k];
      candidate.name = "C" + std::to_string(k);
      while (candidate.offers.size() > 2) candidate.offers.pop_back();
      for (Offer& offer : candidate.offers) offer.stock = most_pieces;
    }
  }
  Fleet fleet;
  for (int j = dice.whole(2, 3); j > 0; --j) {
    fleet.cases.push_back(shop);
    fleet.cases.back().source_name = "J" + std::to_string(j);
    fleet.cases.back().downtime.per_day = exactly(dice.chance(50) ? 0.0 : dice.money(0.05, 1));
  }
  for (const Case& c : fleet.cases) {
    OrderJob job;
    job.c = &c;
    job.can_repair = dice.chance(90);
    job.must_repair = dice.chance(15);
    job.value = job.must_repair ? 0 : dice.money(0, 30);
    for (std::size_t p = 0; p < shop.parts.size(); ++p) {
      if (shop.parts.size() > 1 && job.wished.size() == p && dice.chance(40) && p == 0) continue;
      const Tries certain{.candidates = 1,
                          .none_fits = [](unsigned set) { return set == 0 ? 1.0 : 0.0; },
                          .order_again = {1.0}};
      PartWish wish{.part = static_cast<int>(p), .pieces = dice.whole(1, 2)};
      SpareWorth spares;
      for (std::size_t k = 0; k < shop.parts[p].candidates.size(); ++k) {
        spares.candidates.push_back(random_worth(dice));
        wish.alone.push_back({.misfit_cost = dice.chance(40) ? 0.0 : dice.money(0, 9),
                              .used_chance = dice.chance(60) ? 1.0 : dice.money(0.3, 1),
                              .left_if_used = spares.candidates.back().if_used});
      }
      job.wished.push_back({wish, MisfitCost(certain), spares, 0});
    }
    fleet.jobs.push_back(job);
  }
  return fleet;
}

// What one part may be bought as, for all chosen jobs that want it.
struct Bundle {
  OrderItem item;
  double beside = 0;
  std::vector<std::size_t> jobs;
};

std::vector<Bundle> bundles_of(const Fleet& fleet, const std::vector<char>& chosen, int part) {
  const Case& shop = fleet.cases.front();
  std::vector<Bundle> bundles;
  for (int k = 0; k < static_cast<int>(shop.parts[static_cast<std::size_t>(part)].candidates.size()); ++k) {
    Bundle base;
    int need = 0;
    double fits = 0;
    std::vector<SpareWorth::OfCandidate> worths;
    for (std::size_t j = 0; j < fleet.jobs.size(); ++j) {
      for (const WishedPart& wished : fleet.jobs[j].wished) {
        if (chosen[j] == 0 || wished.wish.part != part) continue;
        const PartWish::Alone& alone = wished.wish.alone[static_cast<std::size_t>(k)];
        need += wished.wish.pieces;
        base.beside += alone.misfit_cost;
        fits += alone.used_chance * wished.wish.pieces;
        base.jobs.push_back(j);
        worths.push_back(wished.spares.candidates[static_cast<std::size_t>(k)]);
      }
    }
    if (need == 0) return {};
    const WorthCurve worth = shared_worth(worths);
    const auto& offers =
        shop.parts[static_cast<std::size_t>(part)].candidates[static_cast<std::size_t>(k)].offers;
    for (int o = 0; o < static_cast<int>(offers.size()); ++o) {
      for (int q = need; q <= most_pieces; ++q) {
        if (!is_allowed(offers[static_cast<std::size_t>(o)], q)) continue;
        Bundle bundle = base;
        bundle.item = {part, k, o, q};
        const std::size_t left = std::min(static_cast<std::size_t>(q - need), worth.size() - 1);
        bundle.beside -= fits / need * worth[left];
        bundles.push_back(bundle);
      }
    }
  }
  return bundles;
}

double net_of(const Fleet& fleet, const std::vector<Bundle>& picked) {
  std::vector<OrderItem> items;
  double net = 0;
  std::map<std::size_t, double> days;
  for (const Bundle& bundle : picked) {
    items.push_back(bundle.item);
    net += bundle.beside;
    for (const std::size_t j : bundle.jobs)
      days[j] = std::max(days[j], supplier_of(fleet.cases.front(), bundle.item).lead_days.base());
  }
  for (const auto& [j, longest] : days) net += longest * fleet.cases[j].downtime.per_day.base();
  const auto landed = landed_cost(fleet.cases.front(), items, Parcel::with_other_goods);
  return landed ? net + landed->total : std::numeric_limits<double>::infinity();
}

double least_net(const Fleet& fleet, const std::vector<char>& chosen) {
  const std::vector<Bundle> first = bundles_of(fleet, chosen, 0);
  const std::vector<Bundle> second =
      fleet.cases.front().parts.size() > 1 ? bundles_of(fleet, chosen, 1) : std::vector<Bundle>{};
  const auto wants = [&](int part) {
    for (std::size_t j = 0; j < fleet.jobs.size(); ++j) {
      for (const WishedPart& wished : fleet.jobs[j].wished) {
        if (chosen[j] != 0 && wished.wish.part == part) return true;
      }
    }
    return false;
  };
  double least = std::numeric_limits<double>::infinity();
  if (!wants(0) && !wants(1)) return 0;
  if (!wants(1)) {
    for (const Bundle& a : first) least = std::min(least, net_of(fleet, {a}));
  } else if (!wants(0)) {
    for (const Bundle& b : second) least = std::min(least, net_of(fleet, {b}));
  } else {
    for (const Bundle& a : first) {
      for (const Bundle& b : second) least = std::min(least, net_of(fleet, {a, b}));
    }
  }
  return least;
}

double least_cost(const Fleet& fleet) {
  double least = std::numeric_limits<double>::infinity();
  for (unsigned set = 0; set < 1U << fleet.jobs.size(); ++set) {
    std::vector<char> chosen;
    bool may = true;
    double value = 0;
    for (std::size_t j = 0; j < fleet.jobs.size(); ++j) {
      const OrderJob& job = fleet.jobs[j];
      chosen.push_back((set >> j & 1U) != 0 ? 1 : 0);
      may = may && (chosen[j] != 0 ? job.can_repair : !job.can_repair || !job.must_repair);
      value += chosen[j] != 0 ? job.value : 0;
    }
    if (may) least = std::min(least, least_net(fleet, chosen) - value);
  }
  return least;
}

}  // namespace

TEST_CASE("shared orders against all sets of repairs and all baskets") {
  int shared = 0, made_worth = 0;
  const int count = 4 * test::random_cases(100);
  for (int i = 0; i < count; ++i) {
    Dice dice(static_cast<std::uint64_t>(8000 + i));
    const Fleet fleet = random_fleet(dice);
    const SharedShop shop(fleet.jobs);
    const double least = least_cost(fleet);
    CAPTURE(i);
    const SharedChoice choice = choose_repairs(fleet.jobs, shop, 1000);
    if (!std::isfinite(least)) {
      CHECK_FALSE(choice.given_up.empty());
      continue;
    }
    REQUIRE(choice.given_up.empty());
    CHECK(choice.proved);
    // Ties are settled by shares of a hundred-millionth of the money at stake.
    CHECK_MESSAGE(near_abs(choice.cost, least, 1e-4), "found " << choice.cost << ", by trying all " << least);
    // No bound that a part of the search is left out for may lie above what that part holds.
    int repaired = 0;
    for (const char c : choice.chosen) repaired += c;
    shared += repaired > 1 ? 1 : 0;
    for (std::size_t j = 0; j < fleet.jobs.size(); ++j) {
      if (choice.chosen[j] == 0 || fleet.jobs[j].must_repair) continue;
      std::vector<char> alone(fleet.jobs.size(), 0);
      alone[j] = 1;
      made_worth += least_net(fleet, alone) > fleet.jobs[j].value ? 1 : 0;
    }
  }
  CHECK(shared > count / 4);
  CHECK(made_worth > count / 50);
}

TEST_CASE("a search that is stopped says how much better another choice might be") {
  int stopped = 0;
  const int count = test::random_cases(100);
  for (int i = 0; i < count; ++i) {
    Dice dice(static_cast<std::uint64_t>(9000 + i));
    const Fleet fleet = random_fleet(dice);
    const SharedShop shop(fleet.jobs);
    const double least = least_cost(fleet);
    if (!std::isfinite(least)) continue;
    const SharedChoice choice = choose_repairs(fleet.jobs, shop, 1);
    if (!choice.given_up.empty() || choice.proved) continue;
    ++stopped;
    CAPTURE(i);
    CHECK(choice.bound <= least + 1e-4);
    CHECK(choice.cost >= least - 1e-4);
  }
  CHECK(stopped > count / 10);
}
