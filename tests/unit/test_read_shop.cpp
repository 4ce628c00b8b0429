// The shop file and what a shop notes down in a case. What is refused, with its exact words: tests/golden/shop_errors.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/shop.hpp"

// Expected values in this file are derived: they are what the file says.

namespace {

using namespace mendworth;

Shop read(const std::string& text) { return read_shop(text, "shop.toml", built_in_rates()); }

/// The messages, a line each, without the place; "" if there is none.
std::string refusal(const std::string& text) {
  try {
    static_cast<void>(read(text));
  } catch (const InputError& error) {
    std::string all;
    for (const Diagnostic& problem : error.problems()) all += problem.key + ": " + problem.message + '\n';
    return all;
  }
  return "";
}

Case case_with(const std::string& intake, const std::vector<std::string>& overrides = {}) {
  return read_case(starter_case(false) + intake, "case.toml", built_in_rates(), overrides);
}

}  // namespace

TEST_CASE("read_shop: nothing is needed, and what is left out is as a Shop has it") {
  for (const char* text : {"", "# nothing yet\n", "[shop]\n[parts]\nmarkup = []\n"}) {
    const Shop shop = read(text);
    CHECK(shop.source_name == "shop.toml");
    CHECK(shop.letterhead.empty());
    CHECK_FALSE(shop.currency);
    CHECK(shop.licensed_for.empty());
    CHECK(shop.style.decimal_mark == ".");
    CHECK(shop.style.group_mark.empty());
    CHECK_FALSE(shop.style.currency);
    CHECK(shop.style.currency_first);
    CHECK(shop.style.date_form == "YYYY-MM-DD");
    CHECK_FALSE(shop.charge_rate);
    CHECK_FALSE(shop.cost_rate);
    CHECK(shop.billing_increment_minutes == 0);
    CHECK(shop.minimum_charge == 0);
    CHECK(shop.flat_rates.empty());
    CHECK_FALSE(shop.diagnosis_fee);
    CHECK(shop.diagnosis_credited);
    CHECK_FALSE(shop.diagnosis_minutes);
    CHECK_FALSE(shop.walk_away);
    CHECK(shop.markup.empty());
    CHECK(shop.least_markup == 0);
    CHECK(shop.shipping == ShippingCharge::line);
    CHECK_FALSE(shop.consumables_flat);
    CHECK_FALSE(shop.consumables_share);
    CHECK_FALSE(shop.rush_flat);
    CHECK_FALSE(shop.rush_share);
    CHECK_FALSE(shop.collection_fee);
    CHECK(shop.discount_share == 0);
    CHECK(shop.discount_name == "Discount");
    CHECK(shop.taxes.empty());
    CHECK(shop.tax_by == TaxBy::total);
    CHECK_FALSE(shop.cash_step);
    CHECK_FALSE(shop.deposit_share);
    CHECK(shop.deposit_from == 0);
    CHECK_FALSE(shop.deposit_covers_parts);
    CHECK_FALSE(shop.valid_days);
    CHECK_FALSE(shop.warranty_days);
    CHECK_FALSE(shop.not_to_exceed);
    CHECK_FALSE(shop.ceiling_confidence);
    CHECK_FALSE(shop.no_cure_no_fee);
    CHECK_FALSE(shop.no_cure_charge);
    CHECK_FALSE(shop.liability);
    CHECK(shop.terms.empty());
    CHECK_FALSE(shop.come_back);
    CHECK_FALSE(shop.come_back_minutes);
    CHECK(shop.target_margin == 0.30);
    CHECK_FALSE(shop.subsidy);
  }
}

