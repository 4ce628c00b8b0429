#pragma once

#include <array>
#include <concepts>
#include <initializer_list>
#include <map>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include "mendworth/date.hpp"
#include "mendworth/money.hpp"
#include "mendworth/written.hpp"
#include "render/json_value.hpp"

/// How an answer stands in JSON. A struct of an answer has one table of members, a `Shape`; the values and the JSON Schema
/// both follow from it, so that neither can lag behind the other.
namespace mendworth {

/// Throws std::logic_error if it is not finite: JSON knows no infinity and no NaN, and the library would write null
/// without a word.
[[nodiscard]] Json number(double value);

/// What is allowed beyond the type. Where nothing is said, it follows from the key and the type: a number whose key ends in
/// _chance or _share is 0..1; one whose key ends in _pieces, _units, _years, _days or _minutes or tells an error, and every
/// whole number, is at least 0.
struct Allowed {
  bool stated = false;                 ///< nothing follows from the key
  std::optional<double> least{};       ///< of a list: how many items
  std::optional<double> most{};        ///< of a number
  std::array<const char*, 8> words{};  ///< a text is one of these, up to the first null
  bool left_out = false;               ///< where there is none: null, or an empty list
};
inline constexpr Allowed any_number{.stated = true};
inline constexpr Allowed left_out_if_none{.left_out = true};
[[nodiscard]] constexpr Allowed at_least(double least) { return {.stated = true, .least = least}; }
[[nodiscard]] constexpr Allowed between(double least, double most) {
  return {.stated = true, .least = least, .most = most};
}
[[nodiscard]] constexpr Allowed one_of(const std::array<const char*, 8>& words) { return {.words = words}; }

/// How sums of an answer are written that are `Money`.
struct SumStyle {
  Currency currency{};
  NumberStyle numbers{};
};

class MemberTable;

/// The definitions of one schema, each written once.
class Definitions {
 public:
  /// `closed`: no object has other keys than those named.
  explicit Definitions(bool closed) : closed_(closed) {}
  [[nodiscard]] Json reference(const MemberTable& table);
  /// The schema of a table, to stand where it is.
  [[nodiscard]] Json described(const MemberTable& table);
  /// Adds them to a schema that has references to them.
  void add_to(Json& schema) const;

 private:
  bool closed_;
  std::vector<std::pair<const MemberTable*, Json>> known_;
};

/// The members of a struct, whatever its type.
class MemberTable {
 public:
  struct Anything;
  using AnyMember = char Anything::*;  ///< a pointer to a member; whoever reads by it casts it back
  struct Member {
    const char* key;  ///< empty: the members of `spliced` stand in its place, if there are any
    const char* meaning;
    Allowed allowed;
    Json (*value)(const void* object, AnyMember at, const SumStyle& sums);
    Json (*schema)(Definitions& definitions);
    AnyMember at = nullptr;
    const MemberTable& (*spliced)() = nullptr;
  };

  /// Throws std::logic_error if a number is not finite.
  [[nodiscard]] Json value(const void* object, const SumStyle& sums) const;
  /// Adds the members to the properties of a schema, and the keys that are always there to `required`.
  void describe(Json& properties, std::vector<Json>& required, Definitions& definitions) const;

  const char* name;  ///< of the definition in a schema
  const char* meaning;

 protected:
  explicit MemberTable(const char* name_ = "", const char* meaning_ = "") : name(name_), meaning(meaning_) {}

  void add(const Member& member);

 private:
  std::vector<Member> members_;
};

template <class T>
class Shape;

template <class T>
[[nodiscard]] const MemberTable& shape() {
  static const Shape<T> is;
  return is;
}

/// A whole number without a point.
[[nodiscard]] Json whole_or_not(double value);
[[nodiscard]] Json of_type(const char* type);
[[nodiscard]] Json one_of_words(const std::vector<const char*>& words);
[[nodiscard]] Json or_null(const Json& schema);

/// How a type is written and described: a struct by its shape.
template <class T>
struct AsJson {
  static Json value(const T& held, const SumStyle& sums) { return shape<T>().value(&held, sums); }
  static Json schema(Definitions& definitions) { return definitions.reference(shape<T>()); }
};

template <>
struct AsJson<double> {
  static Json value(double held, const SumStyle& /*sums*/) { return number(held); }
  static Json schema(Definitions& /*definitions*/) { return of_type("number"); }
};

template <std::integral T>
struct AsJson<T> {
  static Json value(T held, const SumStyle& /*sums*/) { return held; }
  static Json schema(Definitions& /*definitions*/) {
    return of_type(std::same_as<T, bool> ? "boolean" : "integer");
  }
};

template <std::convertible_to<std::string> T>
struct AsJson<T> {
  static Json value(const T& held, const SumStyle& /*sums*/) { return std::string(held); }
  static Json schema(Definitions& /*definitions*/) { return of_type("string"); }
};

template <>
struct AsJson<Date> {
  static Json value(const Date& held, const SumStyle& sums);
  static Json schema(Definitions& definitions);
};

/// An enumeration by its `name_of`, which is empty beyond the last word.
template <class T>
requires std::is_enum_v<T>
struct AsJson<T> {
  static Json value(T held, const SumStyle& /*sums*/) { return name_of(held); }
  static Json schema(Definitions& /*definitions*/) {
    std::vector<const char*> words;
    for (int i = 0; *name_of(static_cast<T>(i)) != '\0'; ++i) words.push_back(name_of(static_cast<T>(i)));
    return one_of_words(words);
  }
};

template <class T>
struct AsJson<std::optional<T>> {
  static Json value(const std::optional<T>& held, const SumStyle& sums) {
    return held ? AsJson<T>::value(*held, sums) : Json();
  }
  static Json schema(Definitions& definitions) { return or_null(AsJson<T>::schema(definitions)); }
};

template <class T>
struct AsJson<std::vector<T>> {
  static Json value(const std::vector<T>& held, const SumStyle& sums) {
    Json out = Json::array();
    for (const T& item : held) out.push_back(AsJson<T>::value(item, sums));
    return out;
  }
  static Json schema(Definitions& definitions) {
    return {{"type", "array"}, {"items", AsJson<T>::schema(definitions)}};
  }
};

template <class T>
struct AsJson<std::map<std::string, T>> {
  static Json value(const std::map<std::string, T>& held, const SumStyle& sums) {
    Json out = Json::object();
    for (const auto& [name, entry] : held) out.add(name, AsJson<T>::value(entry, sums));
    return out;
  }
  static Json schema(Definitions& definitions) {
    return {{"type", "object"}, {"additionalProperties", AsJson<T>::schema(definitions)}};
  }
};

/// A line of a table: {"key", &T::member, "meaning", at_least(1)}. In place of the member may stand a lambda without
/// captures that works it out of the struct (and of a SumStyle); a member alone gives its own members, if it is there.
template <class T>
struct MemberOf : MemberTable::Member {
  template <class M, class Base>
  requires std::derived_from<T, Base> MemberOf(const char* key_, M Base::*at_, const char* meaning_ = "",
                                               const Allowed& allowed_ = {})
      : Member{key_, meaning_, allowed_, held<M>, AsJson<M>::schema, any<M>(at_)} {}

