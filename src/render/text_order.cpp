#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>

#include "render/number_text.hpp"
#include "render/weighing_sections.hpp"

namespace mendworth {

namespace {

// Unit prices often carry more digits than the currency: up to four are shown, where they say something.
std::string unit_price_text(double each, int minor_digits) {
  constexpr int most_digits = 4;
  if (minor_digits >= most_digits) return money_text(each, minor_digits);
  std::string text = money_text(each, most_digits);
  const std::size_t shortest = text.size() - static_cast<std::size_t>(most_digits - minor_digits);
  while (text.size() > shortest && text.ends_with('0')) text.pop_back();
  if (text.ends_with('.')) text.pop_back();
  return text;
}

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

}  // namespace

void order_section(Page& page, const Weighing& w) {
  if (!w.order) return;
  const OrderAnswer& order = *w.order;
  page.heading("What to order");
  page.paragraph("For: " + order.plan + ".", false, 2, 5);
  if (!order.lines.empty()) write_lines(page, w, order);
  write_costs(page, w, order);
  for (const std::string& warning : order.warnings) page.item(warning);
  write_quantities(page, w, order);
}

}  // namespace mendworth