TEST_CASE("read_shop: the starter shop has every key, and each arrives where it belongs") {
  const Shop shop = read(starter_shop());
  CHECK(shop.letterhead ==
        std::vector<std::string>{"Millrace Repairs", "4 Tannery Yard", "Open on weekdays"});
  CHECK(shop.currency == "EUR");
  CHECK(shop.licensed_for == std::vector<std::string>{"mains"});
  CHECK(shop.style.decimal_mark == ",");
  CHECK(shop.style.group_mark == ".");
  CHECK(shop.style.currency == "€");
  CHECK_FALSE(shop.style.currency_first);
  CHECK(shop.style.date_form == "DD.MM.YYYY");
  CHECK(shop.charge_rate == 54);
  CHECK(shop.cost_rate == Quantity::three_point(29, 33, 40));
  CHECK(shop.billing_increment_minutes == 15);
  CHECK(shop.minimum_charge == 27);
  REQUIRE(shop.flat_rates.size() == 2);
  CHECK(shop.flat_rates[1].name == "Two station buttons renewed");
  CHECK(shop.flat_rates[1].part == "button");
  CHECK(shop.flat_rates[1].positions == 2);
  CHECK(shop.flat_rates[1].price == 95);
  CHECK(shop.flat_rates[1].parts_included);
  CHECK(shop.diagnosis_fee == 25);
  CHECK(shop.diagnosis_credited);
  CHECK(shop.diagnosis_minutes == Quantity::three_point(10, 20, 40));
  CHECK(shop.walk_away == Quantity::between(0.1, 0.3));
  REQUIRE(shop.markup.size() == 3);
  CHECK(shop.markup[0].cost_from == 0);
  CHECK(shop.markup[0].times == 2.5);
  CHECK(shop.markup[2].cost_from == 40);
  CHECK(shop.markup[2].times == 1.25);
  CHECK(shop.least_markup == 1);
  CHECK(shop.shipping == ShippingCharge::spread);
  CHECK(shop.consumables_flat == 2.5);
  CHECK(shop.rush_flat == 20);
  CHECK(shop.collection_fee == 15);
  CHECK(shop.discount_share == 0.05);
  CHECK(shop.discount_name == "Opening discount");
  REQUIRE(shop.taxes.size() == 1);
  CHECK(shop.taxes[0].name == "VAT");
  CHECK(shop.taxes[0].rate == 0.2);
  CHECK(shop.taxes[0].included);
  CHECK_FALSE(shop.taxes[0].compound);
  CHECK(shop.taxes[0].exempt == std::vector<LineKind>{LineKind::collection});
  CHECK(shop.tax_by == TaxBy::total);
  CHECK(shop.cash_step == 0.05);
  CHECK(shop.deposit_share == 0.3);
  CHECK(shop.deposit_from == 100);
  CHECK(shop.deposit_covers_parts);
  CHECK(shop.valid_days == 14);
  CHECK(shop.warranty_days == 180);
  CHECK(shop.not_to_exceed == 0.1);
  CHECK(shop.no_cure_charge == 20);
  CHECK(shop.liability == 150);
  CHECK(shop.terms.size() == 2);
  CHECK(shop.come_back == Quantity::three_point(0.01, 0.02, 0.05));
  CHECK(shop.come_back_minutes == Quantity::exactly(30));
  CHECK(shop.target_margin == 0.3);
  REQUIRE(shop.subsidy);
  CHECK(shop.subsidy->name == "Town repair voucher");
  CHECK(shop.subsidy->share == 0.5);
  CHECK(shop.subsidy->cap == 80);
  CHECK_FALSE(shop.subsidy->registered);
  CHECK(shop.subsidy->until == Date{2030, 12, 31});
}

TEST_CASE("read_shop: the other of two ways to say it, which the starter shop has as comments") {
  std::string text = starter_shop();
  const auto swap = [&text](const std::string& now, const std::string& then) {
    const std::size_t at = text.find("\n" + now);
    REQUIRE_MESSAGE(at != std::string::npos, now);
    text.replace(at + 1, now.size(), then);
  };
  swap("flat = 2.50", "# ");
  swap("# share = 0.05", "share = 0.05 # ");
  swap("rush = 20", "# ");
  swap("# rush_share", "rush_share");
  swap("not_to_exceed", "# not_to_exceed");
  swap("# ceiling_confidence", "ceiling_confidence");
  swap("no_cure_no_fee = false", "no_cure_no_fee = true");
  swap("no_cure_charge", "# no_cure_charge");
  const Shop shop = read(text);
  CHECK_FALSE(shop.consumables_flat);
  CHECK(shop.consumables_share == 0.05);
  CHECK_FALSE(shop.rush_flat);
  CHECK(shop.rush_share == 0.5);
  CHECK_FALSE(shop.not_to_exceed);
  CHECK(shop.ceiling_confidence == 0.9);
  CHECK(shop.no_cure_no_fee);
  CHECK_FALSE(shop.no_cure_charge);
}

