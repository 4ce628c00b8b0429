#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include "render/number_text.hpp"
#include "render/weighing_sections.hpp"

namespace mendworth {

namespace {

// Where the pieces of a later opening come from.
std::string spares_words(const Weighing& w) {
  bool spare = false;
  bool order = false;
  for (const SurvivorRow& row : w.survivors) {
    if (row.renewal) (row.renewal->later_uses_spare ? spare : order) = true;
  }
  if (!spare) return ", with a new order";
  return order ? ", with a spare where the order above leaves one, else with a "
                 "new order"
               : ", with a spare that the order above leaves";
}

std::string times_words(double times) {
  // Beyond that the figure says no more.
  if (times > 100) return "more than 100 times as likely";
  if (times < 0.05) return "hardly likely at all";
  if (times > 0.9 && times < 1.1) return "about as likely as before";
  if (times >= 0.45 && times < 0.55) return "half as likely";
  return fmt::format("{} times as likely", times < 0.95  ? fmt::format("{:.2f}", times)
                                           : times < 9.5 ? fmt::format("{:.1f}", times)
                                                         : number_text(std::round(times)));
}

// What the evidence does to a part, as one would say it at the bench.
std::string evidence_words(const PartEvidence& e) {
  std::string words = e.part + ": ";
  if (e.failures > 0) {
    words +=
        fmt::format("{} failed after {} years of use, of which half{} were expected to last {}",
                    e.failures == 1 ? "one" : fmt::format("{}", e.failures), life_text(e.failed_after_years),
                    e.failures == 1 ? "" : " at the least use", life_text(e.expected_years));
    if (e.survivors > 0) words += fmt::format("; {} still work{}", e.survivors, e.survivors == 1 ? "s" : "");
    if (e.early_chance)
      words += fmt::format(". The chance of a failure as early as {} was {}{}",
                           e.failures == 1 ? "this" : "these", percent_text(*e.early_chance),
                           e.wear_hardly_explains() ? ": wear hardly explains it" : "");
  } else {
    words +=
        fmt::format("{} still work{}, none has failed by wear", e.survivors, e.survivors == 1 ? "s" : "");
  }
  if (e.survivors > 0) {
    const double times = e.prior_chance_one_year > 0 ? e.chance_one_year / e.prior_chance_one_year : 1.0;
    words += fmt::format(". Together that makes {} {} to fail within a year: {} before, {} after",
                         e.survivors == 1 ? "this one" : "these, on average,", times_words(times),
                         percent_text(e.prior_chance_one_year), percent_text(e.chance_one_year));
  } else {
    words += fmt::format(". That moves the median life of such a part from {} to {} {}",
                         life_text(e.prior_median), life_text(e.posterior_median), name_of(e.unit));
  }
  const double factor = e.posterior_high / e.posterior_low;
  return words + fmt::format(". Its median life is still known only to a factor of {} (5 % to 95 %).",
                             factor < 10 ? fmt::format("{:.1f}", factor) : number_text(std::round(factor)));
}

std::string cause_words(const CauseAnswer& cause) {
  switch (cause.cause) {
    case Cause::wear: return "The cause is wear, so failures count as evidence about the mates.";
    case Cause::blow:
      return "The cause is a blow: the failure says nothing about the mates. "
             "That they still work does.";
    case Cause::bad_joint:
      return "The cause is a bad joint: the failure says nothing about the "
             "mates. That they still work does.";
    case Cause::spill:
      return fmt::format(
          "The cause is a spill: whatever their wear, it has "
          "reached the other originals with a chance of {}, and "
          "they then fail together, after {} on average.",
          percent_text(cause.common_chance), years_text(cause.common_years));
  }
  return {};
}

// How rated lives were read, and whether the shape, which that reading leans
// on, decides.
std::string reading_words(const Weighing& w) {
  std::vector<std::string> readings;
  for (const PartEvidence& e : w.evidence) {
    std::string reading = fmt::format("{} have failed (B{:g})", percent_text(e.failed_at_rated),
                                      std::round(e.failed_at_rated * 1000) / 10);
    if (std::find(readings.begin(), readings.end(), reading) == readings.end())
      readings.push_back(std::move(reading));
  }
  std::string words = fmt::format(
      "A rated life is read as the life at which {}; "
      "failed_at_rated in the case reads it otherwise.",
      fmt::join(readings, " or "));
  for (const BreakEven& b : w.break_evens) {
    if (b.key != "common.shape") continue;
    if (b.values.empty()) {
      words += fmt::format(" No Weibull shape from {} to {} turns the verdict.", number_text(b.low),
                           number_text(b.high));
    } else {
      std::vector<std::string> places;
      for (std::size_t i = 0; i < b.values.size(); ++i) places.push_back(turning_value_text(b, i));
      words += fmt::format(" The verdict turns at a Weibull shape of {}.", fmt::join(places, " and "));
    }
  }
  return words;
}

}  // namespace

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
  for (const PartEvidence& part : w.evidence) page.paragraph(evidence_words(part), false, 2);
  page.paragraph(cause_words(w.cause), false, 2);
  page.paragraph("Years are at the use of the part's busiest position. " + reading_words(w), false, 2);
}

void survivors_section(Page& page, const Weighing& w) {
  if (w.survivors.empty()) return;
  page.heading(
      fmt::format("The originals that still work: chance to fail within {}", years_text(w.years_ahead)));
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
  page.paragraph(fmt::format("Chances are for one position, costs in {}. "
                             "Renewing it now, while the device is open, "
                             "pays where its chance is above \"worth from\": "
                             "the cost now over the cost of an "
                             "opening of its own later{}.",
                             w.currency, spares_words(w)),
                 false, 2);
}

}  // namespace mendworth
