#include <doctest/doctest.h>

#include <cstddef>
#include <limits>
#include <nlohmann/json.hpp>
#include <random>
#include <string>
#include <type_traits>
#include <vector>

#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"
#include "render/customer_sheet.hpp"
#include "render/quote_words.hpp"
#include "render/shop_sheet.hpp"
#include "support/json_schema.hpp"
#include "support/page_text.hpp"
#include "support/read_bill.hpp"
#include "support/sample_quote.hpp"

using namespace mendworth;
using namespace mendworth::testing;
using Json = nlohmann::json;

namespace {

std::vector<std::string> every_format(const CustomerPage& page) {
  return {customer_page(page, {}), customer_page(page, {.form = PageForm::markdown}),
          customer_page(page, {.form = PageForm::html}), customer_json(page)};
}

std::vector<std::string> every_format(const ShopPage& page) {
  return {shop_page(page, {.show = {"all"}}), shop_page(page, {.form = PageForm::markdown, .show = {"all"}}),
          shop_page(page, {.form = PageForm::html, .show = {"all"}}), shop_json(page)};
}

std::vector<const Bill*> bills_of(const CustomerPage& page) {
  std::vector<const Bill*> bills;
  for (const CustomerChoice& choice : page.choices) bills.push_back(&choice.bill);
  if (page.invoice) bills.push_back(&*page.invoice);
  return bills;
}

// Every format prints the same rows, each bill adds up, and it is the bill of the page.
void check_bills(const CustomerPage& page) {
  const auto bills = bills_of(page);
  const std::vector<std::vector<PrintedBill>> formats{
      bills_of_text(customer_page(page, {})),
      bills_of_markdown(customer_page(page, {.form = PageForm::markdown})),
      bills_of_html(customer_page(page, {.form = PageForm::html})), bills_of_json(customer_json(page))};
  for (std::size_t f = 0; f < formats.size(); ++f) {
    CAPTURE(f);
    REQUIRE(formats[f].size() == bills.size());
    for (std::size_t b = 0; b < bills.size(); ++b) {
      const PrintedBill& printed = formats[f][b];
      CHECK(wrong_in(printed, bills[b]->lines.size()) == "");
      REQUIRE(printed.size() == formats.back()[b].size());
      for (std::size_t i = 0; i < printed.size(); ++i) CHECK(printed[i].minor == formats.back()[b][i].minor);
      for (std::size_t i = 0; i < bills[b]->lines.size(); ++i)
        CHECK(printed[i].minor == bills[b]->lines[i].amount.minor);
      const std::string total_label =
          bills[b]->total == bills[b]->payable && bills[b]->subsidy.minor == 0 ? "Total to pay" : "Total";
      for (const PrintedRow& row : printed) {
        if (row.label == total_label) CHECK(row.minor == bills[b]->total.minor);
        if (row.label == "To pay") CHECK(row.minor == bills[b]->payable.minor);
      }
    }
  }
}

// A zero with a minus before it, whatever the decimal mark.
bool has_negative_zero(const std::string& text) {
  for (std::size_t at = text.find("-0"); at != std::string::npos; at = text.find("-0", at + 1)) {
    if (at > 0 && std::string(" |>\n:").find(text[at - 1]) == std::string::npos) continue;  // "2026-03-02"
    const std::size_t end = text.find_first_not_of("0.,'", at + 1);
    if (end == std::string::npos || text[end] < '1' || text[end] > '9') return true;
  }
  return false;
}

class RandomPages {
 public:
  CustomerPage next() {
    CustomerPage page = sample_customer_page();
    static const std::vector<Currency> currencies{{"JPY", 0}, {"EUR", 2}, {"KWD", 3}};
    page.currency = currencies[below(3)];
    if (below(2) == 0) page.style.group_mark = below(2) == 0 ? "," : "'";
    if (below(3) == 0) page.style = {",", ".", "\u20ac", false, "DD.MM.YYYY"};
    page.choices.resize(1 + below(2));
    for (CustomerChoice& choice : page.choices) choice.bill = bill();
    if (below(4) == 0) {
      page.document = CustomerPage::Document::decline_invoice;
      page.choices.clear();
      page.invoice = bill();
    }
    return page;
  }

