#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "model/basket_lots.hpp"

/// What one part may buy, and what that costs at given shadow prices. Internal to best_baskets.
namespace mendworth {

/// What makes one of two baskets of the same cost the better one: shares of the money at stake, too small to overrule a
/// cost that shows on a bill. A better fit of the candidate tried first goes before fewer pieces, these before the order
/// of candidates, and that before the order of offers.
struct TieWeights {
  double misfit = 0, piece = 0, candidate = 0, offer = 0;
  explicit TieWeights(double money)
      : misfit(1e-8 * money), piece(1e-10 * money), candidate(1e-12 * money), offer(1e-13 * money) {}
};

/// A candidate bought in the expectation that it is used with some chance, which decides what leftovers are worth.
struct Use {
  std::size_t candidate = 0;
  double chance = 1;
  std::vector<std::size_t> deals{};
};

/// A source for a use.
struct Deal {
  std::size_t source = 0;
  double chance = 1;
  std::vector<double> beside;           ///< by lot: less what leftovers are worth; with what decides ties
  std::vector<double> worth;            ///< by lot: of leftovers
  std::vector<std::size_t> candidates;  ///< lots that may cost least at some shadow prices
};

/// One candidate or a hedge of two.
struct Mode {
  std::array<std::size_t, 2> use{kNone, kNone};
  double misfit_cost = 0;
  double beside = 0;  ///< misfit_cost, with what decides ties
};

/// How one part is bought.
struct Pick {
  std::size_t mode = 0;
  std::array<std::size_t, 2> deal{kNone, kNone};
  std::array<std::size_t, 2> lot{0, 0};
  double cost = 0;  ///< at the shadow prices
};

/// A price for a unit of goods at each supplier, and who may be bought from.
struct ShadowPrices {
  std::vector<double> price;
  std::vector<char> open;
};

class PartMenu {
 public:
  PartMenu(const Case& c, const PartWish& wish, std::span<const BasketSupplier> suppliers, Parcel parcel,
           std::size_t most_looks);
  /// Before the first cost is asked for.
  void weigh_ties(const TieWeights& ties);
  /// Leaves out what costs more than `most_above` beyond the part's least at these prices, and lists every other lot
  /// that does not. False: a list was cut off.
  [[nodiscard]] bool keep_within(const ShadowPrices& prices, double most_above);

  /// Whether even the first lists were cut off, so that a least may be missed.
  [[nodiscard]] bool cut_off() const noexcept { return cut_off_; }
  /// Steps of work that the first lists took.
  [[nodiscard]] std::int64_t steps() const noexcept { return steps_; }
  /// No choice costs less than this, listed or not.
  [[nodiscard]] double floor() const;
  /// Money at stake, for TieWeights.
  [[nodiscard]] double at_stake() const;

  [[nodiscard]] const PartWish& wish() const noexcept { return *wish_; }
  [[nodiscard]] const std::vector<Use>& uses() const noexcept { return uses_; }
  [[nodiscard]] const std::vector<Deal>& deals() const noexcept { return deals_; }
  [[nodiscard]] const std::vector<Mode>& modes() const noexcept { return modes_; }
  [[nodiscard]] const Source& source_of(std::size_t deal) const { return sources_[deals_[deal].source]; }
  /// How many steps of work a least takes.
  [[nodiscard]] std::int64_t size() const noexcept { return size_; }

  [[nodiscard]] bool is_open(std::size_t deal, const ShadowPrices& prices) const;
  [[nodiscard]] double cost(std::size_t deal, std::size_t lot, const ShadowPrices& prices) const;
  /// The cheapest way; its cost is infinite if the part cannot be had.
  [[nodiscard]] Pick least(const ShadowPrices& prices);
  /// The cheapest lot of each deal at the prices of the last least(); infinite if the deal is closed.
  [[nodiscard]] const std::vector<double>& least_of_deal() const noexcept { return least_of_deal_; }

 private:
  std::size_t use_of(int candidate, double chance);
  void add_modes();
  void set_deals();
  void set_candidates(Deal& deal) const;
  double worth(const Use& use, int pieces) const;
  LotLister lister(std::size_t candidate, std::size_t most_looks) const;

  const Part* part_;
  const PartWish* wish_;
  std::span<const BasketSupplier> suppliers_;
  Parcel parcel_;
  TieWeights ties_{0};
  bool cut_off_ = false;
  std::int64_t steps_ = 0;
  int flat_from_ = 0;  // pieces from which on more are worth nothing more
  std::vector<Source> sources_;
  std::vector<Use> uses_;
  std::vector<Deal> deals_;
  std::vector<Mode> modes_;
  std::int64_t size_ = 0;
  std::vector<double> least_of_deal_, least_of_use_;
  std::vector<std::size_t> least_lot_, least_deal_;
};

}  // namespace mendworth
