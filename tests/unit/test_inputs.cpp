// The tables of inputs: what every row must say, and that what follows from them is complete.

#include <functional>
#include <map>
#include <set>
#include <string>

#include <doctest/doctest.h>

#include "answers/labels.hpp"
#include "domain/inputs.hpp"
#include "input/starter_comments.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/shop.hpp"
#include "support/example_files.hpp"

namespace {

using namespace mendworth;

void for_each_row(std::span<const Input> table, const std::string& head,
                  const std::function<void(const std::string&, const Input&)>& visit) {
  for (const Input& input : table) {
    const std::string key = head + std::string(input.key);
    visit(key, input);
    for_each_row(input.within, key + '.', visit);
  }
}

bool is_a_number(const Input& input) {
  return input.kind == InputKind::quantity || input.kind == InputKind::number ||
         input.kind == InputKind::count;
}

}  // namespace

TEST_CASE("inputs: every row can be found, numbers have limits, choices have names") {
  for (const auto table : {case_inputs(), shop_inputs()}) {
    for_each_row(table, "", [&](const std::string& key, const Input& input) {
      CAPTURE(key);
      const Input* found = find_input(table, key);
      REQUIRE(found != nullptr);
      CHECK(found->key == input.key);
      if (is_a_number(input)) CHECK(input.limits.low < input.limits.high);
      if (input.otherwise) CHECK(input.limits.allows(*input.otherwise));
      const bool chosen = input.kind == InputKind::choice || input.kind == InputKind::choices;
      CHECK(chosen == !input.names.empty());
    });
  }
}

TEST_CASE("inputs: keys with and without the numbers of lists; none for what is no key") {
  CHECK(&input_of("part.1.candidate.2.offer.3.prices.4.each") ==
        &input_of("part.candidate.offer.prices.each"));
  CHECK(input_of("supplier.1.shipping").kind == InputKind::quantity);
  CHECK(input_of("supplier.1.shipping.2.price").kind == InputKind::quantity);
  CHECK(find_input(case_inputs(), "device.colour") == nullptr);
  CHECK(find_input(case_inputs(), "device.age_years.low") == nullptr);
  CHECK(find_input(case_inputs(), "") == nullptr);
}

TEST_CASE("inputs: each quantity of a case has words of its own") {
  const Case c = read_case(starter_case(true), "case.toml", built_in_rates());
  std::map<std::string, std::string> keys;
  for_each_quantity(c, [&](const std::string& key, const Quantity&) {
    CAPTURE(key);
    const std::string label = label_of(c, key);
    CHECK(label != key);
    CHECK(label.find_first_of("{}$@") == std::string::npos);
    // Two prices of one offer are told apart by the list that they stand in.
    if (key.find(".prices.") == std::string::npos && key.find(".shipping.") == std::string::npos)
      CHECK_MESSAGE(keys.emplace(label, key).second, label);
  });
}

TEST_CASE("inputs: the rates hold each default that a row names, and no other") {
  std::set<std::string> named, held;
  for (const auto& [name, limits] : defaults_of_inputs()) named.insert(name);
  for (const auto& [name, value] : built_in_rates().defaults) held.insert(name);
  CHECK(named == held);
}

TEST_CASE("inputs: the starters that show every key do") {
  const auto shown = [](std::span<const Input> table, const std::string& text) {
    for_each_row(table, "", [&](const std::string& key, const Input& input) {
      CAPTURE(key);
      CHECK(text.find(input.key) != std::string::npos);
    });
  };
  shown(case_inputs(), starter_case(true));
  shown(shop_inputs(), starter_shop());
}

TEST_CASE("commented: behind the first line of a key, in one column; other comments stay") {
  CHECK(input::commented(
            "# a title\n\n[labour]\nrate_per_hour = 12\nskill = \"expert\"  # own\n# done_before = 3\n"
            "rate_per_hour = 13\n[[position]]\nno_such_key = 1\n",
            case_inputs()) ==
        "# a title\n\n[labour]\nrate_per_hour = 12             # * 0 if own time counts as free\n"
        "skill = \"expert\"  # own\n# done_before = 3              # positions of this kind already renewed\n"
        "rate_per_hour = 13\n"
        "[[position]]                   # * positions that are alike: same part, same use, same work\n"
        "no_such_key = 1\n");
}

TEST_CASE("inputs: a number is found by its key, and without keys in the same order") {
  for (const char* example :
       {"synth-buttons.toml", "lighting-desk.toml", "wall-dimmer.toml", "keypad-fleet.toml"}) {
    const Case c = read_case(test::example_text(example), example, built_in_rates());
    const auto all = quantities_of(c);
    std::size_t at = 0;
    for_each_quantity(c, [&](const std::string& key, const Quantity& quantity) {
      CAPTURE(key);
      REQUIRE(at < all.size());
      CHECK(all[at++] == &quantity);
      CHECK(find_quantity(c, key) == &quantity);
    });
    CHECK(at == all.size());
    for (const char* none :
         {"", "part", "part.", "part.0.life.shape", "part..other_uses_per_year", "part.1x.shape",
          "part.99999999999999999999.other_uses_per_year", "part.99.other_uses_per_year", "device.name",
          "device.age", "labour.1.rate_per_hour"}) {
      CAPTURE(none);
      CHECK(find_quantity(c, none) == nullptr);
    }
    CHECK(find_quantity(c, "part.1.other_uses_per_year") == &c.parts[0].other_uses_per_year);
  }
}
