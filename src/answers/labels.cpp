#include "answers/labels.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <string_view>
#include <vector>

#include "base/plain_number.hpp"
#include "domain/inputs.hpp"

namespace mendworth {
namespace {

struct ParsedKey {
  std::string plain;  ///< without numbers
  std::vector<std::size_t> numbers;
  /// The entry that the i-th number names, where there are so many; a number that is left out means the first.
  template <class Entry>
  [[nodiscard]] const Entry* entry(std::size_t i, const std::vector<Entry>& entries) const {
    const std::size_t number = i < numbers.size() ? numbers[i] : 1;
    return number >= 1 && number <= entries.size() ? &entries[number - 1] : nullptr;
  }
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

template <class Entry>
std::string name_of_entry(const Entry* entry) {
  return entry == nullptr ? "" : entry->name;
}

const Candidate* candidate_in(const Case& c, const ParsedKey& key) {
  const Part* part = key.plain.starts_with("part.candidate.") ? key.entry(0, c.parts) : nullptr;
  return part == nullptr ? nullptr : key.entry(1, part->candidates);
}

const Offer* offer_in(const Case& c, const ParsedKey& key) {
  const Candidate* candidate =
      key.plain.starts_with("part.candidate.offer.") ? candidate_in(c, key) : nullptr;
  return candidate == nullptr ? nullptr : key.entry(2, candidate->offers);
}

std::string name_in(const Case& c, const ParsedKey& key) {
  const auto is = [&](std::string_view head) { return key.plain.starts_with(head); };
  if (is("position.")) return name_of_entry(key.entry(0, c.positions));
  if (is("supplier.")) return name_of_entry(key.entry(0, c.suppliers));
  if (is("consumable.")) return name_of_entry(key.entry(0, c.consumables));
  if (is("replacement.")) return name_of_entry(key.entry(0, c.replacements));
  if (is("part.candidate.")) return name_of_entry(candidate_in(c, key));
  if (is("part.")) return name_of_entry(key.entry(0, c.parts));
  return "";
}

/// Of a price that holds from so many pieces on, or for goods of so much: which one it is.
std::string step_in(const Case& c, const ParsedKey& key) {
  const Offer* offer = key.plain == "part.candidate.offer.prices.each" ? offer_in(c, key) : nullptr;
  if (offer != nullptr && offer->prices.size() > 1) {
    const PriceBreak* step = key.entry(3, offer->prices);
    if (step != nullptr) return fmt::format(", from {}", step->from);
  }
  const Supplier* supplier = key.plain == "supplier.shipping.price" ? key.entry(0, c.suppliers) : nullptr;
  if (supplier != nullptr && supplier->shipping.size() > 1) {
    const ShippingTier* step = key.entry(1, supplier->shipping);
    if (step != nullptr) return fmt::format(", goods from {} on", number_text(step->goods_from));
  }
  return "";
}

/// Of "supplier.N...", "replacement.N..." or "part.N.candidate.N.offer.N..."; empty for any other key.
std::string currency_in(const Case& c, const ParsedKey& key) {
  if (key.plain.starts_with("replacement.")) {
    const Replacement* replacement = key.entry(0, c.replacements);
    return replacement != nullptr && !replacement->currency.empty() ? replacement->currency
                                                                    : c.device.currency;
  }
  const Supplier* supplier = key.plain.starts_with("supplier.") ? key.entry(0, c.suppliers) : nullptr;
  if (const Offer* offer = offer_in(c, key);
      offer != nullptr && static_cast<std::size_t>(offer->supplier) < c.suppliers.size())
    supplier = &c.suppliers[static_cast<std::size_t>(offer->supplier)];
  return supplier == nullptr ? "" : supplier->currency;
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
  replace_once(text, "{}", name_in(c, parsed) + step_in(c, parsed));
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
