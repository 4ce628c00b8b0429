#include <algorithm>
#include <array>
#include <cstddef>
#include <functional>
#include <vector>

#include "domain/adding_up.hpp"
#include "render/quote_words.hpp"
#include "render/shop_sheet.hpp"

namespace mendworth {

namespace {

using Role = Table::Role;
using Figure = std::function<std::string(const ShopChoice&)>;

// A table with a row for each figure and a column for each choice, being filled.
class ByChoice {
 public:
  ByChoice(const ShopPage& page, const std::string& name, const std::string& caption,
           const std::string& first_heading)
      : page_(page) {
    table_.name = name;
    table_.caption = caption;
    table_.compares_columns = true;
    table_.columns.push_back({first_heading, false});
    for (std::size_t i = 0; i < page.choices.size(); ++i) {
      const bool proposed = page.choices.size() > 1 && static_cast<int>(i) == page.proposed;
      if (proposed) table_.marked_column = i + 1;
      table_.columns.push_back({page.choices[i].title + (proposed ? " (proposed)" : "")});
    }
  }
  void row(const std::string& label, const Figure& figure, Role role = Role::plain) {
    std::vector<std::string> cells{label};
    for (const ShopChoice& choice : page_.choices) cells.push_back(figure(choice));
    table_.rows.push_back({cells, role});
  }
  [[nodiscard]] Table table() && { return std::move(table_); }

