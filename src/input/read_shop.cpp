#include <algorithm>
#include <array>
#include <cctype>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "input/case_reader.hpp"
#include "input/reading.hpp"
#include "input/shop_reader.hpp"
#include "input/suggest.hpp"
#include "input/utf8.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/read_case.hpp"

namespace mendworth {

namespace input {

namespace {

constexpr std::size_t longest_date_form = 20;

/// What is wrong with a form of dates; empty if nothing is.
std::string date_form_problem(const std::string& form) {
  std::string_view rest = form;
  std::array<std::pair<std::string_view, int>, 3> fields = {{{"YYYY", 0}, {"MM", 0}, {"DD", 0}}};
  bool after_field = false;
  while (!rest.empty()) {
    const auto field = std::ranges::find_if(
        fields, [&](const auto& candidate) { return rest.starts_with(candidate.first); });
    if (field != fields.end()) {
      if (after_field) return fmt::format("'{}' follows the field before it without a mark", field->first);
      if (++field->second > 1) return fmt::format("'{}' stands in it twice", field->first);
      rest.remove_prefix(field->first.size());
      after_field = true;
      continue;
    }
    const auto c = static_cast<unsigned char>(rest.front());
    if (c >= 0x80 || (c != ' ' && std::ispunct(c) == 0))
      return "between the fields only punctuation and spaces are possible";
    rest.remove_prefix(1);
    after_field = false;
  }
  for (const auto& [name, count] : fields) {
    if (count == 0) return fmt::format("'{}' is missing in it", name);
  }
  return "";
}

}  // namespace

void require_with(TableReader& table, const char* key, bool companion, const std::string& companion_name) {
  if (companion || !table.has(key)) return;
  table.fail(key, fmt::format("means nothing without {}", companion_name),
             fmt::format("add {}, or leave this out", companion_name));
}

void require_one_of(TableReader& table, const char* first, const char* second, const std::string& why) {
  if (table.has(first) && table.has(second)) table.fail(second, why, "keep one of the two");
}

ShopReader::ShopReader(const Node& document, std::string source_name, const RateBook& rates,
                       Problems& problems)
    : document_(document, "", problems, shop_inputs()), rates_(rates) {
  shop_.source_name = std::move(source_name);
}

Shop ShopReader::read() {
  read_shop();
  read_writing();
  read_section("labour");
  read_flat_rates();
  read_section("diagnosis",
               [](TableReader& table) { require_with(table, "credited", table.has("fee"), "a fee"); });
  read_parts();
  read_section("consumables", [](TableReader& table) {
    require_one_of(table, "flat", "share", "consumables are charged as a flat sum or as a share of labour");
  });
  read_section("fees", [](TableReader& table) {
    require_one_of(table, "rush", "rush_share", "a rush is charged as a sum or as a share of labour");
  });
  read_section("discount",
               [](TableReader& table) { require_with(table, "name", table.has("share"), "a share"); });
  read_taxes();
  read_payment();
  read_terms();
  read_section("workmanship", [](TableReader& table) {
    require_with(table, "come_back_minutes", table.has("come_back"), "come_back");
  });
  read_section("margin");
  read_subsidy();
  document_.finish();
  return std::move(shop_);
}

void ShopReader::read_section(const char* key, const std::function<void(TableReader&)>& check) {
  TableReader table = document_.section(key);
  table.read_into(&shop_);
  if (check) check(table);
  table.finish();
}

void ShopReader::keep_place(TableReader& table, const std::string& key) {
  if (const Node* node = table.find(key)) {
    shop_.places[table.key_of(key)] = {node->place.line, node->place.column};
  }
}

void ShopReader::read_shop() {
  TableReader table = document_.section("shop");
  table.read_into(&shop_);
  keep_place(table, "currency");
  if (shop_.currency && rates_.currencies.count(*shop_.currency) == 0) {
    table.fail("currency", fmt::format("there is no currency '{}'", printable(*shop_.currency)),
               suggestion(*shop_.currency, names_of(rates_.currencies),
                          "a currency is written as its ISO 4217 code: \"EUR\""));
  }
  shop_.licensed_for = read_hazards(table, "licensed_for", rates_);
  table.finish();
}

/// A mark may be empty or a space, which no other text may be.
void ShopReader::read_mark(TableReader& table, const char* key, std::string& mark) {
  const auto allowed = find_input(shop_inputs(), table.key_of(key))->names;
  const Node* node = table.find(key);
  if (node == nullptr) return;
  std::string list;
  for (const std::string_view name : allowed) list += fmt::format("{}\"{}\"", list.empty() ? "" : ", ", name);
  if (!node->is_text()) {
    table.fail(key, fmt::format("found {}, one of {} is wanted", node->described(), list));
  } else if (std::ranges::find(allowed, node->text) == allowed.end()) {
    table.fail(key, fmt::format("found '{}', allowed are {}", printable(node->text), list));
  } else {
    mark = node->text;
  }
}

void ShopReader::read_writing() {
  TableReader table = document_.section("writing");
  NumberStyle& style = shop_.style;
  read_mark(table, "decimal_mark", style.decimal_mark);
  read_mark(table, "group_mark", style.group_mark);
  if (style.decimal_mark == style.group_mark) {
    table.fail(table.has("group_mark") ? "group_mark" : "decimal_mark",
               fmt::format("'{}' cannot mark both decimals and groups of three digits", style.group_mark),
               table.has("decimal_mark") ? "choose another mark for one of them"
                                         : "the decimal mark is \".\" unless decimal_mark says otherwise");
  }
  table.read_into(&shop_);
  if (const auto form = table.text("date_form")) {
    std::string problem = date_form_problem(*form);
    if (form->size() > longest_date_form)
      problem = fmt::format("it is longer than {} characters", longest_date_form);
    if (problem.empty()) {
      style.date_form = *form;
    } else {
      table.fail("date_form", fmt::format("'{}' is no form of a date: {}", printable(*form), problem),
                 "YYYY, MM and DD, once each: \"DD.MM.YYYY\"");
    }
  }
  table.finish();
}

void ShopReader::read_subsidy() {
  if (!document_.has("subsidy")) return;
  TableReader table = document_.section("subsidy");
  table.read_into(&shop_.subsidy.emplace());
  table.finish();
}

}  // namespace input

Shop read_shop(std::string_view toml_text, const std::string& source_name, const RateBook& rates) {
  return input::read_as(input::FileKind::shop, toml_text, source_name, [&] {
    input::Problems problems(source_name);
    if (toml_text.size() > largest_case_file) {
      problems.add({}, "", fmt::format("larger than {} bytes: this is no shop file", largest_case_file));
      problems.throw_if_any();
    }
    const input::Node document = input::parse_document(toml_text, source_name);
    Shop shop = input::ShopReader(document, source_name, rates, problems).read();
    problems.throw_if_any();
    return shop;
  });
}

}  // namespace mendworth
