#pragma once

#include <array>
#include <cstddef>
#include <functional>
#include <span>
#include <vector>

#include "model/basket.hpp"
#include "model/parcel_ranges.hpp"

/// What one part may buy, and what that costs at given shadow prices. Internal to best_baskets.
namespace mendworth {

/// A supplier's cost with the shadow prices at which it is looked at.
struct BasketSupplier {
  const Supplier* supplier = nullptr;
  bool permitted = true;
  std::vector<ParcelRange> ranges;
  std::vector<double> prices;        ///< shadow prices of a unit of goods, rising
  std::size_t base = 0;              ///< index of a price at which the cost never lies below price * goods
  std::vector<std::size_t> natural;  ///< by range: index of the price that is the slope of its chord
  std::vector<std::vector<double>> beside;  ///< [range][price]: least_beside_goods
  std::vector<double> least_beside;         ///< by price: the least over all ranges
  double endless_from = 0;                  ///< goods from which on no terms change

  BasketSupplier(const Supplier& s, bool is_permitted);
};

/// Shadow prices in force: an index into BasketSupplier::prices for each supplier, and who may be bought from.
struct ShadowPrices {
  std::vector<std::size_t> at;
  std::vector<char> open;
};

inline constexpr std::size_t kNone = static_cast<std::size_t>(-1);

/// What is bought of one candidate: one line, or two of two suppliers.
struct Lot {
  std::array<int, 2> offer{-1, -1};
  std::array<int, 2> quantity{0, 0};
  std::array<double, 2> goods{0, 0};
  int pieces = 0;
};

/// All lots of one candidate from the same supplier or pair of suppliers.
struct Source {
  std::size_t candidate = 0;
  std::array<std::size_t, 2> supplier{kNone, kNone};
  std::vector<Lot> lots;
};

struct RatedLot {
  double cost = 0;  ///< goods at the shadow prices less the worth of leftovers
  std::size_t lot = 0;
};

/// A candidate bought in the expectation that it is used with some chance, which decides what leftovers are worth.
struct Use {
  std::size_t candidate = 0;
  double chance = 1;
  std::vector<std::size_t> deals;
};

/// A source for a use.
struct Deal {
  std::size_t source = 0, use = 0;
  std::vector<double> worth;  ///< by lot
};

/// One candidate or a hedge of two.
struct Mode {
  std::array<std::size_t, 2> use{kNone, kNone};
  double misfit_cost = 0;
};

/// How long lists may become.
struct LotLimits {
  double most_above_least =
      0;  ///< keep lots with which the part costs at most so much above its least; may be infinite
  std::size_t lots = 50'000;  ///< of one source
};

class PartMenu {
 public:
  /// Only lots that decide the least at the base prices, or that reach a limit by themselves.
  PartMenu(const Case& c, const PartWish& wish, std::span<const BasketSupplier> suppliers);
  /// Lists every lot that costs, at the base prices, no more above the part's least than the limit. False: a list
  /// was cut off.
  [[nodiscard]] bool list_all(const LotLimits& limits);

  /// Whether even the first lists were cut off, so that a least may be missed.
  [[nodiscard]] bool cut_off() const noexcept { return cut_off_; }
  /// No choice costs less than this, listed or not.
  [[nodiscard]] double floor() const;

  [[nodiscard]] int part() const noexcept { return wish_->part; }
  [[nodiscard]] const std::vector<Use>& uses() const noexcept { return uses_; }
  [[nodiscard]] const std::vector<Deal>& deals() const noexcept { return deals_; }
  [[nodiscard]] const std::vector<Mode>& modes() const noexcept { return modes_; }
  [[nodiscard]] const Source& source_of(std::size_t deal) const { return sources_[deals_[deal].source]; }

  [[nodiscard]] bool is_open(std::size_t deal, const ShadowPrices& prices) const;
  /// The least cost of a deal; infinite if it has no lot.
  [[nodiscard]] double least(std::size_t deal, const ShadowPrices& prices);
  /// The lots of a deal by rising cost.
  [[nodiscard]] const std::vector<RatedLot>& rated(std::size_t deal, const ShadowPrices& prices);
  /// The least cost of the part, with misfit; infinite if it cannot be had.
  [[nodiscard]] double least(const ShadowPrices& prices);

 private:
  struct Table {
    std::vector<double> least;  // by price, or pair of prices; NaN: not yet known
    std::vector<std::vector<RatedLot>> rated;
  };
  using Keep = std::function<bool(const Lot&)>;

  std::size_t use_of(int candidate, double chance);
  void add_uses();
  void add_sources();
  void reset_tables();
  double worth(const Use& use, int pieces) const;
  double cost_at(const Source& source, const Lot& lot, const ShadowPrices& prices) const;
  std::size_t place(const Deal& deal, const ShadowPrices& prices) const;
  bool list_single(Source& source, bool only_key, const LotLimits& limits, const Keep& keep) const;
  bool list_pairs(Source& source, const LotLimits& limits, const Keep& keep) const;
  const Candidate& candidate(std::size_t index) const { return part_->candidates[index]; }

  const Part* part_;
  const PartWish* wish_;
  std::span<const BasketSupplier> suppliers_;
  bool cut_off_ = false;
  int flat_from_ = 0;  // pieces from which on more are worth nothing more
  std::vector<Source> sources_;
  std::vector<Use> uses_;
  std::vector<Deal> deals_;
  std::vector<Mode> modes_;
  std::vector<Table> tables_;         // by deal
  std::vector<double> least_of_use_;  // scratch
};

}  // namespace mendworth
