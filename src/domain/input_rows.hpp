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

// What a row says beside its key, in any order; limits, what it bears on and who can tell it too.
using text = std::string_view;
struct words {
  text what, unit{};
};
struct help {
  text line;
};
/// Must be there, as a rule; with `what` the reader says so by itself.
struct needed {
  text what{}, remedy{}, only_known_by{};
};
struct rates {
  text name;
};
struct or_else {
  double value;
};
struct or_word {
  text word;
};
struct one_of {
  std::span<const text> names;
};
inline constexpr struct by_hand_type {
} by_hand;
inline constexpr struct open_type {
} open;
inline constexpr struct tried_type {
} tried;

constexpr void say(Input& row, const Limits& limits) { row.limits = limits; }
constexpr void say(Input& row, BearsOn bears_on) { row.bears_on = bears_on; }
constexpr void say(Input& row, FoundOut found_out) { row.found_out = found_out; }
constexpr void say(Input& row, const words& w) { row.words = w.what, row.unit = w.unit; }
constexpr void say(Input& row, const help& h) { row.help = h.line; }
constexpr void say(Input& row, const needed& n) {
  row.starred = true;
  row.missing = n.what, row.remedy = n.remedy, row.only_known_by = n.only_known_by;
}
constexpr void say(Input& row, const rates& r) { row.rates = r.name; }
constexpr void say(Input& row, const or_else& o) { row.otherwise = o.value; }
constexpr void say(Input& row, const or_word& o) { row.word = o.word; }
constexpr void say(Input& row, const one_of& o) { row.names = o.names; }
constexpr void say(Input& row, by_hand_type) { row.by_hand = true; }
constexpr void say(Input& row, open_type) { row.open = true; }
constexpr void say(Input& row, tried_type) { row.tried = true; }

template <auto... Path>
constexpr Input at(text key, const auto&... said) {
  Input out{.key = key};
  out.kind = kind_of<std::remove_reference_t<decltype(reach<Path...>(nullptr))>>();
  out.slot = [](void* owner) -> Slot { return &reach<Path...>(owner); };
  (say(out, said), ...);
  return out;
}

/// What has no place of its own in the struct.
constexpr Input unplaced(InputKind kind, text key, const auto&... said) {
  Input out{.key = key, .kind = kind, .by_hand = true};
  (say(out, said), ...);
  return out;
}

inline constexpr Limits as_many{.low = 0, .high = static_cast<double>(most_list_items)};

/// A table: a member, an optional one, or a list of them.
template <auto Member>
constexpr Input table(text key, std::span<const Input> within, const auto&... said) {
  using Owner = decltype(owner_type(Member));
  using Value = decltype(value_type(Member));
  Input out{.key = key, .kind = is_list<Value> ? InputKind::tables : InputKind::table, .within = within};
  out.limits = as_many;
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
  (say(out, said), ...);
  return out;
}

/// Prices by steps; a list of one step is spelt as a single price.
template <auto Steps>
constexpr Input steps(text key, std::span<const Input> within, const auto&... said) {
  using Owner = decltype(owner_type(Steps));
  Input out = table<Steps>(key, within, said...);
  out.count = [](const void* owner) -> std::size_t {
    const auto& list = static_cast<const Owner*>(owner)->*Steps;
    return list.size() == 1 ? 0 : list.size();
  };
  return out;
}

template <auto Steps, auto Price>
constexpr Input single(text key, const auto&... said) {
  using Owner = decltype(owner_type(Steps));
  Input out =
      unplaced(InputKind::quantity, key, limits::money, BearsOn::purchase, FoundOut::asking, tried, said...);
  out.slot = [](void* owner) -> Slot {
    auto& list = static_cast<Owner*>(owner)->*Steps;
    if (list.size() != 1) return {};
    return &(list.front().*Price);
  };
  return out;
}

/// A table that the reader puts into something else.
constexpr Input unplaced_table(InputKind kind, text key, std::span<const Input> within, const auto&... said) {
  Input out = unplaced(kind, key, as_many, said...);
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
