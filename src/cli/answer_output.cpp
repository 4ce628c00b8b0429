#include "cli/answer_output.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/commands.hpp"
#include "input/suggest.hpp"

namespace mendworth::cli {

namespace {

PageForm form_of(const PageOptions& options) {
  switch (options.format) {
    case Format::markdown: return PageForm::markdown;
    case Format::html: return PageForm::html;
    case Format::csv: return PageForm::csv;
    case Format::text:
    case Format::json: return PageForm::text;
    case Format::unstated: break;
  }
  return options.table ? PageForm::csv : PageForm::text;
}

void require_known(const std::vector<std::string>& names, const std::vector<std::string>& sections) {
  std::vector<std::string> known{"all", "answer"};
  known.insert(known.end(), sections.begin(), sections.end());
  for (const std::string& name : names) {
    if (name == "all" && names.size() > 1) throw UsageError("--show all stands alone");
    if (std::ranges::find(known, name) != known.end()) continue;
    const std::string hint = input::suggestion(name, known);
    throw UsageError(fmt::format("--show knows no section '{}'{}; the names are {}", name,
                                 hint.empty() ? "" : " (" + hint + ")", fmt::join(known, ", ")));
  }
}

}  // namespace

PageStyle page_style(const PageOptions& options, const std::vector<std::string>& sections,
                     const Surroundings& surroundings, bool to_standard_output) {
  const bool chooses = !options.show.empty() || options.table;
  if (options.format == Format::json && chooses)
    throw UsageError("--format json has everything: it goes with neither --show nor --table");
  if (!options.show.empty() && options.table)
    throw UsageError("--table is one table: it does not go with --show");
  require_known(options.show, sections);
  return {.form = form_of(options),
          .color = colored(options.color, surroundings, to_standard_output),
          .width = to_standard_output ? text_columns(surroundings) : PageStyle{}.width,
          .unicode = surroundings.unicode,
          .show = options.show,
          .table = options.table};
}

AnswerOutput::AnswerOutput(const PageOptions& options, const std::vector<std::string>& sections,
                           const std::vector<std::optional<std::string>>& inputs,
                           const Surroundings& surroundings)
    : out_(options.out_path, "--out", inputs),
      style_(page_style(options, sections, surroundings, out_.is_standard_output())),
      is_json_(options.format == Format::json) {}

}  // namespace mendworth::cli
