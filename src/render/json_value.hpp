#pragma once

#include <concepts>
#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace mendworth {

/// A JSON value; members of an object stay in the order in which they were given. The library that
/// reads and writes it is slow to compile, so it stands in json_value.cpp alone.
class Json {
 public:
  struct Member;

  Json() = default;  ///< null
  Json(std::nullptr_t) {}
  template <std::integral T>
  Json(T value) {
    if constexpr (std::same_as<T, bool>)
      value_ = value;
    else if constexpr (std::signed_integral<T>)
      value_ = std::int64_t{value};
    else
      value_ = std::uint64_t{value};
  }
  Json(double value) : value_(value) {}  ///< finite
  Json(const char* text) : value_(std::string(text)) {}
  Json(std::string text) : value_(std::move(text)) {}
  /// {{"name", value}, ...}: an object.
  Json(std::initializer_list<Member> members);
  template <class T>
  Json(const std::vector<T>& items) : value_(std::vector<Json>(items.begin(), items.end())) {}

  [[nodiscard]] static Json array();
  [[nodiscard]] static Json object();

  /// To an array.
  void push_back(Json item);
  /// To an object, after its other members.
  void add(std::string name, Json value);

  /// What a text says; nothing if it is no JSON.
  [[nodiscard]] static std::optional<Json> read(const std::string& text);
  /// A member of an object; null if this is no object or has none of that name.
  [[nodiscard]] const Json* find(const std::string& name) const;
  /// Calls `take(name, value)` for each member of an object.
  template <class F>
  void for_each_member(F take) const {
    const auto* object = std::get_if<Object>(&value_);
    for (std::size_t i = 0; object != nullptr && i < object->names.size(); ++i)
      take(object->names[i], object->values[i]);
  }
  /// What it holds; null if that is of another type.
  template <class T>
  [[nodiscard]] const T* as() const {
    return std::get_if<T>(&value_);
  }

  /// Indented by two spaces, with a line end. Names come from files: bytes that are no UTF-8 become U+FFFD.
  [[nodiscard]] std::string text() const;
  /// The same on one line, without a line end.
  [[nodiscard]] std::string line() const;

 private:
  struct Object {  // two lists, since a Member is not complete here
    std::vector<std::string> names;
    std::vector<Json> values;
  };
  friend struct JsonPort;
  std::variant<std::nullptr_t, bool, std::int64_t, std::uint64_t, double, std::string, std::vector<Json>,
               Object>
      value_;
};

struct Json::Member {
  std::string name;
  mutable Json value;  ///< an initializer_list is constant, and what it holds is moved on
};

}  // namespace mendworth