  template <std::invocable<const T&> F>
  MemberOf(const char* key_, F /*of*/, const char* meaning_ = "", const Allowed& allowed_ = {})
      : Member{key_, meaning_, allowed_,
               [](const void* object, MemberTable::AnyMember /*at*/, const SumStyle& sums) {
                 return json(F{}(*static_cast<const T*>(object)), sums);
               },
               AsJson<std::remove_cvref_t<std::invoke_result_t<F, const T&>>>::schema} {}

  template <std::invocable<const T&, const SumStyle&> F>
  MemberOf(const char* key_, F /*of*/, const char* meaning_ = "", const Allowed& allowed_ = {})
      : Member{key_, meaning_, allowed_,
               [](const void* object, MemberTable::AnyMember /*at*/, const SumStyle& sums) {
                 return json(F{}(*static_cast<const T*>(object), sums), sums);
               },
               AsJson<std::remove_cvref_t<std::invoke_result_t<F, const T&, const SumStyle&>>>::schema} {}

  template <class M>
  MemberOf(M T::*at_) : Member{"", "", {}, held<M>, nullptr, any<M>(at_), shape<M>} {}
  template <class M>
  MemberOf(std::optional<M> T::*at_)
      : Member{"",      "", left_out_if_none, held<std::optional<M>>, nullptr, any<std::optional<M>>(at_),
               shape<M>} {}

 private:
  template <class M>
  static MemberTable::AnyMember any(M T::*at) {
    return reinterpret_cast<MemberTable::AnyMember>(at);
  }
  template <class M>
  static Json held(const void* object, MemberTable::AnyMember at, const SumStyle& sums) {
    return json(static_cast<const T*>(object)->*reinterpret_cast<M T::*>(at), sums);
  }
  template <class M>
  static Json json(const M& value, const SumStyle& sums) {
    return AsJson<M>::value(value, sums);
  }
};

/// The table of one type. Its constructor is specialised for every struct of an answer, and stands before those of the
/// structs that it is part of:
///
///     template <>
///     Shape<Line>::Shape() : MemberTable("line", "what one supplier sends") {
///       has({
///           {"quantity", &R::quantity, "pieces", at_least(1)},
///       });
///     }
template <class T>
class Shape : public MemberTable {
 public:
  using R = T;
  Shape();

 private:
  void has(std::initializer_list<MemberOf<T>> members) {
    for (const Member& member : members) add(member);
  }
};

/// What stands at the top of an answer.
struct AnswerHead {
  const char* schema;  ///< "mendworth.bulk"; without a version the title of a schema that has no head
  int version = 0;     ///< keys are only ever added within one
  const char* meaning;
  bool names_program = true;
  const MemberTable& (*beside)() = nullptr;  ///< of answers that stand beside it, where there are any
  bool closed = false;                       ///< its schema allows no other keys

  [[nodiscard]] Json json(const MemberTable& members, const void* answer, const SumStyle& sums) const;
  [[nodiscard]] std::string json_schema(const MemberTable& members) const;
};

/// A whole answer: its head, and what its type has.
template <class T>
struct AnswerOf {
  AnswerHead head;

  [[nodiscard]] Json json(const T& answer, const SumStyle& sums = {}) const {
    return head.json(shape<T>(), &answer, sums);
  }
  /// As JSON Schema, draft-07.
  [[nodiscard]] const std::string& json_schema() const {
    static const std::string text = head.json_schema(shape<T>());  // a type has one head
    return text;
  }
};

}  // namespace mendworth
