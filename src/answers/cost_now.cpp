#include "answers/cost_now.hpp"

#include <vector>

#include "model/pricing.hpp"

namespace mendworth {

CostNow cost_now(const DeviceModel& model, const OrderBook& book, const Option& option) {
  const Case& c = model.c;
  CostNow now;
  switch (option.kind) {
    case OptionKind::repair: {
      std::vector<int> groups;
      for (const int i : option.plan.renew_now)
        groups.push_back(model.positions[static_cast<std::size_t>(i)].group);
      now.minutes = first_visit_minutes(c, groups);
      if (option.plan.first_order >= 0) now.cash = book.order(option.plan.first_order).cost.total;
      for (const auto& item : c.consumables) now.cash += item.price.base() * item.chance.base();
      break;
    }
    case OptionKind::licensed_repair:
      now.cash = c.licensed_repair->price.base();
      now.minutes = c.licensed_repair->minutes.base();
      break;
    case OptionKind::replacement: {
      const auto& replacement = c.replacements[static_cast<std::size_t>(option.replacement)];
      now.cash = purchase_price(replacement) - c.device.scrap.base();
      now.minutes = replacement.setup_minutes.base();
      break;
    }
    case OptionKind::leave:
    case OptionKind::claim: break;
  }
  return now;
}

}  // namespace mendworth
