#include "model/basket_draft.hpp"

#include <doctest/doctest.h>

#include <vector>

#include "support/case_builder.hpp"
#include "support/near.hpp"

// An order in the making. Expected amounts are derived: worked by hand in the comment beside them.

namespace {

using namespace mendworth;
using mendworth::test::candidate;
using mendworth::test::exactly;
using mendworth::test::near_abs;
using mendworth::test::offer;
using mendworth::test::part;
using mendworth::test::supplier;

constexpr double kTight = 1e-12;

// A button at 6.00 and a slider at 3.00 of one supplier: shipping 5.00, from 12.00 on free; two days. The slider also
// at 2.00 of another: shipping 4.00; five days.
Case two_parts() {
  Case c = test::one_offer({{1, 6.00}}, {{0, 5.00}, {12, 0}});
  c.suppliers.push_back(supplier("Wren Components", {{0, 4.00}}));
  c.suppliers[1].lead_days = exactly(5);
  c.parts.push_back(part("slider", {candidate("slider", {offer(0, {{1, 3.00}}), offer(1, {{1, 2.00}})})}));
  return c;
}

PartWish wish(int part, int pieces) {
  PartWish result;
  result.part = part;
  result.pieces = pieces;
  result.alone.resize(1);
  return result;
}

// Just the pieces that are wished for, from one supplier.
Pick pick(const PartMenu& menu, std::size_t supplier) {
  for (std::size_t d = 0; d < menu.deals().size(); ++d) {
    const Source& source = menu.source_of(d);
    for (std::size_t l = 0; l < source.lots.size(); ++l) {
      if (source.supplier == std::vector<std::size_t>{supplier} &&
          source.lots[l].pieces == menu.wish().pieces)
        return {.deal = {d, kNone}, .lot = {l, 0}};
    }
  }
  FAIL("no such lot");
  return {};
}

}  // namespace

TEST_CASE("what a lot adds to an order is what the order then costs more") {
  const Case c = two_parts();
  const std::vector<PartWish> wishes{wish(0, 1), wish(1, 1), wish(1, 2)};
  std::vector<BasketSupplier> suppliers;
  for (const Supplier& s : c.suppliers) suppliers.emplace_back(s, true, Parcel::alone);
  std::vector<PartMenu> menus;
  for (const PartWish& w : wishes) menus.emplace_back(c, w, suppliers, Parcel::alone, 1000);
  for (PartMenu& menu : menus) menu.weigh_ties(TieWeights(0));
  BasketDraft draft(suppliers, menus, 0.50, Parcel::alone, 1);
  draft.start();
  std::vector<Pick> picks(menus.size());
  const auto adds = [&](std::size_t p, std::size_t supplier) {
    picks[p] = pick(menus[p], supplier);
    const double before = draft.order_cost(picks);
    const double added = draft.added_cost(menus[p].source_of(picks[p].deal[0]), picks[p].lot[0]);
    draft.put(p, picks[p], 1);
    CHECK(near_abs(draft.order_cost(picks) - before, added, kTight));
    draft.put(p, picks[p], -1);
    CHECK(near_abs(draft.order_cost(picks), before, kTight));
    return added;
  };
  CHECK(near_abs(adds(0, 0), 12.00, kTight));  // 6 + 5 of shipping + 2 days at 0.50
  draft.put(0, picks[0], 1);
  CHECK(near_abs(adds(1, 0), 3.00, kTight));  // the parcel comes anyway
  CHECK(near_abs(adds(2, 0), 1.00, kTight));  // 6 more, but no shipping
  CHECK(near_abs(adds(1, 1), 7.50, kTight));  // 2 + 4 of shipping + 3 days more
}

// Two pieces of three that have one each, in order: the first, it and each later one, the second, it and the last, the
// last. Nothing is put to two that bring all.
TEST_CASE("splits are looked at until they bring all pieces, and no further") {
  Case c = two_parts();
  std::vector<Offer>& offers = c.parts[0].candidates[0].offers;
  offers.assign(3, offer(0, {{1, 6.00}}));
  for (Offer& each : offers) each.stock = 1;
  const std::vector<BasketSupplier> suppliers{{c.suppliers[0], true, Parcel::alone}};
  const auto looked = [&](std::size_t most_looks) {
    LotLister lister(c.parts[0].candidates[0], 0, 2, 2, suppliers, Parcel::alone, most_looks);
    std::vector<Source> sources;
    const bool complete = lister.list_key(sources);
    if (complete) CHECK(sources.at(0).lots.size() == 3);
    return complete;
  };
  CHECK(looked(6));
  CHECK_FALSE(looked(5));
}
