#include <doctest/doctest.h>
#include <fmt/format.h>

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "domain/inputs.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"

// Whatever number is stated is read: a key that is accepted and then left aside would be answered by a default.
using namespace mendworth;

namespace {

/// The number in a slot, at base; none if it holds no number.
std::optional<double> number_in(const Slot& slot) {
  if (const Quantity* const quantity = quantity_in(slot)) return quantity->base();
  if (const auto* number = std::get_if<double*>(&slot)) return **number;
  if (const auto* number = std::get_if<std::optional<double>*>(&slot); number != nullptr && **number)
    return ***number;
  if (const auto* count = std::get_if<int*>(&slot)) return **count;
  if (const auto* count = std::get_if<std::optional<int>*>(&slot); count != nullptr && **count)
    return ***count;
  return std::nullopt;
}

struct Stated {
  std::string key;
  std::optional<double> value{};  ///< absent: the case does not say
  bool whole = false;
};

std::vector<Stated> numbers_of(Case c) {
  std::vector<Stated> numbers;
  walk_inputs(case_inputs(), &c, [&](const std::string& key, const Input& input, void* owner) {
    const bool whole = input.kind == InputKind::count;
    if (input.slot == nullptr ||
        !(whole || input.kind == InputKind::quantity || input.kind == InputKind::number))
      return;
    numbers.push_back({key, number_in(input.slot(owner)), whole});
  });
  return numbers;
}

}  // namespace

TEST_CASE("every number of the case with every key is what the case says") {
  const std::string text = starter_case(true);
  const std::vector<Stated> numbers = numbers_of(read_case(text, "f", built_in_rates()));
  std::size_t tried = 0;
  for (const Stated& stated : numbers) {
    CAPTURE(stated.key);
    const double before = stated.value.value_or(1);
    const double wanted = stated.whole ? before + 1 : before == 0 ? 0.25 : before * 0.96875;
    std::optional<double> found;
    try {
      const Case changed = read_case(text, "f", built_in_rates(),
                                     std::vector<std::string>{fmt::format("{}={}", stated.key, wanted)});
      for (const Stated& now : numbers_of(changed)) {
        if (now.key == stated.key) found = now.value;
      }
    } catch (const InputError&) {
      continue;  // what contradicts another entry is refused, not left aside
    }
    ++tried;
    REQUIRE(found);
    CHECK(*found == doctest::Approx(wanted));
  }
  CHECK(tried > 90);
}
