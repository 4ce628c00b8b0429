#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <tuple>
#include <vector>

#include "model/basket_menu.hpp"

/// A basket in the making and the best so far. Internal to best_baskets.
namespace mendworth {

/// Whether a cost is less by more than rounding.
[[nodiscard]] bool beats(double cost, double best);

/// How one part is bought.
struct Pick {
  std::size_t mode = 0;
  std::array<std::size_t, 2> deal{kNone, kNone};
  std::array<std::size_t, 2> lot{0, 0};
  double above = 0;  ///< more than the part's least at the shadow prices
};

/// Part, candidate, supplier of every line, sorted.
using Signature = std::vector<std::tuple<std::size_t, std::size_t, std::size_t>>;

struct FoundBasket {
  double net = 0;
  Signature signature;
  std::vector<Pick> picks;
  Basket basket;  ///< without its cost
};

class BasketDraft {
 public:
  /// The suppliers and menus must outlive it; the menus may still be filled.
  BasketDraft(const Case& c, const std::vector<BasketSupplier>& suppliers, const std::vector<PartMenu>& menus,
              double day_cost, std::size_t wanted)
      : case_(c), suppliers_(suppliers), menus_(menus), day_cost_(day_cost), wanted_(wanted) {}
  /// Once the menus are there.
  void start();

  std::vector<Pick> picks;  ///< by part

  /// What a basket must cost less than to be among the best; infinite as long as these are too few.
  [[nodiscard]] double threshold() const;
  /// Takes note of the candidates and suppliers of the picks.
  void sign();
  /// What a basket must cost less than to be kept: the threshold, or the best with the same candidates and suppliers.
  [[nodiscard]] double most() const noexcept { return most_; }

  /// Adds a lot to the order, and gives what to put back.
  std::array<double, 2> take(const Source& source, const Lot& lot);
  void put_back(const Source& source, const std::array<double, 2>& before);
  [[nodiscard]] double goods(std::size_t supplier) const { return goods_[supplier]; }

  /// Keeps the order, which is that of the picks, if it costs less than most().
  void offer();
  /// Signs the picks, orders their lots, offers them, and empties the order.
  void offer_whole();

  [[nodiscard]] const std::vector<FoundBasket>& best() const noexcept { return best_; }
  [[nodiscard]] std::vector<Basket> finished() const;

 private:
  double misfit_cost() const;
  double leftover_worth() const;
  std::vector<OrderItem> items() const;
  void keep(double net);

  const Case& case_;
  const std::vector<BasketSupplier>& suppliers_;
  const std::vector<PartMenu>& menus_;
  double day_cost_;
  std::size_t wanted_;
  std::vector<double> goods_;  // by supplier, its currency
  std::vector<int> lines_;     // by supplier
  Signature signature_;
  double most_ = 0;
  std::vector<FoundBasket> best_;  // by rising net cost
};

}  // namespace mendworth
