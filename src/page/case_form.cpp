#include "page/case_form.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "domain/inputs.hpp"
#include "input/suggest.hpp"
#include "page/case_keys.hpp"
#include "page/field.hpp"
#include "page/field_text.hpp"
#include "render/document.hpp"

namespace mendworth::page {

namespace {

using input::Question;
using input::TextNode;
using input::TomlText;

std::string in_words(std::string_view key) {
  std::string words(key);
  std::replace(words.begin(), words.end(), '_', ' ');
  return words;
}

std::string capital(std::string words) {
  if (!words.empty() && words.front() >= 'a' && words.front() <= 'z')
    words.front() = static_cast<char>(words.front() - 'a' + 'A');
  return words;
}

std::string limits_text(const Input& input) {
  const bool numeric =
      input.kind == InputKind::quantity || input.kind == InputKind::number || input.kind == InputKind::count;
  if (!numeric || input.limits.high <= input.limits.low) return "";
  constexpr double beyond_any_bench = 1e6, hardly_any = 1e-3;
  const bool tiny = input.limits.low > 0 && input.limits.low < hardly_any;
  if (tiny && input.limits.high >= beyond_any_bench) return "more than 0";
  if (input.limits.high >= beyond_any_bench) return fmt::format("from {} on", input.limits.low);
  return fmt::format("{} to {}", input.limits.low, input.limits.high);
}

/// "9.3 (4 to 19) min".
std::string quantity_shown(const Quantity& value) {
  if (value.is_fixed()) return fmt::format("{:.4g}", value.low());
  return fmt::format("{:.4g} ({:.4g} to {:.4g})", value.base(), value.low(), value.high());
}

void add_to_shape(std::string& shape, const Field& field) {
  shape += fmt::format("{}|{}|{}|{};", field.key, field.label, field.unit, fmt::join(field.names, ","));
}

std::string shape_of(const std::string& text) {
  return fmt::format("{:x}-{}.", std::hash<std::string>{}(text), text.size());
}

class CaseForm {
 public:
  CaseForm(const TomlText& text, const Case* read, const RateBook& rates) : text_(text), rates_(rates) {
    currency_ = text_at(text, "device.currency");
    const TextNode* suppliers = text.find("supplier");
    for (std::size_t i = 0; suppliers != nullptr && i < suppliers->items.size(); ++i)
      foreign_ = foreign_ || suppliers->items[i].find("currency") != nullptr;
    if (read == nullptr) return;
    for (const DefaultUse& use : read->defaults) defaults_[use.key] = use.value + " - " + use.source;
  }

  Form form(bool first) {
    if (first) asked_first();
    for (const Input& section : case_inputs()) {
      const std::string key(section.key);
      const bool list = section.kind == InputKind::tables;
      out_ += fmt::format("<details id=\"g-{}\"><summary>{}</summary>\n", key,
                          capital(in_words(key)) + (list ? "s" : ""));
      if (!section.help.empty()) out_ += "<p class=\"help\">" + html_escaped(section.help) + "</p>\n";
      if (list) {
        rows(section, key, "");
      } else {
        table(section.within, key, "");
      }
      out_ += "</details>\n";
    }
    return {std::move(out_), std::move(keys_), shape_of(shape_)};
  }

 private:
  void asked_first() {
    out_ += "<fieldset class=\"first\"><legend>First</legend>\n";
    for (const AskedKey& asked : asked_keys(text_)) {
      shown_first_.insert(asked.key);
      const Input& input = *find_input(case_inputs(), asked.key);
      Field field = described(input, asked.key, "");
      field.label = asked.question->words;
      if (!input.help.empty()) field.help.erase(field.help.begin());  // the question has its own words
      field.help.insert(field.help.begin(), asked.question->help);
      if (*asked.question->unknown != '\0') field.unknown = unknown_value(*asked.question, input);
      put(field);
    }
    out_ += "</fieldset>\n";
  }

  void put(const Field& field) {
    out_ += field_html(field);
    keys_.push_back(field.key);
    add_to_shape(shape_, field);
  }

  [[nodiscard]] std::string unit_of(const Input& input) const {
    std::string unit(input.unit);
    if (unit.starts_with('$')) unit.replace(0, 1, currency_);
    if (unit.starts_with('@')) unit.replace(0, 1, foreign_ ? "the supplier's currency" : currency_);
    return unit;
  }

  [[nodiscard]] std::vector<std::string> names_for(const Input& input, const std::string& key) const {
    if (!input.names.empty()) return {input.names.begin(), input.names.end()};
    const std::string plain = without_numbers(key);
    if (plain == "device.kind") return input::names_of(rates_.device_kinds);
    if (plain == "device.hazards") return input::names_of(rates_.hazards);
    if (input.key == "currency") return input::names_of(rates_.currencies);
    if (input.key == "class") return input::names_of(rates_.lives);
    if (plain == "position.termination") return input::names_of(rates_.terminations);
    if (plain == "labour.skill") return input::names_of(rates_.skills);
    if (plain == "position.part") return names_in(text_, "part");
    if (input.key == "supplier") return names_in(text_, "supplier");
    return {};
  }

