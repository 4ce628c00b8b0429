#include "page/field.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "render/document.hpp"

namespace mendworth::page {

namespace {

/// The attributes that tie an element to its label, its help and what is wrong with it.
std::string tied(const Field& field) {
  const std::string key = html_escaped(field.key);
  return fmt::format(" id=\"f-{0}\" name=\"{0}\" aria-describedby=\"h-{0} e-{0}\"{1}", key,
                     field.fixed ? " disabled" : "");
}

std::string option(const std::string& value, const std::string& shown, bool chosen) {
  return fmt::format("<option value=\"{}\"{}>{}</option>", html_escaped(value), chosen ? " selected" : "",
                     html_escaped(shown));
}

std::string select(const Field& field) {
  std::string out = "<select" + tied(field) + ">" + option("", "not stated", field.value.empty());
  if (field.kind == InputKind::flag)
    return out + option("true", "yes", field.value == "true") +
           option("false", "no", field.value == "false") + "</select>";
  const bool listed = std::ranges::find(field.names, field.value) != field.names.end();
  if (!listed && !field.value.empty()) out += option(field.value, field.value, true);
  for (const std::string& name : field.names) out += option(name, name, name == field.value);
  return out + "</select>";
}

/// A box for each name; the ticked ones are the lines of the value.
std::string boxes(const Field& field) {
  const std::string key = html_escaped(field.key);
  std::string out = fmt::format(
      "<fieldset class=\"boxes\" id=\"f-{0}\" data-boxes=\"{0}\" tabindex=\"-1\" aria-describedby=\"h-{0} "
      "e-{0}\"><legend>{1}</legend>\n",
      key, html_escaped(field.label));
  const std::string lines = '\n' + field.value + '\n';
  for (const std::string& name : field.names) {
    out += fmt::format("<label><input type=\"checkbox\" value=\"{0}\"{1}> {0}</label>\n", html_escaped(name),
                       lines.find('\n' + name + '\n') == std::string::npos ? "" : " checked");
  }
  return out + "</fieldset>";
}

std::string control(const Field& field) {
  if (!field.names.empty() || field.kind == InputKind::flag) return select(field);
  if (field.kind == InputKind::texts)
    return "<textarea rows=\"2\"" + tied(field) + ">\n" + html_escaped(field.value) + "</textarea>";
  const bool number =
      field.kind == InputKind::quantity || field.kind == InputKind::number || field.kind == InputKind::count;
  return fmt::format("<input type=\"{}\"{}{} value=\"{}\" autocomplete=\"off\">",
                     field.kind == InputKind::date ? "date" : "text", number ? " inputmode=\"decimal\"" : "",
                     tied(field), html_escaped(field.value));
}

}  // namespace

std::string field_html(const Field& field) {
  const std::string key = html_escaped(field.key);
  std::string out = "<div class=\"field\">\n";
  if (field.kind == InputKind::choices) {
    out += boxes(field);
  } else {
    out += fmt::format("<label for=\"f-{}\">{}", key, html_escaped(field.label));
    if (!field.unit.empty()) out += " <span class=\"unit\">" + html_escaped(field.unit) + "</span>";
    out += "</label>\n<div class=\"entry\">" + control(field);
    if (field.unknown)
      out += fmt::format(
          "<button type=\"button\" data-unknown=\"{}\" value=\"{}\">Don't know<span class=\"unseen\">: "
          "{}</span></button>",
          key, html_escaped(*field.unknown), html_escaped(field.label));
    out += "</div>\n";
  }
  std::string help;
  for (std::string line : field.help) {
    const bool begins = help.empty() || help.ends_with('.');
    if (begins && line.front() >= 'a' && line.front() <= 'z')
      line.front() = static_cast<char>(line.front() - 'a' + 'A');
    help += (help.empty() ? "" : begins ? " " : "; ") + line;
  }
  if (field.fixed) help += "; written as a section of its own: change it in the file";
  out += fmt::format("<p class=\"help\" id=\"h-{}\">{}</p>\n", key, html_escaped(help));
  out += fmt::format("<p class=\"wrong\" id=\"e-{}\"></p>\n</div>\n", key);
  return out;
}

}  // namespace mendworth::page
