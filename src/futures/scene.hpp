#pragma once

#include "model/chain.hpp"
#include "model/device_model.hpp"

namespace mendworth {

/// What all runs of a case share: the device, what is counted, the orders that may be placed, what replacing comes to.
struct Scene {
  const DeviceModel& model;
  const Items& items;
  const OrderBook& book;
  const Chains& chains;
};

}  // namespace mendworth
