#pragma once

#include <map>
#include <string>
#include <vector>

#include "input/questions.hpp"
#include "input/toml_text.hpp"
#include "mendworth/case.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"

/// Forms as HTML: made from the table of inputs and the table of questions, with what the text of a case says.
namespace mendworth::page {

struct Form {
  std::string html;
  std::vector<std::string> keys;  ///< of its fields, each the name of one
  std::string shape;  ///< changes with what the fields are and are called, not with what is in them
};

/// The fields of a whole case by sections, folded, and with `first` before them what the first questions ask. `read` is
/// what the text was read to, for the defaults that filled its gaps; null if it could not be read.
[[nodiscard]] Form case_form(const input::TomlText& text, const Case* read, const RateBook& rates,
                             bool first);

/// What was typed in the field of a question, if it will not do, and why.
struct WrongAnswer {
  std::string typed, problem;
};
/// The first questions with what was answered; fields are named "ask.KEY".
[[nodiscard]] Form question_form(const input::Answers& answers,
                                 const std::map<std::string, WrongAnswer>& wrong);

/// What is wrong, by the field that it is about; "" where there is no such field.
struct FieldProblem {
  std::string key, text;
};
[[nodiscard]] std::vector<FieldProblem> field_problems(const std::vector<Diagnostic>& problems,
                                                       const input::TomlText& text, const Form& form);

}  // namespace mendworth::page
