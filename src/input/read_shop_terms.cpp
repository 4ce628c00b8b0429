#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "input/case_reader.hpp"
#include "input/shop_reader.hpp"
#include "input/suggest.hpp"
#include "input/utf8.hpp"

namespace mendworth::input {

namespace {

constexpr Limits tax_rate{0, 1, "a tax is written as a fraction: 19 % is 0.19", 1e-6};
constexpr Limits confidence{0.5, 0.999, "a share of the jobs, as a fraction: 90 % is 0.9"};
constexpr int most_days = 36'500;
constexpr LineKind kinds[] = {LineKind::labour,     LineKind::parts,     LineKind::consumables,
                              LineKind::shipping,   LineKind::diagnosis, LineKind::rush,
                              LineKind::collection, LineKind::discount};

}  // namespace

std::vector<LineKind> ShopReader::read_exempt(TableReader& table) {
  std::vector<LineKind> exempt;
  std::vector<std::string> names;
  for (const LineKind kind : kinds) names.emplace_back(name_of(kind));
  for (const std::string& word : table.texts("exempt")) {
    const auto at = std::find(names.begin(), names.end(), word);
    if (at == names.end()) {
      std::string list;
      for (const std::string& name : names) list += (list.empty() ? "" : ", ") + name;
      const auto near = nearest(word, names);
      table.fail("exempt", fmt::format("found '{}', allowed are {}", printable(word), list),
                 near ? "did you mean '" + *near + "'?" : "");
      continue;
    }
    const LineKind kind = kinds[at - names.begin()];
    if (std::find(exempt.begin(), exempt.end(), kind) != exempt.end()) {
      table.fail("exempt", fmt::format("'{}' is listed twice", word));
    } else {
      exempt.push_back(kind);
    }
  }
  return exempt;
}

/// The last tax read, against those before it.
void ShopReader::check_tax_order(TableReader& table) {
  const Tax& tax = shop_.taxes.back();
  if (!tax.compound) return;
  if (shop_.taxes.size() == 1) {
    table.fail("compound", "a compound tax builds on the taxes before it, and there is none",
               "write it after them, or leave compound out");
    return;
  }
  const auto added = std::find_if(shop_.taxes.begin(), shop_.taxes.end(),
                                  [](const Tax& before) { return !before.included; });
  if (tax.included && added != shop_.taxes.end()) {
    table.fail("compound",
               fmt::format("prices cannot hold a tax on '{}', which is added to them", added->name),
               "leave included or compound out");
  }
}

void ShopReader::read_taxes() {
  UniqueNames names;
  for (TableReader& table : document_.sections("tax")) {
    Tax tax;
    tax.name = table.required_text("name", "the name of the tax", "for instance name = \"VAT\"");
    if (!table.has("rate")) table.missing("rate", "the rate of the tax", "for instance rate = 0.19 for 19 %");
    tax.rate = table.number("rate", tax_rate).value_or(0.0);
    tax.included = table.flag("included").value_or(tax.included);
    tax.compound = table.flag("compound").value_or(tax.compound);
    tax.exempt = read_exempt(table);
    names.add(table, tax.name);
    shop_.taxes.push_back(std::move(tax));
    check_tax_order(table);
    table.finish();
  }
}

void ShopReader::read_payment() {
  TableReader table = document_.section("payment");
  shop_.tax_by = table.choice("tax_by", {"total", "line"}) == 1U ? TaxBy::line : TaxBy::total;
  shop_.cash_step = table.number("cash_step", limits::positive_money);
  keep_place(table, "cash_step");
  shop_.deposit_share = table.number("deposit_share", limits::share_of_money);
  shop_.deposit_from = table.number("deposit_from", limits::money).value_or(shop_.deposit_from);
  shop_.deposit_covers_parts = table.flag("deposit_covers_parts").value_or(shop_.deposit_covers_parts);
  require_with(table, "deposit_from", table.has("deposit_share") || shop_.deposit_covers_parts,
               "deposit_share or deposit_covers_parts");
  table.finish();
}

void ShopReader::read_terms() {
  TableReader table = document_.section("terms");
  shop_.valid_days = table.integer("valid_days", 1, most_days);
  shop_.warranty_days = table.integer("warranty_days", 0, most_days);
  shop_.not_to_exceed = table.number("not_to_exceed", limits::share_of_money);
  shop_.ceiling_confidence = table.number("ceiling_confidence", confidence);
  require_one_of(table, "not_to_exceed", "ceiling_confidence",
                 "the limit without consent is a share above the total or follows from a confidence");
  shop_.no_cure_no_fee = table.flag("no_cure_no_fee").value_or(shop_.no_cure_no_fee);
  shop_.no_cure_charge = table.number("no_cure_charge", limits::money);
  if (shop_.no_cure_no_fee && table.has("no_cure_charge")) {
    table.fail("no_cure_charge", "no_cure_no_fee promises that nothing is charged then",
               "keep one of the two");
  }
  shop_.liability = table.number("liability", limits::money);
  shop_.terms = table.lines("text");
  table.finish();
}

}  // namespace mendworth::input
