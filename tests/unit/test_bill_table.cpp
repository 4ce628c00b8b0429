// Bills of a dozen shop files. Each was worked out by hand as its comment says, halves away from zero.
#include <doctest/doctest.h>

#include <cstdint>
#include <vector>

#include "mendworth/rates.hpp"
#include "quote/bill.hpp"
#include "support/bill_builder.hpp"

using namespace mendworth;
using namespace mendworth::test;

namespace {

using Amounts = std::vector<std::int64_t>;

struct Row {
  const char* shop;
  Currency currency;
  Amounts lines, taxes;
  std::int64_t total, payable, deposit;
};

const Currency eur{"EUR", 2}, jpy{"JPY", 0}, kwd{"KWD", 3};

// The same job for all: 50 minutes, of which 20 are the diagnosis; two buttons at 3.20; postage 4.10; consumables 0.80.
const Row rows[] = {
    // 50 / 60 x 60.00; 2 x 3.20; 0.80; 4.10.
    {"[labour]\ncharge_rate = 60\n", eur, {5000, 640, 80, 410}, {}, 6130, 6130, 0},
    // 19 % of 61.30: 11.647.
    {"[labour]\ncharge_rate = 60\n[[tax]]\nname = \"VAT\"\nrate = 0.19\n",
     eur,
     {5000, 640, 80, 410},
     {1165},
     7295,
     7295,
     0},
    // 61.30 / 1.19 is 51.5126; 19 % of it 9.78739.
    {"[labour]\ncharge_rate = 60\n[[tax]]\nname = \"VAT\"\nrate = 0.19\nincluded = true\n",
     eur,
     {5000, 640, 80, 410},
     {979},
     6130,
     6130,
     0},
    // 5 % is 3.065: 3.07. 9.975 % of 61.30 + 3.07: 6.42091.
    {"[labour]\ncharge_rate = 60\n[[tax]]\nname = \"A\"\nrate = 0.05\n"
     "[[tax]]\nname = \"B\"\nrate = 0.09975\ncompound = true\n",
     eur,
     {5000, 640, 80, 410},
     {307, 642},
     7079,
     7079,
     0},
    // 8.1 % is 4.9653; 66.27 in coins of 0.05 is 66.25.
    {"[labour]\ncharge_rate = 60\n[[tax]]\nname = \"VAT\"\nrate = 0.081\n[payment]\ncash_step = 0.05\n",
     eur,
     {5000, 640, 80, 410},
     {497},
     6627,
     6625,
     0},
    // By line: 4.05, 0.5184, 0.0648, 0.3321: 4.05 + 0.52 + 0.06 + 0.33.
    {"[labour]\ncharge_rate = 60\n[[tax]]\nname = \"VAT\"\nrate = 0.081\n[payment]\ntax_by = \"line\"\n",
     eur,
     {5000, 640, 80, 410},
     {496},
     6626,
     6626,
     0},
    // 10 % off 57.20: 5.72. 20 % of 55.58: 11.116.
    {"[labour]\ncharge_rate = 60\n[discount]\nshare = 0.1\n[[tax]]\nname = \"VAT\"\nrate = 0.2\n",
     eur,
     {5000, 640, 80, 410, -572},
     {1112},
     6670,
     6670,
     0},
    // Labour exempt: of the discount 5.00 are off labour, 0.64 off parts, 0.08 off consumables, so the tax is on 5.76 +
    // 0.72 + 4.10 = 10.58: 2.116.
    {"[labour]\ncharge_rate = 60\n[discount]\nshare = 0.1\n[[tax]]\nname = \"VAT\"\nrate = 0.2\nexempt = "
     "[\"labour\"]\n",
     eur,
     {5000, 640, 80, 410, -572},
     {212},
     5770,
     5770,
     0},
    // The same within the prices: of 10.58 gross, 10.58 / 6 = 1.7633; the total is 61.30 - 5.72.
    {"[labour]\ncharge_rate = 60\n[discount]\nshare = 0.1\n[[tax]]\nname = \"VAT\"\nrate = 0.2\nincluded = "
     "true\nexempt = [\"labour\"]\n",
     eur,
     {5000, 640, 80, 410, -572},
     {176},
     5558,
     5558,
     0},
    // Consumables and postage exempt: 21 % of 56.40 is 11.844.
    {"[labour]\ncharge_rate = 60\n[[tax]]\nname = \"VAT\"\nrate = 0.21\nexempt = [\"consumables\", "
     "\"shipping\"]\n",
     eur,
     {5000, 640, 80, 410},
     {1184},
     7314,
     7314,
     0},
    // 61.30 and 12.26 are 73.56; the voucher pays half, 36.78, but 30.00 at most.
    {"[labour]\ncharge_rate = 60\n[[tax]]\nname = \"VAT\"\nrate = 0.2\n"
     "[subsidy]\nname = \"Voucher\"\nshare = 0.5\ncap = 30\nregistered = true\n",
     eur,
     {5000, 640, 80, 410},
     {1226},
     7356,
     4356,
     0},
    // 50 begun quarters of an hour: 60.00, at least 80.00. 3.20 x 2.5 = 8.00, twice. 5 % of 80.00. Postage is the
    // shop's. 25 % of 100.00. 30 % of 125.00.
    {"[labour]\ncharge_rate = 60\nbilling_increment_minutes = 15\nminimum_charge = 80\n"
     "[parts]\nmarkup = [{ cost_from = 0, times = 2.5 }]\nshipping = \"shop\"\n[consumables]\nshare = 0.05\n"
     "[[tax]]\nname = \"VAT\"\nrate = 0.25\n[payment]\ndeposit_share = 0.3\ndeposit_from = 100\n",
     eur,
     {8000, 1600, 400},
     {2500},
     12500,
     12500,
     3750},
    // The fee apart, so 30 minutes of labour; 65.30 holds 20 %: 65.30 / 6 = 10.8833.
    {"[labour]\ncharge_rate = 60\n[diagnosis]\nfee = 24\ncredited = false\n"
     "[[tax]]\nname = \"VAT\"\nrate = 0.2\nincluded = true\n",
     eur,
     {2400, 3000, 640, 80, 410},
     {1088},
     6530,
     6530,
     0},
    // Whole yen: 5416.67; 3.2 -> 3, twice; 0.8 -> 1; 4.1 -> 4. 5428 / 11 = 493.45. In coins of 10.
    {"[labour]\ncharge_rate = 6500\n[[tax]]\nname = \"Tax\"\nrate = 0.1\nincluded = "
     "true\n[payment]\ncash_step = 10\n",
     jpy,
     {5417, 6, 1, 4},
     {493},
     5428,
     5430,
     0},
    // Whole yen by line: 10 % off 5424 is 542.4, all of it off labour. Taxes 541.7, 0.6, 0.1, 0.4 and -54.2 are 542 + 1 +
    // 0 + 0 - 54. 5375 in coins of 10 is halfway: away from zero.
    {"[labour]\ncharge_rate = 6500\n[discount]\nshare = 0.1\n[[tax]]\nname = \"Tax\"\nrate = 0.1\n"
     "[payment]\ntax_by = \"line\"\ncash_step = 10\n",
     jpy,
     {5417, 6, 1, 4, -542},
     {489},
     5375,
     5380,
     0},
    // Thousandths: 50 / 60 x 7.5 = 6.25. 5 % of 17.55 is 0.8775: 0.878.
    {"[labour]\ncharge_rate = 7.5\n[[tax]]\nname = \"VAT\"\nrate = 0.05\n",
     kwd,
     {6250, 6400, 800, 4100},
     {878},
     18428,
     18428,
     0},
};

}  // namespace

TEST_CASE("bills of a dozen shop files, by hand") {
  JobWork work = work_of(50);
  work.diagnosis_minutes = 20;
  work.pieces = {pieces(0, 2, 3.20)};
  work.shipping_cost = 4.10;
  work.consumables = 0.80;
  work.positions = 2;
  for (const Row& row : rows) {
    CAPTURE(row.shop);
    const Shop shop = read_shop(row.shop, "shop.toml", built_in_rates());
    const Bill bill = job_bill(shop, row.currency, *shop.charge_rate, case_with_parts({"button"}), work,
                               {.date = {2026, 3, 1}});
    CHECK(amounts(bill) == row.lines);
    Amounts taxes;
    for (const BillTax& tax : bill.taxes) taxes.push_back(tax.amount.minor);
    CHECK(taxes == row.taxes);
    CHECK(bill.total == Money{row.total});
    CHECK(bill.payable == Money{row.payable});
    CHECK(bill.deposit.value_or(Money{}) == Money{row.deposit});
  }
}
