#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "render/rows_page.hpp"

using namespace mendworth;

namespace {

ReportRow row_of(const std::string& serial, VerdictKind kind, double saving, double money_now) {
  ReportRow row;
  row.fields = {serial, "4", "900", "more"};
  row.answer.emplace();
  row.answer->currency = "EUR";
  row.answer->verdict.kind = kind;
  row.answer->verdict.saving = saving;
  row.answer->verdict.saving_error = 1;
  row.answer->money_now = money_now;
  return row;
}

std::vector<ReportRow> three_rows() {
  return {row_of("A-1", VerdictKind::repair, 40, 15), row_of("A-2", VerdictKind::replace, -30, 165),
          row_of("A-3", VerdictKind::repair, 2.5, 16)};
}

std::string page_of_rows(const std::vector<ReportRow>& rows, PageStyle style) {
  return rows_page("devices.csv", {"serial", "age", "pulls", "note"}, rows, style);
}

}  // namespace

TEST_CASE("report of rows: counts and sums by what to do") {
  const std::string totals = page_of_rows(three_rows(), {.form = PageForm::csv, .table = "totals-eur"});
  // derived: 15 + 16 and 40 + 2.5; a replacement saves what the repair would lose.
  CHECK(totals ==
        "devices (EUR),count,money now,saved against the other course\r\nto repair,2,31.00,42.50\r\n"
        "to replace,1,165.00,30.00\r\nall,3,196.00,72.50\r\n");
  const std::string page = page_of_rows(three_rows(), {.form = PageForm::html});
  CHECK(page.find("Of 3 devices: 2 to repair and 1 to replace.") != std::string::npos);
  CHECK(page.find("Rows without an answer") == std::string::npos);
  CHECK(page.find("first 3 are shown") != std::string::npos);
}

TEST_CASE("report of rows: the chart has every saving, in order of it") {
  std::vector<ReportRow> rows = three_rows();
  CHECK(page_of_rows(rows, {.form = PageForm::csv, .table = "savings-eur"}) ==
        "device,saving by repair (EUR)\r\nA-1,40.00\r\nA-3,2.50\r\nA-2,-30.00\r\n");
  for (int i = 0; i < 30; ++i) rows.push_back(row_of("B", VerdictKind::repair, i, 1));
  const std::string many = page_of_rows(rows, {.form = PageForm::csv, .table = "savings-eur"});
  CHECK(many.find("1,40.00\r\n2,29.00\r\n") != std::string::npos);
  CHECK(many.ends_with("33,-30.00\r\n"));
}

TEST_CASE("report of rows: what is wrong with a row, and sums by currency") {
  std::vector<ReportRow> rows = three_rows();
  rows.push_back({.fields = {"", "x", "", ""}, .answer = {}, .problem = "age: <wants> a number"});
  rows.push_back(row_of("C-1", VerdictKind::leave, -1, 0));
  rows.back().answer->currency = "GBP";
  const std::string page = page_of_rows(rows, {.form = PageForm::html});
  CHECK(page.find("1 without an answer") != std::string::npos);
  CHECK(page.find("4: row 4") != std::string::npos);
  CHECK(page.find("age: &lt;wants&gt; a number") != std::string::npos);
  CHECK(page.find("devices (EUR)") != std::string::npos);
  CHECK(page.find("devices (GBP)") != std::string::npos);
  CHECK(page.find("EUR 40.00") != std::string::npos);
}
