#include "answers/part_wishes.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <stdexcept>

#include "model/fit.hpp"

namespace mendworth {
namespace {

constexpr int give_up_futures = 4096;

// What follows when the device is given up at the first visit rather than cured: both pay for the visit alike.
double cost_of_giving_up(const Contest& contest, const Option& option, int fallback,
                         const BuySettings& settings) {
  const auto mean_cost = [&](double diagnosis_right) {
    Case c = contest.model.c;
    for (auto& part : c.parts) {
      for (auto& candidate : part.candidates) {
        candidate.fit = Quantity::exactly(1.0);
        candidate.nominal.clear();
      }
    }
    c.risks.diagnosis_right = Quantity::exactly(diagnosis_right);
    c.risks.second_attempt.reset();
    ModelCache cache;
    const DeviceModel model = DeviceModel::make(c, Hypothesis{}, cache);
    return run_ensemble(model, contest.book, {option}, {fallback},
                        {.seed = settings.seed,
                         .futures = std::min(settings.futures, give_up_futures),
                         .threads = settings.threads,
                         .draw_prices = false})
        .mean_cost(0);
  };
  return std::max(0.0, mean_cost(0.0) - mean_cost(1.0));
}

// A misfit that a dry fit shows costs minutes; one that shows after closing costs an opening and the work.
double cost_of_a_try(const Contest& contest, int part) {
  const Case& c = contest.model.c;
  const auto unit = [&](int item) { return contest.unit[static_cast<std::size_t>(item)].total(); };
  double work = 0;
  for (std::size_t g = c.positions.size(); g-- > 0;) {
    if (c.positions[g].part == part) work = unit(contest.model.layout.work(static_cast<int>(g), Phase::luck));
  }
  const double late = c.risks.misfit_found_after_closing.base();
  return late * (unit(contest.model.layout.visit(Phase::luck)) + work) +
         (1.0 - late) * unit(contest.model.layout.dry_fit(Phase::luck));
}

double cost_of_ordering(const Case& c, int part, int candidate, int pieces) {
  const Need need{.part = part, .candidate = candidate, .pieces = pieces};
  const double day = c.downtime.per_day.base();
  const auto order = cheapest_order(c, {&need, 1}, day, Parcel::alone);
  return order ? order->cost.total + order->cost.wait_days * day : std::numeric_limits<double>::infinity();
}

// Chance that none of a set of candidates fits, by set.
std::vector<double> chances_of_none(const Part& part, int candidates) {
  std::vector<double> none;
  for (unsigned set = 0; set < 1U << static_cast<unsigned>(candidates); ++set) {
    std::vector<int> members;
    for (int k = 0; k < candidates; ++k) {
      if ((set >> static_cast<unsigned>(k) & 1U) != 0) members.push_back(k);
    }
    none.push_back(first_fit(part, members).none);
  }
  return none;
}

PartWish wish_of(int part, int pieces, const MisfitCost& misfit, const SpareWorth& spares,
                 const Tries& tries) {
  PartWish wish{.part = part, .pieces = pieces};
  for (int k = 0; k < tries.candidates; ++k) {
    const double wrong = tries.none_fits(1U << static_cast<unsigned>(k));
    const auto& worth = spares.candidates[static_cast<std::size_t>(k)];
    wish.alone.push_back({.misfit_cost = misfit.alone(k),
                          .used_chance = 1.0 - wrong,
                          .left_if_used = worth.if_used,
                          .left_if_wrong = {}});
  }
  for (int first = 0; first < tries.candidates; ++first) {
    const double first_wrong = tries.none_fits(1U << static_cast<unsigned>(first));
    if (first_wrong <= 0) continue;
    for (int second = 0; second < tries.candidates; ++second) {
      if (second == first) continue;
      const double both_wrong =
          tries.none_fits((1U << static_cast<unsigned>(first)) | (1U << static_cast<unsigned>(second)));
      if (both_wrong >= first_wrong) continue;  // a second one that never helps
      wish.hedges.push_back({.first = first,
                             .second = second,
                             .misfit_cost = misfit.hedge(first, second),
                             .first_used = 1.0 - first_wrong,
                             .second_used = first_wrong - both_wrong});
    }
  }
  return wish;
}

std::vector<int> wanted_pieces(const Contest& contest, const Option& option, const BuySettings& settings) {
  const Case& c = contest.model.c;
  std::vector<int> pieces(c.parts.size(), 0);
  for (const int i : option.plan.renew_now) {
    ++pieces[static_cast<std::size_t>(contest.model.positions[static_cast<std::size_t>(i)].part)];
  }
  for (const auto& [name, number] : settings.pieces) {
    const auto found = std::find_if(c.parts.begin(), c.parts.end(),
                                    [&name = name](const Part& part) { return part.name == name; });
    if (found == c.parts.end()) throw std::invalid_argument(fmt::format("the case has no part '{}'", name));
    pieces[static_cast<std::size_t>(found - c.parts.begin())] = number;
  }
  return pieces;
}

}  // namespace

int candidates_tried(const Part& part) {
  // The chances of all sets take 2^n times the boxes of first_fit.
  constexpr double most_work = 4e6;
  const auto work = [&](int n) {
    return std::pow(2.0, n) * std::pow(2.0 * n + 1.0, static_cast<double>(part.dimensions.size()));
  };
  int tried = std::min(most_tried, static_cast<int>(part.candidates.size()));
  while (tried > 2 && work(tried) > most_work) --tried;
  return tried;
}

std::vector<WishedPart> wished_parts(const Contest& contest, const Option& option, int fallback,
                                     const BuySettings& settings) {
  const Case& c = contest.model.c;
  const std::vector<int> pieces = wanted_pieces(contest, option, settings);
  const double give_up = cost_of_giving_up(contest, option, fallback, settings);
  std::vector<WishedPart> wished;
  for (int p = 0; p < static_cast<int>(pieces.size()); ++p) {
    const int need = pieces[static_cast<std::size_t>(p)];
    if (need == 0) continue;
    const Part& part = c.parts[static_cast<std::size_t>(p)];
    const int tried = candidates_tried(part);
    Tries tries{.candidates = tried,
                .none_fits = [none = chances_of_none(part, tried)](unsigned set) { return none[set]; },
                .try_cost = cost_of_a_try(contest, p),
                .give_up = give_up};
    for (int k = 0; k < tries.candidates; ++k) tries.order_again.push_back(cost_of_ordering(c, p, k, need));
    const MisfitCost misfit(tries);
    SpareWorth spares = spare_worth(contest, option, fallback, p, need, settings);
    PartWish wish = wish_of(p, need, misfit, spares, tries);
    wished.push_back(
        {.wish = std::move(wish), .misfit = misfit, .spares = std::move(spares), .give_up = give_up});
  }
  return wished;
}

}  // namespace mendworth
