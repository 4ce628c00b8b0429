#include "domain/inputs.hpp"

#include <algorithm>
#include <charconv>
#include <stdexcept>

#include <fmt/format.h>

namespace mendworth {

namespace {

/// What precedes the first dot, which is taken off with it.
std::string_view next_step(std::string_view& key) {
  const std::string_view step = key.substr(0, key.find('.'));
  key.remove_prefix(std::min(key.size(), step.size() + 1));
  return step;
}

bool is_number(std::string_view step) {
  return step.find_first_not_of("0123456789") == std::string_view::npos;
}

/// The row of a step, and whether it is the last one of its key: a key may stand for a number and, in a row after it, for
/// a list. Null if there is none.
const Input* row_of(std::span<const Input> table, std::string_view step, bool last) {
  const auto row = std::ranges::find_if(
      table, [&](const Input& input) { return input.key == step && (last || !input.within.empty()); });
  return row == table.end() ? nullptr : &*row;
}

}  // namespace

std::string without_numbers(std::string_view key) {
  std::string out;
  while (!key.empty()) {
    const std::string_view step = next_step(key);
    if (!is_number(step)) out += (out.empty() ? "" : ".") + std::string(step);
  }
  return out;
}

const Input* find_input(std::span<const Input> table, std::string_view key) {
  const std::string plain = without_numbers(key);
  std::string_view rest = plain;
  const Input* found = nullptr;
  while (!rest.empty()) {
    const std::string_view step = next_step(rest);
    found = row_of(table, step, rest.empty());
    if (found == nullptr) return nullptr;
    table = found->within;
  }
  return found;
}

const Input& input_of(std::string_view key) {
  const Input* found = find_input(case_inputs(), key);
  if (found == nullptr) throw std::invalid_argument(fmt::format("'{}' is no key of a case", key));
  return *found;
}

Quantity* quantity_in(const Slot& slot) {
  if (auto* const* plain = std::get_if<Quantity*>(&slot)) return *plain;
  if (auto* const* optional = std::get_if<std::optional<Quantity>*>(&slot); optional != nullptr && **optional)
    return &***optional;
  return nullptr;
}

bool is_idle(const Case& c, const Quantity& quantity) {
  const auto is = [&quantity](const Quantity& other) { return &quantity == &other; };
  if (is(c.device.guarantee_chance) || is(c.device.guarantee_days)) return !c.device.guarantee_until;
  if (is(c.fault.common_cause_chance) || is(c.fault.common_cause_years)) return c.fault.cause != Cause::spill;
  const auto none_renewed = [&](const PositionGroup& group) {
    return group.renewed == 0 && is(group.renewed_years_ago);
  };
  const auto same_currency = [&](const Supplier& supplier) {
    const bool of_exchange =
        is(supplier.exchange_rate) || (is(supplier.exchange_fee) && supplier.exchange_fee.high() == 0.0);
    return of_exchange && supplier.currency == c.device.currency;
  };
  return std::any_of(c.positions.begin(), c.positions.end(), none_renewed) ||
         std::any_of(c.suppliers.begin(), c.suppliers.end(), same_currency);
}

namespace {

class InputWalk {
 public:
  using Visit = std::function<void(const std::string&, const Input&, void*)>;
  /// Without keys the one told is empty.
  InputWalk(const Visit& visit, bool with_keys) : visit_(visit), with_keys_(with_keys) {}

  void walk(std::span<const Input> table, void* owner) {
    const std::size_t head = key_.size();
    for (const Input& input : table) {
      if (with_keys_) key_ += input.key;
      const std::size_t whole = key_.size();
      const bool numbered = input.kind == InputKind::tables && input.count != nullptr;
      if (input.slot != nullptr || numbered) visit_(key_, input, owner);
      const std::size_t count = input.count != nullptr ? input.count(owner) : 0;
      for (std::size_t i = 0; i < count; ++i) {
        if (with_keys_) key_ += numbered ? '.' + std::to_string(i + 1) + '.' : ".";
        walk(input.within, input.item(owner, i));
        key_.resize(whole);
      }
      key_.resize(head);
    }
  }

