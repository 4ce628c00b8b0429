#include "input/document.hpp"

#include <algorithm>
#include <optional>
#include <utility>

#include <fmt/format.h>
#include <toml++/toml.h>

#include "input/utf8.hpp"
#include "mendworth/diagnostic.hpp"

namespace mendworth::input {

namespace {

Place place_of(const toml::source_region& region) {
  return {static_cast<int>(region.begin.line), static_cast<int>(region.begin.column), false};
}

bool comes_before(const Place& a, const Place& b) {
  return a.line != b.line ? a.line < b.line : a.column < b.column;
}

[[noreturn]] void fail(const std::string& source_name, Place place, std::string message, std::string remedy) {
  throw InputError(
      {Diagnostic{source_name, place.line, place.column, "", std::move(message), std::move(remedy)}});
}

constexpr int most_dots = 16;  ///< in one key; a case needs five at most

/// The first key with too many dots. The library nests a table for each and would run out of stack. A long row of
/// dots in a text is taken for one too; a comment on a line of its own is not.
std::optional<Place> find_long_key(std::string_view text) {
  Place here{1, 1, false};
  int dots = 0;
  bool line_begins = true;
  bool comment = false;
  for (const char c : text) {
    if (c == '\n') {
      here = {here.line + 1, 1, false};
      dots = 0;
      line_begins = true;
      comment = false;
      continue;
    }
    if (line_begins && c == '#') comment = true;
    if (c != ' ' && c != '\t') line_begins = false;
    if (!comment && std::string_view("=,[]{}").find(c) != std::string_view::npos) dots = 0;
    if (!comment && c == '.' && ++dots > most_dots) return here;
    const bool continues_character = (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
    if (!continues_character) ++here.column;
  }
  return std::nullopt;
}

constexpr int deepest = 32;  ///< levels of tables and lists; a case has six

Node converted(const toml::node& node, const std::string& source_name, int level = 0) {
  Node out;
  out.place = place_of(node.source());
  if (level > deepest)
    fail(source_name, out.place, fmt::format("nested more than {} levels deep", deepest), "");
  if (const auto* boolean = node.as_boolean()) {
    out.kind = Node::Kind::boolean;
    out.boolean = boolean->get();
  } else if (const auto* integer = node.as_integer()) {
    out.kind = Node::Kind::integer;
    out.integer = integer->get();
    out.number = static_cast<double>(integer->get());
  } else if (const auto* number = node.as_floating_point()) {
    out.kind = Node::Kind::number;
    out.number = number->get();
  } else if (const auto* text = node.as_string()) {
    out.kind = Node::Kind::text;
    out.text = text->get();
  } else if (const auto* date = node.as_date()) {
    out.kind = Node::Kind::date;
    out.date = {static_cast<int>(date->get().year), static_cast<int>(date->get().month),
                static_cast<int>(date->get().day)};
  } else if (const auto* array = node.as_array()) {
    out.kind = Node::Kind::array;
    out.items.reserve(array->size());
    for (const toml::node& item : *array) out.items.push_back(converted(item, source_name, level + 1));
  } else if (const auto* table = node.as_table()) {
    out.kind = Node::Kind::table;
    out.entries.reserve(table->size());
    for (const auto& [key, value] : *table) {
      Entry entry;
      entry.key = std::string(key.str());
      entry.key_place = place_of(key.source());
      entry.value = converted(value, source_name, level + 1);
      out.entries.push_back(std::move(entry));
    }
    // The library's tables are sorted by key; messages and rates want the order of the file.
    std::ranges::stable_sort(
        out.entries, [](const Entry& a, const Entry& b) { return comes_before(a.key_place, b.key_place); });
  } else {
    out.kind = Node::Kind::moment;
  }
  return out;
}

/// The library's message without its "Error while parsing ...: ".
std::string without_preamble(std::string_view description) {
  const std::string_view preamble = "Error while parsing ";
  const std::size_t colon = description.find(": ");
  if (description.substr(0, preamble.size()) == preamble && colon != std::string_view::npos) {
    description.remove_prefix(colon + 2);
  }
  return printable(description, 200);
}

/// What is usually behind an error of the library.
std::string usual_remedy(std::string_view description) {
  const auto says = [&](std::string_view words) { return description.find(words) != std::string_view::npos; };
  if (says("parsing string") && says("control characters")) return "is a closing quote missing?";
  if (says("saw ','"))
    return "no comma in a number, the decimal mark is a point; each key has a line of its own";
  if (says("saw '.'")) return "write a digit before the point: 0.45";
  if (says("saw '%'")) return "a percentage is written as a fraction: 20 % is 0.2";
  if (says("saw '\\u00A0'")) return "a no-break space stands there: type the space anew";
  if (says("expected value, saw")) return "leave the whole line out if it is not known";
  if (says("expected '=', saw")) return "a line is: key = value";
  if (says("expected key or closing '}'")) return "a table in braces stands on one line";
  if (says("expected keys, tables"))
    return "a line is key = value, keys have letters a to z, digits, _ and -";
  if (says("expected a comment or whitespace"))
    return "a number stands alone, without a unit; a text in quotes";
  if (says("could not determine value type")) return "a text stands between straight quotes: \"text\"";
  if (says("leading zeroes")) return "write the number without the zero in front";
  if (says("64 bits") || says("could not be interpreted")) return "no number here may be that large";
  if (says("cannot redefine")) return "each key once; repeated sections have double brackets, as in [[part]]";
  if (says("unterminated") || says("end-of-file")) return "is a quote or a bracket left open?";
  return "";
}

}  // namespace

const Node* Node::find(std::string_view key) const noexcept {
  for (const Entry& entry : entries) {
    if (entry.key == key) return &entry.value;
  }
  return nullptr;
}

Node* Node::find(std::string_view key) noexcept {
  for (Entry& entry : entries) {
    if (entry.key == key) return &entry.value;
  }
  return nullptr;
}

Node& Node::at_or_new(const std::string& key, Place where) {
  if (Node* found = find(key)) return *found;
  Entry entry;
  entry.key = key;
  entry.key_place = where;
  entry.value.place = where;
  entries.push_back(std::move(entry));
  return entries.back().value;
}

void Node::erase(std::string_view key) {
  entries.erase(
      std::remove_if(entries.begin(), entries.end(), [key](const Entry& e) { return e.key == key; }),
      entries.end());
}

std::string Node::described() const {
  switch (kind) {
    case Kind::boolean: return boolean ? "true" : "false";
    case Kind::integer: return fmt::format("the number {}", integer);
    case Kind::number: {
      const std::string digits = fmt::format("{}", number);
      const bool looks_whole = digits.find_first_not_of("-0123456789") == std::string::npos;
      return fmt::format("the number {}{}", digits, looks_whole ? ".0" : "");
    }
    case Kind::text: return fmt::format("the text '{}'", printable(text));
    case Kind::date: return fmt::format("the date {:04}-{:02}-{:02}", date.year, date.month, date.day);
    case Kind::moment: return "a time";
    case Kind::array: return "a list";
    case Kind::table: return "a table";
  }
  return "";
}

Node parse_document(std::string_view text, const std::string& source_name) {
  if (const auto bad = find_bad_byte(text)) {
    fail(source_name, {bad->line, bad->column, false},
         fmt::format("this is no UTF-8 text file: found the byte 0x{:02X}", bad->byte),
         "case, shop and rates files are TOML, saved as UTF-8");
  }
  if (const auto place = find_long_key(text)) {
    fail(source_name, *place, fmt::format("a key has more than {} dots", most_dots), "");
  }
  try {
    Node root = converted(toml::parse(text, std::string_view(source_name)), source_name);
    root.place = {};  // what is missing from the whole file is missing nowhere in particular
    return root;
  } catch (const toml::parse_error& error) {
    fail(source_name, place_of(error.source()),
         fmt::format("not valid TOML: {}", without_preamble(error.description())),
         usual_remedy(error.description()));
  }
}

}  // namespace mendworth::input