 private:
  const ShopPage& page_;
  Table table_;
};

std::string in_currency(const std::string& caption, const Pen& pen) {
  return caption + ", in " + pen.currency();
}

std::string maybe_amount(const std::optional<Money>& sum, const Pen& pen) {
  return sum ? pen.amount(*sum) : "none";
}

bool any_choice(const ShopPage& page, bool (*holds)(const ShopChoice&)) {
  return std::ranges::any_of(page.choices, holds);
}

// The printed column of one choice adds up: its cost is the printed income less the printed margin.
struct PrintedCost {
  std::vector<Money> parts;  // in the order of JobCost
  Money total;
};

PrintedCost printed_cost(const ShopChoice& choice, const Currency& currency) {
  const JobCost& c = choice.cost;
  const Money total = rounded(choice.expected_income, currency) - rounded(choice.margin, currency);
  return {
      adding_up({c.labour, c.order, c.consumables, c.stock, c.rework, c.warranty, c.come_back, c.liability},
                total, currency),
      total};
}

}  // namespace

Table income_table(const ShopPage& page, const Pen& pen) {
  ByChoice by(page, "income", in_currency("Expected income and cost of a job", pen),
              "Without taxes passed on");
  const auto money = [&](const std::string& label, double (*value)(const ShopChoice&),
                         Role role = Role::plain) {
    by.row(
        label, [&](const ShopChoice& c) { return pen.amount(value(c)); }, role);
  };
  by.row("Income if repaired", [&](const ShopChoice& c) { return pen.amount(c.income); });
  money("Income if not", [](const ShopChoice& c) { return c.no_cure_income; });
  by.row("Chance that it is repaired", [&](const ShopChoice& c) { return pen.percent(c.cure_chance); });
  by.row("Chance that it is lost", [&](const ShopChoice& c) { return pen.percent(c.lost_chance); });
  money(
      "Expected income", [](const ShopChoice& c) { return c.expected_income; }, Role::total);
  constexpr std::array labels{"Labour as planned",         "Order, landed",         "Consumables",
                              "Stock used less leftovers", "Bad luck on the bench", "Warranty on parts",
                              "Complaints of the work",    "Liability for losses"};
  for (std::size_t i = 0; i < labels.size(); ++i) {
    by.row(labels[i],
           [&, i](const ShopChoice& c) { return pen.amount(printed_cost(c, page.currency).parts.at(i)); });
  }
  by.row(
      "Cost", [&](const ShopChoice& c) { return pen.amount(printed_cost(c, page.currency).total); },
      Role::total);
  money(
      "Expected margin", [](const ShopChoice& c) { return c.margin; }, Role::total);
  return std::move(by).table();
}

Table margin_table(const ShopPage& page, const Pen& pen) {
  ByChoice by(page, "margin", in_currency("Margin of a job", pen), "Figure");
  by.row("Expected margin", [&](const ShopChoice& c) { return pen.amount(c.margin); });
  by.row("Standard error", [&](const ShopChoice& c) { return pen.amount(c.margin_error); });
  by.row("Share of the income", [&](const ShopChoice& c) {
    return c.margin_share ? pen.percent(*c.margin_share) : std::string("none");
  });
  by.row("Chance of a loss", [&](const ShopChoice& c) { return pen.percent(c.loss_chance); });
  by.row("P10, one in ten is below", [&](const ShopChoice& c) { return pen.amount(c.margin_p10); });
  by.row("P50, the middle", [&](const ShopChoice& c) { return pen.amount(c.margin_p50); });
  by.row("P90, one in ten is above", [&](const ShopChoice& c) { return pen.amount(c.margin_p90); });
  by.row("Pieces left over", [&](const ShopChoice& c) { return std::to_string(c.leftover_pieces); });
  by.row("Worth of them", [&](const ShopChoice& c) { return pen.amount(c.leftover_value); });
  if (any_choice(page, [](const ShopChoice& c) { return c.owner_saving.has_value(); })) {
    by.row("Saving of the owner", [&](const ShopChoice& c) {
      return c.owner_saving ? pen.amount(*c.owner_saving) : std::string("not known");
    });
  }
  if (any_choice(page, [](const ShopChoice& c) { return c.owner_saving_with_subsidy.has_value(); })) {
    by.row("The same with the subsidy", [&](const ShopChoice& c) {
      return c.owner_saving_with_subsidy ? pen.amount(*c.owner_saving_with_subsidy)
                                         : std::string("not known");
    });
  }
  return std::move(by).table();
}

Table time_table(const ShopPage& page, const Pen& pen) {
  ByChoice by(page, "time", "Time on the bench", "Time");
  const auto minutes = [&](const std::string& label, double ShopChoice::*value) {
    by.row(label, [&pen, value](const ShopChoice& c) { return pen.time(c.*value, 0); });
  };
  minutes("As planned", &ShopChoice::minutes_planned);
  minutes("P10", &ShopChoice::minutes_p10);
  minutes("P50", &ShopChoice::minutes_p50);
  minutes("P90", &ShopChoice::minutes_p90);
  return std::move(by).table();
}

Table price_table(const ShopPage& page, const Pen& pen) {
  ByChoice by(page, "prices", in_currency("Prices that would do", pen), "Price");
  const auto price = [&](const std::string& label, std::optional<Money> ShopChoice::*sum) {
    by.row(label, [&pen, sum](const ShopChoice& c) { return maybe_amount(c.*sum, pen); });
  };
  const std::string share = pen.percent(page.target_margin);
  by.row("Quoted, without tax", [&](const ShopChoice& c) { return pen.amount(c.income); });
  price("No expected loss, without tax", &ShopChoice::lowest_price);
  price("No expected loss, as quoted", &ShopChoice::lowest_price_total);
  price("For " + share + " margin, without tax", &ShopChoice::target_price);
  price("For " + share + " margin, as quoted", &ShopChoice::target_price_total);
  price("The same, no cure no fee, without tax", &ShopChoice::no_fee_price);
  price("The same, no cure no fee, as quoted", &ShopChoice::no_fee_price_total);
  return std::move(by).table();
}

Table ceiling_table(const ShopPage& page, const Pen& pen) {
  std::vector<double> confidences;
  for (const ShopChoice& choice : page.choices) {
    for (const CeilingRow& row : choice.ceilings) confidences.push_back(row.confidence);
  }
  std::ranges::sort(confidences);
  confidences.erase(std::unique(confidences.begin(), confidences.end()), confidences.end());

  ByChoice by(page, "limit", in_currency("To pay if labour is charged by time", pen),
              "Jobs that stay within");
  for (const double confidence : confidences) {
    by.row(pen.percent(confidence), [&](const ShopChoice& c) {
      for (const CeilingRow& row : c.ceilings) {
        if (row.confidence == confidence) return pen.amount(row.charge) + (row.chosen ? " (limit)" : "");
      }
      return std::string("-");
    });
  }
  by.row("Charge by time above the quote",
         [&](const ShopChoice& c) { return pen.percent(c.overrun_chance); });
  by.row("Charge by time above the consent limit",
         [&](const ShopChoice& c) { return pen.percent(c.over_limit_chance); });
  return std::move(by).table();
}

Table reserve_table(const ShopPage& page, const Pen& pen) {
  Table table{.caption = "What a warranty costs by its length, per job",
              .columns = {{"Choice", false},
                          {"Days"},
                          {"Reserve, " + pen.currency()},
                          {"Returns of new pieces"},
                          {"Old mates failing, not covered"}},
              .name = "warranty"};
  for (const ShopChoice& choice : page.choices) {
    for (const ReserveRow& row : choice.reserves) {
      table.rows.push_back(
          {{choice.title, std::to_string(row.days) + (row.offered ? " (offered)" : ""),
            pen.amount(row.reserve), pen.number(row.returns, 4), pen.number(row.mates_failing, 4)}});
    }
  }
  return table;
}

Table order_table(const ShopPage& page, const Pen& pen) {
  Table table{.caption = in_currency(
                  "What each choice takes and orders; goods with their tax, without shipping", pen),
              .columns = {{"Choice", false}, {"From", false}, {"Item", false}, {"Pieces"}, {"Goods"}},
              .name = "order"};
  for (const ShopChoice& choice : page.choices) {
    for (const OrderRow& row : choice.order) {
      table.rows.push_back({{choice.title, row.supplier.empty() ? "own drawer" : row.supplier, row.item,
                             std::to_string(row.pieces), row.supplier.empty() ? "" : pen.amount(row.cost)}});
    }
  }
  return table;
}

Table moves_table(const ShopChoice& choice, const Pen& pen) {
  Table table{
      .caption = in_currency("Margin at the ends of each input", pen),
      .columns =
          {{"Input", false}, {"Low"}, {"Base"}, {"High"}, {"Margin at low"}, {"Margin at high"}, {"Swing"}},
      .name = "sensitivity"};
  for (const MarginRow& row : choice.moves) {
    table.rows.push_back({{row.label + (row.uncertain ? "" : " *"), pen.input(row.low), pen.input(row.base),
                           pen.input(row.high), pen.amount(row.margin_low), pen.amount(row.margin_high),
                           pen.amount(row.swing)}});
  }
  return table;
}

}  // namespace mendworth
