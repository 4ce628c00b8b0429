#include "render/json_value.hpp"

#include <nlohmann/json.hpp>
#include <type_traits>

namespace mendworth {

struct JsonWriter {
  using Out = nlohmann::ordered_json;

  static Out out(const Json& json) {
    return std::visit([](const auto& held) { return JsonWriter::of(held); }, json.value_);
  }

 private:
  template <class T>
  static Out of(const T& held) {
    return held;
  }
  static Out of(const std::vector<Json>& items) {
    Out array = Out::array();
    for (const Json& item : items) array.push_back(out(item));
    return array;
  }
  static Out of(const std::vector<Json::Member>& members) {
    Out object = Out::object();
    for (const Json::Member& member : members) object[member.name] = out(member.value);
    return object;
  }
};

Json::Json(std::initializer_list<Member> members) : value_(std::vector<Member>()) {
  auto& held = std::get<std::vector<Member>>(value_);
  held.reserve(members.size());
  for (const Member& member : members) held.push_back({member.name, std::move(member.value)});
}

Json Json::array() {
  Json json;
  json.value_ = std::vector<Json>();
  return json;
}

Json Json::object() {
  Json json;
  json.value_ = std::vector<Member>();
  return json;
}

void Json::push_back(Json item) { std::get<std::vector<Json>>(value_).push_back(std::move(item)); }

void Json::add(std::string name, Json value) {
  std::get<std::vector<Member>>(value_).push_back({std::move(name), std::move(value)});
}

std::string Json::text() const {
  return JsonWriter::out(*this).dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
}

}  // namespace mendworth