  /// What is taken if it is left out, and from where.
  [[nodiscard]] std::string default_of(const Input& input, const std::string& key) const {
    std::string canonical = key;
    auto used = defaults_.find(canonical);
    if (used == defaults_.end() && canonical.starts_with("part.")) {
      const std::size_t dot = canonical.find('.', 5);
      if (dot != std::string::npos) canonical.insert(dot, ".candidate.1");
      used = defaults_.find(canonical);
    }
    if (used != defaults_.end()) return used->second;
    const auto rate = rates_.defaults.find(std::string(input.rates));
    if (rate != rates_.defaults.end())
      return quantity_shown(rate->second.value) + " - " + rate->second.source;
    if (input.otherwise) return fmt::format("{}", *input.otherwise);
    return "";
  }

  /// What "don't know" stands for in the field of a question: a word, what is usual for the kind, or nothing, which
  /// leaves it to the trade figures. Absent where none of these will do.
  [[nodiscard]] std::optional<std::string> unknown_value(const Question& question, const Input& input) const {
    if (!input.word.empty()) return std::string(input.word);
    const std::string_view asked = question.key;
    if (asked == "life" || asked == "age") {
      const std::string kind = text_at(text_, "device.kind");
      const auto known = rates_.device_kinds.find(kind.empty() ? "other" : kind);
      if (known == rates_.device_kinds.end()) return std::nullopt;
      const Quantity& life = known->second.value;
      if (asked == "age") return fmt::format("{:.2g}..{:.2g}", life.base() / 6, life.base() * 1.5);
      return life.is_fixed() ? fmt::format("{}", life.low()) : fmt::format("{}..{}", life.low(), life.high());
    }
    return input.starred ? std::nullopt : std::optional<std::string>("");
  }

  [[nodiscard]] Field described(const Input& input, const std::string& key, const std::string& name) const {
    Field field;
    field.key = key;
    std::string words(input.words.empty() ? in_words(input.key) : std::string(input.words));
    if (const std::size_t at = words.find("{}"); at != std::string::npos)
      words.replace(at, 2, name.empty() ? "it" : name);
    field.label = capital(words);
    field.unit = unit_of(input);
    field.kind = input.kind;
    field.names = names_for(input, key);
    if (field.kind == InputKind::texts && !field.names.empty()) field.kind = InputKind::choices;
    if (const TextNode* node = text_.find(key)) {
      field.value = shown_text(input, text_.written(*node));
      field.fixed = !node->is_inline();
    }
    if (!input.help.empty()) field.help.emplace_back(input.help);
    if (const std::string limits = limits_text(input); !limits.empty()) field.help.push_back(limits);
    if (!input.word.empty()) field.help.push_back(fmt::format("or the word {}", input.word));
    if (const std::string left_out = default_of(input, key); !left_out.empty())
      field.help.push_back("left out: " + left_out);
    return field;
  }

  /// Of two ways to say the same, the one that the text has not taken.
  [[nodiscard]] bool is_other_way(const Input& input, const std::string& path, const std::string& key) const {
    const auto has = [&](const char* name) { return text_.find(path + "." + name) != nullptr; };
    const TextNode* node = text_.find(key);
    const std::string plain = without_numbers(path);
    if (plain == "part") {
      const bool of_only_one = input.key == "offer" || input.key == "nominal" || input.key == "fit";
      if (of_only_one) return has("candidate") && node == nullptr;
      return input.key == "candidate" && has("offer") && node == nullptr;
    }
    if (plain.ends_with(".offer")) {
      if (input.key == "price") return has("prices");
      return input.key == "prices" && has("price");
    }
    // One key for a price and, in a row after it, for a list of them.
    if (plain == "supplier" && input.key == "shipping")
      return (input.kind == InputKind::tables) != (node != nullptr && node->is_list());
    return false;
  }

  void table(std::span<const Input> inputs, const std::string& path, const std::string& outer_name) {
    const std::string own = text_at(text_, path + ".name");
    const std::string name = own.empty() ? outer_name : own;
    std::vector<Field> rarely;
    std::vector<const Input*> lists;
    for (const Input& input : inputs) {
      const std::string key = path + '.' + std::string(input.key);
      if (shown_first_.count(key) > 0 || is_other_way(input, path, key)) continue;
      if (input.kind == InputKind::tables || input.kind == InputKind::table) {
        lists.push_back(&input);
        continue;
      }
      Field field = described(input, key, name);
      if (input.starred || !field.value.empty()) {
        put(field);
      } else {
        rarely.push_back(std::move(field));
      }
    }
    if (!rarely.empty()) {
      out_ += fmt::format("<details class=\"more\" id=\"m-{}\"><summary>More of {}</summary>\n",
                          html_escaped(path),
                          html_escaped(name.empty() ? in_words(path.substr(path.rfind('.') + 1)) : name));
      for (const Field& field : rarely) put(field);
      out_ += "</details>\n";
    }
    for (const Input* input : lists) {
      const std::string key = path + '.' + std::string(input->key);
      if (input->kind == InputKind::tables) {
        rows(*input, key, name);
      } else {
        out_ += "<fieldset><legend>" + html_escaped(capital(in_words(input->key))) + "</legend>\n";
        table(input->within, key, name);
        out_ += "</fieldset>\n";
      }
    }
  }

