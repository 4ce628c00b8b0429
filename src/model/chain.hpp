#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "model/chain_course.hpp"
#include "model/pricing.hpp"

namespace mendworth {

class ModelCache;

/// What replacing comes to: devices bought one after the other for as long as one is needed. Nothing of it need be
/// simulated. Where the need goes on, devices of life L at a rate of interest of r > 0 make the discounted number
/// M = 1 + E[(1 + r)^-L] M. Where it ends after H years, M(h) = 1 + the integral of (1 + r)^-x M(h - x) dF(x) up to h:
/// the renewal equation. Source: R. E. Barlow and F. Proschan, Mathematical Theory of Reliability, chapter 3 (discounted
/// renewal cost). Where the need goes on and r = 0, all sums are endless, and what counts is what a course costs beyond
/// the endless chain begun now: then amounts are counted against that chain, and its own are nought.
class Chains {
 public:
  /// At the base of the case's prices and rate; `unit` prices its items.
  Chains(const Case& c, const Items& items, const std::vector<UnitCost>& unit, ModelCache& cache);

  /// The replacement whose chain costs least, priced ones first; -1: none may follow.
  [[nodiscard]] int best() const noexcept { return best_; }
  /// Present cost of the best chain begun now.
  [[nodiscard]] double cost() const noexcept { return cost_; }
  /// What the best chain costs a year: evenly paid, for as long as a device is needed.
  [[nodiscard]] double cost_per_year() const noexcept { return per_year_; }
  /// Whether costs are counted against the best chain begun now: no interest, and no end.
  [[nodiscard]] bool relative() const noexcept { return relative_; }

  /// Discounted amounts of the best chain, its first device bought after t years; `end`: when the need ends, infinite
  /// where it goes on.
  struct Amounts {
    double first = 0;    ///< device
    double later = 0;    ///< devices
    double benefit = 0;  ///< years
    double resale = 0;
  };
  [[nodiscard]] Amounts from(double t, double end) const;

  /// One replacement bought now, and the best chain when it ends.
  struct Bought {
    double benefit = 0, resale = 0;  ///< of its own
    Amounts after;
    double replaced = 0;  ///< chance that another follows while one is needed
  };
  /// `end`: as in from(); a need that is a range ends somewhere within it.
  [[nodiscard]] Bought bought(int replacement, double end) const;

  [[nodiscard]] const DeviceLife& life(int replacement) const { return course(replacement).life; }

 private:
  [[nodiscard]] const ChainCourse& course(int replacement) const {
    return *courses_[static_cast<std::size_t>(replacement)];
  }
  [[nodiscard]] Bought work_out(int replacement, double end) const;
  [[nodiscard]] double worth(double t) const;
  [[nodiscard]] double annuity(double t) const;
  /// Discounted devices of a chain over h years of need.
  [[nodiscard]] double devices_over(int replacement, double h) const;
  [[nodiscard]] double chain_cost(int replacement, const Items& items,
                                  const std::vector<UnitCost>& unit) const;

  std::vector<std::shared_ptr<const ChainCourse>> courses_;  // by replacement
  double growth_ = 0;
  std::optional<double> ends_;
  bool relative_ = false;
  int best_ = -1;
  std::vector<double> ends_tried_;           // rising; one where the need is certain
  std::vector<std::vector<Bought>> bought_;  // by replacement, at each of them
  double cost_ = 0, per_year_ = 0;
};

}  // namespace mendworth
