#include <doctest/doctest.h>

#include <filesystem>
#include <stdexcept>
#include <string>
#include <vector>

#include "input/csv_table.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"
#include "render/document.hpp"
#include "support/page_text.hpp"
#include "support/sample_lifetime.hpp"
#include "support/sample_weighing.hpp"

// Expected pages are written by hand, widths counted.
using namespace mendworth;
using testing::contains;
using Rows = std::vector<std::vector<std::string>>;

namespace {

Table priced() {
  Table table;
  table.name = "prices";
  table.columns = {{"part", false}, {"price now"}};
  table.add({"button, grey", "1200.50"}, Table::Role::best, "*");
  table.add({"jack \"A\" & <B>", "12"});
  return table;
}

Document answer() {
  Document document;
  document.name = document.title = "An answer";
  document.answer = true;
  document.opening.emplace_back(Paragraph{"Repair it.", true});
  Section brief;
  brief.say("In short.");
  document.first_screen = {brief};
  Section prices{"Prices"};
  prices.name = "prices";
  prices.add(priced());
  prices.say("* best");
  Section empty{"Nothing"};
  empty.name = "nothing";
  document.sections = {prices, empty};
  return document;
}

Rows read_back(const std::string& csv) {
  Rows rows;
  input::CsvHandler handler;
  handler.row = [&rows](const input::CsvRow& row) {
    rows.emplace_back(row.fields.begin(), row.fields.end());
    return true;
  };
  handler.bad_row = [](int, const std::string& message) {
    FAIL_CHECK(message);
    return true;
  };
  input::read_csv(csv, ',', handler);
  return rows;
}

BulkAnswer fleet() {
  const auto path = std::filesystem::path(MENDWORTH_SOURCE_DIR) / "examples" / "keypad-fleet.toml";
  return bulk_what_if(read_case(read_text_file(path.string()), "keypad-fleet.toml", built_in_rates()),
                      built_in_rates(), {});
}

}  // namespace

TEST_CASE("an answer shows its first screen, and sections when they are asked for") {
  CHECK(page_of(answer(), {}) ==
        "Repair it.\n"
        "In short.\n"
        "\n"
        "More: --show all, or --show LIST with names of: prices.\n");
  CHECK(page_of(answer(), {.show = {"prices"}}) ==
        "Prices\n"
        "                       price\n"
        "     part                now\n"
        "  --------------------------\n"
        "  *  button, grey    1200.50\n"
        "     jack \"A\" & <B>       12\n"
        "* best\n");
  CHECK(page_of(answer(), {.show = {"nothing", "answer"}}) ==
        "Repair it.\n"
        "\n"
        "Nothing\n"
        "Nothing to say here (nothing).\n"
        "In short.\n");
  CHECK(page_of(answer(), {.show = {"all"}}).starts_with("Repair it.\n\nPrices\n"));
  CHECK_THROWS_WITH_AS(static_cast<void>(page_of(answer(), {.show = {"price"}})),
                       "there is no section 'price', only all, answer, prices, nothing", UnknownName);
  CHECK_THROWS_WITH_AS(static_cast<void>(page_of(answer(), {.table = "costs"})),
                       "this answer has no table 'costs', only prices", UnknownName);
}

TEST_CASE("a table fits, gives way by the columns that wrap, or goes row below row") {
  Table table;
  table.columns = {{"class", false, true}, {"what it is", false}, {"minutes"}};
  table.add({"through-hole-4-leg-vacuum-iron", "four legs through the board, with a vacuum iron", "12.5"});
  CHECK(table_lines(table, 60).size() > 3);
  for (const TableLine& line : table_lines(table, 60)) CHECK(display_width(line.text) <= 60);
  CHECK(table_lines(table, 60)[2].text.starts_with("through-hole-4-leg-vacuum-iron  "));
  CHECK(table_lines(table, 40).empty());
  Document document;
  document.answer = true;
  document.opening.emplace_back(table);
  CHECK(page_of(document, {.width = 42}) ==
        "  through-hole-4-leg-vacuum-iron\n"
        "  what it is:  four legs through the\n"
        "               board, with a vacuum iron\n"
        "  minutes:     12.5\n");
  CHECK_THROWS_AS(table.add({"one cell"}), std::invalid_argument);
}

TEST_CASE("a table as CSV is read back as it was, numbers without groups") {
  const std::string csv = page_of(answer(), {.form = PageForm::csv, .table = "prices"});
  CHECK(csv.ends_with("12\r\n"));
  CHECK(read_back(csv) == Rows{{"mark", "part", "price now"},
                               {"*", "button, grey", "1200.50"},
                               {"", "jack \"A\" & <B>", "12"}});
  const Rows named = read_back(page_of(answer(), {.form = PageForm::csv}));
  REQUIRE(named.size() == 3);
  CHECK(named[1] == std::vector<std::string>{"prices", "*", "button, grey", "1200.50"});
}

