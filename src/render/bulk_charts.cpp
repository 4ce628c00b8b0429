#include "render/bulk_charts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "render/answer_words.hpp"
#include "render/number_text.hpp"

namespace mendworth {

const char* words_of(Policy policy) {
  switch (policy) {
    case Policy::run_to_failure: return "run to failure";
    case Policy::mates_at_opening: return "all mates at each opening";
    case Policy::campaign: break;
  }
  return "campaign on all now";
}

Chart demand_chart(const std::string& name, const BulkScenario& scenario) {
  Chart chart{.kind = Chart::Kind::bars,
              .name = name,
              .title = "Pieces wanted: what nine of ten outcomes lie between"};
  chart.description =
      "From the 5 % to the 95 % point; the diamond marks the middle one, which half of the outcomes stay at "
      "or below.";
  chart.x = {.name = "pieces", .whole = true, .reach = {0}};
  chart.y.name = "part";
  chart.point_name = "50 %";
  chart.series = {{.name = "from 5 % to 50 %"}, {.name = "from 50 % to 95 %"}};
  for (const PartDemand& d : scenario.demand) {
    const auto low = static_cast<double>(d.low), median = static_cast<double>(d.median),
               high = static_cast<double>(d.high);
    chart.bars.push_back({.label = d.part + ", within " + years_text(d.years),
                          .segments = {{0, low, median, low}, {1, median, high, high}},
                          .point = median,
                          .note = fmt::format("{} to {}", d.low, d.high)});
  }
  return chart;
}

Chart bulk_ladder_chart(const BulkAnswer& a, const std::string& name, const BulkLadder& ladder,
                        const std::string& title) {
  Chart chart;
  if (ladder.rows.size() < 3) return chart;
  chart.name = name;
  chart.title = title + ": what a quantity costs, bought once";
  chart.x = {.name = "pieces bought", .whole = true};
  chart.y = {.name = "cost", .unit = a.currency, .digits = a.minor_digits, .reach = {0}};
  chart.series = {{.name = "delivered", .mark = ChartSeries::Mark::dotted},
                  {.name = "expected in the end", .mark = ChartSeries::Mark::dotted}};
  std::vector<const BulkRow*> rows;
  for (const BulkRow& row : ladder.rows) rows.push_back(&row);
  std::ranges::stable_sort(rows,
                           [](const BulkRow* x, const BulkRow* y) { return x->quantity < y->quantity; });
  for (const BulkRow* row : rows) {
    const double pieces = row->quantity;
    chart.series[0].points.push_back({pieces, row->landed});
    chart.series[1].points.push_back({pieces, row->cost});
    if (row->best) chart.marks.push_back({pieces, fmt::format("best: {}", row->quantity)});
  }
  chart.description = "In the end: with what missing pieces cost, less what is left sells for.";
  return chart;
}

Chart offers_chart(const BulkAnswer& a, const std::string& name, const PartDemand& demand,
                   const std::vector<const BulkOffer*>& offers) {
  Chart chart;
  chart.name = name;
  chart.title = demand.part + ": what a piece that is used costs, by the quantity bought";
  chart.description = fmt::format(
      "Nine of ten outcomes of the need, beyond what is in the drawer, lie between the lines at 5 % and 95 "
      "%.");
  chart.x = {.name = "pieces bought", .whole = true};
  chart.y = {.name = "a piece used", .unit = a.currency, .reach = {0}};
  chart.legend = true;
  const bool several = std::ranges::any_of(
      offers, [&](const BulkOffer* offer) { return offer->candidate != offers.front()->candidate; });
  for (const BulkOffer* offer : offers) {
    ChartSeries series{.name = offer->quotation.empty() ? offer->supplier : offer->quotation,
                       .mark = ChartSeries::Mark::dotted};
    if (several) series.name = offer->candidate + ", " + series.name;
    for (const BulkPoint& point : offer->points) {
      const auto pieces = static_cast<double>(point.quantity);
      if (point.quantity > 0 && (series.points.empty() || series.points.back().x < pieces))
        series.points.push_back({pieces, point.per_used});
    }
    if (!series.points.empty()) chart.series.push_back(std::move(series));
  }
  if (chart.series.empty()) return {};
  const auto beyond = [&](int pieces) { return static_cast<double>(std::max(0, pieces - demand.drawer)); };
  chart.marks = {{beyond(demand.low), "need: 5 %"}, {beyond(demand.high), "need: 95 %"}};
  return chart;
}

Chart policies_chart(const BulkAnswer& a, const std::string& name, const FleetPolicies& p) {
  Chart chart{
      .kind = Chart::Kind::bars, .name = name, .title = "What each policy costs, by what the money goes to"};
  chart.description = fmt::format("Expected over {}; the diamond marks the total.", years_text(p.years));
  chart.x = {.name = "cost", .unit = a.currency, .digits = a.minor_digits, .reach = {0}};
  chart.y.name = "policy";
  chart.letters = true;
  const Sums sums(a.currency, a.minor_digits);
  chart.point_name = "in all";
  chart.series = {
      {.name = "work"}, {.name = "parts"}, {.name = "damage"}, {.name = "days without the device"}};
  for (const PolicyCost& cost : p.policies) {
    ChartBar bar{
        .label = words_of(cost.policy), .point = cost.total, .note = sums.cell(cost.total, cost.total)};
    double end = 0;
    for (const double part : {cost.labour, cost.parts, cost.risk, cost.downtime}) {
      bar.segments.push_back({bar.segments.size(), end, end + part, part});
      end += part;
    }
    chart.bars.push_back(std::move(bar));
  }
  return chart;
}

}  // namespace mendworth
