#pragma once

#include <cstddef>
#include <functional>
#include <map>
#include <span>
#include <vector>

#include "model/basket.hpp"
#include "model/parcel_ranges.hpp"

/// From whom and in what quantities one candidate may be bought. Internal to best_baskets.
namespace mendworth {

inline constexpr std::size_t kNone = static_cast<std::size_t>(-1);

/// A supplier's cost, cut into ranges of goods.
struct BasketSupplier {
  const Supplier* supplier = nullptr;
  bool permitted = true;
  std::vector<ParcelRange> ranges;
  std::vector<double> cost_from, cost_to;  ///< by range, at its ends; cost_to of an endless one is infinite
  double slope = 0;                        ///< no goods cost less than this times their price
  double endless_from = 0;                 ///< goods from which on no terms change
  double lead_days = 0;

  BasketSupplier(const Supplier& s, bool is_permitted, Parcel parcel);
  /// Ends the last range at `most` goods, which no basket worth a look exceeds.
  void end_at(double most, Parcel parcel);
};

struct LotLine {
  int offer = 0;
  int quantity = 0;
};

/// What is bought of one candidate.
struct Lot {
  int pieces = 0;
  std::vector<LotLine> lines;
};

/// All lots of one candidate from the same suppliers.
struct Source {
  std::size_t candidate = 0;
  std::vector<std::size_t> supplier;  ///< rising
  std::vector<Lot> lots;
  std::vector<double> goods;  ///< of lot l at supplier[i]: [l * supplier.size() + i]
  [[nodiscard]] std::span<const double> goods_of(std::size_t lot) const {
    return {goods.data() + lot * supplier.size(), supplier.size()};
  }
};

/// The lots of one candidate: lines of one offer, and lines of several where some offer's stock falls short of the need.
/// Of these none is superfluous, and at most one is of an offer that could bring all pieces.
class LotLister {
 public:
  /// Beyond `flat_from` pieces more are worth nothing more.
  LotLister(const Candidate& candidate, std::size_t index, int pieces, int flat_from,
            std::span<const BasketSupplier> suppliers, Parcel parcel, std::size_t most_looks)
      : candidate_(candidate),
        index_(index),
        pieces_(pieces),
        flat_from_(flat_from),
        suppliers_(suppliers),
        parcel_(parcel),
        most_looks_(most_looks) {}

  /// Every quantity up to flat_from, and beyond it the first of each price and those that reach a limit by themselves;
  /// no other lot is ever the cheapest at any shadow prices. All splits. False: a list was cut off.
  [[nodiscard]] bool list_key(std::vector<Source>& sources);
  /// At splits, so far.
  [[nodiscard]] std::size_t looks() const noexcept { return looks_; }

  /// Adds to a source of one supplier the other quantities of single lines that may be best beside other goods, as far
  /// as `keep` agrees; goods only grow with the quantity within a price. False: the list was cut off.
  using Keep = std::function<bool(double goods, int pieces)>;
  [[nodiscard]] bool list_others(Source& source, const Keep& keep) const;

 private:
  bool brings_all(std::size_t offer) const;
  void enter(std::vector<Source>& sources, Lot lot);
  void list_splits(std::vector<Source>& sources);
  void complete(std::vector<Source>& sources, std::size_t offer, int quantity, int pieces);
  void split(std::vector<Source>& sources, std::size_t from, int pieces, bool one_brings_all);

  const Candidate& candidate_;
  std::size_t index_;
  int pieces_, flat_from_;
  std::span<const BasketSupplier> suppliers_;
  Parcel parcel_;
  std::size_t most_looks_;                                 ///< at splits
  std::map<std::vector<std::size_t>, std::size_t> place_;  // of the source of these suppliers
  bool cut_off_ = false;
  std::size_t looks_ = 0;
  std::vector<LotLine> lines_;  // of a split in the making
  std::size_t last_ = kNone;    // the offer that completes it; kNone: the last in the list
};

}  // namespace mendworth
