#include "input/read_what_ifs.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>
#include <optional>
#include <string_view>
#include <type_traits>
#include <utility>

#include <fmt/format.h>

#include "domain/inputs.hpp"
#include "input/case_reader.hpp"
#include "input/overrides.hpp"
#include "input/utf8.hpp"

namespace mendworth::input {

namespace {

constexpr const char* what_if_key = "what_if";
constexpr const char* relative_remedy = "a value as the case writes it, \"+10 %\", \"-25 %\" or \"x 0.5\"";

bool is_range(const Node& node) {
  return node.is_table() &&
         (node.find("low") != nullptr || node.find("likely") != nullptr || node.find("high") != nullptr);
}

std::string_view trimmed_blanks(std::string_view text) {
  const std::size_t first = text.find_first_not_of(' ');
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

std::optional<double> whole_text_as_number(std::string_view text) {
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

/// A change in proportion, as parts of a hundred: numbers of a case are decimal, and 85 + 10 % is 93.5.
struct Proportion {
  double times = 100;
  [[nodiscard]] double of(double value) const {
    constexpr int digits = 15;  // what a double holds of any decimal number
    const std::string text = fmt::format("{:.{}g}", value * times / 100, digits);
    return whole_text_as_number(text).value_or(value);
  }
};

/// "+10 %", "-25%", "x 0.5".
std::optional<Proportion> proportion_of(std::string_view text) {
  text = trimmed_blanks(text);
  if (text.empty()) return std::nullopt;
  const char sign = text.front();
  std::string_view rest = trimmed_blanks(text.substr(1));
  if (sign == 'x') {
    const auto factor = whole_text_as_number(rest);
    return factor ? std::optional(Proportion{100 * *factor}) : std::nullopt;
  }
  if ((sign != '+' && sign != '-') || !rest.ends_with('%')) return std::nullopt;
  rest.remove_suffix(1);
  const auto percent = whole_text_as_number(trimmed_blanks(rest));
  if (!percent || *percent < 0) return std::nullopt;
  return Proportion{sign == '+' ? 100 + *percent : 100 - *percent};
}

Node number_node(double value, bool whole) {
  Node node;
  node.kind = whole && value == std::floor(value) ? Node::Kind::integer : Node::Kind::number;
  node.number = value;
  if (node.kind == Node::Kind::integer) node.integer = static_cast<std::int64_t>(value);
  return node;
}

Node text_node(const std::string& text) {
  Node node;
  node.kind = Node::Kind::text;
  node.text = text;
  return node;
}

Node quantity_node(const Quantity& quantity) {
  if (quantity.is_fixed()) return number_node(quantity.base(), false);
  Node range;
  range.at_or_new("low", {}) = number_node(quantity.low(), false);
  if (quantity.spread() != Spread::uniform)
    range.at_or_new("likely", {}) = number_node(quantity.likely(), false);
  range.at_or_new("high", {}) = number_node(quantity.high(), false);
  if (quantity.spread() == Spread::triangular) range.at_or_new("spread", {}) = text_node("triangular");
  return range;
}

/// What a slot holds, as a file would say it.
std::optional<Node> node_of(const Slot& slot) {
  return std::visit(
      [](const auto& held) -> std::optional<Node> {
        using Held = std::decay_t<decltype(held)>;
        if constexpr (std::is_same_v<Held, Quantity*>) {
          return quantity_node(*held);
        } else if constexpr (std::is_same_v<Held, std::optional<Quantity>*>) {
          return *held ? std::optional(quantity_node(**held)) : std::nullopt;
        } else if constexpr (std::is_same_v<Held, double*>) {
          return number_node(*held, false);
        } else if constexpr (std::is_same_v<Held, std::optional<double>*>) {
          return *held ? std::optional(number_node(**held, false)) : std::nullopt;
        } else if constexpr (std::is_same_v<Held, int*>) {
          return number_node(*held, true);
        } else if constexpr (std::is_same_v<Held, std::optional<int>*>) {
          return *held ? std::optional(number_node(**held, true)) : std::nullopt;
        } else if constexpr (std::is_same_v<Held, std::string*>) {
          return text_node(*held);
        } else if constexpr (std::is_same_v<Held, bool*>) {
          Node node;
          node.kind = Node::Kind::boolean;
          node.boolean = *held;
          return node;
        } else {
          return std::nullopt;
        }
      },
      slot);
}

/// What the case has for an entry that its file does not state.
std::optional<Node> value_in(const Case& c, const std::string& path) {
  std::optional<Node> found;
  // The walk itself changes nothing.
  walk_inputs(case_inputs(), const_cast<Case*>(&c),
              [&](const std::string& key, const Input& input, void* owner) {
                if (key == path && input.slot != nullptr) found = node_of(input.slot(owner));
              });
  return found;
}

/// As a file writes it; empty for what takes a line of its own there.
std::string words_of(const Node& node) {
  switch (node.kind) {
    case Node::Kind::boolean: return node.boolean ? "true" : "false";
    case Node::Kind::integer: return fmt::format("{}", node.integer);
    case Node::Kind::number: return fmt::format("{}", node.number);
    case Node::Kind::text: return node.text;
    case Node::Kind::date:
      return fmt::format("{:04}-{:02}-{:02}", node.date.year, node.date.month, node.date.day);
    case Node::Kind::table: {
      if (!is_range(node)) return "";
      std::vector<std::string> parts;
      for (const Entry& entry : node.entries) parts.push_back(entry.key + " = " + words_of(entry.value));
      return fmt::format("{{ {} }}", fmt::join(parts, ", "));
    }
    case Node::Kind::array:
    case Node::Kind::moment: break;
  }
  return "";
}

bool holds_numbers(const Input* input) {
  return input != nullptr && (input->kind == InputKind::quantity || input->kind == InputKind::number ||
                              input->kind == InputKind::count);
}

/// A number, or a range, in proportion; it stands where `wanted` stands.
std::optional<Node> in_proportion(const Node& now, const Proportion& proportion, const Node& wanted) {
  Node out;
  if (now.is_number()) {
    out = number_node(proportion.of(now.number), now.kind == Node::Kind::integer);
  } else if (is_range(now)) {
    out = now;
    for (Entry& entry : out.entries) {
      if (entry.value.is_number())
        entry.value = number_node(proportion.of(entry.value.number), entry.value.kind == Node::Kind::integer);
      entry.key_place = entry.value.place = wanted.place;
    }
  } else {
    return std::nullopt;
  }
  out.place = wanted.place;
  return out;
}

/// One what-if on its way to a case.
class WhatIfReader {
 public:
  WhatIfReader(const Node& document, const Case& base, const RateBook& rates)
      : document_(document), base_(base), rates_(rates) {}

  /// Throws InputError.
  Scenario read(const Node& table) {
    Problems problems(base_.source_name);
    const Node* name = table.find("name");
    if (name == nullptr) {
      problems.add(table.place, "name", "missing: the name of the what-if",
                   "for instance name = \"dearer labour\"");
    } else if (!name->is_text() || trimmed_blanks(name->text).empty()) {
      problems.add(name->place, "name", fmt::format("found {}, a text is wanted", name->described()));
    } else {
      scenario_.name = name->text;
    }
    for (const Entry& entry : table.entries) {
      if (entry.key != "name") change(entry.key, entry.value, entry.key_place, problems);
    }
    if (!changes_) {
      problems.add(table.place, "", "it changes nothing",
                   "write keys of the case with other values: labour.rate_per_hour = \"+10 %\"");
    }
    problems.throw_if_any();
    scenario_.changed = CaseReader(document_, base_.source_name, rates_, problems).read();
    problems.throw_if_any();
    scenario_.changed.row_words = base_.row_words;
    return std::move(scenario_);
  }

 private:
  /// A key with dots is a table within a table; a value that is a table is a range.
  void change(const std::string& key, const Node& value, Place place, Problems& problems) {
    if (value.is_table() && !is_range(value)) {
      for (const Entry& entry : value.entries)
        change(key + '.' + entry.key, entry.value, entry.key_place, problems);
      return;
    }
    changes_ = true;
    Change made{.key = key, .from = {}, .to = {}};
    set_entry(
        document_,
        {.key = key,
         .words = key,
         .place = place,
         .is_list = value.is_array(),
         .value = [&](const Node* now,
                      const std::string& path) { return changed_value(now, path, value, made, problems); }},
        so_far_, problems);
    scenario_.changes.push_back(std::move(made));
  }

  std::optional<Node> changed_value(const Node* now, const std::string& path, const Node& wanted,
                                    Change& made, Problems& problems) const {
    const std::optional<Node> before = now != nullptr ? *now : value_in(base_, path);
    if (before) made.from = words_of(*before);
    std::optional<Node> after = wanted;
    const Input* input = find_input(case_inputs(), path);
    if (wanted.is_text() && holds_numbers(input) && wanted.text != input->word) {
      const auto proportion = proportion_of(wanted.text);
      after = proportion && before ? in_proportion(*before, *proportion, wanted) : std::nullopt;
      if (!proportion) {
        problems.add(wanted.place, made.key,
                     fmt::format("found {}, which is no change of a number", wanted.described()),
                     relative_remedy);
      } else if (!after) {
        problems.add(wanted.place, made.key,
                     "the case states no number there that could be changed in proportion",
                     "write the value itself");
      }
    }
    if (after) made.to = words_of(*after);
    return after;
  }

  Node document_;
  const Case& base_;
  const RateBook& rates_;
  std::vector<EntrySet> so_far_;
  Scenario scenario_;
  bool changes_ = false;
};

}  // namespace

Node take_what_ifs(Node& document) {
  Node* found = document.find(what_if_key);
  Node taken;
  taken.kind = Node::Kind::array;
  if (found != nullptr) taken = std::move(*found);
  document.erase(what_if_key);
  return taken;
}

std::vector<Scenario> read_what_ifs(const Node& document, const Node& what_ifs, const Case& base,
                                    const RateBook& rates) {
  Problems problems(base.source_name);
  const bool tables = what_ifs.is_array() &&
                      std::ranges::all_of(what_ifs.items, [](const Node& item) { return item.is_table(); });
  if (!tables) {
    problems.add(what_ifs.place, what_if_key,
                 fmt::format("found {}, a list of tables is wanted", what_ifs.described()),
                 "write [[what_if]] with double brackets");
  } else if (what_ifs.items.size() > most_what_ifs) {
    problems.add(
        what_ifs.place, what_if_key,
        fmt::format("found {} of them, at most {} are allowed", what_ifs.items.size(), most_what_ifs));
  }
  problems.throw_if_any();
  std::vector<Scenario> scenarios;
  std::vector<Diagnostic> wrong;
  std::map<std::string, std::size_t> names;
  for (std::size_t i = 0; i < what_ifs.items.size(); ++i) {
    const Node& table = what_ifs.items[i];
    const std::string head = fmt::format("{}.{}", what_if_key, i + 1);
    try {
      scenarios.push_back(WhatIfReader(document, base, rates).read(table));
      const auto [known, added] = names.emplace(scenarios.back().name, i + 1);
      if (!added) {
        problems.add(table.find("name")->place, head + ".name",
                     fmt::format("the what-if {} has the name '{}' too", known->second,
                                 printable(scenarios.back().name)));
      }
    } catch (const InputError& error) {
      for (Diagnostic problem : error.problems()) {
        problem.key = head + (problem.key.empty() ? "" : "." + problem.key);
        wrong.push_back(std::move(problem));
      }
    }
  }
  try {
    problems.throw_if_any();
  } catch (const InputError& error) {
    wrong.insert(wrong.end(), error.problems().begin(), error.problems().end());
  }
  if (!wrong.empty()) throw InputError(std::move(wrong));
  return scenarios;
}

}  // namespace mendworth::input