TEST_CASE("all tables of the answers are there as CSV, each with as many fields as its heading") {
  const auto check = [](const std::string& csv) {
    std::string table;
    std::size_t fields = 0;
    int tables = 0;
    for (const std::vector<std::string>& row : read_back(csv)) {
      if (row.front() != table) {
        table = row.front();
        fields = row.size();
        ++tables;
      }
      CAPTURE(table);
      CHECK(row.size() == fields);
    }
    return tables;
  };
  const PageStyle csv{.form = PageForm::csv};
  CHECK(check(weighing_page(testing::weighing(), csv)) == 16);  // the numbers of five charts among them
  CHECK(check(rates_page(built_in_rates(), csv)) >= 6);
  CHECK(check(bulk_page(fleet(), csv)) == 9);
  CHECK(check(lifetime_page(testing::two_groups(), csv)) >= 4);
}

TEST_CASE("nothing is wider than the page at 60, 80 and 120 columns") {
  const BulkAnswer bulk = fleet();
  for (const int width : {60, 80, 120}) {
    for (const std::vector<std::string>& show :
         {std::vector<std::string>{}, std::vector<std::string>{"all"}}) {
      const PageStyle style{.width = width, .show = show};
      CAPTURE(width);
      CHECK(testing::widest_line(weighing_page(testing::weighing(), style)) <= width);
      CHECK(testing::widest_line(rates_page(built_in_rates(), style)) <= width);
      CHECK(testing::widest_line(bulk_page(bulk, style)) <= width);
      CHECK(testing::widest_line(lifetime_page(testing::two_groups(), style)) <= width);
    }
  }
}

TEST_CASE("names that are copied stand in one line at any width") {
  for (const int width : {60, 80, 120}) {
    const std::string page = rates_page(built_in_rates(), {.width = width, .show = {"all"}});
    for (const auto& entry : built_in_rates().lives) CHECK(contains(page, "  " + entry.first));
    for (const auto& entry : built_in_rates().terminations) CHECK(contains(page, "  " + entry.first));
    for (const auto& entry : built_in_rates().defaults) CHECK(contains(page, "  " + entry.first));
  }
}

TEST_CASE("the first screen of a weighing is an answer in ten lines, and forty in all") {
  const std::string page = weighing_page(testing::weighing(), {});
  std::istringstream lines(page);
  std::string first_ten;
  int count = 0;
  for (std::string line; std::getline(lines, line); ++count) {
    if (count < 10) first_ten += line + "\n";
  }
  CHECK(count <= 40);
  CHECK(first_ten ==
        "Repair it: expected to cost EUR 41.1 less than the best replacement over 5 years\n"
        "(+/- 0.12); cheaper in 91 % of futures: clear.\n"
        "     course, EUR over 5     money  minutes  cost a  present\n"
        "     years                    now      now    year     cost\n"
        "  ---------------------------------------------------------\n"
        "  *  failed and mates       12.01       65   12.75    58.38\n"
        "     new: Panel recorder B  89.00       30   21.73    99.50\n"
        "     leave it                0.00        0   30.00   137.40\n"
        "Order 10 x button 6 x 6 from Home parts: EUR 12.01 delivered, 3 days.\n"
        "Hazards: mains inside.\n");
}

TEST_CASE("a report says once what its opening says") {
  Document document = answer();
  document.opening = {Paragraph{"Repair it.", true}};
  document.sections = {headed("Verdict", Paragraph{"Repair it.", true})};
  document.sections[0].name = "verdict";
  document.sections[0].say("For 6 years.");
  document.report = {{"What to do", {"verdict"}}};
  const std::string html = page_of(document, {.form = PageForm::html});
  CHECK(html.find("Repair it.") == html.rfind("Repair it."));
  CHECK(contains(html, "For 6 years."));
  CHECK(contains(page_of(document, {.show = {"verdict"}}), "Repair it."));
}

// On paper a table that would leave half a page empty goes on overleaf.
TEST_CASE("HTML: tall tables may be broken, others stay whole") {
  Document document = answer();
  Table table{.columns = {{"a", false}, {"b"}}};
  for (int i = 0; i < 23; ++i) table.add({"x", "1"});
  document.sections = {headed("Low", table)};
  CHECK_FALSE(contains(page_of(document, {.form = PageForm::html, .show = {"all"}}), "class=\"tall\""));
  table.add({"x", "1"});
  document.sections = {headed("Tall", table)};
  CHECK(contains(page_of(document, {.form = PageForm::html, .show = {"all"}}), "<table class=\"tall\">"));
}

TEST_CASE("Markdown and HTML have the same document, escaped") {
  const std::string markdown = page_of(answer(), {.form = PageForm::markdown, .show = {"all"}});
  CHECK(contains(markdown, "## Prices\n"));
  CHECK(contains(markdown,
                 "| | part | price now |\n| --- | --- | ---: |\n| \\* | **button, grey** | **1200.50** |\n"));
  CHECK(contains(markdown, "jack \"A\" \\& \\<B\\>"));
  const std::string html = page_of(answer(), {.form = PageForm::html, .show = {"all"}});
  CHECK(contains(html, "<h2>Prices</h2>"));
  CHECK(contains(html, "jack &quot;A&quot; &amp; &lt;B&gt;"));
  CHECK_FALSE(contains(html, "<script"));
  CHECK_FALSE(contains(html, "http://"));
  CHECK_FALSE(contains(html, "https://"));
}
