#include "render/json_value.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <type_traits>

namespace mendworth {

struct JsonPort {
  using Out = nlohmann::ordered_json;

  static Out out(const Json& json) {
    return std::visit([](const auto& held) { return JsonPort::of(held); }, json.value_);
  }

  static Json in(const Out& value) {
    switch (value.type()) {
      case Out::value_t::boolean: return value.get<bool>();
      case Out::value_t::number_integer: return value.get<std::int64_t>();
      case Out::value_t::number_unsigned: return value.get<std::uint64_t>();
      case Out::value_t::number_float: return value.get<double>();
      case Out::value_t::string: return value.get<std::string>();
      case Out::value_t::array: {
        Json array = Json::array();
        for (const Out& item : value) array.push_back(in(item));
        return array;
      }
      case Out::value_t::object: {
        Json object = Json::object();
        for (const auto& item : value.items()) object.add(item.key(), in(item.value()));
        return object;
      }
      default: return nullptr;
    }
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

std::optional<Json> Json::read(const std::string& text) {
  const auto value = nlohmann::ordered_json::parse(text, nullptr, false);
  if (value.is_discarded()) return std::nullopt;
  return JsonPort::in(value);
}

const Json* Json::find(const std::string& name) const {
  const auto* object = std::get_if<Object>(&value_);
  if (object == nullptr) return nullptr;
  const auto at = std::ranges::find(object->names, name);
  return at == object->names.end() ? nullptr
                                   : &object->values[static_cast<std::size_t>(at - object->names.begin())];
}

std::string Json::line() const {
  return JsonPort::out(*this).dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace);
}

std::string Json::text() const {
  return JsonPort::out(*this).dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
}

}  // namespace mendworth
