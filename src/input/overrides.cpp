#include "input/overrides.hpp"

#include <algorithm>
#include <charconv>
#include <optional>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "domain/common_factor.hpp"
#include "domain/inputs.hpp"
#include "input/suggest.hpp"
#include "input/utf8.hpp"
#include "mendworth/diagnostic.hpp"

namespace mendworth::input {

namespace {

constexpr Place this_command{0, 0, true};
constexpr std::size_t longest_key = 1000;  ///< bytes; texts of a case have at most half as many

std::string_view without_blanks(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

void put_at(Node& node, Place place) {
  node.place = place;
  for (Node& item : node.items) put_at(item, place);
  for (Entry& entry : node.entries) {
    entry.key_place = place;
    put_at(entry.value, place);
  }
}

std::optional<Node> parsed_value(std::string_view text) {
  if (text.empty()) return std::nullopt;
  if (text.find_first_of("\r\n") == std::string_view::npos) {
    try {
      Node document = parse_document("value = " + std::string(text), "");
      return std::move(document.entries.front().value);
    } catch (const InputError&) {
      // Not TOML: a bare word, unless it set out to be something else.
    }
  }
  if (std::string_view("\"'[{+-.0123456789").find(text.front()) != std::string_view::npos)
    return std::nullopt;
  Node node;
  node.kind = Node::Kind::text;
  node.text = std::string(text);
  return node;
}

/// Splits off what precedes the first dot.
std::pair<std::string_view, std::string_view> split_key(std::string_view key) {
  const std::size_t dot = key.find('.');
  if (dot == std::string_view::npos) return {key, {}};
  return {key.substr(0, dot), key.substr(dot + 1)};
}

std::optional<std::size_t> whole_number(std::string_view text) {
  std::size_t value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return value;
}

/// Whether one entry is, or lies within, the other.
bool overlap(const std::string& a, const std::string& b) {
  const std::string& longer = a.size() > b.size() ? a : b;
  const std::string& shorter = a.size() > b.size() ? b : a;
  return longer.starts_with(shorter) && (longer.size() == shorter.size() || longer[shorter.size()] == '.');
}

/// One new entry on its way through the document.
class Override {
 public:
  Override(NewEntry entry, std::vector<EntrySet>& so_far, Problems& problems)
      : entry_(std::move(entry)), so_far_(so_far), problems_(problems) {}

  void apply(Node& document) { into_table(document, entry_.key); }

 private:
  /// Steps down to a key of a table or to an item of a list, counted from 1.
  void step(std::string_view name) { path_ += (path_.empty() ? "" : ".") + std::string(name); }

  void fail(std::string message, std::string remedy = "") {
    problems_.add(entry_.place, printable(entry_.key), std::move(message), std::move(remedy));
  }

  void into_table(Node& table, std::string_view rest) {
    const auto [first, after] = split_key(rest);
    if (first.empty()) return fail("the key has an empty part");
    const std::string key(first);
    if (key == "candidate") make_candidate(table);
    if (is_candidate_key(key)) {
      step("candidate.1");
      Node* only = only_item(table.find("candidate"));
      if (only != nullptr && table.find(key) == nullptr) return into_table(*only, rest);
    }
    if (set_single_price(table, key, after)) return;
    if (after.empty()) {
      // Of two ways to say the same the last word counts.
      if (!claim(one_spelling(table, key))) return;
      std::optional<Node> value = entry_.value(table.find(key), path_);
      if (!value) return;
      if (key == "price") table.erase("prices");
      if (key == "prices") table.erase("price");
      if (key == "misfit_found") table.erase("misfit_found_after_closing");
      if (key == "misfit_found_after_closing") table.erase("misfit_found");
      table.at_or_new(key, entry_.place) = std::move(*value);
      return;
    }
    Node* next = table.find(key);
    if (next == nullptr && is_list_of_tables(key)) {
      return fail(fmt::format("there is no {} to change", key), "an override changes what the case has");
    }
    if (next == nullptr) next = &table.at_or_new(key, entry_.place);
    step(key);
    if (next->is_table()) return into_table(*next, after);
    if (next->is_array()) return into_array(*next, key, after);
    fail(fmt::format("'{}' is {}, it holds no '{}'", key, next->described(), printable(after)));
  }

  /// In the table at hand.
  [[nodiscard]] bool is_list_of_tables(const std::string& key) const {
    const Input* input = find_input(case_inputs(), path_.empty() ? key : path_ + '.' + key);
    return input != nullptr && input->kind == InputKind::tables;
  }

  /// What a part says of the candidate that it does not spell out, or of the only one that it does.
  [[nodiscard]] bool is_candidate_key(const std::string& key) const {
    const bool in_part = path_.starts_with("part.") && path_.find("candidate.") == std::string::npos;
    return in_part && (key == "offer" || key == "fit" || key == "nominal");
  }

  static constexpr const char* only_price = "prices.1.each";
  static constexpr const char* only_shipping = "shipping.1.price";

  /// Where `key` stands for comparing overrides, which may spell one entry in different ways.
  [[nodiscard]] std::string one_spelling(const Node& table, const std::string& key) const {
    const auto is_list = [&](const char* name) {
      const Node* node = table.find(name);
      return node != nullptr && node->is_array();
    };
    const bool in_offer = path_.find("offer.") != std::string::npos;
    if (key == "price" && in_offer) return is_list("prices") ? "prices" : only_price;
    if (key == "shipping") return is_list("shipping") || entry_.is_list ? "shipping" : only_shipping;
    if (key == "misfit_found_after_closing") return "misfit_found";
    return key;
  }

  /// A single price may be spelt as a number or as a list of one: sets it in whichever way the case does.
  bool set_single_price(Node& table, const std::string& key, std::string_view after) {
    if (key == "price" && after.empty()) {
      if (Node* only = only_item(table.find("prices"))) return set(*only, "each", only_price);
    }
    const bool first_price = after == "1.each" && key == "prices" && table.find("price") != nullptr;
    if (first_price) return set(table, "price", only_price);
    Node* shipping = key == "shipping" ? table.find("shipping") : nullptr;
    if (shipping == nullptr) return false;
    if (after == "1.price" && !shipping->is_array()) return set(table, "shipping", only_shipping);
    if (after.empty() && !entry_.is_list) {
      if (Node* only = only_item(shipping)) return set(*only, "price", only_shipping);
    }
    return false;
  }

  /// The only table of a list; null if there is none or more.
  static Node* only_item(Node* list) {
    const bool one =
        list != nullptr && list->is_array() && list->items.size() == 1 && list->items[0].is_table();
    return one ? &list->items.front() : nullptr;
  }

  void into_array(Node& array, const std::string& key, std::string_view rest) {
    if (array.items.empty()) return fail(fmt::format("there is no {} to change", key));
    const auto [first, after] = split_key(rest);
    if (const auto number = whole_number(first)) {
      if (*number < 1 || *number > array.items.size()) {
        return fail(fmt::format("there is no {} {}: the case has {}", key, *number, array.items.size()));
      }
      step(first);
      return into_item(array.items[*number - 1], key, after);
    }
    // A name may hold dots: the longest one that the key begins with is meant.
    Node* named = nullptr;
    std::size_t length = 0;
    std::vector<std::string> names;
    for (Node& item : array.items) {
      const Node* name = item.find("name");
      if (name == nullptr || !name->is_text()) continue;
      names.push_back(name->text);
      const bool matches = rest.size() > name->text.size() &&
                           rest.substr(0, name->text.size()) == name->text && rest[name->text.size()] == '.';
      if (matches && name->text.size() >= length) {
        named = &item;
        length = name->text.size();
      }
    }
    if (named == nullptr && array.items.size() == 1) {
      step("1");
      return into_item(array.items.front(), key, rest);
    }
    if (named != nullptr) {
      step(std::to_string(named - array.items.data() + 1));
      return into_item(*named, key, rest.substr(length + 1));
    }
    fail(fmt::format("which {}? The case has {}", key, array.items.size()),
         nearest(first, names) ? suggestion(first, names)
                               : fmt::format("name it by number or name: {}.1.{}", key, printable(rest)));
  }

  void into_item(Node& item, const std::string& key, std::string_view rest) {
    if (rest.empty()) return fail(fmt::format("one entry of the {} must be named", key));
    if (!item.is_table()) return fail(fmt::format("this {} is {}, not a table", key, item.described()));
    into_table(item, rest);
  }

  /// The offers of a part's own are those of one candidate that the case does not spell out: spells it out.
  static void make_candidate(Node& part) {
    const Node* offers = part.find("offer");
    if (part.find("candidate") != nullptr || offers == nullptr) return;
    Node candidate;
    candidate.place = part.place;
    for (const char* key : {"name", "fit", "nominal", "offer"}) {
      if (const Node* value = part.find(key)) candidate.at_or_new(key, value->place) = *value;
    }
    part.erase("fit");
    part.erase("nominal");
    part.erase("offer");
    Node list;
    list.kind = Node::Kind::array;
    list.place = part.place;
    list.items.push_back(std::move(candidate));
    part.at_or_new("candidate", part.place) = std::move(list);
  }

  /// Whether no override before this one set the entry, or reports that; `path` is where it stands below the steps
  /// taken.
  bool claim(const std::string& path) {
    step(path);
    const auto before =
        std::ranges::find_if(so_far_, [this](const EntrySet& entry) { return overlap(entry.path, path_); });
    if (before != so_far_.end()) {
      fail(fmt::format("set twice, by '{}' and by '{}'", printable(before->words), printable(entry_.words)),
           "keep one of the two");
      return false;
    }
    so_far_.push_back({path_, entry_.words});
    return true;
  }

  bool set(Node& table, const std::string& key, const std::string& path) {
    if (!claim(path)) return true;
    if (auto value = entry_.value(table.find(key), path_))
      table.at_or_new(key, entry_.place) = std::move(*value);
    return true;
  }

  NewEntry entry_;
  std::string path_;
  std::vector<EntrySet>& so_far_;
  Problems& problems_;
};

}  // namespace

std::optional<Node> value_of(std::string_view text, Place place) {
  std::optional<Node> value = parsed_value(without_blanks(text));
  if (value) put_at(*value, place);
  return value;
}

void set_entry(Node& document, NewEntry entry, std::vector<EntrySet>& so_far, Problems& problems) {
  if (entry.key.size() > longest_key) {
    problems.add(entry.place, "",
                 fmt::format("the key '{}' has more than {} bytes", printable(entry.key), longest_key));
    return;
  }
  if (const CommonFactor* factor = find_common_factor(entry.key)) {
    problems.add(entry.place, entry.key, "a factor common to several entries, which cannot be set as one",
                 fmt::format("set the entries themselves: {}", factor->entries));
    return;
  }
  Override(std::move(entry), so_far, problems).apply(document);
}

void apply_overrides(Node& document, const std::vector<std::string>& overrides, Problems& problems) {
  std::vector<EntrySet> so_far;
  for (const std::string& text : overrides) {
    const std::size_t equals = text.find('=');
    const std::string key(without_blanks(std::string_view(text).substr(0, std::min(equals, text.size()))));
    if (equals == std::string::npos || key.empty()) {
      problems.add(this_command, "", fmt::format("found '{}', key=value is wanted", printable(text)),
                   "for instance labour.rate_per_hour=20");
      continue;
    }
    const std::string_view value_text = without_blanks(std::string_view(text).substr(equals + 1));
    std::optional<Node> value = value_of(value_text, this_command);
    if (!value && key.size() <= longest_key && find_common_factor(key) == nullptr) {
      problems.add(this_command, printable(key), fmt::format("'{}' is no TOML value", printable(value_text)),
                   "a number, a range { low = 1, high = 5 }, a date, true, false or a text");
      continue;
    }
    set_entry(document,
              {.key = key,
               .words = std::string(without_blanks(text)),
               .place = this_command,
               .is_list = value && value->is_array(),
               .value = [&](const Node*, const std::string&) { return value; }},
              so_far, problems);
  }
}

}  // namespace mendworth::input
