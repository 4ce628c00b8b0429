#include <fmt/format.h>

#include <cctype>

#include "base/plain_number.hpp"
#include "domain/inputs.hpp"
#include "manual/manual.hpp"
#include "mendworth/render.hpp"

namespace mendworth::manual {

namespace {

const char* kind_words(InputKind kind) {
  switch (kind) {
    case InputKind::quantity: return "number or range";
    case InputKind::number: return "number";
    case InputKind::count: return "whole number";
    case InputKind::flag: return "true or false";
    case InputKind::text: return "text";
    case InputKind::texts: return "list of texts";
    case InputKind::choice: return "one of these";
    case InputKind::choices: return "some of these";
    case InputKind::date: return "day";
    case InputKind::sizes: return "table of numbers by names";
    case InputKind::table:
    case InputKind::tables: break;
  }
  return "table";
}

std::string names_of(const Input& input) {
  std::string names;
  for (const std::string_view name : input.names) names += (names.empty() ? "" : ", ") + std::string(name);
  return names;
}

std::string unit_of(const Input& input) {
  if (input.unit.empty()) return {};
  std::string unit(input.unit);
  if (unit.starts_with('$')) return " (money" + unit.substr(1) + ")";
  if (unit.starts_with('@')) return " (the supplier's money" + unit.substr(1) + ")";
  return " (" + unit + ")";
}

std::string default_of(const Input& input) {
  if (!input.missing.empty() || input.starred) return "needed";
  if (!input.rates.empty()) return fmt::format("if left out, '{}' of the rates", input.rates);
  if (input.otherwise) return "if left out, " + number_text(*input.otherwise);
  return "may be left out";
}

/// With a capital and a full stop.
std::string sentence(std::string text) {
  if (!text.starts_with("true:") && !text.starts_with("false:"))
    text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
  return text + ".";
}

/// "number or range (years), 0.001 to 1000; needed. How old it is."
std::string entry(const Input& input) {
  std::string text = kind_words(input.kind) + unit_of(input);
  if (!input.names.empty()) text += ": " + names_of(input);
  const bool measured =
      input.kind == InputKind::quantity || input.kind == InputKind::number || input.kind == InputKind::count;
  if (measured && input.limits.low < input.limits.high)
    text += ", " + number_text(input.limits.low) + " to " + number_text(input.limits.high);
  if (!input.word.empty()) text += fmt::format(", or \"{}\"", input.word);
  text += "; " + default_of(input) + ".";
  std::string meaning(input.help.empty() ? input.words : input.help);
  if (const auto hole = meaning.find("{}"); hole != std::string::npos) meaning.replace(hole, 2, "NAME");
  if (!meaning.empty()) text += " " + sentence(meaning);
  return text;
}

bool is_table(const Input& input) {
  return input.kind == InputKind::table || input.kind == InputKind::tables;
}

/// The entries of a table, then the tables in it, each under its own heading.
std::string table(std::span<const Input> inputs, const std::string& name, bool list) {
  std::string text;
  for (const Input& input : inputs) {
    if (!is_table(input))
      text += ".TP\n\\fB" + as_roff(std::string(input.key)) + "\\fR\n" + as_roff(entry(input)) + "\n";
  }
  if (!text.empty() && !name.empty())
    text = ".SH \"" + as_roff(list ? "[[" + name + "]]" : "[" + name + "]") + "\"\n" + text;
  for (const Input& input : inputs) {
    if (!is_table(input)) continue;
    const std::string inner = name.empty() ? std::string(input.key) : name + "." + std::string(input.key);
    if (!input.help.empty() && !input.within.empty()) {
      std::string within = table(input.within, inner, input.kind == InputKind::tables);
      const std::size_t heading_end = within.find('\n') + 1;
      text += within.insert(heading_end, as_roff(sentence(std::string(input.help))) + "\n");
    } else {
      text += table(input.within, inner, input.kind == InputKind::tables);
    }
  }
  return text;
}

}  // namespace

std::string file_page(const std::string& kind) {
  const bool shop = kind == "shop";
  std::string upper = shop ? "SHOP" : "CASE";
  return ".\\\" Made from the table of inputs.\n"
         ".TH MENDWORTH\\-" +
         upper + " 5 \"\" \"mendworth " + version() + "\" \"File Formats\"\n" + ".SH NAME\nmendworth\\-" +
         kind + " \\- " + (shop ? "how a shop charges" : "what is to be decided on") + "\n" +
         ".SH DESCRIPTION\n" +
         as_roff(std::string("A TOML file in UTF-8. 'mendworth new --every-key") + (shop ? " --shop" : "") +
                 "' writes one with every key and its comment, 'mendworth check' names each problem with its "
                 "line, and 'mendworth schema " +
                 kind +
                 "' is a JSON Schema for editors. A number may be a range where it says so: { low = 2, high "
                 "= 6 } or { low = 2, likely = 4, high = 9 }.") +
         "\n" + table(shop ? shop_inputs() : case_inputs(), "", false) +
         ".SH SEE ALSO\n.BR mendworth (1),\n.BR mendworth\\-" + (shop ? "quote" : "weigh") + " (1)\n";
}

}  // namespace mendworth::manual