 private:
  std::size_t below(std::size_t count) {
    return std::uniform_int_distribution<std::size_t>(0, count - 1)(luck_);
  }
  Money money(std::int64_t low) {
    static const std::vector<std::int64_t> largest{9, 999, 99'999, 999'999'999};
    return {std::uniform_int_distribution<std::int64_t>(low, largest[below(4)])(luck_)};
  }
  Bill bill() {
    static const std::vector<std::string> names{"key",    "a | b", "**x**",
                                                "<i>",    "\\|",   "\u91ce\u9ce5",
                                                "#1",     "& co",  "\u0645\u0641\u062a\u0627\u062d",
                                                "`code`", "-1",    "1. "};
    std::vector<BillLine> lines;
    for (std::size_t i = 0, count = 1 + below(6); i < count; ++i) {
      BillLine line;
      line.text = names[below(names.size())] + names[below(names.size())];
      if (below(2) == 0) {
        line.unit = BillLine::Unit::pieces;
        const auto pieces = static_cast<std::int64_t>(1 + below(40));
        line.quantity = static_cast<double>(pieces);
        line.each = money(0);
        line.amount = pieces * *line.each;
      } else {
        line.amount = money(below(5) == 0 ? -500 : 0);
      }
      lines.push_back(line);
    }
    std::vector<BillTax> taxes;
    for (std::size_t i = 0, count = below(3); i < count; ++i)
      taxes.push_back({names[below(names.size())], 0.01 * static_cast<double>(below(30)), below(3) == 0,
                       below(3) == 0, money(0), money(0)});
    Bill out = added_up(lines, taxes);
    if (below(3) == 0) {
      out.subsidy_name = names[below(names.size())];
      out.subsidy = money(0);
    }
    if (below(3) == 0) out.cash_rounding = money(-9);
    out.payable = out.total - out.subsidy + out.cash_rounding;
    if (below(2) == 0) out.deposit = money(0);
    return out;
  }

  std::mt19937 luck_{20260302};  // any number: the pages only have to be many and the same each time
};

}  // namespace

// What is written for the customer cannot even be asked for a shop's figure.
static_assert(!std::is_convertible_v<ShopPage, CustomerPage>);
static_assert(!std::is_invocable_v<decltype(customer_page), const ShopPage&, const PageStyle&>);
static_assert(!std::is_invocable_v<decltype(customer_sheet), const ShopPage&>);

TEST_CASE("the JSON of a quote satisfies its schema, and the schema knows every key") {
  CustomerPage bare;
  bare.currency = {"EUR", 2};
  const Json schema = Json::parse(quote_schema());
  mendworth::testing::SchemaValidator validator(schema);
  for (const CustomerPage& page : {sample_customer_page(), sample_decline_invoice(), bare}) {
    const std::string text = customer_json(page);
    CHECK(text.starts_with("{\n  \"schema\": \"mendworth.quote\",\n  \"version\": 2,\n"));
    for (const auto& problem : validator.problems(Json::parse(text))) FAIL_CHECK(problem);
  }
}

TEST_CASE("the JSON of a quote at cost satisfies its schema, and the schema knows every key") {
  ShopPage bare;
  bare.currency = {"JPY", 0};
  bare.choices.resize(1);
  const Json schema = Json::parse(shop_schema());
  mendworth::testing::SchemaValidator validator(schema);
  for (const ShopPage& page : {sample_shop_page(), bare}) {
    const std::string text = shop_json(page);
    CHECK(text.starts_with("{\n  \"schema\": \"mendworth.quote-at-cost\",\n  \"version\": 1,\n"));
    for (const auto& problem : validator.problems(Json::parse(text))) FAIL_CHECK(problem);
  }
}

TEST_CASE("sums in JSON are whole minor units and the printed text, dates are ISO whatever the style") {
  CustomerPage page = sample_customer_page();
  page.style = {",", ".", "\u20ac", false, "DD.MM.YYYY"};
  const Json json = Json::parse(customer_json(page));
  CHECK(json["choices"][0]["bill"]["total"] == Json({{"minor", 8844}, {"text", "88,44 \u20ac"}}));
  CHECK(json["date"] == "2026-03-02");
  CHECK(contains(customer_page(page, {}), "02.03.2026"));
}

TEST_CASE("numbers that are not finite are never written") {
  ShopPage page = sample_shop_page();
  page.choices[0].margin = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(static_cast<void>(shop_json(page)), std::logic_error);
  CHECK_THROWS_AS(static_cast<void>(shop_page(page, {.show = {"all"}})), std::logic_error);
  page.choices[0].margin = 1e300;
  CHECK_THROWS_AS(static_cast<void>(shop_page(page, {.form = PageForm::html, .show = {"all"}})),
                  std::domain_error);
}

TEST_CASE("what is printed of a bill adds up in every format") {
  check_bills(sample_customer_page());
  check_bills(sample_decline_invoice());
}

TEST_CASE("random bills in currencies of 0, 2 and 3 digits add up in every format") {
  RandomPages pages;
  for (int i = 0; i < 300; ++i) {
    CAPTURE(i);
    const CustomerPage page = pages.next();
    check_bills(page);
    CHECK(widest_line(customer_page(page, {})) <= 80);
    for (const std::string& text : every_format(page)) CHECK_FALSE(has_negative_zero(text));
  }
}

TEST_CASE("names that look like HTML are shown as they are") {
  CustomerPage page = sample_customer_page();
  page.device = "\"><script>alert('x')</script>";
  const std::string html = customer_page(page, {.form = PageForm::html});
  CHECK(!contains(html, "<script"));
  CHECK(!contains(html, "<b>"));
  CHECK(contains(html, "&quot;&gt;&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;"));
  CHECK(contains(html, "\u91ce\u9ce5 &lt;b&gt;&quot;A&amp;B&quot;&lt;/b&gt; | GmbH"));
  CHECK(contains(shown(html), "12 *Long* _Row_ [x](http://evil.example)"));
}

TEST_CASE("names that look like Markdown are shown as they are") {
  CustomerPage page = sample_customer_page();
  page.terms = {"1. no list",      "- no list",      "# no heading", "+ no list",
                "== no underline", "> no quotation", "7) no"};
  const std::string text = customer_page(page, {.form = PageForm::markdown});
  CHECK(contains(text, "12 \\*Long\\* \\_Row\\_ \\[x\\](http\\://evil.example)"));
  CHECK(contains(text, "\\<b\\>\"A\\&B\"\\</b\\> \\| GmbH"));
  for (const char* term : {"- 1\\. no list\n", "- \\- no list\n", "- \\# no heading\n", "- \\+ no list\n",
                           "- \\== no underline\n", "- \\> no quotation\n", "- 7\\) no\n"}) {
    CHECK(contains(text, term));
  }
}

TEST_CASE("every row of a Markdown table has as many cells as its head") {
  for (const std::string& text :
       {customer_page(sample_customer_page(), {.form = PageForm::markdown}),
        shop_page(sample_shop_page(), {.form = PageForm::markdown, .show = {"all"}})}) {
    std::size_t columns = 0;
    for (const std::string& line : lines_of(text)) {
      if (!line.starts_with("|")) {
        columns = 0;
        continue;
      }
      const std::size_t cells = markdown_cells(line).size();
      if (columns == 0) columns = cells;
      CHECK(cells == columns);
    }
  }
}

TEST_CASE("pages keep to their width") {
  for (const int width : {60, 80, 100}) {
    CAPTURE(width);
    CHECK(widest_line(customer_page(sample_customer_page(), {.color = false, .width = width})) <= width);
    CHECK(widest_line(customer_page(sample_decline_invoice(), {.color = false, .width = width})) <= width);
    CHECK(widest_line(shop_page(sample_shop_page(), {.color = false, .width = width, .show = {"all"}})) <=
          width);
  }
  // The largest sums that a bill may hold: 1e15 minor units.
  CustomerPage page = sample_customer_page();
  page.style.group_mark = ",";
  for (BillLine& line : page.choices[0].bill.lines) line.each = line.amount = Money{999'999'999'999'999};
  page.choices[0].bill.total = page.choices[0].consent_limit = Money{999'999'999'999'999};
  CHECK(widest_line(customer_page(page, {})) <= 80);
  ShopPage shop = sample_shop_page();
  for (ShopChoice& choice : shop.choices) {
    choice.expected_income = 1'234'567'890'123.0 + choice.cost.total();
    choice.margin = 1'234'567'890'123.0;
  }
  shop.choices[0].title = std::string(70, 'x');
  const std::string text = shop_page(shop, {.show = {"all"}});
  CHECK(widest_line(text) <= 80);
  CHECK(contains(text, "1234567890123.00"));
}

TEST_CASE("a line of a bill gives its time in hours and minutes, exact enough to come to its amount") {
  const Currency euro{"EUR", 2};
  const Pen pen(euro, {});
  BillLine line;
  line.unit = BillLine::Unit::hours;
  line.each = Money{4800};
  line.quantity = 50.0 / 60;
  line.amount = {4000};
  CHECK(quantity_text(line, pen) == "50 min");
  line.quantity = 65.0 / 60;
  line.amount = {5200};
  CHECK(quantity_text(line, pen) == "1 h 5 min");
  line.quantity = 2;
  line.amount = {9600};
  CHECK(quantity_text(line, pen) == "2 h");
  // 43.83 minutes at 48.00 are 35.064: 35.06; 44 would be 35.20, 43.8 are 35.04.
  line.quantity = 43.83 / 60;
  line.amount = {3506};
  CHECK(quantity_text(line, pen) == "43.83 min");
  CHECK(pen.time(59.96, 1) == "1 h");
  CHECK(pen.time(0, 0) == "0 min");
  line.unit = BillLine::Unit::pieces;
  line.quantity = 12;
  CHECK(quantity_text(line, pen) == "12");
  line.unit = BillLine::Unit::none;
  CHECK(quantity_text(line, pen) == "");
}

TEST_CASE("the page of a customer says what it must") {
  const std::string text = unwrapped(customer_page(sample_customer_page(), {}));
  for (const char* piece : {"Harbour Lane Repairs",
                            "Number: 2026-0017",
                            "Valid until: 2026-04-01",
                            "Serial number:",
                            "Condition:",
                            "Fault as found:",
                            "Not included:",
                            "Failed key and its mates (recommended)",
                            "3 to 5 days",
                            "20 % VAT on 108.20",
                            "Less: Repair grant of the town",
                            "EUR 142.82",
                            "EUR 27.00",
                            "EUR 189.00",
                            "Warranty:",
                            "If it cannot be repaired:",
                            "Risk:",
                            "Terms of the shop",
                            "Left with it: Mains lead",
                            "Your data:",
                            "Safe return:",
                            "[ ] Failed key only: EUR 88.45",
                            "[ ] No repair, the device goes back as it is: EUR 25.00",
                            "Signature of the customer"}) {
    CHECK_MESSAGE(contains(text, piece), std::string(piece));
  }
  CHECK(!contains(text, "Draft"));
}

TEST_CASE("every sheet is named by its number and its device") {
  CustomerPage page = sample_customer_page();
  CHECK(customer_sheet(page).name == "Quote 2026-0017, " + page.device);
  CHECK(shop_sheet(sample_shop_page()).name == "Quote at cost 2026-0017, " + page.device);
  page.number.reset();
  CHECK(customer_sheet(page).name == "Quote (draft), " + page.device);
  page.device = "A \"B\" \\ <C>";
  CHECK(contains(customer_page(page, {.form = PageForm::html}),
                 R"(@bottom-left { content: "Quote (draft), A \"B\" \\ \3c C>";)"));
  CHECK(contains(customer_page(page, {.form = PageForm::html}),
                 "content: counter(page) \" of \" counter(pages)"));
}

TEST_CASE("a page with one choice says all of it, in fewer lines") {
  CustomerPage page = sample_customer_page();
  page.choices.resize(1);
  const std::string text = unwrapped(customer_page(page, {}));
  for (const char* piece :
       {"Failed key only", "What is done: Renew 1 latching key.", "Ready in: 3 to 5 days",
        "Consent limit: EUR 97.28", "A new table radio of the same class: EUR 189.00, 3 days",
        "The same model, reconditioned: price not known, at once", "EUR 88.44", "[ ] Failed key only"}) {
    CHECK_MESSAGE(contains(text, piece), std::string(piece));
  }
  CHECK(!contains(text, "side by side"));
  CHECK(!contains(text, "Your choices"));
}

TEST_CASE("the box to decline says what is to pay, to be given back, or that it is nothing") {
  CustomerPage page = sample_customer_page();
  const auto says = [&page](std::int64_t paid, const std::string& words) {
    page.decline->paid = {paid};
    page.decline->payable = page.decline->total - page.decline->paid;
    return contains(unwrapped(customer_page(page, {})),
                    "[ ] No repair, the device goes back as it is" + words);
  };
  CHECK(says(0, ": EUR 25.00"));
  CHECK(says(2500, ": nothing more to pay"));
  CHECK(says(3000, ": EUR 25.00 in all, so EUR 5.00 is given back"));
}

TEST_CASE("what the shop does not state has no place on the page") {
  CustomerPage page = sample_customer_page();
  page.valid_until.reset();
  page.warranty.clear();
  page.consent.clear();
  page.terms.clear();
  const std::string text = unwrapped(customer_page(page, {}));
  for (const char* word : {"Valid until", "Warranty", "Consent limit", "no more than", "Terms of the shop"})
    CHECK_MESSAGE(!contains(text, word), word);
  CHECK(contains(text, "[ ] Failed key only: EUR 88.45 "));
}

TEST_CASE("a page without a number says that it is a draft and no record") {
  CustomerPage page = sample_customer_page();
  page.number.reset();
  for (const std::string& text : {customer_page(page, {}), customer_page(page, {.form = PageForm::markdown}),
                                  customer_page(page, {.form = PageForm::html})})
    CHECK(contains(text, "Draft, not a record"));
  CHECK(Json::parse(customer_json(page))["draft"] == true);
}

TEST_CASE("what is not worth repairing is said first, with what a replacement costs") {
  CustomerPage page = sample_customer_page();
  page.worth_repairing = false;
  const std::string text = customer_page(page, {});
  CHECK(text.find("Not worth repairing") < text.find("EUR 189.00"));
  CHECK(text.find("EUR 189.00") < text.find("Your choices"));
}

TEST_CASE("an invoice after a declined repair shows a tax that is part of the price, and asks for no order") {
  const std::string text = customer_page(sample_decline_invoice(), {});
  CHECK(contains(text, "Invoice after a declined repair"));
  CHECK(contains(text, "of which 20 % VAT on 20.83"));
  CHECK(contains(text, "Total to pay"));
  CHECK(!contains(text, "Subtotal"));
  CHECK(!contains(text, "[ ]"));
  CHECK(contains(text, "Signature of the customer"));
}

TEST_CASE("an HTML page stands alone") {
  for (const std::string& html : {customer_page(sample_customer_page(), {.form = PageForm::html}),
                                  shop_page(sample_shop_page(), {.form = PageForm::html, .show = {"all"}})}) {
    CHECK(html.starts_with("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"));
    CHECK(contains(html, "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">"));
    CHECK(contains(html, "<th scope=\"col\""));
    CHECK(contains(html, "<caption>"));
    CHECK(contains(html, "@page"));
    for (const char* loaded :
         {"<script", "src=", "href=", "url(", "@import", "<link", "<img", "<!--", "generator"})
      CHECK_MESSAGE(!contains(html, loaded), loaded);
  }
}

TEST_CASE("the page of a customer has no word of costs, margins or chances") {
  for (const CustomerPage& page : {sample_customer_page(), sample_decline_invoice()}) {
    for (const std::string& text : every_format(page)) {
      // The rules of looks know a margin of the paper.
      const std::string body = contains(text, "</style>") ? text.substr(text.find("</style>")) : text;
      for (const char* word :
           {"margin", "Margin", "futures", "seed", "P10", "chance", "at cost", "program_version"})
        CHECK_MESSAGE(!contains(body, word), word);
    }
  }
  for (const char* file : {"customer_sheet.hpp", "customer_sheet.cpp", "bill_sheet.cpp", "json_quote.cpp",
                           "document_text.cpp", "document_markdown.cpp", "document_html.cpp"}) {
    const std::string source = read_text_file(std::string(MENDWORTH_SOURCE_DIR) + "/src/render/" + file);
    CHECK_MESSAGE(!contains(source, "ShopPage"), file);
    CHECK_MESSAGE(!contains(source, "shop_sheet"), file);
  }
}

TEST_CASE("the page of the shop says for whom it is, and every choice at cost") {
  const ShopPage page = sample_shop_page();
  for (const std::string& text :
       {shop_page(page, {.show = {"all"}}), shop_page(page, {.form = PageForm::markdown, .show = {"all"}}),
        shop_page(page, {.form = PageForm::html, .show = {"all"}})}) {
    CHECK(contains(text, "For the shop only"));
    for (const char* piece :
         {"Expected margin", "Standard error", "Chance of a loss", "P10, one in ten is below",
          "No expected loss, as quoted", "no cure no fee", "104.40 (limit)", "90 (offered)",
          "Fee of no expected loss", "Labour is billed by the minute.", "What to order", "own drawer",
          "Quay Parts", "The case must stay closed while it is plugged in.", "Consent to more than the limit",
          "Consent given by"}) {
      CHECK_MESSAGE(contains(text, piece), std::string(piece));
    }
  }
}

TEST_CASE("no page shows a negative zero") {
  ShopPage page = sample_shop_page();
  for (ShopChoice& choice : page.choices) {
    choice.margin_p10 = -0.0004;
    choice.cost.stock = -0.0;
    choice.margin = choice.expected_income - choice.cost.total();
    choice.leftover_value = -0.0;
    choice.margin_share = -0.00001;
    choice.minutes_p10 = -0.0;
  }
  for (const std::string& text : every_format(page)) CHECK_FALSE(has_negative_zero(text));
  CHECK(rounded(-0.0004, {"EUR", 2}) == Money{0});
}

TEST_CASE("an expectation is rounded half away from zero in decimal") {
  CHECK(rounded(1.005, {"EUR", 2}) == Money{101});
  CHECK(rounded(-2.675, {"EUR", 2}) == Money{-268});
  CHECK(rounded(1234.5, {"JPY", 0}) == Money{1235});
  CHECK(rounded(0.0125, {"KWD", 3}) == Money{13});
}

TEST_CASE("a number beside a text that runs from right to left keeps its place") {
  CustomerPage page = sample_customer_page();
  page.choices[0].bill.lines[1].text = "\u0645\u0641\u062a\u0627\u062d";
  CHECK(contains(customer_page(page, {}), "\u0645\u0641\u062a\u0627\u062d\u200e"));
  CHECK(!contains(customer_page(page, {.form = PageForm::markdown}), "\u200e"));
}