 private:
  const Visit& visit_;
  bool with_keys_;
  std::string key_;  // of where the walk is
};

/// The quantity of a decision that an input holds; null if it holds none.
Quantity* decided_on(Case& c, const Input& input, void* owner) {
  if (input.bears_on == BearsOn::other || input.slot == nullptr) return nullptr;
  Quantity* const quantity = quantity_in(input.slot(owner));
  // Where the rest's remaining years are stated this says nothing.
  return c.rest.remaining_years && quantity == &c.device.life_years ? nullptr : quantity;
}

void gather_defaults(std::span<const Input> table, std::map<std::string, Limits>& found) {
  for (const Input& input : table) {
    if (!input.rates.empty()) found.emplace(input.rates, input.limits);
    gather_defaults(input.within, found);
  }
}

}  // namespace

void walk_inputs(std::span<const Input> table, void* owner, const InputWalk::Visit& visit) {
  InputWalk(visit, true).walk(table, owner);
}

std::map<std::string, Limits> defaults_of_inputs() {
  std::map<std::string, Limits> found;
  gather_defaults(case_inputs(), found);
  return found;
}

void for_each_quantity(Case& c, const std::function<void(const std::string&, Quantity&)>& visit) {
  walk_inputs(case_inputs(), &c, [&](const std::string& key, const Input& input, void* owner) {
    if (Quantity* const quantity = decided_on(c, input, owner)) visit(key, *quantity);
  });
}

// The walk itself changes nothing, so that it may go through what is const.

void for_each_quantity(const Case& c, const std::function<void(const std::string&, const Quantity&)>& visit) {
  for_each_quantity(const_cast<Case&>(c),
                    [&](const std::string& key, Quantity& quantity) { visit(key, quantity); });
}

void for_each_input(const Case& c,
                    const std::function<void(const std::string&, const Input&, const Quantity&)>& visit) {
  auto& owned = const_cast<Case&>(c);
  walk_inputs(case_inputs(), &owned, [&](const std::string& key, const Input& input, void* owner) {
    if (const Quantity* const quantity = decided_on(owned, input, owner)) visit(key, input, *quantity);
  });
}

std::vector<Quantity*> quantities_of(Case& c) {
  std::vector<Quantity*> found;
  const InputWalk::Visit visit = [&](const std::string&, const Input& input, void* owner) {
    if (Quantity* const quantity = decided_on(c, input, owner)) found.push_back(quantity);
  };
  InputWalk(visit, false).walk(case_inputs(), &c);
  return found;
}

std::vector<const Quantity*> quantities_of(const Case& c) {
  const auto found = quantities_of(const_cast<Case&>(c));
  return {found.begin(), found.end()};
}

const Quantity* find_quantity(const Case& c, std::string_view key) {
  return find_quantity(const_cast<Case&>(c), key);
}

Quantity* find_quantity(Case& c, std::string_view key) {
  std::span<const Input> table = case_inputs();
  void* owner = &c;
  while (!key.empty()) {
    const std::string_view step = next_step(key);
    const Input* const input = row_of(table, step, key.empty());
    if (input == nullptr) return nullptr;
    if (key.empty()) return decided_on(c, *input, owner);
    std::size_t number = 1;
    if (input->kind == InputKind::tables) {
      const std::string_view written = next_step(key);
      const char* const end = written.data() + written.size();
      const auto [stop, error] = std::from_chars(written.data(), end, number);
      if (error != std::errc{} || stop != end) return nullptr;
    }
    if (input->count == nullptr || number == 0 || number > input->count(owner)) return nullptr;
    owner = input->item(owner, number - 1);
    table = input->within;
  }
  return nullptr;
}

}  // namespace mendworth
