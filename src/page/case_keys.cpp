#include "page/case_keys.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "domain/inputs.hpp"
#include "page/field_text.hpp"

namespace mendworth::page {

namespace {

using input::TextNode;
using input::TomlText;

/// What a part says in place of the candidate that it does not spell out.
std::string without_unspelt_candidate(const TomlText& text, std::string key) {
  constexpr std::string_view only = ".candidate.1.";
  const std::size_t at = key.find(only);
  if (at == std::string::npos || text.find(key.substr(0, at) + ".candidate") != nullptr) return key;
  const std::string rest = key.substr(at + only.size());
  const bool of_part = rest.starts_with("offer.") || rest == "fit" || rest == "dead_on_arrival";
  return of_part ? key.substr(0, at + 1) + rest : key;
}

/// A single price in whichever way the text spells it.
std::string single_price(const TomlText& text, std::string key) {
  const auto is_list_of_one = [&](const std::string& list_key) {
    const TextNode* list = text.find(list_key);
    return list != nullptr && list->is_list() && list->items.size() == 1;
  };
  const auto in_place = [&](std::string_view end, std::string_view by) {
    return key.substr(0, key.size() - end.size()) + std::string(by);
  };
  if (key.find(".offer.") != std::string::npos) {
    if (key.ends_with(".price") && is_list_of_one(key + 's')) return key + "s.1.each";
    if (key.ends_with(".prices.1.each") && text.find(in_place("s.1.each", "")) != nullptr)
      return in_place("s.1.each", "");
  }
  if (key.starts_with("supplier.")) {
    if (key.ends_with(".shipping") && is_list_of_one(key)) return key + ".1.price";
    std::string list = key.ends_with(".shipping.1.price") ? in_place(".1.price", "") : "";
    const TextNode* node = list.empty() ? nullptr : text.find(list);
    if (node != nullptr && !node->is_list()) return list;
  }
  return key;
}

/// Of the first position with a failure, from 1.
std::size_t failed_position(const TomlText& text) {
  const TextNode* positions = text.find("position");
  const std::size_t count = positions == nullptr ? 0 : positions->items.size();
  for (std::size_t i = 0; i < count; ++i) {
    const TextNode* failed = positions->items[i].find("failed");
    if (failed != nullptr && text.written(*failed) != "0") return i + 1;
  }
  return 1;
}

std::size_t part_of_position(const TomlText& text, std::size_t position) {
  const std::string name = text_at(text, fmt::format("position.{}.part", position));
  const std::vector<std::string> names = names_in(text, "part");
  const auto found = std::ranges::find(names, name);
  return found == names.end() ? 1 : static_cast<std::size_t>(found - names.begin()) + 1;
}

}  // namespace

std::optional<std::string> key_in_text(const TomlText& text, const std::string& key) {
  if (find_input(case_inputs(), key) == nullptr) return std::nullopt;
  // A share that the text has in words.
  if (key == "risk.misfit_found_after_closing" && text.find("risk.misfit_found") != nullptr)
    return std::nullopt;
  const std::string meant = single_price(text, without_unspelt_candidate(text, key));
  if (text.find(meant) != nullptr) return meant;
  const std::size_t dot = meant.rfind('.');
  if (dot == std::string::npos) return std::nullopt;
  const std::string owner = meant.substr(0, dot);
  const TextNode* table = text.find(owner);
  const bool can_hold = table != nullptr &&
                        (table->kind == TextNode::Kind::table || table->kind == TextNode::Kind::inline_table);
  const bool can_be_made = table == nullptr && owner.find_first_of("0123456789") == std::string::npos;
  if (can_hold || can_be_made) return meant;
  return std::nullopt;
}

std::vector<AskedKey> asked_keys(const TomlText& text) {
  const std::size_t position = failed_position(text);
  const std::size_t part = part_of_position(text, position);
  const std::array<std::pair<const char*, std::string>, 16> meant{{
      {"kind", "device.kind"},
      {"class", fmt::format("part.{}.class", part)},
      {"alike", fmt::format("position.{}.count", position)},
      {"failed", fmt::format("position.{}.failed", position)},
      {"part", fmt::format("part.{}.candidate.1.offer.1.price", part)},
      {"shipping", "supplier.1.shipping"},
      {"new", "replacement.1.price"},
      {"life", "replacement.1.life_years"},
      {"age", "device.age_years"},
      {"use", "device.use_per_day"},
      {"hours", "device.hours_per_day"},
      {"hour", "labour.rate_per_hour"},
      {"hazards", "device.hazards"},
      {"attached", fmt::format("position.{}.termination", position)},
      {"skill", "labour.skill"},
      {"name", "device.name"},
  }};
  std::vector<AskedKey> keys;
  for (const auto& [question, key] : meant) {
    auto place = key_in_text(text, key);
    // Of prices by quantity, that of a single piece.
    if (place && place->ends_with(".price") && text.find(*place + 's') != nullptr) *place += "s.1.each";
    const TextNode* node = place ? text.find(*place) : nullptr;
    const bool idle = node == nullptr && (key == "device.use_per_day" || key == "device.hours_per_day");
    if (place && !idle &&
        (node == nullptr || node->kind != TextNode::Kind::inline_list || key == "device.hazards"))
      keys.push_back({input::find_question(question), *place});
  }
  return keys;
}

std::string text_at(const TomlText& text, const std::string& key) {
  const TextNode* node = text.find(key);
  if (node == nullptr || node->kind != TextNode::Kind::value) return "";
  const std::string_view written = text.written(*node);
  if (!written.starts_with('"') && !written.starts_with('\'')) return "";
  return shown_text({.kind = InputKind::text}, written);
}

std::vector<std::string> names_in(const TomlText& text, const std::string& list_key) {
  std::vector<std::string> names;
  const TextNode* list = text.find(list_key);
  for (std::size_t i = 0; list != nullptr && i < list->items.size(); ++i)
    names.push_back(text_at(text, fmt::format("{}.{}.name", list_key, i + 1)));
  return names;
}

}  // namespace mendworth::page
