#pragma once

#include "futures/run.hpp"
#include "model/order_book.hpp"

namespace mendworth {

/// What an option asks for now, if all goes well.
struct CostNow {
  double cash = 0;     ///< to pay
  double minutes = 0;  ///< of own time
  [[nodiscard]] double total(double labour_per_hour) const noexcept {
    return cash + minutes / 60.0 * labour_per_hour;
  }
};

/// At base prices. The order of a repair is one of `book`.
[[nodiscard]] CostNow cost_now(const DeviceModel& model, const OrderBook& book, const Option& option);

}  // namespace mendworth
