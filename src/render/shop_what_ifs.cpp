#include <string>
#include <vector>

#include "render/beside.hpp"
#include "render/shop_sheet.hpp"

namespace mendworth {

namespace {

constexpr std::size_t figures = 6;

std::vector<std::string> cells_of(const ShopPage& page, const Pen& pen) {
  if (page.choices.empty()) return std::vector<std::string>(figures, "-");
  const ShopChoice& c = page.choices[static_cast<std::size_t>(page.proposed)];
  std::string order;
  for (const OrderRow& row : c.order) {
    order += (order.empty() ? "" : ", ") + std::to_string(row.pieces) + " x " + row.item + " from " +
             (row.supplier.empty() ? "the drawer" : row.supplier);
  }
  return {c.title,
          pen.sum(c.income),
          pen.sum(c.margin),
          pen.percent(c.loss_chance),
          c.owner_saving ? pen.sum(*c.owner_saving) : "-",
          order.empty() ? "nothing" : order};
}

}  // namespace

Section shop_what_ifs(const ShopPage& page, const Pen& pen) {
  std::vector<BesideLine> lines{{"as it is", cells_of(page, pen)}};
  for (const ShopWhatIf& what_if : page.what_ifs) {
    std::vector<std::string> cells(figures, "-");
    if (what_if.page) cells = cells_of(*what_if.page, pen);
    if (!what_if.refused.empty()) cells.front() = "not quoted: " + what_if.refused;
    lines.push_back({what_if.name, std::move(cells), what_if.changes});
  }
  return beside_section({{"proposed", false},
                         {"income, untaxed"},
                         {"expected margin"},
                         {"chance of a loss"},
                         {"owner saves"},
                         {"to order", false}},
                        lines, true);
}

}  // namespace mendworth
