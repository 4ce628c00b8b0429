#include "model/items.hpp"

#include "mendworth/case.hpp"

namespace mendworth {

Items::Items(const Case& c, int order_kinds) {
  case_work = one(Heading::labour);
  visit = each(Heading::labour);
  visit_work = each(Heading::labour);
  mend = each(Heading::risk);
  second_attempt = each(Heading::risk);
  dry_fit = each(Heading::risk);
  licensed_visit = each(Heading::purchase);
  burden = one(Heading::burden);
  scrap = one(Heading::resale);
  resale = one(Heading::resale);
  keepsake = one(Heading::keepsake);
  for (std::size_t g = 0; g < c.positions.size(); ++g) work.push_back(each(Heading::labour));
  for (std::size_t p = 0; p < c.parts.size(); ++p) {
    parts.push_back({.used_elsewhere = one(Heading::leftovers),
                     .left = one(Heading::leftovers),
                     .drawn_use = one(Heading::parts),
                     .drawn_left = one(Heading::parts)});
  }
  for (std::size_t r = 0; r < c.replacements.size(); ++r) {
    devices.push_back({.device = each(Heading::purchase, Heading::risk, Heading::next_device),
                       .benefit = one(Heading::benefit),
                       .resale = one(Heading::resale)});
  }
  for (int k = 0; k < order_kinds; ++k) orders.push_back(each(Heading::order));
}

int Items::one(Heading heading) {
  headings_.push_back(heading);
  return size() - 1;
}

ByPhase Items::each(Heading first, Heading luck, Heading later) {
  ByPhase ids;
  ids.ids_ = {one(first), one(luck), one(later)};
  return ids;
}

}  // namespace mendworth
