#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include "render/answer_words.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

Table lines_table(const OrderAnswer& order, const Sums& sums) {
  Table table;
  table.name = "order";
  table.columns = {{"piece", false}, {"supplier", false},          {"need"}, {"order"}, {"each"},
                   {"line"},         {"landed " + sums.currency()}};
  for (const OrderLine& line : order.lines) {
    // The supplier's minor digits are not ours to know, two serve.
    const bool foreign = line.supplier_currency != sums.currency();
    table.add({part_text(line.part, line.candidate), line.supplier, fmt::format("{}", line.needed),
               fmt::format("{}", line.quantity), sums.each(line.each, line.supplier_currency),
               (foreign ? line.supplier_currency + " " : "") +
                   money_text(line.line, foreign ? 2 : sums.minor_digits()),
               sums.cell(line.landed)});
  }
  return table;
}

std::string hedge_words(const OrderAnswer& order, const Sums& sums) {
  std::string text;
  for (const OrderLine& line : order.lines) {
    if (!line.hedge_for.empty())
      text += fmt::format("{} is there for the case that {} does not fit. ", line.candidate, line.hedge_for);
  }
  return fmt::format(
      "{}Chance of that: {}. Ordering it now as well costs {} more and is worth {}: what is "
      "expected to be saved by having it here then.",
      text, percent(order.hedge->misfit_chance), sums.amount(order.hedge->cost),
      sums.amount(order.hedge->worth));
}

std::string charged_words(const OrderAnswer& order, const Sums& sums) {
  const std::string by_reuse =
      order.charged_by_reuse < 0
          ? "nothing by expected reuse: the leftovers are worth more than the order"
          : fmt::format("{} by expected reuse, which is the order less what the leftovers are worth",
                        sums.amount(order.charged_by_reuse));
  return fmt::format("Charged to this job: {} as the whole order; {} by the pieces used now; {}.",
                     sums.amount(order.charged_whole), sums.amount(order.charged_pro_rata), by_reuse);
}

Table quantities_table(const OrderAnswer& order, const Sums& sums) {
  Table table;
  table.name = "quantities";
  table.caption = "Other quantities, with the rest of the order as it is (* as above)";
  table.columns = {
      {"piece", false}, {"supplier", false}, {"pieces"}, {"each"}, {"whole order " + sums.currency()},
      {"per piece"}};
  const bool remarks =
      std::ranges::any_of(order.quantities, [](const QuantityRow& row) { return !row.remark.empty(); });
  if (remarks) table.columns.push_back({"remark", false});
  for (const QuantityRow& row : order.quantities) {
    std::vector<std::string> cells{part_text(row.part, row.candidate),
                                   row.supplier,
                                   fmt::format("{}", row.quantity),
                                   unit_price_text(row.each, sums.minor_digits()),
                                   sums.cell(row.landed),
                                   sums.cell(row.landed_each)};
    if (remarks) cells.push_back(row.remark);
    table.add(cells, row.chosen ? Table::Role::best : Table::Role::plain, row.chosen ? "*" : "");
  }
  return table;
}

// A dimension that every candidate of the part fits for certain decides nothing.
bool decides(const OrderAnswer& order, const FitRow& row, std::size_t dimension) {
  const auto leaves_doubt = [&](const FitRow& other) {
    return other.part == row.part && other.dimensions[dimension].chance < 1;
  };
  return !row.dimensions[dimension].nominal || std::ranges::any_of(order.fits, leaves_doubt);
}

std::string size_text(double mm) { return decimals_text(mm, 3); }

std::string dimension_text(const DimensionFit& d) {
  if (!d.nominal) return d.name + ": not catalogued, taken to fit";
  const std::string doubt = d.limit > 0 ? " +/- " + size_text(d.limit) : "";
  return fmt::format("{} {}: {} catalogued, {}{} measured, takes -{}/+{} mm", d.name, percent_text(d.chance),
                     size_text(*d.nominal), size_text(d.measured), doubt, size_text(d.below),
                     size_text(d.above));
}

