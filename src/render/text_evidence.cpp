#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "render/number_text.hpp"
#include "render/weighing_sections.hpp"

namespace mendworth {

void evidence_section(Page& page, const Weighing& w) {
  if (w.evidence.empty()) return;
  page.heading("How long these parts live: before and after this device's own evidence");
  Table table({{"part", Table::Align::left, true},
               {"unit", Table::Align::left},
               {"failed\nhere"},
               {"working\nhere"},
               {"median\nbefore"},
               {"median\nafter"},
               {"5 % to 95 %", Table::Align::right, true},
               {"years\nbefore"},
               {"years\nafter"}});
  for (const PartEvidence& part : w.evidence) {
    table.add_row({part.part, name_of(part.unit), fmt::format("{}", part.failures),
                   fmt::format("{}", part.survivors), life_text(part.prior_median),
                   life_text(part.posterior_median),
                   fmt::format("{} to {}", life_text(part.posterior_low), life_text(part.posterior_high)),
                   life_text(part.prior_median_years), life_text(part.posterior_median_years)});
  }
  page.table(table);
  page.paragraph(
      "Years are at the use of the part's busiest position. Failures count as evidence only if the cause is "
      "wear.",
      false, 2);
}

void survivors_section(Page& page, const Weighing& w) {
  if (w.survivors.empty()) return;
  page.heading(
      fmt::format("The originals that still work: chance to fail within {}", years_text(w.horizon_years)));
  const bool own_hands = std::any_of(w.survivors.begin(), w.survivors.end(),
                                     [](const SurvivorRow& row) { return row.renewal.has_value(); });
  std::vector<Table::Column> columns = {{"position", Table::Align::left, true},
                                        {"count"},
                                        {"use"},
                                        {"before\nevidence"},
                                        {"after\nit"},
                                        {"within\n1 year"}};
  if (own_hands) {
    for (const char* title : {"renew\nnow", "open\nlater", "worth\nfrom"}) columns.push_back({title});
  }
  Table table(columns);
  for (const SurvivorRow& row : w.survivors) {
    std::vector<std::string> cells = {row.position,
                                      fmt::format("{}", row.count),
                                      number_text(row.share),
                                      percent_text(row.prior_chance),
                                      percent_text(row.chance),
                                      percent_text(row.chance_one_year)};
    if (row.renewal) {
      cells.push_back(cell(w, row.renewal->now_cost));
      cells.push_back(cell(w, row.renewal->later_cost));
      cells.push_back(percent_text(row.renewal->break_even_chance));
    }
    table.add_row(cells, row.renewal && row.chance > row.renewal->break_even_chance);
  }
  page.table(table);
  if (!own_hands) {
    page.paragraph("Chances are for one position.", false, 2);
    return;
  }
  page.paragraph(
      fmt::format("Chances are for one position, costs in {}. Renewing it now, while the device is open, "
                  "pays where its chance is above \"worth from\": the cost now over the cost of an "
                  "opening of its own later.",
                  w.currency),
      false, 2);
}

}  // namespace mendworth
