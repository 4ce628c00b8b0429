#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "input/case_reader.hpp"
#include "input/shop_reader.hpp"
#include "input/suggest.hpp"
#include "input/utf8.hpp"

namespace mendworth::input {

namespace {

constexpr LineKind kinds[] = {LineKind::labour,     LineKind::parts,     LineKind::consumables,
                              LineKind::shipping,   LineKind::diagnosis, LineKind::rush,
                              LineKind::collection, LineKind::discount};

}  // namespace

std::vector<LineKind> ShopReader::read_exempt(TableReader& table) {
  std::vector<LineKind> exempt;
  std::vector<std::string> names;
  for (const LineKind kind : kinds) names.emplace_back(name_of(kind));
  for (const std::string& word : table.texts("exempt")) {
    const auto at = std::ranges::find(names, word);
    if (at == names.end()) {
      std::string list;
      for (const std::string& name : names) list += (list.empty() ? "" : ", ") + name;
      const auto near = nearest(word, names);
      table.fail("exempt", fmt::format("found '{}', allowed are {}", printable(word), list),
                 near ? "did you mean '" + *near + "'?" : "");
      continue;
    }
    const LineKind kind = kinds[at - names.begin()];
    if (std::ranges::find(exempt, kind) != exempt.end()) {
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
  const auto added = std::ranges::find_if(shop_.taxes, [](const Tax& before) { return !before.included; });
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
    table.read_into(&tax);
    tax.exempt = read_exempt(table);
    names.add(table, tax.name);
    shop_.taxes.push_back(std::move(tax));
    check_tax_order(table);
    table.finish();
  }
}

void ShopReader::read_payment() {
  TableReader table = document_.section("payment");
  shop_.tax_by = table.choice("tax_by") == 1U ? TaxBy::line : TaxBy::total;
  table.read_into(&shop_);
  keep_place(table, "cash_step");
  require_with(table, "deposit_from", table.has("deposit_share") || shop_.deposit_covers_parts,
               "deposit_share or deposit_covers_parts");
  table.finish();
}

void ShopReader::read_terms() {
  TableReader table = document_.section("terms");
  table.read_into(&shop_);
  require_one_of(table, "not_to_exceed", "ceiling_confidence",
                 "the limit without consent is a share above the total or follows from a confidence");
  if (shop_.no_cure_no_fee && table.has("no_cure_charge")) {
    table.fail("no_cure_charge", "no_cure_no_fee promises that nothing is charged then",
               "keep one of the two");
  }
  table.finish();
}

}  // namespace mendworth::input