std::string fit_words(const OrderAnswer& order, const FitRow& row) {
  std::string text =
      fmt::format("{} fits at {}", part_text(row.part, row.candidate), percent_text(row.chance));
  if (std::ranges::none_of(row.dimensions, [](const DimensionFit& d) { return d.nominal.has_value(); })) {
    return text + "; none of its sizes is catalogued.";
  }
  for (std::size_t d = 0; d < row.dimensions.size(); ++d) {
    if (decides(order, row, d)) text += "; " + dimension_text(row.dimensions[d]);
  }
  return text + (row.else_chance < 1 ? fmt::format("; all else {}, as stated.", percent_text(row.else_chance))
                                     : ".");
}

}  // namespace

std::string landed_words(const OrderAnswer& order, const Sums& sums) {
  std::vector<std::string> costs;
  const auto add = [&](const char* name, double value) {
    if (value != 0) costs.push_back(fmt::format("{} {}", name, money_text(value, sums.minor_digits())));
  };
  add("goods", order.goods);
  add("shipping", order.shipping);
  add("fees", order.fees);
  add("duty", order.duty);
  add("tax", order.tax);
  add("exchange fee", order.exchange_fee);
  return fmt::format("Landed: {}{}. Wait: {}.", sums.amount(order.landed),
                     costs.empty() ? "" : fmt::format(" ({})", fmt::join(costs, ", ")),
                     days_text(order.wait_days));
}

std::vector<std::string> order_lines(const OrderAnswer& order, const Sums& sums, std::size_t most) {
  std::vector<std::string> lines;
  for (const DrawerLine& line : order.drawer)
    lines.push_back(fmt::format("take {} x {} from the drawer", line.taken, line.candidate));
  struct Parcel {
    std::string supplier, pieces;
    double landed = 0;
  };
  std::vector<Parcel> parcels;
  for (const OrderLine& line : order.lines) {
    auto parcel = std::ranges::find(parcels, line.supplier, &Parcel::supplier);
    if (parcel == parcels.end()) parcel = parcels.insert(parcels.end(), {line.supplier, "", 0});
    parcel->pieces +=
        fmt::format("{}{} x {}", parcel->pieces.empty() ? "" : " + ", line.quantity, line.candidate);
    parcel->landed += line.landed;
  }
  for (const Parcel& parcel : parcels) {
    lines.push_back(fmt::format("order {} from {}: {} delivered", parcel.pieces, parcel.supplier,
                                sums.amount(parcel.landed)));
  }
  if (lines.size() > most) {
    const std::size_t more = lines.size() - most + 1;
    lines.resize(most - 1);
    lines.push_back(fmt::format("and {} lines more (--show order)", more));
  }
  if (!order.lines.empty()) {
    const std::string wait = days_text(order.wait_days);
    lines.back() +=
        parcels.size() > 1 ? fmt::format("; in all {}, {}", sums.amount(order.landed), wait) : ", " + wait;
  }
  return lines;
}

Section order_section(const OrderAnswer& order, const Sums& sums) {
  Section section{"What to order"};
  section.say("For: " + order.plan + ".");
  for (const DrawerLine& line : order.drawer) {
    section.say(fmt::format("From the drawer: {} of {} of {}, worth {} elsewhere.", line.taken, line.on_hand,
                            part_text(line.part, line.candidate), sums.amount(line.worth)));
  }
  if (order.lines.empty() && !order.drawer.empty()) {
    section.say("Nothing is to be ordered: the drawer has all pieces.");
    return section;
  }
  section.add(lines_table(order, sums));
  if (order.hedge) section.say(hedge_words(order, sums));
  section.say(landed_words(order, sums));
  if (order.leftovers > 0) {
    section.say(fmt::format("{} left over, worth {}: what is expected to be saved by having {}.",
                            count_text(order.leftovers, "piece", "pieces"), sums.amount(order.leftover_value),
                            order.leftovers == 1 ? "it" : "them"));
  }
  section.say(charged_words(order, sums));
  std::vector<std::string> items = order.warnings;
  for (const FitRow& row : order.fits) items.push_back(fit_words(order, row));
  section.list(std::move(items));
  section.add(quantities_table(order, sums));
  return section;
}

}  // namespace mendworth