TEST_CASE("read_shop: words for choices") {
  CHECK(read("[parts]\nshipping = \"line\"").shipping == ShippingCharge::line);
  CHECK(read("[parts]\nshipping = \"spread\"").shipping == ShippingCharge::spread);
  CHECK(read("[parts]\nshipping = \"shop\"").shipping == ShippingCharge::shop);
  CHECK(read("[payment]\ntax_by = \"total\"").tax_by == TaxBy::total);
  CHECK(read("[payment]\ntax_by = \"line\"").tax_by == TaxBy::line);
  const Shop shop = read(
      "[[tax]]\nname = \"t\"\nrate = 0.1\nexempt = [\"labour\", \"parts\", \"consumables\", \"shipping\", "
      "\"diagnosis\", \"rush\", \"collection\", \"discount\"]");
  CHECK(shop.taxes[0].exempt ==
        std::vector<LineKind>{LineKind::labour, LineKind::parts, LineKind::consumables, LineKind::shipping,
                              LineKind::diagnosis, LineKind::rush, LineKind::collection, LineKind::discount});
}

TEST_CASE("read_shop: marks, and forms of dates") {
  CHECK(read("[writing]\ndecimal_mark = \",\"\ngroup_mark = \" \"").style.group_mark == " ");
  CHECK(read("[writing]\ngroup_mark = \"'\"").style.group_mark == "'");
  CHECK(read("[writing]\ngroup_mark = \"\"").style.group_mark.empty());
  CHECK(read("[writing]\ngroup_mark = \",\"").style.group_mark == ",");
  for (const char* form : {"YYYY-MM-DD", "DD.MM.YYYY", "MM/DD/YYYY", "DD. MM. YYYY.", "YYYY/DD/MM"}) {
    CAPTURE(form);
    CHECK(read(std::string("[writing]\ndate_form = \"") + form + '"').style.date_form == form);
  }
  for (const char* form : {"DD.MM.YY", "DD.MM", "YYYYMMDD", "DD-DD-MM-YYYY", "DD of MM YYYY", "D.M.YYYY",
                           "YYYY年MM月DD", "YYYY-MM-DD            ", "dd.mm.yyyy", "YYYYY-MM-DD"}) {
    CAPTURE(form);
    CHECK(refusal(std::string("[writing]\ndate_form = \"") + form + '"').starts_with("writing.date_form: '"));
  }
}

TEST_CASE("read_shop: the order of taxes") {
  const std::string added = "[[tax]]\nname = \"a\"\nrate = 0.1\n";
  const std::string included = "[[tax]]\nname = \"i\"\nrate = 0.1\nincluded = true\n";
  const std::string second = "[[tax]]\nname = \"b\"\nrate = 0.05\n";
  CHECK(refusal(added + included).empty());  // does not build on it
  CHECK(refusal(included + added).empty());
  CHECK(refusal(added + second + "compound = true\n").empty());
  CHECK(refusal(included + second + "compound = true\n").empty());
  CHECK(refusal(included + second + "compound = true\nincluded = true\n").empty());
  CHECK(refusal(added + second + "compound = true\nincluded = true\n") ==
        "tax.2.compound: prices cannot hold a tax on 'a', which is added to them\n");
  CHECK(refusal(second + "compound = true\n") ==
        "tax.1.compound: a compound tax builds on the taxes before it, and there is none\n");
  CHECK(read(second + "included = true\n").taxes[0].rate == 0.05);
  CHECK(read("[[tax]]\nname = \"none\"\nrate = 0\n[[tax]]\nname = \"all\"\nrate = 1\n").taxes.size() == 2);
}

TEST_CASE("read_shop: a tax in percent is told how to write it") {
  try {
    static_cast<void>(read("[[tax]]\nname = \"VAT\"\nrate = 19\n"));
    FAIL("read all the same");
  } catch (const InputError& error) {
    REQUIRE(error.problems().size() == 1);
    CHECK(error.problems()[0].text() ==
          "shop.toml:3:8: error: tax.1.rate: found 19, allowed is 0 to 1 (a tax is written as a fraction: 19 "
          "% is "
          "0.19)");
  }
}

