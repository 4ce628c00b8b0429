#include "render/rows_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

#include "render/answer_words.hpp"
#include "render/document.hpp"
#include "render/layout.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

constexpr std::size_t most_fields = 3;     ///< of a row beside its answer: more would not fit on paper
constexpr std::size_t most_row_bars = 24;  ///< more devices are a curve

struct Advice {
  VerdictKind kind;
  const char* to_do;   ///< of several devices
  const char* advice;  ///< of one
};
constexpr std::array<Advice, 6> all_advice{
    {{VerdictKind::repair, "to repair", "repair"},
     {VerdictKind::replace, "to replace", "replace"},
     {VerdictKind::leave, "to leave as they are", "leave"},
     {VerdictKind::keep, "to be kept: repair", "keep"},
     {VerdictKind::price_unknown, "without a price of a new one", "no price"},
     {VerdictKind::refer, "for licensed hands", "refer"}}};

const Advice& advice_of(const RowAnswer& answer) {
  return *std::ranges::find(all_advice, answer.verdict.kind, &Advice::kind);
}

const char* sure(const Verdict& verdict) {
  switch (verdict.confidence) {
    case Confidence::clear: return "clear";
    case Confidence::leaning: return "leaning";
    case Confidence::toss_up: break;
  }
  return "toss-up";
}

std::string name_of_row(const ReportRow& row, std::size_t index) {
  const auto first = row.fields.empty() ? std::string() : one_line(row.fields.front());
  return first.empty() ? fmt::format("row {}", index + 1) : first;
}

struct RowCurrency {
  std::string name;
  int minor_digits;
};
std::vector<RowCurrency> currencies_of(const std::vector<ReportRow>& rows) {
  std::vector<RowCurrency> all;
  for (const ReportRow& row : rows) {
    if (!row.answer) continue;
    const auto known = std::ranges::find(all, row.answer->currency, &RowCurrency::name);
    if (known == all.end()) all.push_back({row.answer->currency, row.answer->minor_digits});
  }
  return all;
}

template <class Visit>
void for_answers_in(const RowCurrency& currency, const std::vector<ReportRow>& rows, const Visit& visit) {
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (rows[i].answer && rows[i].answer->currency == currency.name) visit(i, *rows[i].answer);
  }
}

Table totals(const RowCurrency& currency, const std::vector<ReportRow>& rows) {
  const Sums sums(currency.name, currency.minor_digits);
  Table table{.columns = {{fmt::format("devices ({})", currency.name), false},
                          {"count"},
                          {"money now"},
                          {"saved against the other course"}},
              .name = "totals " + currency.name};
  long long count = 0;
  double money = 0, saved = 0;
  for (const Advice& one : all_advice) {
    long long of_kind = 0;
    double money_of = 0, saved_of = 0;
    for_answers_in(currency, rows, [&](std::size_t, const RowAnswer& answer) {
      if (answer.verdict.kind != one.kind) return;
      ++of_kind;
      money_of += answer.money_now;
      if (one.kind == VerdictKind::repair || one.kind == VerdictKind::replace)
        saved_of += std::abs(answer.verdict.saving.value_or(0));
    });
    if (of_kind == 0) continue;
    const bool compared = one.kind == VerdictKind::repair || one.kind == VerdictKind::replace;
    table.add({one.to_do, fmt::format("{}", of_kind), sums.cell(money_of, money_of),
               compared ? sums.cell(saved_of, saved_of) : "-"});
    count += of_kind;
    money += money_of;
    saved += saved_of;
  }
  table.add({"all", fmt::format("{}", count), sums.cell(money, money), sums.cell(saved, saved)},
            Table::Role::total);
  return table;
}

Chart savings_chart(const RowCurrency& currency, const std::vector<ReportRow>& rows) {
  struct Saving {
    std::string name;
    double value, error;
  };
  std::vector<Saving> savings;
  for_answers_in(currency, rows, [&](std::size_t i, const RowAnswer& answer) {
    if (answer.verdict.saving)
      savings.push_back({name_of_row(rows[i], i), *answer.verdict.saving, answer.verdict.saving_error});
  });
  std::ranges::stable_sort(savings, std::ranges::greater{}, &Saving::value);
  const auto repaired = std::ranges::count_if(savings, [](const Saving& one) { return one.value > 0; });
  Chart chart{.name = "savings " + currency.name, .title = "What repairing saves, device by device"};
  chart.description = fmt::format(
      "Against the best replacement, in order of the saving: repairing costs less for {} of {} devices.",
      repaired, savings.size());
  const ChartAxis money{
      .name = "saving by repair", .unit = currency.name, .digits = currency.minor_digits, .reach = {0}};
  const Sums sums(currency.name, currency.minor_digits);
  if (savings.size() <= most_row_bars) {
    chart.kind = Chart::Kind::bars;
    chart.x = money;
    chart.y.name = "device";
    chart.series = {{.name = "saving by repair"}};
    for (const Saving& one : savings)
      chart.bars.push_back({.label = one.name,
                            .segments = {{0, 0, one.value, one.value}},
                            .note = sums.cell(one.value, one.value, one.error)});
    return chart;
  }
  chart.x = {.name = "devices, the largest saving first", .whole = true, .reach = {0}};
  chart.y = money;
  ChartSeries series{.name = "saving by repair", .mark = ChartSeries::Mark::steps};
  for (std::size_t i = 0; i < savings.size(); ++i)
    series.points.push_back({static_cast<double>(i + 1), savings[i].value, {}, {}});
  chart.series.push_back(std::move(series));
  return chart;
}

