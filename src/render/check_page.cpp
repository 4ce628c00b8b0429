#include <fmt/format.h>

#include "render/answer_words.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

using Files = std::vector<CheckedFile>;

std::string state_of(const CheckedFile& file) {
  if (!file.trouble.empty()) return "not read";
  if (file.problems.empty()) return "ok";
  return count_text(static_cast<long long>(file.problems.size()), "problem", "problems");
}

Section files_section(const Files& files) {
  Section section;
  Table table{.columns = {{"file", false, true}, {"kind", false}, {"state", false}}, .name = "files"};
  for (const CheckedFile& file : files) table.add({file.file, file.kind, state_of(file)});
  section.add(std::move(table));
  return section;
}

Section problems_section(const Files& files) {
  Section section{"Problems"};
  Table table{.columns = {{"file", false, true},
                          {"line"},
                          {"column"},
                          {"key", false, true},
                          {"problem", false},
                          {"what to do", false}},
              .name = "problems"};
  const auto place = [](int number) { return number > 0 ? fmt::format("{}", number) : "-"; };
  for (const CheckedFile& file : files) {
    if (!file.trouble.empty()) table.add({file.file, "-", "-", "", file.trouble, ""});
    for (const Diagnostic& p : file.problems)
      table.add({p.source, place(p.line), place(p.column), p.key, p.message, p.remedy});
  }
  section.add(std::move(table));
  return section;
}

constexpr SectionOf<Files> check_table[] = {{"files", files_section}, {"problems", problems_section}};

}  // namespace

const std::vector<std::string>& check_sections() { return section_names<check_table>(); }

// On a terminal what is wrong has been said below its line of the file, so that what is right is left.
std::string check_page(const std::vector<CheckedFile>& files, const PageStyle& style) {
  Document page = answer_document("Files checked");
  for (const CheckedFile& file : files) {
    if (state_of(file) == "ok")
      page.opening.emplace_back(
          Paragraph{.text = fmt::format("{}: ok ({})", file.file, file.kind), .copied = true});
  }
  if (!style.is_usual_text()) page.sections = sections_of(files, check_table);
  return page_of(std::move(page), style);
}

}  // namespace mendworth
