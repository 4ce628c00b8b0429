// What must not matter does not: names, the order of tables, the unit of money. Whatever form an answer is written in, it
// has the same figures.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "mendworth/render.hpp"
#include "mendworth/weigh.hpp"
#include "support/case_builder.hpp"
#include "support/near.hpp"
#include "support/random_cases.hpp"
#include "support/random_devices.hpp"

using namespace mendworth;
using namespace mendworth::test;

namespace {

Weighing weighed(const Case& c) {
  return weigh(c, RateBook{}, {.seed = 3, .futures = 400, .threads = 1, .what_ifs = false});
}

/// A random case that buys from two suppliers and compares two replacements.
Case with_more_of_each(RandomCases& random) {
  Case c = random.next();
  auto& sold = c.parts[0].candidates[0];
  if (c.suppliers.size() == 1) {
    c.suppliers.push_back(supplier("Second Source", {{0, random.real(0, 8)}}));
    sold.offers.push_back(offer(1, {{1, random.real(0.2, 3)}}));
  }
  Replacement used = c.replacements[0];
  used.name = "used one";
  used.price = exactly(0.4 * used.price->base());
  used.life_years = exactly(0.5 * used.life_years.base());
  c.replacements.push_back(used);
  return c;
}

/// The ranges of a table's entries are drawn by their place; without ranges its order is free.
void settle(Supplier& s) {
  for (Quantity* q :
       {&s.tax, &s.exchange_rate, &s.exchange_fee, &s.lead_days, &s.low_order_below, &s.low_order_fee}) {
    *q = exactly(q->base());
  }
}
void settle(Replacement& r) {
  r.price = exactly(r.price->base());
  for (Quantity* q : {&r.life_years, &r.life_shape, &r.setup_minutes, &r.benefit_per_year, &r.resale,
                      &r.delivery_days, &r.shipping, &r.tax}) {
    *q = exactly(q->base());
  }
}

void same_figures(const Weighing& a, const Weighing& b, double times = 1, double tolerance = 1e-9) {
  REQUIRE(a.options.size() == b.options.size());
  const double scale = 1 + std::abs(a.options.back().present_cost);
  for (std::size_t i = 0; i < a.options.size(); ++i) {
    CAPTURE(a.options[i].name);
    CHECK(near_abs(b.options[i].present_cost / times, a.options[i].present_cost, tolerance * scale));
    CHECK(near_abs(b.options[i].cash_now / times, a.options[i].cash_now, tolerance * scale));
    CHECK(b.options[i].minutes_now == a.options[i].minutes_now);
    CHECK(near_abs(b.options[i].later_visits_expected, a.options[i].later_visits_expected, tolerance));
  }
  CHECK(near_abs(*b.verdict.saving / times, *a.verdict.saving, tolerance * scale));
  CHECK(b.verdict.kind == a.verdict.kind);
  CHECK(b.verdict.repair_cheaper_share == a.verdict.repair_cheaper_share);
  REQUIRE(a.order.has_value() == b.order.has_value());
  if (!a.order) return;
  CHECK(near_abs(b.order->landed / times, a.order->landed, tolerance * scale));
  CHECK(b.order->leftovers == a.order->leftovers);
}

/// Every sum of money in a case.
std::vector<Quantity*> money_of(Case& c) {
  std::vector<Quantity*> all = {&c.device.resale,        &c.device.scrap,     &c.device.keepsake,
                                &c.labour.rate_per_hour, &c.risks.mend_money, &c.downtime.per_day};
  if (c.fault.burden_per_year) all.push_back(&*c.fault.burden_per_year);
  if (c.risks.second_attempt) all.push_back(&c.risks.second_attempt->money);
  for (Part& p : c.parts) {
    all.push_back(&p.spare_resale);
    for (Candidate& candidate : p.candidates) {
      for (Offer& o : candidate.offers) {
        all.push_back(&o.line_fee);
        for (PriceBreak& step : o.prices) all.push_back(&step.each);
      }
    }
  }
  for (Supplier& s : c.suppliers) {
    all.insert(all.end(), {&s.low_order_below, &s.low_order_fee, &s.duty_free_up_to, &s.customs_fee});
    for (ShippingTier& tier : s.shipping) all.push_back(&tier.price);
  }
  for (Consumable& used : c.consumables) all.push_back(&used.price);
  for (Replacement& r : c.replacements) {
    all.insert(all.end(), {&*r.price, &r.shipping, &r.benefit_per_year, &r.resale});
  }
  return all;
}

/// Negative sums too, which Quantity::scaled takes as it takes others.
void scale_money(Case& c, double times) {
  for (Quantity* sum : money_of(c)) *sum = sum->scaled(times);
  c.device.already_spent *= times;
  for (Supplier& s : c.suppliers) {
    s.other_goods *= times;
    for (ShippingTier& tier : s.shipping) tier.goods_from *= times;
  }
}

std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (const char ch : line) {
    if (ch == '"') {
      quoted = !quoted;
    } else if (ch == ',' && !quoted) {
      cells.emplace_back();
    } else {
      cells.back() += ch;
    }
  }
  return cells;
}

