#pragma once

#include "futures/future_store.hpp"
#include "model/chain.hpp"
#include "model/device_model.hpp"

namespace mendworth {

/// What all runs of a case share: the device, what is counted, the orders that may be placed, what replacing comes to.
struct Scene {
  const DeviceModel& model;
  const Items& items;
  const OrderBook& book;
  const Chains& chains;
  FutureStore* store =
      nullptr;  ///< of futures that are run again and again; null: each is drawn when it is run
};

}  // namespace mendworth
