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
  static Out of(const Json::Object& object) {
    Out out_object = Out::object();
    for (std::size_t i = 0; i < object.names.size(); ++i) out_object[object.names[i]] = out(object.values[i]);
    return out_object;
  }
};

Json::Json(std::initializer_list<Member> members) : value_(Object()) {
  for (const Member& member : members) add(member.name, std::move(member.value));
}

Json Json::array() {
  Json json;
  json.value_ = std::vector<Json>();
  return json;
}

Json Json::object() {
  Json json;
  json.value_ = Object();
  return json;
}

void Json::push_back(Json item) { std::get<std::vector<Json>>(value_).push_back(std::move(item)); }

void Json::add(std::string name, Json value) {
  auto& object = std::get<Object>(value_);
  object.names.push_back(std::move(name));
  object.values.push_back(std::move(value));
}

std::string Json::text() const {
  return JsonWriter::out(*this).dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
}

}  // namespace mendworth
