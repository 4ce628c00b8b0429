#include "input/table_reader.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include <fmt/format.h>

#include "input/suggest.hpp"
#include "input/utf8.hpp"

namespace mendworth::input {

namespace {

const Node& empty_table() {
  static const Node table;
  return table;
}

constexpr std::size_t longest_text = 500;  ///< bytes
constexpr int first_year = 1900;
constexpr int last_year = 2999;

/// A key as a case has it: in quotes unless it is of letters, digits, '_' and '-' only.
std::string shown_key(std::string_view key) {
  constexpr std::string_view bare = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-";
  if (!key.empty() && key.find_first_not_of(bare) == std::string_view::npos) return printable(key);
  std::string escaped;
  for (const char c : key) {
    if (c == '"' || c == '\\') escaped += '\\';
    escaped += c;
  }
  return '"' + printable(escaped) + '"';
}

/// The dotted key as the head of a section has it: without the numbers of lists.
std::string section_head(std::string_view path) {
  std::string head;
  while (!path.empty()) {
    const std::string_view step = path.substr(0, path.find('.'));
    const bool number = step.find_first_not_of("0123456789") == std::string_view::npos;
    if (!number) head += (head.empty() ? "" : ".") + std::string(step);
    path.remove_prefix(std::min(path.size(), step.size() + 1));
  }
  return head;
}

/// "age_years" of "write age_years"; empty where another table is spoken of.
std::string_view key_named(std::string_view words) {
  constexpr std::string_view begin = "write ";
  if (!words.starts_with(begin) || words.find('[') != std::string_view::npos) return {};
  words.remove_prefix(begin.size());
  return words.substr(0, words.find_first_of(" ,;"));
}

/// "part" of "... under [[part.offer]]"; empty if no section is spoken of.
std::string_view section_named(std::string_view words) {
  const std::size_t bracket = words.find_last_of('[');
  if (bracket == std::string_view::npos) return {};
  words.remove_prefix(bracket + 1);
  return words.substr(0, words.find_first_of(".]"));
}

/// What to do about a value that is no number; empty where the message says enough.
std::string number_remedy(const Node& node) {
  if (!node.is_text()) return "";
  const std::string quoted = quoted_number_remedy(node.text);
  return quoted.empty() ? "if it is not known, write a range: { low = 1, high = 5 }" : quoted;
}

/// What to do about a range where one number is wanted; empty for anything else.
std::string range_remedy(const Node& node) {
  const bool range = node.is_table() && (node.find("low") != nullptr || node.find("high") != nullptr);
  return range ? "no range is possible here: write one number" : "";
}

/// True if the number is finite and within the limits; reports it otherwise.
bool check_number(double value, Place place, const std::string& key, const Limits& limits,
                  Problems& problems) {
  if (!std::isfinite(value)) {
    problems.add(place, key, fmt::format("found {}, a finite number is wanted", value));
    return false;
  }
  if (limits.allows(value)) return true;
  problems.add(place, key, fmt::format("found {}, allowed is {}", value, limits.allowed_instead_of(value)),
               limits.hint);
  return false;
}

std::optional<double> read_number(const Node& node, const std::string& key, const Limits& limits,
                                  Problems& problems) {
  if (!node.is_number()) {
    problems.add(node.place, key, fmt::format("found {}, a number is wanted", node.described()),
                 node.is_text() ? quoted_number_remedy(node.text) : range_remedy(node));
    return std::nullopt;
  }
  if (!check_number(node.number, node.place, key, limits, problems)) return std::nullopt;
  return node.number;
}

std::optional<Quantity> read_range(const Node& node, const std::string& key, const Limits& limits,
                                   Problems& problems) {
  const std::size_t problems_before = problems.count();
  TableReader table(node, key, problems);
  for (const char* end : {"low", "high"}) {
    if (!table.has(end)) {
      table.missing(end, fmt::format("the {} end of the range", end),
                    "a range is { low, high } or { low, likely, high }");
    }
  }
  const auto low = table.number("low", limits);
  const auto high = table.number("high", limits);
  const auto likely = table.number("likely", limits);
  const auto spread = table.choice("spread", {"beta", "triangular"});
  if (table.has("spread") && !table.has("likely")) {
    table.fail("spread", "a range of two points has no spread to choose", "add likely, or leave spread out");
  }
  table.finish();
  if (problems.count() != problems_before) return std::nullopt;
  if (*low <= *high && !limits.allows_range(*low, *high)) {
    problems.add(node.place, key,
                 fmt::format("the ends {} and {} are too far apart: high is at most {} times low", *low,
                             *high, limits.widest),
                 "a range this wide says nothing: state what is likely");
    return std::nullopt;
  }
  if (!likely) {
    if (*low <= *high) return Quantity::between(*low, *high);
    problems.add(node.place, key,
                 fmt::format("the range is out of order: low {} is above high {}", *low, *high),
                 "write the lower number as low");
    return std::nullopt;
  }
  if (*low <= *likely && *likely <= *high) {
    return Quantity::three_point(*low, *likely, *high, spread == 1U ? Spread::triangular : Spread::beta);
  }
  problems.add(node.place, key,
               fmt::format("the range is out of order: low {}, likely {}, high {}", *low, *likely, *high),
               "low <= likely <= high");
  return std::nullopt;
}

}  // namespace

std::string quoted_number_remedy(const std::string& text) {
  const bool starts =
      !text.empty() && std::string_view("0123456789.-+").find(text.front()) != std::string::npos;
  if (!starts || text.find_first_of("0123456789") == std::string::npos) return "";
  if (text.find_first_not_of("0123456789.-+eE_") == std::string::npos) return "write it without quotes";
  if (text.find_first_not_of("0123456789.,-+") == std::string::npos)
    return "write it without quotes and with a point as the decimal mark";
  return "write the number alone, without quotes and unit";
}

std::optional<Quantity> read_quantity(const Node& node, const std::string& key, const Limits& limits,
                                      Problems& problems) {
  if (node.is_table()) return read_range(node, key, limits, problems);
  if (!node.is_number()) {
    problems.add(node.place, key,
                 fmt::format("found {}, a number or a range {{ low, high }} is wanted", node.described()),
                 number_remedy(node));
    return std::nullopt;
  }
  if (!check_number(node.number, node.place, key, limits, problems)) return std::nullopt;
  return Quantity::exactly(node.number);
}

TableReader::TableReader(const Node& table, std::string path, Problems& problems,
                         std::span<const Input> inputs)
    : table_(&table), path_(std::move(path)), problems_(&problems), inputs_(inputs) {
  for (const Input& input : inputs) static_cast<void>(find(input.key));
}

const Input& TableReader::input(std::string_view key) const {
  const Input* found = find_input(inputs_, key);
  if (found == nullptr) throw std::logic_error(fmt::format("'{}' is no input of '{}'", key, path_));
  return *found;
}

std::span<const Input> TableReader::within(std::string_view key) const {
  for (const Input& input : inputs_) {
    if (input.key == key && !input.within.empty()) return input.within;
  }
  return {};
}

std::string TableReader::key_of(std::string_view key) const {
  return path_.empty() ? std::string(key) : path_ + '.' + std::string(key);
}

const Node* TableReader::find(std::string_view key) {
  if (!is_known(key)) known_.emplace_back(key);
  return table_->find(key);
}

bool TableReader::lacks(std::string_view key) {
  const Node* node = find(key);
  return node == nullptr || (node->is_array() && node->items.empty());
}

bool TableReader::is_known(std::string_view key) const {
  return std::ranges::find(known_, key) != known_.end();
}

const Entry* TableReader::misspelt(std::string_view key) const {
  const std::vector<std::string> meant = {std::string(key)};
  for (const Entry& entry : table_->entries) {
    if (is_known(entry.key)) continue;
    if (nearest(entry.key, meant) || key_named(meant_instead(entry.key)) == key) return &entry;
  }
  return nullptr;
}

// Other files have tables of the same name, where other keys are known.
std::string TableReader::meant_instead(std::string_view key) const {
  std::string meant = key_meant(path_, key);
  const std::string_view named = path_.empty() ? section_named(meant) : key_named(meant);
  return named.empty() || is_known(named) ? meant : "";
}

std::optional<Quantity> TableReader::quantity(std::string_view key, const Limits& limits) {
  const Node* node = find(key);
  if (node == nullptr) return std::nullopt;
  return read_quantity(*node, key_of(key), limits, *problems_);
}

std::optional<double> TableReader::number(std::string_view key, const Limits& limits) {
  const Node* node = find(key);
  if (node == nullptr) return std::nullopt;
  return read_number(*node, key_of(key), limits, *problems_);
}

std::optional<int> TableReader::integer(std::string_view key, int low, int high) {
  const Node* node = find(key);
  if (node == nullptr) return std::nullopt;
  if (node->kind != Node::Kind::integer) {
    fail(key, fmt::format("found {}, a whole number is wanted", node->described()),
         node->is_text() ? quoted_number_remedy(node->text) : range_remedy(*node));
    return std::nullopt;
  }
  if (node->integer < low || node->integer > high) {
    fail(key, fmt::format("found {}, allowed is {} to {}", node->integer, low, high));
    return std::nullopt;
  }
  return static_cast<int>(node->integer);
}

std::optional<std::string> TableReader::text(std::string_view key) {
  const Node* node = find(key);
  if (node == nullptr) return std::nullopt;
  if (!check_text(*node, key)) return std::nullopt;
  return node->text;
}

bool TableReader::check_text(const Node& node, std::string_view key) {
  const auto report = [&](std::string message) {
    problems_->add(node.place, key_of(key), std::move(message));
    return false;
  };
  if (!node.is_text()) return report(fmt::format("found {}, a text in quotes is wanted", node.described()));
  if (node.text.find_first_not_of(' ') == std::string::npos) return report("the text is empty");
  if (node.text.size() > longest_text) {
    return report(
        fmt::format("the text has {} bytes, at most {} are allowed", node.text.size(), longest_text));
  }
  if (has_control_character(node.text)) {
    return report(fmt::format("the text '{}' holds a control character", printable(node.text)));
  }
  return true;
}

std::optional<bool> TableReader::flag(std::string_view key) {
  const Node* node = find(key);
  if (node == nullptr) return std::nullopt;
  if (node->kind == Node::Kind::boolean) return node->boolean;
  fail(key, fmt::format("found {}, true or false is wanted", node->described()));
  return std::nullopt;
}

std::optional<Date> TableReader::date(std::string_view key) {
  const Node* node = find(key);
  if (node == nullptr) return std::nullopt;
  if (node->kind == Node::Kind::date) {
    if (node->date.year >= first_year && node->date.year <= last_year) return node->date;
    fail(key,
         fmt::format("found {}, allowed are the years {} to {}", node->described(), first_year, last_year));
    return std::nullopt;
  }
  fail(key, fmt::format("found {}, a date is wanted", node->described()),
       "write it as 2030-12-31, without quotes");
  return std::nullopt;
}

std::vector<std::string> TableReader::texts(std::string_view key) {
  std::vector<std::string> out;
  for (const Node& item : items(key)) {
    if (!item.is_text()) {
      problems_->add(item.place, key_of(key),
                     fmt::format("found {}, a text in quotes is wanted", item.described()));
    } else {
      out.push_back(item.text);
    }
  }
  return out;
}

std::vector<std::string> TableReader::lines(std::string_view key) {
  std::vector<std::string> out;
  for (const Node& item : items(key)) {
    if (check_text(item, key)) out.push_back(item.text);
  }
  return out;
}

const std::vector<Node>& TableReader::items(std::string_view key) {
  static const std::vector<Node> none;
  const Node* node = find(key);
  if (node == nullptr) return none;
  if (!node->is_array()) {
    fail(key, fmt::format("found {}, a list of texts is wanted", node->described()),
         "write it as [\"one\", \"two\"]");
    return none;
  }
  if (node->items.size() <= most_list_items) return node->items;
  fail(key, fmt::format("found {} texts, at most {} are allowed", node->items.size(), most_list_items));
  return none;
}

std::optional<std::size_t> TableReader::choice(std::string_view key,
                                               const std::vector<std::string>& allowed) {
  const auto found = text(key);
  if (!found) return std::nullopt;
  const auto at = std::ranges::find(allowed, *found);
  if (at != allowed.end()) return static_cast<std::size_t>(at - allowed.begin());
  std::string list;
  for (const std::string& name : allowed) list += (list.empty() ? "" : ", ") + name;
  const auto near = nearest(*found, allowed);
  fail(key, fmt::format("found '{}', allowed are {}", printable(*found), list),
       near ? "did you mean '" + *near + "'?" : "");
  return std::nullopt;
}

std::optional<int> TableReader::integer(std::string_view key) {
  const Limits& limits = input(key).limits;
  return integer(key, static_cast<int>(limits.low), static_cast<int>(limits.high));
}

std::optional<std::size_t> TableReader::choice(std::string_view key) {
  const auto names = input(key).names;
  return choice(key, {names.begin(), names.end()});
}

void TableReader::require(std::string_view key) {
  if (!lacks(key)) return;
  const Input& wanted = input(key);
  std::string what(wanted.missing);
  if (!wanted.only_known_by.empty()) what += fmt::format("; {}", wanted.only_known_by);
  missing(key, what, std::string(wanted.remedy));
}

Quantity TableReader::required_quantity(std::string_view key) {
  require(key);
  return quantity(key).value_or(Quantity::exactly(1.0));
}

std::string TableReader::required_text(std::string_view key, const std::string& what,
                                       const std::string& remedy) {
  if (!has(key)) missing(key, what, remedy);
  return text(key).value_or("");
}

const Node* TableReader::find_nearly(std::string_view key, std::string& written) {
  if (const Node* node = find(key)) return node;
  const Entry* entry = misspelt(key);
  if (entry == nullptr) return nullptr;
  written = entry->key;
  return &entry->value;
}

TableReader TableReader::section(std::string_view key) {
  std::string written(key);
  const Node* node = find_nearly(key, written);
  if (node == nullptr) return {empty_table(), key_of(key), *problems_, within(key)};
  if (node->is_table()) return {*node, key_of(key), *problems_, within(key)};
  const bool doubled = node->is_array() && !node->items.empty() && node->items.front().is_table();
  fail(written,
       doubled ? "found a list of tables, one table is wanted"
               : fmt::format("found {}, a table is wanted", node->described()),
       fmt::format("write [{}]{}", section_head(key_of(key)),
                   doubled ? " with single brackets, once" : " on a line of its own"));
  if (doubled) return {node->items.front(), key_of(key), *problems_, within(key)};
  return {empty_table(), key_of(key), *problems_, within(key)};
}

std::vector<TableReader> TableReader::sections(std::string_view key) {
  std::vector<TableReader> out;
  std::string written(key);
  const Node* node = find_nearly(key, written);
  if (node == nullptr) return out;
  if (node->is_table()) {
    fail(written, "found a single table, a list of tables is wanted",
         fmt::format("write [[{}]] with double brackets{}", section_head(key_of(key)),
                     path_.empty() ? "" : fmt::format(", or a list: {} = [{{ ... }}]", key)));
    out.emplace_back(*node, key_of(key) + ".1", *problems_, within(key));
    return out;
  }
  if (!node->is_array()) {
    fail(written, fmt::format("found {}, a list of tables is wanted", node->described()),
         fmt::format("write [[{}]] on a line of its own", section_head(key_of(key))));
    return out;
  }
  if (node->items.size() > most_list_items) {
    fail(written,
         fmt::format("found {} of them, at most {} are allowed", node->items.size(), most_list_items));
    return out;
  }
  std::size_t number = 0;
  for (const Node& item : node->items) {
    const std::string item_key = fmt::format("{}.{}", key_of(key), ++number);
    if (item.is_table()) {
      out.emplace_back(item, item_key, *problems_, within(key));
    } else {
      problems_->add(item.place, item_key, fmt::format("found {}, a table is wanted", item.described()));
    }
  }
  return out;
}

void TableReader::fail(std::string_view key, std::string message, std::string remedy) {
  const Node* node = table_->find(key);
  problems_->add(node != nullptr ? node->place : table_->place, key_of(key), std::move(message),
                 std::move(remedy));
}

void TableReader::missing(std::string_view key, const std::string& what, std::string remedy) {
  if (const Entry* entry = misspelt(key)) {
    put_off_.push_back({std::string(key), what, std::move(remedy), entry->key});
    return;
  }
  problems_->add(table_->place, key_of(key), "missing: " + what, std::move(remedy));
}

void TableReader::finish() {
  for (const Entry& entry : table_->entries) {
    if (is_known(entry.key)) continue;
    const std::string meant = meant_instead(entry.key);
    problems_->add(entry.key_place, key_of(shown_key(entry.key)), "unknown key",
                   meant.empty() ? suggestion(entry.key, known_) : meant);
  }
  for (const Missing& item : put_off_) {
    // What looked like a slip was a key in its own right.
    if (is_known(item.misspelt)) {
      problems_->add(table_->place, key_of(item.key), "missing: " + item.what, item.remedy);
    }
  }
}

}  // namespace mendworth::input