/// A line of the page has these cells, from left to right.
bool has_row(const std::string& page, const std::vector<std::string>& cells) {
  std::istringstream lines(page);
  for (std::string line; std::getline(lines, line);) {
    std::size_t at = 0;
    for (const std::string& cell : cells) {
      at = line.find(cell, at);
      if (at == std::string::npos) break;
      at += cell.size();
    }
    if (at != std::string::npos) return true;
  }
  return false;
}

std::vector<double> numbers_after(const std::string& json, const std::string& key) {
  std::vector<double> found;
  const std::string mark = "\"" + key + "\": ";
  for (std::size_t at = json.find(mark); at != std::string::npos; at = json.find(mark, at + 1)) {
    found.push_back(std::strtod(json.c_str() + at + mark.size(), nullptr));
  }
  return found;
}

}  // namespace

TEST_SUITE_BEGIN("properties");

TEST_CASE("names change nothing") {
  RandomCases random(501);
  for (int i = 0; i < random_cases(8); ++i) {
    CAPTURE(i);
    const Case c = with_more_of_each(random);
    Case other = c;
    other.source_name = "z";
    other.device.name = "Zeta";
    // The later names come first, so that an order by name would show.
    char letter = 'z';
    const auto rename = [&letter](std::string& name) { name = std::string(1, letter--) + " thing"; };
    for (PositionGroup& group : other.positions) rename(group.name);
    for (Part& p : other.parts) {
      rename(p.name);
      for (Candidate& candidate : p.candidates) rename(candidate.name);
    }
    for (Supplier& s : other.suppliers) rename(s.name);
    for (Replacement& r : other.replacements) rename(r.name);
    same_figures(weighed(c), weighed(other), 1, 0);
  }
}

TEST_CASE("the order of suppliers, offers and replacements changes nothing") {
  RandomCases random(502);
  for (int i = 0; i < random_cases(8); ++i) {
    CAPTURE(i);
    Case c = with_more_of_each(random);
    for (Supplier& s : c.suppliers) settle(s);
    for (Replacement& r : c.replacements) settle(r);
    Case turned = c;
    std::reverse(turned.suppliers.begin(), turned.suppliers.end());
    std::reverse(turned.replacements.begin(), turned.replacements.end());
    auto& offers = turned.parts[0].candidates[0].offers;
    std::reverse(offers.begin(), offers.end());
    for (Offer& o : offers) o.supplier = 1 - o.supplier;
    same_figures(weighed(c), weighed(turned));
  }
}

