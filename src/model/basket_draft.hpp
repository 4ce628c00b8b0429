#pragma once

#include <cstddef>
#include <span>
#include <tuple>
#include <vector>

#include "model/basket_menu.hpp"

/// A basket in the making and the best so far. Internal to best_baskets. Costs here hold what decides ties.
namespace mendworth {

/// Part, candidate, supplier of every line, sorted.
using Signature = std::vector<std::tuple<std::size_t, std::size_t, std::size_t>>;

struct FoundBasket {
  double net = 0;
  Signature signature;
  std::vector<Pick> picks;
  Basket basket;  ///< without its cost
};

/// The jobs that share a basket, each once.
class WaitingJobs {
 public:
  void add(const PartWish& wish);
  [[nodiscard]] bool any() const noexcept { return !jobs_.empty(); }
  /// What waiting costs, `days` by wish in the order in which they were added.
  [[nodiscard]] double cost(const std::vector<double>& days) const;

 private:
  struct Job {
    int number = 0;
    double day_cost = 0;
    std::vector<std::size_t> wishes{};
  };
  std::vector<Job> jobs_;
  std::size_t wishes_ = 0;
};

class BasketDraft {
 public:
  /// The suppliers and menus must outlive it; the menus may still be filled.
  BasketDraft(const std::vector<BasketSupplier>& suppliers, std::vector<PartMenu>& menus, double day_cost,
              Parcel parcel, std::size_t wanted)
      : suppliers_(suppliers), menus_(menus), day_cost_(day_cost), parcel_(parcel), wanted_(wanted) {}
  /// Once the menus are there.
  void start();

  /// What a basket must cost less than to be among the best; infinite as long as these are too few.
  [[nodiscard]] double threshold() const;
  /// What a basket of the same candidates and suppliers must cost less than to be kept.
  [[nodiscard]] double most(const Signature& signature) const;
  [[nodiscard]] Signature signature_of(const std::vector<Pick>& picks) const;
  /// The least net cost so far.
  [[nodiscard]] double least() const;

  /// Puts a part's pick on the order, or takes it off.
  void put(std::size_t part, const Pick& pick, int sign);
  void clear();
  [[nodiscard]] double goods(std::size_t supplier) const { return goods_[supplier]; }
  void set_goods(std::size_t supplier, double goods, int more_lines) {
    goods_[supplier] = goods;
    lines_[supplier] += more_lines;
  }
  [[nodiscard]] bool is_used(std::size_t supplier) const { return lines_[supplier] > 0; }
  /// What the order on the desk costs, which has these picks, misfit and leftovers left out; infinite: refused.
  [[nodiscard]] double order_cost(const std::vector<Pick>& picks) const;
  /// No basket from open suppliers makes jobs that share it wait for less.
  [[nodiscard]] double least_wait(const ShadowPrices& prices) const;
  /// What a lot adds to the order on the desk, the waits of jobs that share the basket left out; infinite: refused.
  [[nodiscard]] double added_cost(const Source& source, std::size_t lot) const;
  /// Misfit and leftovers of picks.
  [[nodiscard]] double beside(const std::vector<Pick>& picks) const;

  /// Keeps picks of that net cost if they are among the best.
  void keep(const std::vector<Pick>& picks, double net);
  /// Clears the desk, prices the picks and keeps them if they are good; gives the net cost.
  double offer(const std::vector<Pick>& picks);

  [[nodiscard]] const std::vector<FoundBasket>& best() const noexcept { return best_; }
  [[nodiscard]] std::vector<Basket> finished(const Case& c) const;

 private:
  double supplier_total(std::size_t supplier, double goods) const;
  double wait_for_own(const std::vector<Pick>& picks) const;
  Basket basket_of(const std::vector<Pick>& picks) const;

  const std::vector<BasketSupplier>& suppliers_;
  std::vector<PartMenu>& menus_;
  double day_cost_;
  Parcel parcel_;
  std::size_t wanted_;
  std::vector<double> goods_;  // by supplier, its currency
  std::vector<int> lines_;     // by supplier
  WaitingJobs jobs_;
  std::vector<FoundBasket> best_;  // by rising net cost
};

}  // namespace mendworth
