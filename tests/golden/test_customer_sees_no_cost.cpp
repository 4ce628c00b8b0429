// Nothing internal on the customer's page, in any format: every internal input is a marked number, and every figure
// that the shop page shows is looked for too.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cctype>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "mendworth/quote.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"

namespace {

using namespace mendworth;

// Inputs that the customer must not see hold the digits 739; names that must not be seen, the word Hollow.
const char* const marked_case = R"(
[device]
name = "wall thermostat"
currency = "EUR"
age_years = 3.1739
use_per_day = 20.739
resale = 1.739
already_spent = 7.39
[[position]]
name = "up key"
part = "key"
failed = 1
count = 2
minutes = 8.739
joints = 4
[[part]]
name = "key"
life_unit = "cycles"
rated_life = 173900
shape = 1.739
other_uses_per_year = 0.5739
shelf_life_years = 7.39
spare_resale = 0.0739
[[part.candidate]]
name = "Hollow key 6x6"
fit = 0.9739
dead_on_arrival = 0.01739
[[part.candidate.offer]]
supplier = "Hollow Lane Parts"
prices = [{ from = 1, each = 1.1739 }, { from = 10, each = 0.8739 }]
[[part.candidate]]
name = "Hollow key, low"
fit = 0.8739
[[part.candidate.offer]]
supplier = "Hollow Lane Parts"
price = 0.9739
[[supplier]]
name = "Hollow Lane Parts"
shipping = 3.1739
tax = 0.1739
lead_days = 2
[labour]
rate_per_hour = 41.739
case_minutes = 12.739
visit_minutes = 20.739
[risk]
opening_mendable = 0.01739
opening_write_off = 0.001739
joint_mendable = 0.00739
joint_write_off = 0.000739
mend_minutes = 17.39
mend_money = 1.739
diagnosis_right = 0.9739
[risk.second_attempt]
minutes = 27.39
money = 2.739
chance = 0.5739
[[consumable]]
name = "Hollow gasket"
price = 0.739
chance = 0.3739
[[replacement]]
name = "a new thermostat"
price = 240
life_years = 8.739
[rest]
remaining_years = 6.739
[horizon]
years = 4.739
discount_rate = 0.01739
)";

const char* const marked_shop = R"(
[labour]
charge_rate = 48
cost_rate = 27.739
billing_increment_minutes = 15
[diagnosis]
fee = 22
credited = true
minutes = 11.739
walk_away = 0.1739
[parts]
markup = [{ cost_from = 0, times = 2.739 }]
shipping = "shop"
[consumables]
flat = 1.50
[[tax]]
name = "VAT"
rate = 0.2
[terms]
ceiling_confidence = 0.8739
[workmanship]
come_back = 0.02739
come_back_minutes = 17.39
[margin]
target = 0.3739
)";

/// Every number of a text with its neighbours cut off: "EUR 12.50" holds "12.50", not "2.5".
std::set<std::string> numbers_in(const std::string& text) {
  std::set<std::string> numbers;
  std::string number;
  for (const char c : text + " ") {
    if (std::isdigit(static_cast<unsigned char>(c)) != 0 || (c == '.' && !number.empty())) {
      number += c;
      continue;
    }
    while (!number.empty() && number.back() == '.') number.pop_back();
    if (!number.empty()) numbers.insert(number);
    number.clear();
  }
  return numbers;
}

void gather(const nlohmann::json& value, std::vector<double>& numbers) {
  if (value.is_number_float()) numbers.push_back(value.get<double>());
  if (!value.is_structured()) return;
  for (const auto& item : value) gather(item, numbers);
}

/// The printed sums of a page's JSON.
void gather_sums(const nlohmann::json& value, std::set<std::string>& sums) {
  if (!value.is_structured()) return;
  if (value.contains("minor")) sums.insert(value["text"].get<std::string>());
  for (const auto& item : value) gather_sums(item, sums);
}

}  // namespace

TEST_CASE("no internal figure and no internal name stands on the customer's page, in any format") {
  const RateBook& rates = built_in_rates();
  const Shop shop = read_shop(marked_shop, "shop.toml", rates);
  QuoteSettings settings;
  settings.seed = 739;
  settings.futures = 17'390;
  settings.date = {.year = 2026, .month = 3, .day = 2};
  settings.number = "Q-1";
  const QuoteResult result = quote(read_case(marked_case, "Hollow.toml", rates), shop, rates, settings);
  REQUIRE(result.quote.has_value());
  const CustomerPage& page = result.quote->customer;

  std::vector<double> internal;
  gather(nlohmann::json::parse(shop_json(*result.quote->shop)), internal);
  REQUIRE(internal.size() > 80);
  // The check sees what it looks for: the shop's own page holds marks, names of suppliers and figures.
  CHECK(shop_json(*result.quote->shop).find("739") != std::string::npos);

  // What the customer is told may happen to be an internal figure too, as the price is the income.
  std::set<std::string> told;
  for (const CustomerChoice& choice : page.choices) {
    for (const BillLine& line : choice.bill.lines) {
      told.insert(fmt::format("{:.2f}", static_cast<double>(line.amount.minor) / 100));
    }
    for (const Money sum :
         {choice.bill.subtotal, choice.bill.total, choice.bill.payable, choice.consent_limit}) {
      told.insert(fmt::format("{:.2f}", static_cast<double>(sum.minor) / 100));
    }
  }
  told.insert("48.00");
  told.insert("22.00");

  std::set<std::string> sums;
  gather_sums(nlohmann::json::parse(shop_json(*result.quote->shop)), sums);
  REQUIRE(sums.size() > 8);

  const std::vector<std::pair<std::string, std::string>> pages = {
      {"text", customer_page(page, {})},
      {"Markdown", customer_page(page, {.form = PageForm::markdown})},
      {"HTML", customer_page(page, {.form = PageForm::html})},
      {"JSON", customer_json(page)}};
  for (const auto& [name, text] : pages) {
    // A copy: Clang 14 lets no lambda capture a structured binding, and CAPTURE is one.
    const std::string format = name;
    CAPTURE(format);
    CHECK(text.find("739") == std::string::npos);
    CHECK(text.find("Hollow") == std::string::npos);
    const std::set<std::string> shown = numbers_in(text);
    for (const std::string& sum : sums) {
      const std::string figure = sum.substr(sum.find(' ') + 1);
      CAPTURE(figure);
      CHECK((told.count(figure) != 0 || shown.count(figure) == 0));
    }
    for (const double figure : internal) {
      for (const std::string& written :
           {fmt::format("{:.2f}", std::abs(figure)), fmt::format("{:.3f}", std::abs(figure)),
            fmt::format("{:.1f}", std::abs(100 * figure)), fmt::format("{}", std::abs(figure))}) {
        // Nothing, or too short to say anything: 0.00, 1, 0.2, 22.
        if (told.count(written) != 0 || written.size() < 4 || std::stod(written) == 0) {
          continue;
        }
        CAPTURE(written);
        CHECK(shown.count(written) == 0);
      }
    }
  }
}
