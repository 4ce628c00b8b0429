#include "page/field_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <optional>
#include <vector>

#include "input/document.hpp"
#include "input/toml_text.hpp"
#include "mendworth/diagnostic.hpp"

namespace mendworth::page {

namespace {

using input::Node;

std::optional<Node> value_of(std::string_view written) {
  try {
    Node document = input::parse_document("value = " + std::string(written), "");
    if (document.entries.size() == 1) return std::move(document.entries.front().value);
  } catch (const InputError&) {
    // Whoever asks takes it as a text.
  }
  return std::nullopt;
}

std::string digits_of(double value) { return fmt::format("{:.12g}", value); }

/// A number as TOML has it; empty if the text is none. Kept as it was typed where TOML knows it so.
std::string number_as_written(std::string_view text) {
  text = without_blank_ends(text);
  double number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  constexpr double largest = 1e300;
  if (error != std::errc{} || end != text.data() + text.size() || !(number > -largest && number < largest))
    return "";
  const auto node = value_of(text);
  return node && node->is_number() ? std::string(text) : digits_of(number);
}

/// "2..6", "2 to 4 to 9" and the like; empty if it is neither a number nor a range.
std::string amount_as_written(std::string_view text) {
  std::vector<std::string> points;
  while (true) {
    std::size_t end = text.size(), next = text.size();
    for (const std::string_view mark : {std::string_view(".."), std::string_view(" to ")}) {
      const std::size_t at = text.find(mark);
      if (at < end) end = at, next = at + mark.size();
    }
    points.push_back(number_as_written(text.substr(0, end)));
    if (points.back().empty()) return "";
    if (end == text.size()) break;
    text.remove_prefix(next);
  }
  constexpr std::size_t most_points = 3;
  if (points.size() > most_points) return "";
  if (points.size() == 1) return points[0];
  if (points.size() == 2) return fmt::format("{{ low = {}, high = {} }}", points[0], points[1]);
  return fmt::format("{{ low = {}, likely = {}, high = {} }}", points[0], points[1], points[2]);
}

std::vector<std::string_view> parts_of(std::string_view text, char between) {
  std::vector<std::string_view> parts;
  while (true) {
    const std::size_t end = std::min(text.find(between), text.size());
    const std::string_view part = without_blank_ends(text.substr(0, end));
    if (!part.empty()) parts.push_back(part);
    if (end == text.size()) return parts;
    text.remove_prefix(end + 1);
  }
}

std::string list_of_texts(std::string_view typed) {
  std::string out;
  for (const std::string_view line : parts_of(typed, '\n'))
    out += (out.empty() ? "" : ", ") + input::toml_quoted(line);
  return '[' + out + ']';
}

/// "stem height = 4.3, width = 6" as an inline table; empty if it is none.
std::string sizes_as_written(std::string_view typed) {
  std::string out;
  for (const std::string_view part : parts_of(typed, ',')) {
    const std::size_t equals = part.rfind('=');
    if (equals == std::string_view::npos) return "";
    const std::string number = number_as_written(part.substr(equals + 1));
    std::string_view name = without_blank_ends(part.substr(0, equals));
    if (number.empty() || name.empty()) return "";
    out += fmt::format("{}{} = {}", out.empty() ? "" : ", ", input::toml_quoted(name), number);
  }
  return "{ " + out + " }";
}

std::string shown_range(const Node& range, std::string_view written) {
  const auto point = [&](const char* key) {
    const Node* node = range.find(key);
    return node != nullptr && node->is_number() ? digits_of(node->number) : "";
  };
  const std::string low = point("low"), likely = point("likely"), high = point("high");
  const std::size_t points = likely.empty() ? 2 : 3;
  if (low.empty() || high.empty() || range.entries.size() != points) return std::string(written);
  return likely.empty() ? low + ".." + high : low + ".." + likely + ".." + high;
}

}  // namespace

std::string_view without_blank_ends(std::string_view text) {
  constexpr std::string_view blanks = " \t\r\n";
  const std::size_t first = text.find_first_not_of(blanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

std::string shown_text(const Input& input, std::string_view written) {
  const auto node = value_of(written);
  if (!node) return std::string(written);
  switch (node->kind) {
    case Node::Kind::text: return node->text;
    case Node::Kind::array: {
      std::string lines;
      for (const Node& item : node->items) {
        if (!item.is_text()) return std::string(written);
        lines += (lines.empty() ? "" : "\n") + item.text;
      }
      return lines;
    }
    case Node::Kind::table: {
      if (input.kind != InputKind::sizes) return shown_range(*node, written);
      std::string sizes;
      for (const input::Entry& entry : node->entries) {
        if (!entry.value.is_number()) return std::string(written);
        sizes +=
            fmt::format("{}{} = {}", sizes.empty() ? "" : ", ", entry.key, digits_of(entry.value.number));
      }
      return sizes;
    }
    default: return std::string(written);
  }
}

std::string written_value(const Input& input, std::string_view typed) {
  typed = without_blank_ends(typed);
  std::string written;
  switch (input.kind) {
    case InputKind::quantity:
      written = amount_as_written(typed);
      if (written.empty() && typed.starts_with('{')) {
        const auto node = typed.find('\n') == std::string_view::npos ? value_of(typed) : std::nullopt;
        if (node && node->is_table()) written = typed;
      }
      break;
    case InputKind::number:
    case InputKind::count: written = number_as_written(typed); break;
    case InputKind::flag:
      if (typed == "true" || typed == "false") written = typed;
      break;
    case InputKind::date: {
      const auto node = typed.find('\n') == std::string_view::npos ? value_of(typed) : std::nullopt;
      if (node && node->kind == Node::Kind::date) written = typed;
      break;
    }
    case InputKind::texts:
    case InputKind::choices: return list_of_texts(typed);
    case InputKind::sizes: written = sizes_as_written(typed); break;
    case InputKind::text:
    case InputKind::choice:
    case InputKind::table:
    case InputKind::tables: break;
  }
  return written.empty() ? input::toml_quoted(typed) : written;
}

}  // namespace mendworth::page
