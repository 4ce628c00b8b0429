#include "cli/shared_options.hpp"

#include "render/layout.hpp"

namespace mendworth::cli {

std::string help_lines(const std::string& text) {
  constexpr int help_columns = 50;
  return fmt::format("{}", fmt::join(wrapped(text, help_columns), "\n"));
}

void add_case_argument(OptionSet& set, CaseInput& input) {
  set.required({"case", "CASE", "Case file; - reads standard input"}, input.case_path);
}

void add_case_options(OptionSet& set, CaseInput& input) {
  set.texts({"--set", "KEY=VALUE", "Override an entry of the case; may be repeated"}, input.overrides);
  add_rates_option(set, input.rates_directory);
}

void add_drawer_option(OptionSet& set, CaseInput& input) {
  set.text({"--drawer", "FILE", "Spare parts on hand; see 'mendworth drawer'"}, input.drawer_path);
}

void add_quotation_options(OptionSet& set, QuotationInput& input) {
  set.texts({"--quotation", "FILE", "Prices as quoted, CSV; may be repeated"}, input.paths);
  set.flag("--decimal-comma", "1,5 in a quotation is one and a half", input.options.decimal_comma);
}

void add_rates_option(OptionSet& set, std::optional<std::string>& directory) {
  set.text({"--rates", "DIR", "Lay the *.toml of DIR over the built-in rates"}, directory);
}

const Choices<Format>& formats() {
  static const Choices<Format> all = {{"text", Format::text},
                                      {"markdown", Format::markdown},
                                      {"html", Format::html},
                                      {"csv", Format::csv},
                                      {"json", Format::json}};
  return all;
}

const Choices<ColorChoice>& color_choices() {
  static const Choices<ColorChoice> all = {
      {"auto", ColorChoice::automatic}, {"always", ColorChoice::always}, {"never", ColorChoice::never}};
  return all;
}

void add_page_options(OptionSet& set, PageOptions& page, const std::vector<std::string>& sections) {
  set.converted({"--format", "FORMAT", "text (default), markdown, html, csv or json"},
                choice_into(page.format, formats()));
  const std::string names = fmt::format("all, or names of: answer, {}", fmt::join(sections, ", "));
  set.list({"--show", "LIST", help_lines(names)}, page.show);
  set.text({"--table", "NAME", "This table alone, as CSV unless --format says else"}, page.table);
  set.converted({"--color", "WHEN", "auto (default), always or never"},
                choice_into(page.color, color_choices()));
}

void add_out_option(OptionSet& set, std::optional<std::string>& path) {
  set.text({"--out", "FILE", "Write to FILE, whole or not at all"}, path);
}

}  // namespace mendworth::cli