TEST_CASE("the order of parts and of positions changes nothing but luck") {
  RandomCases random(503);
  for (int i = 0; i < random_cases(4); ++i) {
    CAPTURE(i);
    Case c = random.next();
    c.positions.resize(1);
    c.parts.push_back(c.parts[0]);
    c.parts[1].name = "lever";
    c.parts[1].candidates[0].name = "long lever";
    c.parts[1].life.rated_life = random.number(20'000, 900'000);
    PositionGroup lever = c.positions[0];
    lever.name = "levers";
    lever.part = 1;
    lever.count = random.whole(1, 3);
    lever.failed = random.whole(0, 1);
    c.positions.push_back(lever);
    Case turned = c;
    std::reverse(turned.parts.begin(), turned.parts.end());
    std::reverse(turned.positions.begin(), turned.positions.end());
    for (PositionGroup& group : turned.positions) group.part = 1 - group.part;
    const Weighing a = weighed(c), b = weighed(turned);
    // Other luck for each: five standard errors of the difference, and half a percent for plans found on few futures.
    CHECK(near_abs(*a.verdict.saving, *b.verdict.saving,
                   5 * std::hypot(a.verdict.saving_error, b.verdict.saving_error) +
                       0.005 * a.options.back().present_cost));
  }
}

TEST_CASE("a currency of a thousandth makes every sum a thousand times as large, and no choice another") {
  RandomCases random(504);
  for (int i = 0; i < random_cases(8); ++i) {
    CAPTURE(i);
    const Case c = with_more_of_each(random);
    Case thousand = c;
    scale_money(thousand, 1000);
    same_figures(weighed(c), weighed(thousand), 1000);
  }
}

TEST_CASE("a supplier, a candidate and a replacement that nobody would choose change nothing") {
  RandomCases random(505);
  for (int i = 0; i < random_cases(4); ++i) {
    CAPTURE(i);
    const Case c = with_more_of_each(random);
    Case more = c;
    more.suppliers.push_back(supplier("Far And Dear", {{0, 900}}));
    Candidate dear =
        candidate("dear and doubtful", {offer(static_cast<int>(c.suppliers.size()), {{1, 700}})});
    dear.fit = exactly(0.01);
    more.parts[0].candidates.push_back(dear);
    Replacement dearest = c.replacements[0];
    dearest.name = "dearest";
    dearest.price = exactly(5000);
    more.replacements.push_back(dearest);
    Weighing with = weighed(more);
    const auto is_new = [](const OptionResult& o) { return o.family == "dearest"; };
    with.options.erase(std::remove_if(with.options.begin(), with.options.end(), is_new), with.options.end());
    same_figures(weighed(c), with);
  }
}

TEST_CASE("text, HTML, Markdown, CSV and JSON have the same figures") {
  RandomCases random(506);
  for (int i = 0; i < random_cases(8); ++i) {
    CAPTURE(i);
    const Weighing w = weighed(with_more_of_each(random));
    PageStyle style;
    style.width = 120;
    style.show = {"options", "costs"};
    const std::string text = weighing_page(w, style);
    style.form = PageForm::html;
    const std::string html = weighing_page(w, style);
    style.form = PageForm::markdown;
    const std::string markdown = weighing_page(w, style);
    style.form = PageForm::csv;
    std::istringstream csv(weighing_page(w, style));
    const std::vector<double> costs = numbers_after(weighing_json(w), "present_cost");
    REQUIRE(costs.size() >= w.options.size());
    std::size_t option = 0, rows = 0;
    for (std::string line; std::getline(csv, line);) {
      if (!line.empty() && line.back() == '\r') line.pop_back();
      std::vector<std::string> cells = cells_of(line);
      REQUIRE(cells.size() > 2);
      const std::string table = cells[0];
      // "options,mark,course,money now,minutes now,cost now,present cost,cost a year"
      if (table == "options" && cells[1] != "mark") {
        CAPTURE(line);
        REQUIRE(option < costs.size());
        CHECK(near_abs(std::atof(cells[6].c_str()), costs[option], 0.005 + 1e-9));
        CHECK(near_abs(std::atof(cells[6].c_str()), w.options[option].present_cost, 0.005 + 1e-9));
        ++option;
      }
      if (cells[1] == "mark" || cells[1] == "what for") continue;
      // The numbers of a chart are folded away in HTML alone.
      if (table != "options" && table != "cash" && table != "costs") continue;
      cells.erase(cells.begin());
      CAPTURE(line);
      CHECK(has_row(text, cells));
      CHECK(has_row(html, cells));
      CHECK(has_row(markdown, cells));
      ++rows;
    }
    CHECK(option == w.options.size());
    CHECK(rows > option);
  }
}

TEST_SUITE_END();
