#pragma once

#include <array>
#include <type_traits>

#include "domain/inputs.hpp"

/// To write tables of inputs: rows that find their place and their kind by pointers to members.
namespace mendworth::rows {

template <class Owner, class Value>
Owner owner_type(Value Owner::*);
template <class Owner, class Value>
Value value_type(Value Owner::*);

template <class T>
inline constexpr bool is_list = false;
template <class T>
inline constexpr bool is_list<std::vector<T>> = true;
template <class T>
inline constexpr bool is_optional = false;
template <class T>
inline constexpr bool is_optional<std::optional<T>> = true;

template <class Value>
constexpr InputKind kind_of() {
  if constexpr (is_optional<Value>) {
    return kind_of<typename Value::value_type>();
  } else if constexpr (std::is_same_v<Value, Quantity>) {
    return InputKind::quantity;
  } else if constexpr (std::is_same_v<Value, double>) {
    return InputKind::number;
  } else if constexpr (std::is_same_v<Value, int>) {
    return InputKind::count;
  } else if constexpr (std::is_same_v<Value, bool>) {
    return InputKind::flag;
  } else if constexpr (std::is_same_v<Value, std::string>) {
    return InputKind::text;
  } else if constexpr (std::is_same_v<Value, std::vector<std::string>>) {
    return InputKind::texts;
  } else {
    static_assert(std::is_same_v<Value, Date>);
    return InputKind::date;
  }
}

/// The value of a member, or of a member of that member.
template <auto First, auto... Rest>
auto& reach(void* owner) {
  return ((static_cast<decltype(owner_type(First))*>(owner)->*First).*....*Rest);
}

template <auto... Path>
constexpr Input at(std::string_view key, const Limits& limits = {}, BearsOn bears_on = BearsOn::other) {
  Input out{.key = key, .limits = limits, .bears_on = bears_on};
  out.kind = kind_of<std::remove_reference_t<decltype(reach<Path...>(nullptr))>>();
  out.slot = [](void* owner) -> Slot { return &reach<Path...>(owner); };
  return out;
}

/// What has no place of its own in the struct.
constexpr Input unplaced(InputKind kind, std::string_view key, const Limits& limits = {}) {
  return {.key = key, .kind = kind, .limits = limits, .by_hand = true};
}

/// A table: a member, an optional one, or a list of them.
template <auto Member>
constexpr Input table(std::string_view key, std::span<const Input> within,
                      std::size_t most = most_list_items) {
  using Owner = decltype(owner_type(Member));
  using Value = decltype(value_type(Member));
  Input out{.key = key, .kind = is_list<Value> ? InputKind::tables : InputKind::table, .within = within};
  out.limits = {.low = 0, .high = static_cast<double>(most)};
  out.count = [](const void* owner) -> std::size_t {
    const Value& value = static_cast<const Owner*>(owner)->*Member;
    if constexpr (is_list<Value>) return value.size();
    if constexpr (is_optional<Value>) return value.has_value() ? 1 : 0;
    return 1;
  };
  out.item = [](void* owner, [[maybe_unused]] std::size_t i) -> void* {
    Value& value = static_cast<Owner*>(owner)->*Member;
    if constexpr (is_list<Value>) {
      return &value[i];
    } else if constexpr (is_optional<Value>) {
      return &*value;
    } else {
      return &value;
    }
  };
  return out;
}

/// A table that the reader puts into something else.
constexpr Input unplaced_table(InputKind kind, std::string_view key, std::span<const Input> within) {
  Input out = unplaced(kind, key, {.low = 0, .high = static_cast<double>(most_list_items)});
  out.within = within;
  return out;
}

template <std::size_t A, std::size_t B>
constexpr std::array<Input, A + B> joined(const std::array<Input, A>& a, const std::array<Input, B>& b) {
  std::array<Input, A + B> out{};
  for (std::size_t i = 0; i < A; ++i) out[i] = a[i];
  for (std::size_t i = 0; i < B; ++i) out[A + i] = b[i];
  return out;
}

}  // namespace mendworth::rows
