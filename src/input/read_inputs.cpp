#include <type_traits>

#include <fmt/format.h>

#include "input/table_reader.hpp"

// Values of a table into the places that its inputs name.

namespace mendworth::input {

void TableReader::read_into(void* owner, const TakeDefault& take_default) {
  for (const Input& input : inputs_) {
    if (input.slot == nullptr || input.by_hand) continue;
    if (!input.missing.empty()) require(input.key);
    read_input(input, input.slot(owner), take_default);
  }
}

/// Whether a word stands there that says there is no number; reports any other.
bool TableReader::is_word(const Input& input) {
  const Node* node = input.word.empty() ? nullptr : find(input.key);
  if (node == nullptr || !node->is_text()) return false;
  if (node->text != input.word) {
    fail(input.key,
         fmt::format("found {}, a number, a range or \"{}\" is wanted", node->described(), input.word),
         quoted_number_remedy(node->text));
  }
  return true;
}

void TableReader::read_input(const Input& input, const Slot& slot, const TakeDefault& take_default) {
  const std::string_view key = input.key;
  const bool there = has(key);
  const auto left_out = [&] {
    if (!there && !input.rates.empty()) return take_default(key_of(key));
    return Quantity::exactly(input.otherwise.value_or(1.0));
  };
  const auto read = [&](auto* value) {
    using Value = std::remove_pointer_t<decltype(value)>;
    if constexpr (std::is_same_v<Value, Quantity>) {
      *value = there ? quantity(key).value_or(left_out()) : left_out();
    } else if constexpr (std::is_same_v<Value, std::optional<Quantity>>) {
      if (!is_word(input)) *value = quantity(key);
    } else if constexpr (std::is_same_v<Value, double>) {
      *value = there ? number(key).value_or(left_out().base()) : left_out().base();
    } else if constexpr (std::is_same_v<Value, std::optional<double>>) {
      *value = number(key);
    } else if constexpr (std::is_same_v<Value, int>) {
      *value = integer(key).value_or(static_cast<int>(left_out().base()));
    } else if constexpr (std::is_same_v<Value, std::optional<int>>) {
      *value = integer(key);
    } else if constexpr (std::is_same_v<Value, bool>) {
      *value = flag(key).value_or(*value);
    } else if constexpr (std::is_same_v<Value, std::string>) {
      *value = text(key).value_or(*value);
    } else if constexpr (std::is_same_v<Value, std::optional<std::string>>) {
      *value = text(key);
    } else if constexpr (std::is_same_v<Value, std::vector<std::string>>) {
      *value = lines(key);
    } else {
      *value = date(key);
    }
  };
  std::visit(
      [&](const auto& held) {
        if constexpr (!std::is_same_v<std::decay_t<decltype(held)>, std::monostate>) read(held);
      },
      slot);
}

double read_step(TableReader& row, const char* key, const Ladder& ladder, bool is_first,
                 std::optional<double>& last) {
  row.require(key);
  const auto from = row.number(key);
  if (from && is_first && *from > 0) {
    row.fail(key, fmt::format("{} starts from {}, it must start from 0", ladder.first, *from), ladder.add);
  } else if (from && last && *from <= *last) {
    row.fail(key, fmt::format("{} are out of order: {} comes after {}", ladder.all, *from, *last),
             fmt::format("write them by rising {}, each once", ladder.of_what));
  }
  if (from) last = from;
  return from.value_or(0.0);
}

}  // namespace mendworth::input