// A field as it is read: a range that is written as a case writes it, { low = 3, high = 6 }, is 3..6.
std::string field_text(const std::string& field) {
  std::string text = one_line(field);
  if (!text.starts_with('{')) return text;
  std::string points;
  for (std::size_t at = text.find('='); at != std::string::npos; at = text.find('=', at + 1)) {
    const std::size_t from = text.find_first_not_of(' ', at + 1);
    const std::size_t end = text.find_first_of(" ,}", from);
    if (end == std::string::npos) return text;
    points += (points.empty() ? "" : "..") + text.substr(from, end - from);
  }
  return points;
}

Table devices(const std::vector<std::string>& headings, const std::vector<ReportRow>& rows) {
  const std::size_t shown = std::min(headings.size(), most_fields);
  Table table;
  table.name = "devices";
  for (std::size_t i = 0; i < shown; ++i) table.columns.push_back({one_line(headings[i]), false});
  table.columns.insert(
      table.columns.end(),
      {{"do", false}, {"how sure", false}, {"saving"}, {"+/-"}, {"money now"}, {"turns at"}});
  const bool several = currencies_of(rows).size() > 1;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (!rows[i].answer) continue;
    const RowAnswer& answer = *rows[i].answer;
    const auto money = [&](const std::optional<double>& sum) {
      if (!sum) return std::string("-");
      return (several ? answer.currency + " " : "") + money_text(*sum, answer.minor_digits);
    };
    const bool estimated = answer.verdict.saving.has_value();
    std::vector<std::string> cells{name_of_row(rows[i], i)};
    for (std::size_t k = 1; k < shown; ++k) cells.push_back(field_text(rows[i].fields[k]));
    cells.insert(cells.end(), {advice_of(answer).advice, estimated ? sure(answer.verdict) : "-",
                               money(answer.verdict.saving),
                               estimated ? money_text(answer.verdict.saving_error, answer.minor_digits) : "-",
                               money(answer.money_now), money(answer.turning_price)});
    table.add(std::move(cells));
  }
  return table;
}

Table without_answer(const std::vector<ReportRow>& rows) {
  Table table{.columns = {{"row", false}, {"what is wrong", false}}, .name = "problems"};
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (!rows[i].answer)
      table.add({fmt::format("{}: {}", i + 1, name_of_row(rows[i], i)), one_line(rows[i].problem)});
  }
  return table;
}

}  // namespace

std::string rows_page(const std::string& table_name, const std::vector<std::string>& headings,
                      const std::vector<ReportRow>& rows, const PageStyle& style) {
  Document page = answer_document("Repair or replace: " + table_name);
  std::vector<std::string> counts;
  for (const Advice& one : all_advice) {
    const auto count = std::ranges::count_if(
        rows, [&](const ReportRow& row) { return row.answer && row.answer->verdict.kind == one.kind; });
    if (count > 0) counts.push_back(fmt::format("{} {}", count, one.to_do));
  }
  const auto failed = std::ranges::count_if(rows, [](const ReportRow& row) { return !row.answer; });
  if (failed > 0) counts.push_back(fmt::format("{} without an answer", failed));
  page.opening = {Paragraph{
      fmt::format("Of {}: {}.", count_text(static_cast<long long>(rows.size()), "device", "devices"),
                  counts.empty() ? "none" : listed(counts)),
      true}};
  const std::vector<RowCurrency> currencies = currencies_of(rows);
  Section money{"The money in all", {}, {}, "totals"};
  for (const RowCurrency& currency : currencies) money.add(totals(currency, rows));
  money.say(
      "Money now: what the advised course costs at once if all goes well, own time not counted. Each device "
      "is taken by itself: an order that several share costs less.");
  Section savings{"What repairing saves", {}, {}, "savings"};
  for (const RowCurrency& currency : currencies) savings.add(savings_chart(currency, rows));
  Section all{currencies.size() == 1 ? fmt::format("Device by device ({})", currencies.front().name)
                                     : "Device by device",
              {},
              {},
              "devices"};
  all.add(devices(headings, rows));
  all.say(
      "Saving: what repairing saves in the long run against the best replacement, and its standard error. "
      "Turns at: the price of the replacement at which both cost the same.");
  if (headings.size() > most_fields) {
    all.say(fmt::format("Of the table's {} columns the first {} are shown; the answer as CSV has all.",
                        headings.size(), most_fields));
  }
  Section wrong{"Rows without an answer", {}, {}, "problems"};
  wrong.add(without_answer(rows));
  page.sections = {std::move(money), std::move(savings), std::move(all), std::move(wrong)};
  page.closing.push_back({fmt::format("mendworth {}.", version())});
  return page_of(std::move(page), style);
}

}  // namespace mendworth
