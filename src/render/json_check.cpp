#include <string>
#include <vector>

#include "mendworth/render.hpp"
#include "render/json_shape.hpp"

namespace mendworth {

template <>
Shape<Diagnostic>::Shape() : MemberTable("problem", "one thing that is wrong") {
  has({
      {"source", &R::source, "file name, '-' for standard input"},
      {"line", &R::line, "from 1; 0 where none can be named"},
      {"column", &R::column, "from 1, in code points; 0 where none can be named"},
      {"key", &R::key, "dotted key, or column of a table; may be empty"},
      {"message", &R::message, "what was found and what is allowed"},
      {"remedy", &R::remedy, "what to do; may be empty"},
      {"excerpt", &R::excerpt, "the line as it stands in the file; may be empty"},
  });
}

template <>
Shape<CheckedFile>::Shape() : MemberTable("file") {
  has({
      {"file", &R::file, "as it was named"},
      {"kind", &R::kind, "by its looks; what is of no known kind is read as a case",
       one_of({"unknown", "case", "shop", "rates", "drawer", "history", "quotation", "past use"})},
      {"ok", [](const R& file) { return file.problems.empty() && file.trouble.empty(); }},
      {"trouble", &R::trouble, "why the file cannot be read; empty if it can"},
      {"problems", &R::problems, "in the order of their lines"},
  });
}

namespace {

struct CheckedFiles {
  const std::vector<CheckedFile>& files;
};

}  // namespace

template <>
Shape<CheckedFiles>::Shape() {
  has({
      {"files", [](const R& all) { return all.files; }, "in the order in which they were named"},
  });
}

constexpr AnswerOf<CheckedFiles> check_form{
    {.schema = "mendworth.check",
     .version = 1,
     .meaning = "What 'mendworth check FILES --format json' prints: for each file what it is "
                "and what is wrong with it.",
     .closed = true}};

std::string check_json(const std::vector<CheckedFile>& files) {
  const CheckedFiles all{files};
  return check_form.json(all).text();
}

const std::string& check_schema() { return check_form.json_schema(); }

}  // namespace mendworth
