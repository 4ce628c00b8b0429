#include "answers/labels.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <string_view>
#include <vector>

#include "domain/inputs.hpp"

namespace mendworth {
namespace {

struct ParsedKey {
  std::string plain;  ///< without numbers
  std::vector<std::size_t> numbers;
};

ParsedKey parse(const std::string& key) {
  ParsedKey parsed;
  std::size_t start = 0;
  while (start <= key.size()) {
    const std::size_t end = std::min(key.find('.', start), key.size());
    const std::string_view segment = std::string_view(key).substr(start, end - start);
    std::size_t number = 0;
    const auto [stop, error] = std::from_chars(segment.data(), segment.data() + segment.size(), number);
    if (error == std::errc{} && stop == segment.data() + segment.size()) {
      parsed.numbers.push_back(number);
    } else {
      if (!parsed.plain.empty()) parsed.plain += '.';
      parsed.plain += segment;
    }
    start = end + 1;
  }
  return parsed;
}

std::string name_in(const Case& c, const ParsedKey& key) {
  if (key.numbers.empty() || key.numbers[0] == 0) return "";
  const std::size_t i = key.numbers[0] - 1;
  const auto is = [&](std::string_view head) {
    return std::string_view(key.plain).substr(0, head.size()) == head;
  };
  if (is("position.") && i < c.positions.size()) return c.positions[i].name;
  if (is("supplier.") && i < c.suppliers.size()) return c.suppliers[i].name;
  if (is("consumable.") && i < c.consumables.size()) return c.consumables[i].name;
  if (is("replacement.") && i < c.replacements.size()) return c.replacements[i].name;
  if (is("part.") && i < c.parts.size()) {
    const auto& part = c.parts[i];
    if (is("part.candidate.") && key.numbers.size() > 1 && key.numbers[1] >= 1 &&
        key.numbers[1] <= part.candidates.size()) {
      return part.candidates[key.numbers[1] - 1].name;
    }
    return part.name;
  }
  return "";
}

/// Of "supplier.N...", "replacement.N..." or "part.N.candidate.N.offer.N..."; empty for any other key.
std::string currency_in(const Case& c, const ParsedKey& key) {
  const auto number = [&](std::size_t i, std::size_t count) {
    return i < key.numbers.size() && key.numbers[i] <= count ? key.numbers[i] : 0;
  };
  if (key.plain.starts_with("replacement.")) {
    const std::size_t r = number(0, c.replacements.size());
    return r > 0 && !c.replacements[r - 1].currency.empty() ? c.replacements[r - 1].currency
                                                            : c.device.currency;
  }
  std::size_t supplier = 0;
  if (key.plain.starts_with("supplier.")) {
    supplier = number(0, c.suppliers.size());
  } else if (const std::size_t p = number(0, c.parts.size());
             p > 0 && key.plain.starts_with("part.candidate.offer.")) {
    const auto& candidates = c.parts[p - 1].candidates;
    if (const std::size_t k = number(1, candidates.size()); k > 0) {
      const auto& offers = candidates[k - 1].offers;
      const std::size_t o = number(2, offers.size());
      if (o > 0) supplier = static_cast<std::size_t>(offers[o - 1].supplier) + 1;
    }
  }
  return supplier > 0 && supplier <= c.suppliers.size() ? c.suppliers[supplier - 1].currency : "";
}

void replace_once(std::string& text, std::string_view what, const std::string& by) {
  if (const auto at = text.find(what); at != std::string::npos) text.replace(at, what.size(), by);
}

}  // namespace

std::string label_of(const Case& c, const std::string& key) {
  const Input* input = find_input(case_inputs(), key);
  if (input == nullptr || input->words.empty()) return key;
  std::string text(input->words);
  const auto parsed = parse(key);
  replace_once(text, "{}", name_in(c, parsed));
  // "minutes per opening" says it already.
  if (input->unit.empty() || input->words.find(input->unit) != std::string_view::npos) return text;
  std::string unit(input->unit);
  replace_once(unit, "$", c.device.currency);
  replace_once(unit, "@", currency_in(c, parsed));
  return fmt::format("{} ({})", text, unit);
}

std::string option_name(const Case& c, const Option& option) {
  switch (option.kind) {
    case OptionKind::leave: return "leave it as it is";
    case OptionKind::claim: return "claim on the guarantee";
    case OptionKind::replacement:
      return fmt::format("replace: {}", c.replacements[static_cast<std::size_t>(option.replacement)].name);
    case OptionKind::licensed_repair: return "licensed repair";
    case OptionKind::repair: break;
  }
  switch (option.plan.family) {
    case Family::failed_only: return "failed only";
    case Family::failed_and_worth: return "failed and what is worth it";
    case Family::failed_and_mates: return "failed and mates";
    case Family::every_original: break;
  }
  return "every original";
}

}  // namespace mendworth
