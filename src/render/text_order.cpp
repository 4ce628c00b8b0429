#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>

#include "render/number_text.hpp"
#include "render/weighing_sections.hpp"

namespace mendworth {

namespace {

std::string part_text(const std::string& part, const std::string& candidate) {
  return part == candidate ? part : part + ": " + candidate;
}

void write_lines(Page& page, const Weighing& w, const OrderAnswer& order) {
  Table table({{"piece", Table::Align::left, true},
               {"supplier", Table::Align::left, true},
               {"need"},
               {"order"},
               {"each", Table::Align::right},
               {"line", Table::Align::right},
               {"landed\n" + w.currency}});
  for (const OrderLine& line : order.lines) {
    // Prices in a foreign currency carry its code; the supplier's minor digits are not ours to know, two serve.
    const bool foreign = line.supplier_currency != w.currency;
    const int digits = foreign ? 2 : w.minor_digits;
    const std::string code = foreign ? line.supplier_currency + " " : "";
    table.add_row({part_text(line.part, line.candidate), line.supplier, fmt::format("{}", line.needed),
                   fmt::format("{}", line.quantity), code + unit_price_text(line.each, digits),
                   code + money_text(line.line, digits), cell(w, line.landed)});
  }
  page.table(table);
}

void write_hedge(Page& page, const Weighing& w, const OrderAnswer& order) {
  if (!order.hedge) return;
  std::string text;
  for (const OrderLine& line : order.lines) {
    if (line.hedge_for.empty()) continue;
    text += fmt::format("{} is there for the case that {} does not fit. ", line.candidate, line.hedge_for);
  }
  page.paragraph(
      fmt::format("{}Chance of that: {}. Ordering it now as well costs {} more and is worth {}: what is "
                  "expected to be saved by having it here then.",
                  text, percent(order.hedge->misfit_chance), amount(w, order.hedge->cost),
                  amount(w, order.hedge->worth)),
      false, 2);
}

void write_drawer(Page& page, const Weighing& w, const OrderAnswer& order) {
  for (const DrawerLine& line : order.drawer) {
    page.paragraph(fmt::format("From the drawer: {} of {} of {}, worth {} elsewhere.", line.taken,
                               line.on_hand, part_text(line.part, line.candidate), amount(w, line.worth)),
                   false, 2);
  }
}

void append_cost(std::string& text, const Weighing& w, const char* name, double value) {
  if (value == 0) return;
  if (!text.empty()) text += ", ";
  text += fmt::format("{} {}", name, money_text(value, w.minor_digits));
}

void write_costs(Page& page, const Weighing& w, const OrderAnswer& order) {
  std::string costs;
  append_cost(costs, w, "goods", order.goods);
  append_cost(costs, w, "shipping", order.shipping);
  append_cost(costs, w, "fees", order.fees);
  append_cost(costs, w, "duty", order.duty);
  append_cost(costs, w, "tax", order.tax);
  append_cost(costs, w, "exchange fee", order.exchange_fee);
  page.paragraph(fmt::format("Landed: {}{}. Wait: {}.", amount(w, order.landed),
                             costs.empty() ? "" : " (" + costs + ")", days_text(order.wait_days)),
                 false, 2);
  if (order.leftovers > 0) {
    page.paragraph(fmt::format("{} left over, worth {}: what is expected to be saved by having {}.",
                               count_text(order.leftovers, "piece", "pieces"),
                               amount(w, order.leftover_value), order.leftovers == 1 ? "it" : "them"),
                   false, 2);
  }
  const std::string by_reuse =
      order.charged_by_reuse < 0
          ? "nothing by expected reuse: the leftovers are worth more than the order"
          : fmt::format("{} by expected reuse, which is the order less what the leftovers are worth",
                        amount(w, order.charged_by_reuse));
  page.paragraph(fmt::format("Charged to this job: {} as the whole order; {} by the pieces used now; {}.",
                             amount(w, order.charged_whole), amount(w, order.charged_pro_rata), by_reuse),
                 false, 2);
}

void write_quantities(Page& page, const Weighing& w, const OrderAnswer& order) {
  if (order.quantities.empty()) return;
  page.empty_line();
  page.paragraph("Other quantities, with the rest of the order as it is (* as above)", false, 2);
  Table table({{"", Table::Align::left},
               {"piece", Table::Align::left, true},
               {"supplier", Table::Align::left, true},
               {"pieces"},
               {"each"},
               {"whole order\n" + w.currency},
               {"per\npiece"},
               {"", Table::Align::left, true}});
  for (const QuantityRow& row : order.quantities) {
    table.add_row({row.chosen ? "*" : "", part_text(row.part, row.candidate), row.supplier,
                   fmt::format("{}", row.quantity), unit_price_text(row.each, w.minor_digits),
                   cell(w, row.landed), cell(w, row.landed_each), row.remark},
                  row.chosen);
  }
  page.table(table);
}

// A dimension that every candidate of the part fits for certain decides nothing.
bool decides(const OrderAnswer& order, const FitRow& row, std::size_t dimension) {
  const auto leaves_doubt = [&](const FitRow& other) {
    return other.part == row.part && other.dimensions[dimension].chance < 1;
  };
  return !row.dimensions[dimension].nominal ||
         std::any_of(order.fits.begin(), order.fits.end(), leaves_doubt);
}

std::string size_text(double mm) { return decimals_text(mm, 3); }

std::string dimension_text(const DimensionFit& d) {
  if (!d.nominal) return d.name + ": not catalogued, taken to fit";
  const std::string doubt = d.limit > 0 ? " +/- " + size_text(d.limit) : "";
  return fmt::format("{} {}: {} catalogued, {}{} measured, takes -{}/+{} mm", d.name, percent_text(d.chance),
                     size_text(*d.nominal), size_text(d.measured), doubt, size_text(d.below),
                     size_text(d.above));
}

void write_fit(Page& page, const OrderAnswer& order, const FitRow& row) {
  const std::string fits =
      fmt::format("{} fits at {}", part_text(row.part, row.candidate), percent_text(row.chance));
  if (std::none_of(row.dimensions.begin(), row.dimensions.end(),
                   [](const DimensionFit& d) { return d.nominal.has_value(); })) {
    page.item(fits + "; none of its sizes is catalogued.");
    return;
  }
  page.item(fits + ".");
  for (std::size_t d = 0; d < row.dimensions.size(); ++d) {
    if (decides(order, row, d)) page.paragraph(dimension_text(row.dimensions[d]), false, 4, 2);
  }
  if (row.else_chance < 1) {
    page.paragraph(fmt::format("all else {}, as stated", percent_text(row.else_chance)), false, 4, 2);
  }
}

}  // namespace

void order_section(Page& page, const Weighing& w) {
  if (!w.order) return;
  const OrderAnswer& order = *w.order;
  page.heading("What to order");
  page.paragraph("For: " + order.plan + ".", false, 2, 5);
  write_drawer(page, w, order);
  if (order.lines.empty() && !order.drawer.empty()) {
    page.paragraph("Nothing is to be ordered: the drawer has all pieces.", false, 2);
    return;
  }
  if (!order.lines.empty()) write_lines(page, w, order);
  write_hedge(page, w, order);
  write_costs(page, w, order);
  for (const std::string& warning : order.warnings) page.item(warning);
  for (const FitRow& row : order.fits) write_fit(page, order, row);
  write_quantities(page, w, order);
}

}  // namespace mendworth
