#include "mendworth/rates.hpp"
#include "mendworth/shop.hpp"

namespace mendworth {

RateBook rates_for(const Shop& shop, const RateBook& rates) {
  RateBook own = rates;
  for (const std::string& name : shop.licensed_for) {
    const auto hazard = own.hazards.find(name);
    if (hazard != own.hazards.end()) hazard->second.licensed_only = false;
  }
  return own;
}

}  // namespace mendworth