  void rows(const Input& input, const std::string& key, const std::string& outer_name) {
    const TextNode* list = text_.find(key);
    const std::string what = input.key == "prices"     ? "price break"
                             : input.key == "shipping" ? "shipping tier"
                                                       : in_words(input.key);
    const std::size_t count = list != nullptr && list->is_list() ? list->items.size() : 0;
    for (std::size_t i = 1; i <= count; ++i) {
      const std::string item = fmt::format("{}.{}", key, i);
      const std::string name = text_at(text_, item + ".name");
      const std::string called =
          html_escaped(fmt::format("{} {}{}", what, i, name.empty() ? "" : ": " + name));
      out_ += "<fieldset><legend>" + capital(called) + "</legend>\n";
      table(input.within, item, outer_name);
      out_ += fmt::format("<button type=\"button\" data-remove=\"{}\">Remove {}</button>\n</fieldset>\n",
                          html_escaped(item), called);
    }
    out_ += fmt::format("<button type=\"button\" data-add=\"{}\" id=\"a-{}\">Add a {}{}</button>\n",
                        html_escaped(key), html_escaped(key), what,
                        outer_name.empty() ? "" : " of " + html_escaped(outer_name));
  }

  const TomlText& text_;
  const RateBook& rates_;
  std::map<std::string, std::string> defaults_;
  std::string currency_;
  bool foreign_ = false;  ///< some supplier has a currency of its own
  std::set<std::string> shown_first_;
  std::string out_, shape_;
  std::vector<std::string> keys_;
};

InputKind kind_of(Question::Form form) {
  switch (form) {
    case Question::Form::name: return InputKind::text;
    case Question::Form::choice: return InputKind::choice;
    case Question::Form::choices: return InputKind::choices;
    case Question::Form::whole: return InputKind::count;
    case Question::Form::amount: break;
  }
  return InputKind::quantity;
}

Field question_field(const Question& question, const input::Answers& answers) {
  Field field;
  field.key = fmt::format("ask.{}", question.key);
  field.label = question.words;
  field.unit = answers.unit(question);
  field.kind = kind_of(question.form);
  field.names = answers.names(question);
  const bool list = question.form == Question::Form::choices;
  if (answers.has(question) || question.form == Question::Form::choice) field.value = answers.text(question);
  if (list) {
    field.value = field.value == "none" ? "" : field.value;
    for (std::size_t at = field.value.find(", "); at != std::string::npos; at = field.value.find(", ", at))
      field.value.replace(at, 2, "\n");
  }
  field.help.emplace_back(question.help);
  if (question.limits.high > question.limits.low)
    field.help.push_back(limits_text({.kind = field.kind, .limits = question.limits}));
  const std::string usual = answers.usual(question);
  if (usual == input::not_known) {
    field.help.push_back(fmt::format("not known: {}", question.unknown));
  } else if (!usual.empty() && !list) {
    field.help.push_back("usual: " + usual);
  }
  if (*question.unknown != '\0')
    field.unknown = question.form == Question::Form::choice ? "" : input::not_known;
  return field;
}

}  // namespace

Form case_form(const TomlText& text, const Case* read, const RateBook& rates, bool first) {
  return CaseForm(text, read, rates).form(first);
}

Form question_form(const input::Answers& answers, const std::map<std::string, WrongAnswer>& wrong) {
  Form form;
  std::string rest;
  for (const Question& question : input::questions()) {
    if (!answers.applies(question)) continue;
    Field field = question_field(question, answers);
    const auto slip = wrong.find(question.key);
    if (slip != wrong.end()) field.value = slip->second.typed;
    form.keys.push_back(field.key);
    add_to_shape(form.shape, field);
    (question.asked ? form.html : rest) += field_html(field);
  }
  form.html = "<fieldset class=\"first\"><legend>Questions</legend>\n" + form.html +
              "<details id=\"m-ask\"><summary>More questions</summary>\n" + rest +
              "</details>\n</fieldset>\n";
  form.shape = shape_of(form.shape);
  return form;
}

std::vector<FieldProblem> field_problems(const std::vector<Diagnostic>& problems, const TomlText& text,
                                         const Form& form) {
  std::vector<FieldProblem> out;
  for (const Diagnostic& problem : problems) {
    std::string key = key_in_text(text, problem.key).value_or(problem.key);
    const bool has_field = std::ranges::find(form.keys, key) != form.keys.end();
    std::string words = problem.message;
    if (!problem.remedy.empty()) words += " (" + problem.remedy + ")";
    if (!has_field && !key.empty()) words.insert(0, key + ": ");
    out.push_back({has_field ? std::move(key) : "", std::move(words)});
  }
  return out;
}

}  // namespace mendworth::page