TEST_CASE("read_shop: a file that is no shop file") {
  CHECK(refusal(std::string(largest_case_file + 1, '#')).ends_with("this is no shop file\n"));
  CHECK(refusal("not toml").starts_with(": not valid TOML"));
  CHECK(refusal(starter_case(false)).find("this is a case, a shop file is wanted here") != std::string::npos);
}

TEST_CASE("rates_for: what the shop is licensed for is no longer left to others") {
  const RateBook& rates = built_in_rates();
  const std::string hazard = "microwave-oven";
  REQUIRE(rates.hazards.at(hazard).licensed_only);
  Shop shop;
  CHECK(rates_for(shop, rates).hazards.at(hazard).licensed_only);
  shop.licensed_for = {hazard, "mains", "no such hazard"};
  const RateBook own = rates_for(shop, rates);
  CHECK_FALSE(own.hazards.at(hazard).licensed_only);
  CHECK(own.hazards.at(hazard).cautions == rates.hazards.at(hazard).cautions);
  CHECK(own.hazards.size() == rates.hazards.size());
  for (const auto& entry : rates.hazards) {
    if (entry.first == hazard) continue;
    CHECK_MESSAGE(own.hazards.at(entry.first).licensed_only == entry.second.licensed_only, entry.first);
  }
}

TEST_CASE("intake: nothing is needed") {
  const Intake intake = case_with("").intake;
  CHECK(intake.customer.empty());
  CHECK_FALSE(intake.serial);
  CHECK_FALSE(intake.condition);
  CHECK_FALSE(intake.fault);
  CHECK(intake.not_included.empty());
  CHECK_FALSE(intake.rush);
  CHECK_FALSE(intake.collection);
  CHECK_FALSE(intake.parts_from_customer);
}

TEST_CASE("intake: every key, from the file and from an override") {
  const Intake intake = read_case(starter_case(true), "case.toml", built_in_rates()).intake;
  CHECK(intake.customer == std::vector<std::string>{"A. Customer", "1 Example Street"});
  CHECK(intake.serial == "KR-0042");
  CHECK(intake.condition == "Scratched lid, mains lead sound");
  CHECK(intake.fault == "The first station button answers to hard presses only.");
  CHECK(intake.not_included == std::vector<std::string>{"The tuning scale is not lit again."});
  CHECK_FALSE(intake.rush);
  const Intake other = case_with("[intake]\nrush = true\ncollection = true\nparts_from_customer = true\n",
                                 {"intake.rush=false", "intake.serial=\"7\""})
                           .intake;
  CHECK_FALSE(other.rush);
  CHECK(other.collection);
  CHECK(other.parts_from_customer);
  CHECK(other.serial == "7");
}

TEST_CASE("intake: what is wrong is said with its place") {
  try {
    static_cast<void>(
        case_with("[intake]\ncustomer = \"A. Customer\"\nserail = \"7\"\nfault = \"a\\nb\"\n"
                  "not_included = [\"\"]\nrush = 1\n"));
    FAIL("read all the same");
  } catch (const InputError& error) {
    std::vector<std::string> found;
    for (const Diagnostic& problem : error.problems()) found.push_back(problem.key + ": " + problem.message);
    CHECK(found ==
          std::vector<std::string>{"intake.customer: found the text 'A. Customer', a list of texts is wanted",
                                   "intake.serail: unknown key",
                                   "intake.fault: the text 'a\\x0Ab' holds a control character",
                                   "intake.not_included: the text is empty",
                                   "intake.rush: found the number 1, true or false is wanted"});
  }
}

TEST_CASE("keys that people try in a shop file get the right one") {
  try {
    static_cast<void>(
        read_shop("[shop]\nname = \"Weirside\"\n[discount]\npercent = 10\n[warranty]\ndays = 90\n",
                  "shop.toml", built_in_rates()));
    FAIL("read all the same");
  } catch (const InputError& error) {
    std::vector<std::string> remedies;
    for (const Diagnostic& problem : error.problems()) remedies.push_back(problem.remedy);
    CHECK(remedies == std::vector<std::string>{
                          "write letterhead = [\"name\", \"address\"], the first line being the name",
                          "write share = 0.1 for 10 %", "a shop's warranty is warranty_days under [terms]"});
  }
}
